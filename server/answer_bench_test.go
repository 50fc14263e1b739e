package server_test

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

// nowhere discards an answer and keeps only its status.
type nowhere struct {
	head   http.Header
	status int
}

func (n *nowhere) Header() http.Header         { return n.head }
func (n *nowhere) WriteHeader(status int)      { n.status = status }
func (n *nowhere) Write(b []byte) (int, error) { return len(b), nil }

// BenchmarkAnswer asks the handler itself, without a connection, a different question each time.
func BenchmarkAnswer(b *testing.B) {
	s := newService(b)
	for name, format := range map[string]string{
		"conversion": "/v1/conversions?reading=%d.%05d(2)%%20mS/cm&temperature=25.5(5)%%20C",
		"hydrometer": "/v1/conversions?reading=1.0%02d%05d%%20SG&temperature=25.5(5)%%20C&instrument=hydrometer",
		"only":       "/v1/conversions?reading=%d.%05d(2)%%20mS/cm&temperature=25%%20C&only=density&format=text",
		"salt":       "/v1/mixes/salt?target=%d.%05d%%20ppt&volume=400%%20L&temperature=25%%20C",
		"species":    "/v1/species/scatophagus-argus?again=%d%05d",
		"search":     "/v1/species?q=scat&again=%d%05d",
		"lives at":   "/v1/species?lives_at=%d.%05d%%20ppt",
		"page":       "/?again=%d%05d",
		"wrong":      "/v1/conversions?reading=%d.%05d%%20furlongs&tempreature=25.5(5)%%20C",
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			i := 0
			for b.Loop() {
				r := httptest.NewRequest(http.MethodGet, fmt.Sprintf(format, 10+i%25, i/25%100000), nil)
				w := &nowhere{head: http.Header{}}
				s.Config.Handler.ServeHTTP(w, r)
				if w.status != http.StatusOK && name != "wrong" {
					b.Fatal(w.status, r.URL)
				}
				i++
			}
		})
	}
}

// BenchmarkTable converts a table, and reports what one row takes.
func BenchmarkTable(b *testing.B) {
	s := newService(b)
	const rows = 2000
	var table strings.Builder
	table.WriteString("reading [mS/cm],temperature [C]\n")
	for i := range rows {
		fmt.Fprintf(&table, "%d.%05d(20),%d.%d(5)\n", 10+i%40, i/40%100000, 15+i%15, i%10)
	}
	b.ReportAllocs()
	for b.Loop() {
		r := httptest.NewRequest(http.MethodPost, "/v1/conversions", strings.NewReader(table.String()))
		r.Header.Set("Content-Type", "text/csv")
		s.Config.Handler.ServeHTTP(&watched{ResponseRecorder: httptest.NewRecorder()}, r)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/rows, "ns/row")
}
