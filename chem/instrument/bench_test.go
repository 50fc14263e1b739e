package instrument

import (
	"testing"

	"saltlock/chem/quantity"
)

func BenchmarkConvert(b *testing.B) {
	at := quantity.Of[quantity.Celsius](25, 0.5)
	for name, set := range instruments() {
		r, err := Show(20, 25, set)
		if err != nil {
			b.Fatal(err)
		}
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := convert(r, &at, set); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkAbsoluteSalinity(b *testing.B) {
	at, set := quantity.Celsius(25), glass("60F/60F")
	r := on(quantity.SpecificGravityScale, 1.010)
	for b.Loop() {
		if _, err := AbsoluteSalinity(r, &at, set); err != nil {
			b.Fatal(err)
		}
	}
}
