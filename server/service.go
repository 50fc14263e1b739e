package server

import (
	"net/http"

	"github.com/labstack/echo/v4"
)

// GetHealth answers GET /healthz.
func (s *Server) GetHealth(c echo.Context) error { return c.String(http.StatusOK, "ok\n") }

// GetReadiness answers GET /readyz.
func (s *Server) GetReadiness(c echo.Context) error {
	select {
	case <-s.draining:
		return echo.NewHTTPError(http.StatusServiceUnavailable, "the service is about to stop")
	default:
	}
	if err := s.store.Ping(c.Request().Context()); err != nil {
		why := "the species table cannot be read"
		if h, ok := hindered(err); ok {
			why = h.why
		}
		return echo.NewHTTPError(http.StatusServiceUnavailable, why).SetInternal(err)
	}
	return c.String(http.StatusOK, "ready\n")
}

// GetDocs answers GET /docs.
func (s *Server) GetDocs(c echo.Context) error { return s.site.Page(c, "/docs") }

// GetPitfalls answers GET /docs/pitfalls.
func (s *Server) GetPitfalls(c echo.Context) error { return s.site.Page(c, "/docs/pitfalls") }

// GetProblemType answers GET /problems/{type}.
func (s *Server) GetProblemType(c echo.Context, name string) error {
	return s.site.Page(c, "/problems/"+name)
}
