package server

import (
	"cmp"
	"slices"
	"unicode/utf8"

	"saltlock/api"
)

// maxTold is the number of faults that one answer describes; the others are counted.
const maxTold = 100

// maxQuoted is the number of bytes that are repeated of what a client sent.
const maxQuoted = 64

// found are the faults of a request, in the order in which they are told.
type found struct {
	told   []api.Fault
	untold int
}

// full says whether a further fault is only counted, so that nobody words it in vain.
func (f *found) full() bool { return len(f.told) >= maxTold }

// add tells a fault, once, or counts it.
func (f *found) add(where, reason, rule string) {
	f.tell(api.Fault{Where: where, Reason: reason, Rule: rule})
}

// tell is add for a fault that may say more than a sentence.
func (f *found) tell(next api.Fault) {
	same := func(o api.Fault) bool { return o.Where == next.Where && o.Reason == next.Reason && o.Rule == next.Rule }
	switch {
	case f.full():
		f.untold++
	case !slices.ContainsFunc(f.told, same):
		f.told = append(f.told, next)
	}
}

// clip cuts what a client sent to what is worth repeating.
func clip(s string) string {
	if len(s) <= maxQuoted {
		return s
	}
	end := maxQuoted
	for end > 0 && !utf8.RuneStart(s[end]) {
		end--
	}
	return s[:end] + "…"
}

// inOrder sorts by the place that key names: the validator walks maps, and the
// same request gives the same answer.
func inOrder[T any](list []T, key func(T) string) []T {
	slices.SortStableFunc(list, func(a, b T) int { return cmp.Compare(key(a), key(b)) })
	return list
}
