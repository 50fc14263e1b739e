package quantity

// Note is something to tell a person: a code that programs can rely on and the
// values it speaks of. Its sentence is written where the answer is rendered, in
// the language asked for.
type Note struct {
	Code   string `json:"code"`
	Params []any  `json:"-"` // quantities, estimates, readings, strings, ints: what the sentence speaks of, in its order
	Text   string `json:"text"`
}
