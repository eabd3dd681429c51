package validation

import (
	"encoding/json"
	"fmt"
	"io"
)

// VectorsSchema numbers the form of the files that [WriteVectors] and
// [ReadAnswers] deal with. It changes when a reader would have to.
const VectorsSchema = 1

type vectors struct {
	Schema     int         `json:"schema"`
	About      string      `json:"about"`
	Operations []Operation `json:"operations"`
	Cases      []Case      `json:"cases"`
}

// WriteVectors writes cases with the operations that they ask for as one JSON
// document for programs in any language: see vectors/README.md.
func WriteVectors(w io.Writer, cases []Case) error {
	used := map[string]bool{}
	for _, c := range cases {
		used[c.Operation] = true
	}
	v := vectors{
		Schema: VectorsSchema,
		About:  "Reference values for ground reaction forces, centres of pressure, moments, filters and statistics. All values are in the SI units that they name; undefined numbers are null. The schema is described in README.md beside this file.",
		Cases:  cases,
	}
	for _, o := range operations {
		if used[o.Name] {
			v.Operations = append(v.Operations, o)
		}
	}
	// One case to a line keeps differences between versions readable.
	data, err := json.Marshal(v.Cases)
	if err != nil {
		return err
	}
	var raw []json.RawMessage
	if err := json.Unmarshal(data, &raw); err != nil {
		return err
	}
	ops, err := json.MarshalIndent(v.Operations, " ", " ")
	if err != nil {
		return err
	}
	about, err := json.Marshal(v.About)
	if err != nil {
		return err
	}
	if _, err := fmt.Fprintf(w, "{\n \"schema\": %d,\n \"about\": %s,\n \"operations\": %s,\n \"cases\": [\n", v.Schema, about, ops); err != nil {
		return err
	}
	for i, c := range raw {
		comma := ","
		if i == len(raw)-1 {
			comma = ""
		}
		if _, err := fmt.Fprintf(w, "%s%s\n", c, comma); err != nil {
			return err
		}
	}
	_, err = io.WriteString(w, "]}\n")
	return err
}

// ReadVectors reads what [WriteVectors] writes.
func ReadVectors(r io.Reader) ([]Case, error) {
	var v vectors
	if err := json.NewDecoder(r).Decode(&v); err != nil {
		return nil, fmt.Errorf("validation: vectors: %w", err)
	}
	if v.Schema != VectorsSchema {
		return nil, fmt.Errorf("validation: vectors have schema %d, this package reads %d", v.Schema, VectorsSchema)
	}
	for _, c := range v.Cases {
		if err := c.check(); err != nil {
			return nil, fmt.Errorf("validation: vectors: %w", err)
		}
	}
	return v.Cases, nil
}

// Answers are the outputs of an implementation that is not a Go program, by
// the identifiers of the cases.
type Answers map[string]Values

// ReadAnswers reads {"schema": 1, "answers": {"case": {"output": {"unit": …,
// "value": …}}}}. Cases and outputs may be missing: they count as unsupported.
// An identifier that is not among the cases is an error, because it is most
// likely a typing mistake.
func ReadAnswers(r io.Reader, cases []Case) (Answers, error) {
	var f struct {
		Schema  int     `json:"schema"`
		Answers Answers `json:"answers"`
	}
	d := json.NewDecoder(r)
	d.DisallowUnknownFields()
	if err := d.Decode(&f); err != nil {
		return nil, fmt.Errorf("validation: answers: %w", err)
	}
	if f.Schema != VectorsSchema {
		return nil, fmt.Errorf("validation: answers have schema %d, this package reads %d", f.Schema, VectorsSchema)
	}
	known := map[string]bool{}
	for _, c := range cases {
		known[c.ID] = true
	}
	for id := range f.Answers {
		if !known[id] {
			return nil, fmt.Errorf("validation: answers: there is no case %q", id)
		}
	}
	return f.Answers, nil
}

// Write writes the answers in the form that [ReadAnswers] reads.
func (a Answers) Write(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	return e.Encode(struct {
		Schema  int     `json:"schema"`
		Answers Answers `json:"answers"`
	}{VectorsSchema, a})
}

// Check compares the answers with cases.
func (a Answers) Check(cases []Case) *Report {
	r := &Report{}
	for i := range cases {
		c := &cases[i]
		r.Results = append(r.Results, checkCase(recorded(a[c.ID]), c)...)
	}
	return r
}

// recorded answers one case with what was written down.
type recorded Values

func (v recorded) Answer(string, Values) (Values, error) {
	if v == nil {
		return nil, ErrUnsupported
	}
	return Values(v), nil
}

// Collect returns the answers of an implementation to cases, without judging
// them, for writing down. Cases that it does not support or fails at are left
// out.
func Collect(impl Implementation, cases []Case) Answers {
	a := Answers{}
	for i := range cases {
		c := &cases[i]
		out, err := answer(impl, c)
		if err == nil {
			a[c.ID] = out
		}
	}
	return a
}
