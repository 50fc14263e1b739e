package server

import (
	"io"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"
)

// How much of a body is still read after it was answered.
const (
	mostDrained = 16 << 20 // bytes; beyond this, net/http closes the connection
	drainTime   = time.Second
)

// drainRefused reads what a client still sends after its refusal. Many clients send everything
// before they read, and if the connection closes while they send they never see the refusal.
func drainRefused(c echo.Context) {
	r := c.Request()
	if r.ContentLength == 0 || r.Header.Get("Expect") != "" { // a client that waits for permission reads first
		return
	}
	drain(r.Body, http.NewResponseController(c.Response().Writer))
}

func drain(body io.Reader, link *http.ResponseController) {
	_ = link.SetReadDeadline(time.Now().Add(drainTime)) // a connection without deadlines ends by itself
	_, _ = io.CopyN(io.Discard, body, mostDrained)      // what cannot be read is not missed
}
