package c3d

import "io"

// Decode reads a C3D file. Either the File or the error is nil.
func Decode(data []byte, opt Options) (*File, error) {
	f := new(File)
	if err := f.Decode(data, opt); err != nil {
		return nil, err
	}
	return f, nil
}

// Decode reads a C3D file into f and reuses the memory of its series: what was
// taken from f before, slices included, is overwritten. After an error f is
// empty.
func (f *File) Decode(data []byte, opt Options) error { return ErrNotC3D }

// DecodeHeader reads the first block.
func DecodeHeader(data []byte) (*Header, error) { return nil, ErrNotC3D }

// Read reads a C3D file of the given size. With [Options.WithoutSamples] it
// fetches the blocks before the data only.
func Read(r io.ReaderAt, size int64, opt Options) (*File, error) { return nil, ErrNotC3D }
