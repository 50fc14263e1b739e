package store

import (
	"io"
	"maps"
	"strconv"
	"strings"

	"saltlock/chem/tolerance"
)

var sourceColumns = []string{"key", "short_name", "citation", "year", "url_or_doi", "seen", "seen_what"}

// source is one row of sources.csv.
type source struct {
	tolerance.Source
	read bool // somebody read it; otherwise what is cited from it is recalled
}

// readSources reads a bibliography and adds it to an existing one, by key.
func readSources(file string, from io.Reader, known map[string]source) (map[string]source, error) {
	byKey := maps.Clone(known)
	err := records(file, from, sourceColumns, func(r row) {
		s := source{
			Source: tolerance.Source{Key: r.text("key"), Short: r.cells["short_name"], Citation: r.text("citation"), URL: r.cells["url_or_doi"]},
			read:   r.oneOf("seen", "yes", "no") == "yes",
		}
		if s.Short == "" { // the table of an older program
			s.Short = s.Key
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

// flagSource is the source of flags and listings, which name none of their own.
const flagSource = "FB2018"

// flags returns the source of the flags.
func (r row) flags(sources map[string]source) *tolerance.Source {
	s, ok := sources[flagSource]
	if !ok {
		r.fault("migration", "needs %s in sources.csv", flagSource)
	}
	return &s.Source
}

// cite returns the source that a cell names, nil if it is empty. A colon and the place in the
// source may follow the key.
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
