// Command bare answers with bytes that were saved before, on a bare echo: what
// is left of a request when there is no work to do. It is the anchor that the
// service is measured against.
package main

import (
	"flag"
	"log"
	"net/http"
	"os"

	"github.com/labstack/echo/v4"
)

func main() {
	addr := flag.String("addr", "127.0.0.1:8181", "address to listen on")
	flag.Parse()
	e := echo.New()
	for i := 0; i+2 < flag.NArg(); i += 3 { // path, media type, file
		media := flag.Arg(i + 1)
		body, err := os.ReadFile(flag.Arg(i + 2))
		if err != nil {
			log.Fatal(err)
		}
		e.GET(flag.Arg(i), func(c echo.Context) error { return c.Blob(http.StatusOK, media, body) })
	}
	e.HideBanner, e.HidePort = true, true
	log.Fatal(e.Start(*addr))
}
