package site

import (
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/labstack/echo/v4"

	"saltlock/api"
	"saltlock/server/contract"
)

// Nothing on a page is asked before the page is, a page without its answers is
// still a page, and it is written again until they come.
func TestPagesAskLate(t *testing.T) {
	c, err := contract.Load(api.Spec)
	if err != nil {
		t.Fatal(err)
	}
	asked, status := 0, http.StatusServiceUnavailable
	s := New(Options{Contract: c, Log: slog.New(slog.DiscardHandler), Service: http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		asked++
		w.WriteHeader(status)
		_, _ = w.Write([]byte(`{"salt": {"value": 1, "unit": "kg"}}`))
	})})
	if asked > 0 {
		t.Errorf("%d questions before anybody asked for a page", asked)
	}
	e := echo.New()
	e.GET("/*", func(c echo.Context) error { return s.Page(c, c.Request().URL.Path) })
	page := func(path string) string {
		r := httptest.NewRecorder()
		e.ServeHTTP(r, httptest.NewRequest(http.MethodGet, path, nil))
		if r.Code != http.StatusOK {
			t.Fatalf("GET %s: %d %s", path, r.Code, r.Body)
		}
		return r.Body.String()
	}
	for path := range s.pages {
		if body := page(path); strings.HasPrefix(path, "/docs/making") && !strings.Contains(body, noAnswer) {
			t.Errorf("%s does not say that the service answers nothing", path)
		}
	}
	before := asked
	if page("/docs/dripping"); asked == before {
		t.Error("a page without its answers is kept")
	}
	status = http.StatusOK
	if body := page("/docs/dripping"); strings.Contains(body, noAnswer) {
		t.Error("a page does not notice that the service answers again")
	}
	before = asked
	if page("/docs/dripping"); asked != before {
		t.Error("a whole page is written again")
	}
}

func TestLoggedQuantitiesHaveTheDecimalsOfAnInstrument(t *testing.T) {
	for text, want := range map[string]string{"22.22222222222222 °C": "22.2 °C", "26 °C": "26 °C", "5.678117676 L": "5.68 L", "20 L": "20 L", "22.2(5) °C": "22.2(5) °C"} {
		decimals := 1
		if strings.HasSuffix(text, "L") {
			decimals = 2
		}
		if got := asRead(text, decimals); got != want {
			t.Errorf("asRead(%q) = %q, want %q", text, got, want)
		}
	}
}
