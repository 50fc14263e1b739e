package server_test

import (
	"io"
	"net/http"
	"slices"
	"testing"
	"time"
)

// asSearched is what people type into a search box, right, wrong and in part.
var asSearched = []string{
	"?q=scat", "?q=figure%208%20puffer", "?q=Dichotomyctere%20nigroviridis", "?q=bumble%20bee%20goby", "?q=mudskipr",
	"?q=what%20salinity%20for%20a%20sailfin%20molly", "?q=monodactylus", "?q=arch", "?q=Tetraodon%20biocellatus", "?q=xqzwvk",
	"?lives_at=1.008%20SG", "?group=mollusc", "?family=Syngnathidae&limit=10",
}

// BenchmarkSearch asks over a connection that is kept open, with the whole
// table, and reports the median and the slowest hundredth.
func BenchmarkSearch(b *testing.B) {
	s := newService(b)
	var times []time.Duration
	i := 0
	for b.Loop() {
		began := time.Now()
		r, err := s.Client().Get(s.URL + "/v1/species" + asSearched[i%len(asSearched)])
		if err != nil {
			b.Fatal(err)
		}
		if _, err := io.Copy(io.Discard, r.Body); err != nil || r.StatusCode != http.StatusOK {
			b.Fatal(r.Status, err)
		}
		r.Body.Close()
		times = append(times, time.Since(began))
		i++
	}
	slices.Sort(times)
	b.ReportMetric(float64(times[len(times)/2].Nanoseconds()), "p50-ns")
	b.ReportMetric(float64(times[len(times)*99/100].Nanoseconds()), "p99-ns")
}
