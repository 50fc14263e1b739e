package contract

import (
	"net/http"
	"testing"

	"github.com/labstack/echo/v4"
)

// The headers that every request is asked for are found however a client writes them, as long as
// they are asked for by their canonical names.
func TestHeaderOf(t *testing.T) {
	for _, name := range []string{echo.HeaderXRequestID, echo.HeaderOrigin, echo.HeaderAccept, "If-None-Match"} {
		if name != http.CanonicalHeaderKey(name) {
			t.Errorf("%s is not the canonical name", name)
		}
		r := &http.Request{Header: http.Header{}}
		if got := HeaderOf(r, name); got != "" {
			t.Errorf("%s of a request without it is %q", name, got)
		}
		r.Header.Add(name, "one")
		r.Header.Add(name, "two")
		if got := HeaderOf(r, name); got != "one" {
			t.Errorf("%s is %q, want one", name, got)
		}
	}
}
