package store

import (
	"io"
	"strconv"
	"strings"

	"saltlock/chem/tolerance"
)

var sourceColumns = []string{"key", "citation", "year", "url_or_doi", "seen", "seen_what"}

// source is one row of sources.csv.
type source struct {
	tolerance.Source
	read bool // somebody saw it; otherwise what is cited from it is recalled
}

// readSources reads the bibliography by key.
func readSources(from io.Reader) (map[string]source, error) {
	byKey := map[string]source{}
	err := records("sources.csv", from, sourceColumns, func(r row) {
		s := source{
			Source: tolerance.Source{Key: r.text("key"), Citation: r.text("citation"), URL: r.cells["url_or_doi"]},
			read:   r.oneOf("seen", "yes", "no") == "yes",
		}
		if s.read {
			s.Seen = r.text("seen_what")
		}
		if y := r.cells["year"]; y != "" {
			n, err := strconv.Atoi(y)
			if err != nil || n < 1700 || n > 2100 {
				r.fault("year", "is not a year")
			}
			s.Year = n
		}
		if strings.ContainsAny(s.Key, ": ;,") {
			r.fault("key", "holds a blank or punctuation")
		}
		if _, twice := byKey[s.Key]; twice {
			r.fault("key", "stands there twice")
		}
		byKey[s.Key] = s
	})
	return byKey, err
}

// cite returns the source that a cell names, nil for an empty one. A key may
// be followed by a colon and the place in the source.
func (r row) cite(column string, sources map[string]source) (cited *tolerance.Source, read bool) {
	full := r.cells[column]
	if full == "" {
		return nil, false
	}
	key, _, _ := strings.Cut(full, ":")
	s, ok := sources[key]
	if !ok {
		r.fault(column, "is no key of sources.csv")
		return nil, false
	}
	c := s.Source
	c.Key = full
	return &c, s.read
}
