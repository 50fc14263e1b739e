package contract

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"mime"
	"net/http"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/labstack/echo/v4"
	"golang.org/x/text/encoding/charmap"
)

// What a body may hold. A table has no bound, since it is read row by row, but each row has one.
const (
	maxBody   = 64 << 10 // bytes of one JSON object; the largest valid plan takes half of it
	maxList   = 4 << 20  // bytes of a list; ten thousand readings take two million
	MaxItem   = 4 << 10  // bytes of one item of a list
	maxFields = 200      // of one object
	maxDepth  = 32       // of objects and lists inside each other
)

// bodyType is the media type of a body, in lower case and without parameters, and the charset
// declared. Every decision about a body follows them.
func bodyType(r *http.Request) (media, charset string) {
	media, parameters, err := mime.ParseMediaType(r.Header.Get(echo.HeaderContentType))
	if err != nil {
		return "", ""
	}
	return media, strings.ToLower(parameters["charset"])
}

// charsets are those a table may have, each with its decoder; nil for UTF-8 and its subsets.
var charsets = map[string]*charmap.Charmap{
	"": nil, "utf-8": nil, "us-ascii": nil, "iso-8859-1": charmap.ISO8859_1, "windows-1252": charmap.Windows1252,
}

// takeTable decodes a table from the declared charset while it is read.
func takeTable(r *http.Request, charset string) error {
	from, ok := charsets[charset]
	if !ok {
		return echo.NewHTTPError(http.StatusUnsupportedMediaType,
			fmt.Sprintf("the table is declared as %q; send it as utf-8, us-ascii, iso-8859-1 or windows-1252", Clip(charset)))
	}
	if from != nil {
		r.Body = struct {
			io.Reader
			io.Closer
		}{from.NewDecoder().Reader(r.Body), r.Body}
	}
	return nil
}

// takeBody checks how a body is written, reads it within its bound, and leaves it in the request
// as later decoders expect it. A table is left unread.
func (a *Request) takeBody(c echo.Context) error {
	r := c.Request()
	media, charset := bodyType(r)
	if coding := r.Header.Get(echo.HeaderContentEncoding); coding != "" && !strings.EqualFold(coding, "identity") {
		c.Response().Header().Set(echo.HeaderAcceptEncoding, "identity")
		return echo.NewHTTPError(http.StatusUnsupportedMediaType, fmt.Sprintf("the body is packed as %s; send it unpacked", Clip(coding)))
	}
	allowed := echo.MIMEApplicationJSON
	if a.Operation.Table {
		allowed += " or text/csv"
	}
	switch {
	case a.Table:
		return takeTable(r, charset)
	case media != echo.MIMEApplicationJSON:
		return echo.NewHTTPError(http.StatusUnsupportedMediaType,
			fmt.Sprintf("the body is %q; send it as %s", Clip(r.Header.Get(echo.HeaderContentType)), allowed))
	}
	r.Header.Set(echo.HeaderContentType, media) // the validator compares letter by letter
	most := int64(maxBody)
	if a.Operation.Each {
		most = maxList
	}
	body, err := readAll(http.MaxBytesReader(c.Response(), r.Body, most), min(r.ContentLength, most))
	if tooLarge := new(http.MaxBytesError); errors.As(err, &tooLarge) {
		return echo.NewHTTPError(http.StatusRequestEntityTooLarge, fmt.Sprintf("the body is larger than %d bytes", most))
	} else if err != nil {
		return echo.NewHTTPError(http.StatusBadRequest, "the body could not be read to its end")
	}
	body = bytes.TrimPrefix(body, []byte("\xef\xbb\xbf")) // a byte order mark, which a reader may pass over (RFC 8259, section 8.1)
	if a.Operation.Each {
		a.List, body = body, nil
	} else if body, err = PlainJSON(body); err != nil {
		return err
	} else if read := a.reader(); read != nil {
		body, a.unpointed = pointJSON(a.Operation.RequestBody.Value.Content.Get(media).Schema.Value, body, read)
	}
	r.Body, r.ContentLength = io.NopCloser(bytes.NewReader(body)), int64(len(body))
	return nil
}

// readAll reads to the end, into memory of the right size if the length is known.
func readAll(from io.Reader, length int64) ([]byte, error) {
	var to bytes.Buffer
	to.Grow(int(max(0, length)) + bytes.MinRead)
	_, err := to.ReadFrom(from)
	return to.Bytes(), err
}

// ListItems splits a list into its items, which share its memory, and stops at the first item too
// many.
func ListItems(list []byte, most int) ([]json.RawMessage, error) {
	d := json.NewDecoder(bytes.NewReader(list))
	if start, err := d.Token(); err != nil || start != json.Delim('[') {
		return nil, &Fault{Where: "/", Reason: "the body is no list; send [{\"reading\": …}, …]", Rule: "type"}
	}
	var items []json.RawMessage
	for item := json.RawMessage(nil); d.More(); {
		if len(items) == most {
			return nil, &Fault{Where: "/", Reason: fmt.Sprintf("more than %d readings are given; 1 to %d are allowed in a list, any number as text/csv", most, most), Rule: "maxItems"}
		}
		if err := d.Decode(&item); err != nil { // each overwrites the one before
			return nil, noJSON(err)
		}
		end := int(d.InputOffset())
		items = append(items, list[end-len(item):end])
	}
	if _, err := d.Token(); err != nil {
		return nil, noJSON(err)
	}
	if _, err := d.Token(); err != io.EOF {
		return nil, follows(d)
	}
	if len(items) == 0 {
		return nil, &Fault{Where: "/", Reason: fmt.Sprintf("the list is empty; 1 to %d readings are allowed", most), Rule: "minItems"}
	}
	return items, nil
}

func noJSON(err error) error {
	return &Fault{Where: "/", Reason: "the body is no JSON: " + Clip(err.Error()), Rule: "json"}
}

func follows(d *json.Decoder) error {
	return &Fault{Where: "/", Reason: fmt.Sprintf("something follows the JSON value at byte %d; send one", d.InputOffset()), Rule: "json"}
}

// PlainJSON writes one JSON value so that every decoder reads it alike: 4.0 and 1e0 become whole
// numbers. It refuses what decoders understand differently: a field given twice, a number beyond a
// float64, text that is not UTF-8.
func PlainJSON(body []byte) ([]byte, error) {
	if len(bytes.TrimSpace(body)) == 0 {
		return nil, &Fault{Where: "/", Reason: "the body is empty; send one JSON object", Rule: "json"}
	}
	if !utf8.Valid(body) {
		return nil, &Fault{Where: "/", Reason: "the body is not UTF-8; write it in that encoding", Rule: "json"}
	}
	w := &plainWriter{in: json.NewDecoder(bytes.NewReader(body))}
	w.in.UseNumber()
	if err := w.value("", 0); err != nil {
		return nil, err
	}
	if _, err := w.in.Token(); err != io.EOF {
		return nil, follows(w.in)
	}
	if err := errors.Join(w.faults...); err != nil {
		return nil, err
	}
	return w.out.Bytes(), nil
}

type plainWriter struct {
	in     *json.Decoder
	out    bytes.Buffer
	faults []error
}

// value copies one value; where is its JSON pointer.
func (w *plainWriter) value(where string, depth int) error {
	token, err := w.in.Token()
	if err != nil {
		return noJSON(err)
	}
	switch t := token.(type) {
	case json.Delim:
		if depth == maxDepth {
			return &Fault{Where: "/", Reason: fmt.Sprintf("objects and lists lie more than %d deep in each other", maxDepth), Rule: "depth"}
		}
		w.out.WriteByte(byte(t))
		if err = w.members(where, depth, t == '{'); err != nil {
			return err
		}
		w.out.WriteByte(byte(t) + 2) // the closing bracket, in ASCII
		_, err = w.in.Token()
		if err != nil {
			return noJSON(err)
		}
		return nil
	case json.Number:
		text, err := plainNumber(string(t))
		if err != nil {
			w.faults = append(w.faults, &Fault{Where: orRoot(where), Reason: err.Error(), Rule: "number"})
		}
		w.out.WriteString(text)
		return nil
	}
	text, err := json.Marshal(token)
	w.out.Write(text)
	return err
}

// members copies the inside of an object or list.
func (w *plainWriter) members(where string, depth int, named bool) error {
	met := map[string]bool{}
	for i := 0; w.in.More(); i++ {
		if i > 0 {
			w.out.WriteByte(',')
		}
		at := where + "/" + strconv.Itoa(i)
		if named {
			token, err := w.in.Token()
			if err != nil {
				return noJSON(err)
			}
			name := token.(string)
			at = where + "/" + Clip(name)
			if i == maxFields {
				return &Fault{Where: orRoot(where), Reason: fmt.Sprintf("more than %d fields in one object", maxFields), Rule: "maxProperties"}
			}
			if met[name] {
				w.faults = append(w.faults, &Fault{Where: at, Reason: "given twice in one object; give it once", Rule: "repeated"})
			}
			met[name] = true
			key, err := json.Marshal(name)
			if err != nil {
				return err
			}
			w.out.Write(key)
			w.out.WriteByte(':')
		}
		if err := w.value(at, depth+1); err != nil {
			return err
		}
	}
	return nil
}

func orRoot(where string) string {
	if where == "" {
		return "/"
	}
	return where
}

// plainNumber writes a whole number without point and exponent, as decoders of whole numbers
// expect; others stay as they are.
func plainNumber(text string) (string, error) {
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return "0", fmt.Errorf("%s is larger than any number here may be", Clip(text))
	}
	const exact = 1 << 53 // up to which a float64 holds every whole number
	if strings.ContainsAny(text, ".eE") && x == math.Trunc(x) && math.Abs(x) < exact {
		return strconv.FormatInt(int64(x), 10), nil
	}
	return text, nil
}

// Decode reads the body of a request that was checked against the contract.
func Decode(c echo.Context, into any) ([]byte, error) {
	body, err := io.ReadAll(c.Request().Body)
	if err != nil {
		return nil, fmt.Errorf("read a body that was read before: %w", err)
	}
	return body, DecodeJSON(body, into)
}

// DecodeJSON decodes what a client sent. Whatever the decoder finds that the contract did not is
// still the client's fault.
func DecodeJSON(body []byte, into any) error {
	err := json.Unmarshal(body, into)
	if err == nil {
		return nil
	}
	f := &Fault{Where: "/", Reason: "cannot be read: " + Clip(err.Error()), Rule: "type"}
	if wrong := new(json.UnmarshalTypeError); errors.As(err, &wrong) {
		f.Where = "/" + strings.ReplaceAll(wrong.Field, ".", "/")
		f.Reason = fmt.Sprintf("%s is given, which does not fit here; see the contract", Clip(wrong.Value))
	}
	return f
}
