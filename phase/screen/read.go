package screen

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"strings"
)

// maxSet is the largest set of bands that is read, bytes.
const maxSet = 1 << 20

// ReadBands reads a set of bands. The package comment explains the format. Every
// error except those of r is a [*BandsError] that says which field is wrong.
func ReadBands(r io.Reader) (*Bands, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxSet+1))
	if err != nil {
		return nil, fmt.Errorf("bands: %w", err)
	}
	if len(data) > maxSet {
		return nil, bandsErrorf("", "more than %d bytes", maxSet)
	}
	if err := checkSyntax(data); err != nil {
		return nil, err
	}
	var s Bands
	if err := fill("", data, reflect.ValueOf(&s).Elem()); err != nil {
		return nil, err
	}
	if err := s.Check(); err != nil {
		return nil, err
	}
	return &s, nil
}

// checkSyntax says where the text is not JSON.
func checkSyntax(data []byte) error {
	var raw json.RawMessage
	err := json.Unmarshal(data, &raw)
	if err == nil {
		return nil
	}
	at := len(data)
	if syntax := (*json.SyntaxError)(nil); errors.As(err, &syntax) {
		at = max(0, min(int(syntax.Offset), len(data)))
	}
	before := data[:at]
	line := 1 + bytes.Count(before, []byte{'\n'})
	column := max(1, len(before)-1-bytes.LastIndexByte(before, '\n'))
	return bandsErrorf("", "not JSON at line %d, column %d: %v", line, column, err)
}

// fill puts a JSON value into v. Package json does not tell where a field is that
// it does not know, takes upper for lower case, and lets the last of two equal
// fields win, so objects and lists of them are taken apart here.
func fill(path string, data json.RawMessage, v reflect.Value) error {
	switch {
	case bytes.Equal(bytes.TrimSpace(data), []byte("null")):
		return bandsErrorf(path, "null is no value; leave the field out")
	case v.Kind() == reflect.Struct:
		return fillStruct(path, data, v)
	case v.Kind() == reflect.Slice && v.Type().Elem().Kind() == reflect.Struct:
		var list []json.RawMessage
		if err := json.Unmarshal(data, &list); err != nil {
			return bandsErrorf(path, "want a list […]")
		}
		if len(list) > maxBands {
			return bandsErrorf(path, "%d bands, at most %d are allowed", len(list), maxBands)
		}
		v.Set(reflect.MakeSlice(v.Type(), len(list), len(list)))
		for i, e := range list {
			if err := fill(fmt.Sprintf("%s[%d]", path, i), e, v.Index(i)); err != nil {
				return err
			}
		}
		return nil
	}
	if err := json.Unmarshal(data, v.Addr().Interface()); err != nil {
		return bandsErrorf(path, "%s; want %s", clip(string(bytes.TrimSpace(data))), wanted(v.Type()))
	}
	return nil
}

func wanted(t reflect.Type) string {
	switch t.Kind() {
	case reflect.Pointer:
		return wanted(t.Elem())
	case reflect.Float64:
		return "a number"
	case reflect.Int:
		return "a whole number"
	case reflect.Bool:
		return "true or false"
	case reflect.Slice:
		return "a list of texts"
	}
	return "a text in quotes"
}

func fillStruct(path string, data json.RawMessage, v reflect.Value) error {
	fields, names := map[string]reflect.Value{}, []string(nil)
	for i := range v.NumField() {
		name, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
		fields[name] = v.Field(i)
		names = append(names, name)
	}
	dec := json.NewDecoder(bytes.NewReader(data))
	if open, err := dec.Token(); err != nil || open != json.Delim('{') {
		return bandsErrorf(path, "want an object {…}")
	}
	seen := map[string]bool{}
	for dec.More() {
		key, err := dec.Token()
		name, ok := key.(string)
		if err != nil || !ok {
			return bandsErrorf(path, "want an object {…}")
		}
		at := strings.TrimPrefix(path+"."+name, ".")
		f, known := fields[name]
		switch {
		case !known:
			return bandsErrorf(at, "no such field; %s", meant(name, names))
		case seen[name]:
			return bandsErrorf(at, "given twice")
		}
		seen[name] = true
		var value json.RawMessage
		if err := dec.Decode(&value); err != nil {
			return bandsErrorf(at, "%v", err)
		}
		if err := fill(at, value, f); err != nil {
			return err
		}
	}
	return nil
}
