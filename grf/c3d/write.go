package c3d

import "io"

// Encode writes f as a C3D file, in one call of Write and only when all of f
// can be written.
func Encode(w io.Writer, f *File) error {
	b, err := Append(nil, f)
	if err != nil {
		return err
	}
	_, err = w.Write(b)
	return err
}

// Append appends the C3D file to dst. After an error dst is returned as it was.
func Append(dst []byte, f *File) ([]byte, error) { return dst, ErrNotC3D }
