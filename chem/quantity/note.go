package quantity

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
)

// Code names a sentence. Programs can rely on the code; people read the sentence in the
// catalogue of their language.
type Code string

// Note is a message for a person: a code and its parameters. The sentence is written when
// the answer is rendered, in the language that was asked for. A test reads all calls with a
// Code, and checks that every code has a sentence and every sentence its parameters.
type Note struct {
	Code   Code
	Params []any // quantities, estimates, readings, strings and ints, in the order of the sentence
	Text   string
	Told   string // of a stored note: its sentence at that time, in case a later version drops the code
}

// AppendNote adds a note to a list, unless it is already there.
func AppendNote(notes []Note, n Note) []Note {
	if slices.ContainsFunc(notes, func(other Note) bool { return reflect.DeepEqual(n, other) }) {
		return notes
	}
	return append(notes, n)
}

// spoken is a note with its sentence, as in an answer; unspoken is one without, as stored.
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

// MarshalJSON writes a note with its sentence or, if it has none yet, with its parameters,
// so that the sentence of a stored note can be written again.
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

// UnmarshalJSON reads a stored note.
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

// param is one parameter of a note. In JSON, text is a string, a count is an integer, and
// everything else is an object: {"reading": …} for what an instrument shows, {"value": …,
// "unit": …} for a quantity or, without a unit, a plain number. An estimate is read back as
// its measure, which renders the same.
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
