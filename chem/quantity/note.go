package quantity

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
)

// Code names a sentence. Programs can rely on it; people read the sentence that
// the catalogue of their language has for it.
type Code string

// Note is something to tell a person: a code and the values it speaks of. Its
// sentence is written where the answer is rendered, in the language asked for.
// That every code has a sentence, and every sentence what it speaks of, is held
// by a test that reads all calls with a Code and what follows it.
type Note struct {
	Code   Code
	Params []any // quantities, estimates, readings, strings, ints: what the sentence speaks of, in its order
	Text   string
	Told   string // of a note that was stored: its sentence then, for a program that dropped the code
}

// AppendNote adds a note to a list that does not hold it yet.
func AppendNote(notes []Note, n Note) []Note {
	if slices.ContainsFunc(notes, func(other Note) bool { return reflect.DeepEqual(n, other) }) {
		return notes
	}
	return append(notes, n)
}

// spoken is a note with its sentence, as an answer has it; unspoken one that
// still waits for it, as it is stored.
type (
	spoken struct {
		Code Code   `json:"code"`
		Text string `json:"text"`
	}
	unspoken struct {
		Code   Code    `json:"code"`
		Params []param `json:"params,omitempty"`
		Told   string  `json:"told,omitempty"`
	}
)

// MarshalJSON writes a note with its sentence, or before it has one, with what
// the sentence will speak of, so that a note which was stored can be worded anew.
func (n Note) MarshalJSON() ([]byte, error) {
	if n.Text != "" {
		return json.Marshal(spoken{n.Code, n.Text})
	}
	params := make([]param, len(n.Params))
	for i, p := range n.Params {
		params[i].is = p
	}
	return json.Marshal(unspoken{n.Code, params, n.Told})
}

// UnmarshalJSON reads a note that was stored.
func (n *Note) UnmarshalJSON(b []byte) error {
	var u unspoken
	if err := json.Unmarshal(b, &u); err != nil {
		return err
	}
	*n = Note{Code: u.Code, Told: u.Told}
	for _, p := range u.Params {
		n.Params = append(n.Params, p.is)
	}
	return nil
}

// param is one thing that a note speaks of. In JSON text is a string, a count an
// integer, and all else an object: {"reading": …} what an instrument shows,
// {"value": …, "unit": …} a quantity or, without a unit, a plain number. What was
// an estimate comes back as its measure, which reads the same.
type param struct{ is any }

type paramObject struct {
	Reading     *Reading `json:"reading,omitempty"`
	Value       *float64 `json:"value,omitempty"`
	Unit        string   `json:"unit,omitempty"`
	Uncertainty float64  `json:"uncertainty,omitempty"`
}

func (p param) MarshalJSON() ([]byte, error) {
	switch is := p.is.(type) {
	case string, int:
		return json.Marshal(is)
	case float64:
		return json.Marshal(paramObject{Value: &is})
	case Reading:
		return json.Marshal(paramObject{Reading: &is})
	case Measure:
		return json.Marshal(paramObject{Value: &is.Value, Unit: is.Unit, Uncertainty: is.Uncertainty})
	case interface{ Measure() Measure }:
		return param{is.Measure()}.MarshalJSON()
	case interface{ Unit() string }:
		return param{Measure{Value: reflect.ValueOf(is).Float(), Unit: is.Unit()}}.MarshalJSON()
	case fmt.Stringer: // what is called by a name, such as a convention
		return json.Marshal(is.String())
	}
	return nil, fmt.Errorf("a note cannot be stored that speaks of a %T", p.is)
}

func (p *param) UnmarshalJSON(b []byte) error {
	var text string
	var count int
	if json.Unmarshal(b, &text) == nil {
		p.is = text
		return nil
	}
	if json.Unmarshal(b, &count) == nil {
		p.is = count
		return nil
	}
	var o paramObject
	if err := json.Unmarshal(b, &o); err != nil {
		return err
	}
	switch {
	case o.Reading != nil:
		p.is = *o.Reading
	case o.Value == nil:
		return fmt.Errorf("a note speaks of %s, which is no value", b)
	case o.Unit == "":
		p.is = *o.Value
	default:
		p.is = Measure{Value: *o.Value, Unit: o.Unit, Uncertainty: o.Uncertainty}
	}
	return nil
}
