package capture

import (
	"bytes"
	"encoding"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"reflect"
	"strconv"
	"strings"
)

// encoding/json tells neither where an unknown field is nor which one may have
// been meant, and lets the last of two equal fields win. So a setup is first
// read into a tree and then filled into the structs, field by field.

// object is a JSON object with its fields in their order.
type object struct {
	keys   []string
	fields map[string]any
}

// maxDepth bounds how deep a setup is nested; the deepest field has depth 6.
const maxDepth = 16

// parseTree reads one JSON value: *object, []any, string, json.Number, bool or
// nil.
func parseTree(data []byte) (any, error) {
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.UseNumber()
	tree, err := parseValue(dec, "", 0)
	if err == nil {
		if _, extra := dec.Token(); extra != io.EOF {
			err = &SetupError{Text: "more text follows the closing brace"}
		}
	}
	var bad *SetupError
	if err == nil || errors.As(err, &bad) {
		return tree, err
	}
	// The decoder stops in front of a wrong character, its scanner behind it.
	at := dec.InputOffset() + 1
	var syntax *json.SyntaxError
	if errors.As(err, &syntax) {
		at = max(at, syntax.Offset)
	}
	at = min(at, int64(len(data)))
	before := data[:at]
	line := 1 + bytes.Count(before, []byte{'\n'})
	column := len(before) - bytes.LastIndexByte(before, '\n') - 1
	text := err.Error()
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		text = "the text ends too early; is it the whole setup?"
	}
	switch {
	case !bytes.HasPrefix(bytes.TrimSpace(data), []byte("{")) && len(bytes.TrimSpace(data)) > 0:
		text += "; a setup is an object {…}: is this the setup and not the capture?"
	case strings.Contains(text, "looking for beginning of object key"), strings.Contains(text, "looking for beginning of value"):
		text += "; is there a comma too many or a value missing before it?"
	}
	return nil, &SetupError{Text: fmt.Sprintf("not JSON at line %d, column %d: %s", line, max(column, 1), text), Err: err}
}

func parseValue(dec *json.Decoder, path string, depth int) (any, error) {
	if depth > maxDepth {
		return nil, setupErrorf(clipPath(path), "nested too deep")
	}
	token, err := dec.Token()
	if err != nil {
		return nil, err
	}
	switch token {
	case json.Delim('{'):
		o := &object{fields: map[string]any{}}
		for dec.More() {
			key, err := dec.Token()
			if err != nil {
				return nil, err
			}
			name := key.(string) // the decoder allows nothing else
			at := join(path, name)
			if _, ok := o.fields[name]; ok {
				return nil, setupErrorf(clipPath(at), "given twice; keep one of them")
			}
			v, err := parseValue(dec, at, depth+1)
			if err != nil {
				return nil, err
			}
			o.keys = append(o.keys, name)
			o.fields[name] = v
		}
		_, err := dec.Token()
		return o, err
	case json.Delim('['):
		list := []any{}
		for dec.More() {
			v, err := parseValue(dec, index(path, len(list)), depth+1)
			if err != nil {
				return nil, err
			}
			list = append(list, v)
		}
		_, err := dec.Token()
		return list, err
	}
	return token, nil
}

func join(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

func index(path string, i int) string { return path + "[" + strconv.Itoa(i) + "]" }

// clipPath shortens a path of names that somebody made up.
func clipPath(path string) string {
	if r := []rune(path); len(r) > 100 {
		return string(r[:100]) + "…"
	}
	return path
}

// describe names a JSON value for a message.
func describe(n any) string {
	switch n := n.(type) {
	case nil:
		return "null"
	case *object:
		return "an object"
	case []any:
		return fmt.Sprintf("a list of %d", len(n))
	case string:
		return strconv.Quote(clipPath(n))
	case json.Number:
		return clipPath(n.String())
	}
	return fmt.Sprint(n)
}

// jsonReader is implemented by fields that may be written in several forms.
type jsonReader interface {
	fromJSON(path string, n any) error
}

// fill puts a JSON value into v. Every error is a *SetupError with the path.
func fill(path string, n any, v reflect.Value) error {
	if n == nil {
		return setupErrorf(path, "null is no value; leave the field out")
	}
	if r, ok := v.Addr().Interface().(jsonReader); ok {
		return r.fromJSON(path, n)
	}
	if u, ok := v.Addr().Interface().(encoding.TextUnmarshaler); ok {
		return fillText(path, n, u)
	}
	switch v.Kind() {
	case reflect.Pointer:
		p := reflect.New(v.Type().Elem())
		if err := fill(path, n, p.Elem()); err != nil {
			return err
		}
		v.Set(p)
		return nil
	case reflect.Struct:
		return fillStruct(path, n, v)
	case reflect.Map:
		return fillMap(path, n, v)
	case reflect.Slice, reflect.Array:
		return fillList(path, n, v)
	case reflect.String:
		s, ok := n.(string)
		if !ok {
			return setupErrorf(path, "%s is no text; put it in quotes", describe(n))
		}
		v.SetString(s)
		return nil
	case reflect.Int:
		num, ok := n.(json.Number)
		i, err := strconv.Atoi(num.String())
		if !ok || err != nil {
			return setupErrorf(path, "%s is no whole number", describe(n))
		}
		v.SetInt(int64(i))
		return nil
	case reflect.Float64:
		x, err := number(path, n)
		v.SetFloat(x)
		return err
	}
	panic("capture: a setup field of type " + v.Type().String()) // a mistake in this package
}

func number(path string, n any) (float64, error) {
	num, ok := n.(json.Number)
	x, err := strconv.ParseFloat(num.String(), 64)
	if !ok || err != nil || math.IsInf(x, 0) {
		return 0, setupErrorf(path, "%s is no number", describe(n))
	}
	return x, nil
}

// fillText reads a quantity from a string. A bare number goes through the same
// parser, whose message lists the units.
func fillText(path string, n any, u encoding.TextUnmarshaler) error {
	var text string
	switch n := n.(type) {
	case string:
		text = n
	case json.Number:
		text = n.String()
	default:
		return setupErrorf(path, "%s; want a text with a number and a unit", describe(n))
	}
	if err := u.UnmarshalText([]byte(text)); err != nil {
		return setupWrap(path, err)
	}
	return nil
}

func fillStruct(path string, n any, v reflect.Value) error {
	o, ok := n.(*object)
	if !ok {
		return setupErrorf(path, "%s; want an object {…}", describe(n))
	}
	fields := map[string]reflect.Value{}
	var names []string
	collect(v, fields, &names)
	for _, key := range o.keys {
		f, ok := fields[key]
		if !ok {
			return setupErrorf(clipPath(join(path, key)), "no such field; %s", near(key, names))
		}
		if err := fill(join(path, key), o.fields[key], f); err != nil {
			return err
		}
	}
	return nil
}

// collect lists the fields of a struct by their JSON names, those of embedded
// structs included.
func collect(v reflect.Value, fields map[string]reflect.Value, names *[]string) {
	for i := range v.NumField() {
		f := v.Type().Field(i)
		if f.Anonymous {
			collect(v.Field(i), fields, names)
			continue
		}
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		fields[name] = v.Field(i)
		*names = append(*names, name)
	}
}

// maxEntries bounds lists and maps.
const maxEntries = 1000

func fillMap(path string, n any, v reflect.Value) error {
	o, ok := n.(*object)
	if !ok {
		return setupErrorf(path, "%s; want an object {…}", describe(n))
	}
	if len(o.keys) > maxEntries {
		return setupErrorf(path, "%d entries, at most %d are allowed", len(o.keys), maxEntries)
	}
	m := reflect.MakeMap(v.Type())
	for _, key := range o.keys {
		e := reflect.New(v.Type().Elem()).Elem()
		if err := fill(clipPath(join(path, key)), o.fields[key], e); err != nil {
			return err
		}
		m.SetMapIndex(reflect.ValueOf(key), e)
	}
	v.Set(m)
	return nil
}

func fillList(path string, n any, v reflect.Value) error {
	list, ok := n.([]any)
	if !ok {
		return setupErrorf(path, "%s; want a list […]", describe(n))
	}
	if v.Kind() == reflect.Array {
		if len(list) != v.Len() {
			return setupErrorf(path, "%s; want a list of %d", describe(n), v.Len())
		}
	} else {
		if len(list) > maxEntries {
			return setupErrorf(path, "%s, at most %d are allowed", describe(n), maxEntries)
		}
		v.Set(reflect.MakeSlice(v.Type(), len(list), len(list)))
	}
	for i, e := range list {
		if err := fill(index(path, i), e, v.Index(i)); err != nil {
			return err
		}
	}
	return nil
}

// fillInto is fill for a struct that is known by its pointer.
func fillInto(path string, n any, p any) error {
	return fillStruct(path, n, reflect.ValueOf(p).Elem())
}
