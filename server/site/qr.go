package site

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"

	"github.com/labstack/echo/v4"
	"rsc.io/qr"
)

// longestShared is how long an address may be for a QR code that a phone can still read from
// paper.
const longestShared = 1000

// qrCode answers GET /qr.svg?of=PATH: the address of a page of this site as a QR code, on white,
// since many readers need that. It makes codes of no other place.
func (s *Site) qrCode(c echo.Context) error {
	path := c.QueryParam("of")
	if u, err := url.Parse(path); err != nil || !strings.HasPrefix(path, "/") || strings.HasPrefix(path, "//") || u.Host != "" || u.Fragment != "" || len(path) > longestShared {
		return echo.NewHTTPError(http.StatusBadRequest, "of must be the path of a page of this server, without a fragment")
	}
	code, err := qr.Encode(s.Base+path, qr.M)
	if err != nil {
		return echo.NewHTTPError(http.StatusBadRequest, "that address is too long for a QR code")
	}
	const quiet = 4 // modules of white around it (ISO/IEC 18004)
	side := code.Size + 2*quiet
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" shape-rendering="crispEdges"><path fill="#fff" d="M0 0h%dv%dH0z"/><path d="`, side, side, side, side)
	for y := range code.Size {
		for x := 0; x < code.Size; x++ {
			from := x
			for x < code.Size && code.Black(x, y) {
				x++
			}
			if x > from {
				fmt.Fprintf(&b, "M%d %dh%dv1h-%dz", from+quiet, y+quiet, x-from, x-from)
			}
		}
	}
	b.WriteString(`"/></svg>`)
	return NewAsset("image/svg+xml", []byte(b.String())).Send(c)
}
