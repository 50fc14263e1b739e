package site

import (
	"strings"
)

// entry is what a person fills in.
type entry struct {
	ID, Name, Label, Hint, Value string
	Units                        []option
	Choice                       bool   // choosing the unit is the whole answer
	Radio                        bool   // and every choice is visible
	Kind                         string // of a field that is not a quantity: text, number, datetime-local
	Own                          *entry // for an answer not among the choices
	Fault, FaultIn               string // what is wrong, and the language of that if not the page's
}

// option is one thing to choose.
type option struct {
	Value, Name string
	Chosen      bool
}

// formFault is what is wrong, and the entry to correct.
type formFault struct {
	For, Text string
	In        string // its language, if not that of the page
}

// Describes names the texts that belong to the entry, for screen readers.
func (e *entry) Describes() string {
	var ids []string
	if e.Hint != "" {
		ids = append(ids, e.ID+"-hint")
	}
	if e.Fault != "" {
		ids = append(ids, e.ID+"-fault")
	}
	return strings.Join(ids, " ")
}

// chosen is the option taken.
func (e *entry) chosen() string {
	for _, o := range e.Units {
		if o.Chosen {
			return o.Value
		}
	}
	return ""
}

// options makes a list of choices, the first chosen: value, name, value, name …
func options(pairs ...string) []option {
	var list []option
	for i := 0; i+1 < len(pairs); i += 2 {
		list = append(list, option{pairs[i], pairs[i+1], i == 0})
	}
	return list
}
