package server

import (
	"crypto/sha256"
	"encoding/hex"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/cespare/xxhash/v2"
	"github.com/labstack/echo/v4"
	"golang.org/x/text/language"

	"saltlock/server/contract"
	"saltlock/server/render"
)

// asked is a valid request and how it wants to be answered.
type asked struct {
	contract.Request
	anyTag     bool // a client that holds any version wants 304 (If-None-Match: *)
	only       string
	voice      render.Voice
	separator  rune
	edition    string       // of the species table
	tag        string       // ETag of the answer; empty if it depends on more than the request
	prepared   *prepared    // where to keep the answer; nil if it is not kept
	understood []understood // names of species in the request
	link       string       // to the next page of a list, for the header Link
	values     struct{ tag, length, media headerValue }
}

// headerValue is the only value of a header. It is part of the exchange, so that it needs no memory
// of its own.
type headerValue [1]string

func (v *headerValue) holds(text string) []string {
	v[0] = text
	return v[:]
}

// validate holds a request to the contract and finds all faults at once. It is done if the request
// is answered already: with 304 if the client's copy is current, or with a prepared answer.
func (s *Server) validate(x *exchange) (done bool, err error) {
	op := x.operation
	if op.Ending != nil {
		op.Ending.Announce(x.Response().Header(), op.OperationID)
	}
	a := &x.request
	if err := s.contract.Take(x.Context, op, &a.Request); err != nil {
		return false, err
	}
	a.take(s.store.DataVersion())
	a.voice.Animals = s.animals(a.voice)
	x.valid = true
	r := x.Request()
	if r.Method != http.MethodGet || op.Class.Stored() || op.Class == contract.Document {
		return false, nil
	}
	a.tag = a.etag(r.URL.Path)
	x.Response().Header()["Etag"] = a.values.tag.holds(a.tag)
	if holds := contract.HeaderOf(r, "If-None-Match"); holds != "" {
		a.anyTag = strings.TrimSpace(holds) == "*"
		if held(holds, a.tag) {
			cacheable(x)
			return true, x.NoContent(http.StatusNotModified)
		}
	}
	if op.Class == contract.Lookup {
		a.prepared = s.prepared
		if known, ok := s.prepared.get(a.tag); ok {
			return true, a.send(x, http.StatusOK, known)
		}
	}
	return false, nil
}

// take reads from a valid query how the answer should look.
func (a *asked) take(edition string) {
	a.only, a.voice, a.separator, a.edition = a.Query.Get("only"), voiceOf(a.Query), ',', edition
	if sep := a.Query.Get("sep"); sep == "semicolon" || (sep == "" && a.voice.Comma) {
		a.separator = ';' // a decimal comma could not be told from a comma between cells
	}
}

// voiceOf is how a query wants to be spoken to.
func voiceOf(q url.Values) render.Voice {
	return render.Voice{Language: render.Language(q.Get("lang")), Units: render.Units(q.Get("units")), Comma: q.Get("decimal") == "comma"}
}

// speaks is the voice of the answer's sentences. JSON has the same units for everybody. What the
// request leaves open follows the language.
func (a *asked) speaks() render.Voice {
	v := a.voice
	if a.Format == echo.MIMEApplicationJSON {
		v.Units, v.Comma = render.Both, false
	}
	return customs(v, a.Query.Get("decimal"))
}

// customs are those of a language: where German is read, numbers have a comma and nobody pours
// gallons.
func customs(v render.Voice, decimal string) render.Voice {
	if v.Language != language.German {
		return v
	}
	v.Comma = v.Comma || decimal != "point"
	if v.Units == render.Both {
		v.Units = render.Metric
	}
	return v
}

// animals are the names of animals in a voice.
func (s *Server) animals(v render.Voice) map[string]render.Animal {
	if v.Language == language.German {
		return s.inGerman
	}
	return nil
}

// withoutCurve reports whether the JSON should leave out the curve of a plan; pictures are drawn
// from it.
func (a *asked) withoutCurve() bool {
	return a.Format == echo.MIMEApplicationJSON && a.Query.Get("curve") == "none"
}

// etag names the answer by everything it depends on.
func (a *asked) etag(path string) string {
	names := make([]string, 0, 16)
	for name := range a.Query {
		if name != "again" && name != "format" {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	var space [512]byte
	b := append(append(append(append(space[:0], a.Operation.OperationID...), '\n'), path...), '\n')
	for _, name := range names {
		for _, value := range a.Query[name] { // each with its length, so that no two queries look alike
			b = append(append(strconv.AppendInt(b, int64(len(name)), 10), '&'), name...)
			b = append(append(strconv.AppendInt(b, int64(len(value)), 10), '='), value...)
		}
	}
	for _, part := range []string{a.Format, Version, a.edition} {
		b = append(append(b, '\n'), part...)
	}
	if a.Operation.Class != contract.Lookup {
		sum := xxhash.Sum64(b)
		return string(append(strconv.AppendUint(append(b[:0], '"'), sum, 16), '"'))
	}
	// Answers are kept under this name, so nobody may be able to give one name to two.
	sum := sha256.Sum256(b)
	tag := [2 + 2*tagBytes]byte{0: '"', 1 + 2*tagBytes: '"'}
	hex.Encode(tag[1:], sum[:tagBytes])
	return string(tag[:])
}

// tagBytes is how much of a digest names a kept answer.
const tagBytes = 12

// held reports whether a client's If-None-Match names the answer.
func held(ifNoneMatch, tag string) bool {
	for t := range strings.SplitSeq(ifNoneMatch, ",") {
		if t = strings.TrimPrefix(strings.TrimSpace(t), "W/"); t == tag {
			return true
		}
	}
	return false
}

// cacheable says how long, and for whom, an answer is valid.
func cacheable(c echo.Context) {
	h := c.Response().Header()
	h["Cache-Control"], h["Vary"] = forAnHour, byAccept
}

// Cache headers, in slices that all answers share; appending copies them.
var (
	forAnHour = []string{"public, max-age=3600"}
	byAccept  = []string{"Accept, Accept-Encoding"}
)
