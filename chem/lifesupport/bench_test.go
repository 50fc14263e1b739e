package lifesupport

import "testing"

// Ten hours of a container.
func BenchmarkSupport(b *testing.B) {
	animals, start, stretches, care := drip()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Support(animals, start, stretches, care); err != nil {
			b.Fatal(err)
		}
	}
}
