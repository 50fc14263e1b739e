package server

import (
	"reflect"

	"saltlock/chem/quantity"
	"saltlock/server/render"
)

// lines collects the short text of an answer.
type lines []string

// add says a sentence, unless something it speaks of is missing.
func (l *lines) add(v render.Voice, code quantity.Code, params ...any) {
	for _, p := range params {
		if p == nil {
			return
		}
		if r := reflect.ValueOf(p); r.Kind() == reflect.Pointer && r.IsNil() {
			return
		}
	}
	*l = append(*l, v.Say(code, params...))
}

// notes appends sentences that are already filled.
func (l *lines) notes(lists ...[]quantity.Note) {
	for _, list := range lists {
		for _, n := range list {
			*l = append(*l, n.Text)
		}
	}
}

// most keeps the first n lines.
func (l lines) most(n int) []string { return l[:min(n, len(l))] }
