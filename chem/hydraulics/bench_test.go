package hydraulics

import "testing"

func BenchmarkOpenFlow(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := OpenFlow(Line{Bore: 0.4, Length: 100, Head: 30}, 20, 25); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDropVolume(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := DropVolume(0.6, 20, 25); err != nil {
			b.Fatal(err)
		}
	}
}
