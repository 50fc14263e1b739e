package mixing

import (
	"errors"
	"testing"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
)

// of reads a quantity as a client writes it; "" is left out.
func of[Q quantity.Quantity](t testing.TB, s string) *quantity.Estimate[Q] {
	t.Helper()
	if s == "" {
		return nil
	}
	e := new(quantity.Estimate[Q])
	if err := e.Bind(s); err != nil {
		t.Fatal(err)
	}
	return e
}

func reading(t testing.TB, s string) *quantity.Reading {
	t.Helper()
	if s == "" {
		return nil
	}
	r := new(quantity.Reading)
	if err := r.Bind(s); err != nil {
		t.Fatal(err)
	}
	return r
}

func waters(t testing.TB, texts ...string) []Portion {
	t.Helper()
	list := make([]Portion, len(texts))
	for i, s := range texts {
		if err := list[i].Bind(s); err != nil {
			t.Fatal(err)
		}
	}
	return list
}

// faultOf returns which input an error blames, with * where it is out of reach.
func faultOf(err error) string {
	if reach, ok := errors.AsType[*UnreachableError](err); ok {
		return reach.Name + "*"
	}
	if limit, ok := errors.AsType[*quantity.RangeError](err); ok {
		return limit.Name
	}
	if missing, ok := errors.AsType[*instrument.MissingError](err); ok {
		return missing.Name
	}
	if conflict, ok := errors.AsType[*instrument.ConflictError](err); ok {
		return conflict.Name
	}
	return ""
}

// near reports whether got is within a part of want.
func near(got, want, part float64) bool {
	return got >= want-part*max(want, -want) && got <= want+part*max(want, -want)
}
