package server

import (
	"io"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"
)

// What is still taken of a body that was answered before its end.
const (
	mostDrained = 16 << 20 // bytes; beyond, net/http closes the link
	drainTime   = time.Second
)

// drainRefused takes what a client still sends that is refused. Many send everything
// before they read, and a link that is closed on what they send loses the refusal.
func drainRefused(c echo.Context) {
	r := c.Request()
	if r.ContentLength == 0 || r.Header.Get("Expect") != "" { // who waits to be let in reads first
		return
	}
	drain(r.Body, http.NewResponseController(c.Response().Writer))
}

func drain(body io.Reader, link *http.ResponseController) {
	_ = link.SetReadDeadline(time.Now().Add(drainTime)) // a link that has none ends by itself
	_, _ = io.CopyN(io.Discard, body, mostDrained)      // what cannot be read is not missed
}
