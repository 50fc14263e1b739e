package server

import (
	"net/http"
	"net/url"
	"path"
	"regexp"
	"strings"

	"github.com/labstack/echo/v4"

	"saltlock/server/contract"
)

// door makes requests uniform before they are routed. An extension on a path under /v1 becomes
// format=, for tools that cannot set headers. HEAD is answered as GET; net/http leaves out the
// body.
func door(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h["X-Content-Type-Options"], h["Link"] = noSniffing, described
		if id := contract.HeaderOf(r, echo.HeaderXRequestID); id != "" && !requestID.MatchString(id) {
			r.Header.Del("X-Request-Id") // it would be repeated in headers and logs; a new one is made
		}
		format := extension(r.URL.Path)
		if format == "" && r.Method != http.MethodHead {
			next.ServeHTTP(w, r)
			return
		}
		r = r.Clone(r.Context())
		if r.Method == http.MethodHead {
			r.Method = http.MethodGet
		}
		if format != "" {
			r.URL.Path = strings.TrimSuffix(r.URL.Path, path.Ext(r.URL.Path))
			r.URL.RawPath = ""
			r.URL.RawQuery = "format=" + url.QueryEscape(format) + "&" + r.URL.RawQuery
		}
		next.ServeHTTP(w, r)
	})
}

// Header values of every answer, in slices that all answers share; appending copies them.
var (
	noSniffing = []string{"nosniff"}
	described  = []string{`</openapi.yaml>; rel="service-desc", </docs>; rel="service-doc", </.well-known/api-catalog>; rel="api-catalog"`}
)

// requestID matches a client's request id that is kept as it is.
var requestID = regexp.MustCompile(`^[A-Za-z0-9._-]{1,64}$`)

// extension is the format that the ending of a path asks for.
func extension(p string) string {
	if !strings.HasPrefix(p, "/v1/") {
		return ""
	}
	switch ext := path.Ext(p); ext {
	case ".json", ".csv", ".svg", ".png", ".ics":
		return ext[1:]
	case ".txt", ".text":
		return "text"
	}
	return ""
}
