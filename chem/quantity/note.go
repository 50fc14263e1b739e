package quantity

// Code names a sentence. Programs can rely on it; people read the sentence that
// the catalogue of their language has for it.
type Code string

// Note is something to tell a person: a code and the values it speaks of. Its
// sentence is written where the answer is rendered, in the language asked for.
// That every code has a sentence, and every sentence what it speaks of, is held
// by a test that reads all calls with a Code and what follows it.
type Note struct {
	Code   Code   `json:"code"`
	Params []any  `json:"-"` // quantities, estimates, readings, strings, ints: what the sentence speaks of, in its order
	Text   string `json:"text"`
}
