package server

import (
	"net/http"
	"strings"

	"github.com/klauspost/compress/gzhttp"
)

// least is how large an answer is at least that is worth packing.
const least = 8 << 10

// packsLists packs the long answers of the service, where the client takes that: lists,
// and plans with their curves. All that is small and asked for often goes past it, and
// what never changes is packed once by the site.
func packsLists(next http.Handler) (http.Handler, error) {
	wrap, err := gzhttp.NewWrapper(gzhttp.MinSize(least), gzhttp.EnableZstd(false), gzhttp.SuffixETag(packedTag))
	if err != nil {
		return nil, err
	}
	packing := wrap(next)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method != http.MethodGet || !long(r.URL.Path) {
			next.ServeHTTP(w, r)
			return
		}
		if held := r.Header.Get("If-None-Match"); strings.Contains(held, packedTag) {
			r = r.Clone(r.Context())
			r.Header.Set("If-None-Match", strings.ReplaceAll(held, packedTag, ""))
		}
		packing.ServeHTTP(w, r)
	}), nil
}

// packedTag ends the ETag of a packed answer.
const packedTag = "-gzip"

// long tells of a path whose answers may be long.
func long(path string) bool {
	for _, list := range []string{"/v1/species", "/v1/methods", "/v1/transfers/plan"} {
		if rest, ok := strings.CutPrefix(path, list); ok && (rest == "" || rest[0] == '.') {
			return true
		}
	}
	return false
}
