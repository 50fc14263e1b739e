package site

import (
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"
)

// missing is what the page of a failed request says.
type missing struct {
	Status          int
	Detail, Request string
}

// ForPeople reports whether a request is for a page and accepts one, so that even its failure
// should be a page.
func ForPeople(r *http.Request) bool {
	return !strings.HasPrefix(r.URL.Path, "/v1/") && strings.Contains(r.Header.Get(echo.HeaderAccept), "text/html")
}

// Fault is the page of a request that failed.
func (s *Site) Fault(status int, detail, request string) ([]byte, error) {
	t, err := s.asked()
	if err != nil {
		return nil, err
	}
	title := "There is no such page"
	switch {
	case status >= http.StatusInternalServerError, status == http.StatusTooManyRequests:
		title = "This page cannot be shown right now"
	case status != http.StatusNotFound:
		title = "This cannot be done"
	}
	if detail == "" {
		detail = "Try again in a minute."
	}
	return s.render(t, "missing.html", sheet{Path: "/", Title: title, Description: title, Unlisted: true, Body: missing{status, detail, request}})
}

// guideCards are the guides as listed on the page of all guides.
func guideCards() []sheet {
	var list []sheet
	for _, g := range guides {
		list = append(list, sheet{Path: g.path, Title: g.title, Description: g.description})
	}
	return list
}
