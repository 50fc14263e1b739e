package hydraulics

import (
	"testing"

	"saltlock/chem/quantity"
)

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
		if _, err := DropVolume(0.3, 20, 25); err != nil {
			b.Fatal(err)
		}
	}
}

// A hundred moments, more than any plan has.
func BenchmarkIntakeWindow(b *testing.B) {
	var moments []Moment
	for i := range 50 {
		drawn := quantity.Volume(12 * (i + 1))
		moments = append(moments, Moment{drawn - 12, 6}, Moment{drawn, 18})
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := IntakeWindow(7500, 20, moments); err != nil {
			b.Fatal(err)
		}
	}
}
