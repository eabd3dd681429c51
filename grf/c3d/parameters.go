package c3d

// Type is the number type of a parameter, with the codes of the format.
type Type int8

const (
	Char  Type = -1
	Byte  Type = 1
	Int   Type = 2 // 16 bits
	Float Type = 4 // 32 bits
)

// Groups are the parameter groups of a file, in its order. Lookups ignore case
// and surrounding blanks. Groups that share a name are one group for lookups;
// the first parameter of a name wins.
type Groups []Group

// Group is a set of parameters.
type Group struct {
	Name        string
	Description string
	// ID is the positive number that ties parameters to their group, 1…127.
	// Encode gives one to a group with ID 0.
	ID         int
	Locked     bool
	Parameters []Parameter

	record
	absent bool // made for parameters whose group is missing; not written
}

// Parameter is a named array of characters or numbers.
type Parameter struct {
	Name        string
	Description string
	Locked      bool
	Type        Type
	// Dims are the sizes, the first running fastest; empty for a single value.
	// In an array of text the first size is the width of a cell in bytes.
	Dims []int
	// Data are the values as stored, in the byte order of the file. It is empty
	// when the file holds less than Dims promises.
	Data []byte

	record
	proc Processor // whose numbers Data holds
}

// record is what is kept of a stored record so that it can be written again.
type record struct {
	offset    int    // of the record in the file
	order     int    // place in the file, from 1; 0 when it was not read
	rawName   []byte // name as stored
	rawDesc   []byte
	noDesc    bool // the length byte of the description is missing
	undecoded bool
}
