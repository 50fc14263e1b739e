package site

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"io"
	"net/http"
	"path"
	"regexp"
	"strings"
	"sync"
	"time"

	"github.com/klauspost/compress/gzip"
	"github.com/labstack/echo/v4"
)

//go:embed static
var staticFiles embed.FS

// Asset is bytes that do not change while the program runs.
type Asset struct {
	media  string
	plain  []byte
	packed func() []byte
	sum    string
}

// NewAsset keeps a body; the first client that accepts it compressed has it compressed once.
func NewAsset(media string, body []byte) *Asset {
	sum := sha256.Sum256(body)
	return &Asset{media: media, plain: body, sum: hex.EncodeToString(sum[:8]), packed: sync.OnceValue(func() []byte {
		var out bytes.Buffer
		w := gzip.NewWriter(&out)
		_, _ = w.Write(body) // writing to a buffer cannot fail
		_ = w.Close()
		return out.Bytes()
	})}
}

// version names the bytes in a URL whose meaning never changes.
func (a *Asset) version() string { return a.sum }

// Send answers with the bytes, compressed if the client accepts that, or with 304 if its copy is
// current.
func (a *Asset) Send(c echo.Context) error {
	h, body := c.Response().Header(), a.plain
	h.Set("Content-Type", a.media)
	h.Set("Vary", "Accept-Encoding")
	if h.Get("Cache-Control") == "" {
		h.Set("Cache-Control", "public, max-age=300")
	}
	h.Set("ETag", `"`+a.sum+`"`)
	if takesPacked(c.Request()) && !strings.HasPrefix(a.media, "image/png") {
		body = a.packed()
		h.Set("Content-Encoding", "gzip")
		h.Set("ETag", `"`+a.sum+`-gzip"`)
	}
	http.ServeContent(c.Response(), c.Request(), "", time.Time{}, bytes.NewReader(body))
	return nil
}

// refusesPacked matches gzip with a weight of zero (RFC 9110, 12.5.3).
var refusesPacked = regexp.MustCompile(`gzip\s*;\s*q=0(\.0*)?\s*(,|$)`)

// takesPacked reports whether a client accepts a compressed answer.
func takesPacked(r *http.Request) bool {
	accepts := strings.ToLower(r.Header.Get("Accept-Encoding"))
	return strings.Contains(accepts, "gzip") && !refusesPacked.MatchString(accepts)
}

// media are the media types of our files, whatever the machine's own tables say.
var media = map[string]string{
	".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".svg": "image/svg+xml", ".txt": "text/plain; charset=utf-8",
}

// static are the files that pages load, by name. Licences of files from elsewhere are served with
// them.
// are served with them.
var static = sync.OnceValue(func() map[string]*Asset {
	files := map[string]*Asset{}
	for _, dir := range []string{"static", "static/swagger-ui"} {
		entries, err := staticFiles.ReadDir(dir)
		if err != nil {
			panic(err) // the folder is compiled in
		}
		for _, e := range entries {
			if e.IsDir() {
				continue
			}
			body, err := staticFiles.ReadFile(path.Join(dir, e.Name()))
			if err != nil {
				panic(err)
			}
			name, packed := strings.CutSuffix(e.Name(), ".gz")
			if packed {
				body = unpacked(body)
			}
			kind, ok := media[path.Ext(name)]
			if !ok {
				kind = media[".txt"]
			}
			files[name] = NewAsset(kind, body)
		}
	}
	return files
})

// unpacked is a file that is stored compressed, as large ones from elsewhere are.
func unpacked(body []byte) []byte {
	r, err := gzip.NewReader(bytes.NewReader(body))
	if err != nil {
		panic(err) // it is compiled in
	}
	plain, err := io.ReadAll(r)
	if err != nil {
		panic(err)
	}
	return plain
}

// staticURL is the address of a file, with its version.
func staticURL(name string) (string, error) {
	a, ok := static()[name]
	if !ok {
		return "", fmt.Errorf("there is no static file %s", name)
	}
	return "/static/" + name + "?v=" + a.version(), nil
}
