package contract

import (
	"cmp"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"saltlock/api"
	"saltlock/chem/quantity"
)

// MaxTold is how many faults one answer describes; the rest are counted.
const MaxTold = 100

// maxQuoted is how many bytes of a client's text are repeated.
const maxQuoted = 64

// Faults are what is wrong with a request, in the order in which they are reported.
type Faults struct {
	Told   []api.Fault
	Untold int // those beyond MaxTold

	Speak   func(*quantity.Note) // writes the sentence of a note in the reader's language
	English bool                 // a reason is in English, whatever the language
}

// Full reports whether a further fault would only be counted, so that nobody words it in vain.
func (f *Faults) Full() bool { return len(f.Told) >= MaxTold }

// ruleQuantity is broken by a text that is not a quantity of its kind.
const ruleQuantity = "quantity"

// Add reports a fault, once, or counts it. For one text only its first fault as a quantity is
// reported: a second parser of the same text would give different advice.
func (f *Faults) Add(where, reason, rule string) {
	told := len(f.Told)
	f.Tell(api.Fault{Where: where, Reason: reason, Rule: rule})
	f.English = f.English || len(f.Told) > told
}

// Say is Add for a reason that is a sentence of the catalogue.
func (f *Faults) Say(where, rule string, note quantity.Note) {
	f.Speak(&note)
	f.Tell(api.Fault{Where: where, Reason: note.Text, Rule: rule})
}

// SayParse is Say for a text that is no quantity.
func (f *Faults) SayParse(where string, e *quantity.ParseError) {
	if e.Note == nil {
		f.Add(where, e.Error(), ruleQuantity)
		return
	}
	why := *e.Note
	f.Speak(&why)
	said := quantity.Note{Code: "not_read", Params: []any{strconv.Quote(e.Given), why.Text}}
	if len(e.Allowed) > 0 {
		said = quantity.Note{Code: "not_read_in_units", Params: []any{strconv.Quote(e.Given), why.Text, strings.Join(e.Allowed, ", ")}}
	}
	f.Say(where, ruleQuantity, said)
}

// Tell is Add for a fault that may say more than a sentence.
func (f *Faults) Tell(next api.Fault) {
	same := func(o api.Fault) bool {
		return o.Where == next.Where && o.Rule == next.Rule && (o.Reason == next.Reason || o.Rule == ruleQuantity)
	}
	switch {
	case f.Full():
		f.Untold++
	case !slices.ContainsFunc(f.Told, same):
		f.Told = append(f.Told, next)
	}
}

// Clip cuts what a client sent to a length worth repeating.
func Clip(s string) string {
	if len(s) <= maxQuoted {
		return s
	}
	end := maxQuoted
	for end > 0 && !utf8.RuneStart(s[end]) {
		end--
	}
	return s[:end] + "…"
}

// inOrder sorts by place: the validator walks maps, and the same request must get the same answer.
func inOrder[T any](list []T, key func(T) string) []T {
	slices.SortStableFunc(list, func(a, b T) int { return cmp.Compare(key(a), key(b)) })
	return list
}

// Kind is a type of problem; its page under /problems explains it.
type Kind struct {
	Name, Title string
	Status      int
}

// Kinds of broken contract.
var (
	InvalidRequest = Kind{Name: "invalid-request", Title: "Something in the request needs correcting", Status: http.StatusBadRequest}
	OutOfRange     = Kind{Name: "out-of-range", Title: "A value is outside what can be answered", Status: http.StatusUnprocessableEntity}
)

// Fault is one thing that is wrong with a request.
type Fault struct {
	Where, Reason, Rule string
	Note                quantity.Note // the reason as a sentence of the catalogue, if it has one
}

// Report adds the fault to a report.
func (f *Fault) Report(faults *Faults) {
	if f.Note.Code != "" {
		faults.Say(f.Where, f.Rule, f.Note)
		return
	}
	faults.Add(f.Where, f.Reason, f.Rule)
}

func (f *Fault) Error() string { return f.Where + ": " + f.Reason }

// QueryError is a query that cannot be parsed.
type QueryError struct{ err error }

func (e *QueryError) Error() string { return e.err.Error() }

// NotAcceptableError means that the client accepts no format on offer.
type NotAcceptableError struct {
	accept  string
	offered []string
}

func (e *NotAcceptableError) Error() string {
	return "accepted: " + e.accept + "; offered: " + strings.Join(e.offered, ", ")
}
