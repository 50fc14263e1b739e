package server

import (
	"net/http"
	"strings"

	"github.com/klauspost/compress/gzhttp"
)

// leastPacked is the size from which an answer is worth compressing.
const leastPacked = 8 << 10

// packsLists compresses the long answers of the service if the client accepts that: lists, and
// plans with their curves. Small, frequent answers skip it, and the site compresses once what
// never changes.
func packsLists(next http.Handler) (http.Handler, error) {
	wrap, err := gzhttp.NewWrapper(gzhttp.MinSize(leastPacked), gzhttp.EnableZstd(false), gzhttp.SuffixETag(packedTag))
	if err != nil {
		return nil, err
	}
	packing := wrap(next)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method != http.MethodGet || !mayBeLong(r.URL.Path) {
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

// packedTag ends the ETag of a compressed answer.
const packedTag = "-gzip"

// mayBeLong reports whether the answers of a path can be long.
func mayBeLong(path string) bool {
	for _, list := range []string{"/v1/species", "/v1/methods", "/v1/transfers/plan"} {
		if rest, ok := strings.CutPrefix(path, list); ok && (rest == "" || rest[0] == '.') {
			return true
		}
	}
	return false
}
