package seawater

import "testing"

func BenchmarkDensity(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if density(35.16504, 25) < 1000 {
			b.Fatal("fresh")
		}
	}
}

func BenchmarkAbsoluteSalinityFromDensity(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := AbsoluteSalinityFromDensity(1007.5, 25); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSalinityFromConductivity(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := SalinityFromConductivity(22.105, 25); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkConductivity(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Conductivity(13.289, 25); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSpecificEnthalpy(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if specificEnthalpy(35.16504, 25) < 0 {
			b.Fatal("below 0 °C")
		}
	}
}

func BenchmarkPHFromCarbon(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := PHFromCarbon(2300, 2000, 35, 25, NBSScale); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkTemperatureFromEnthalpy(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := TemperatureFromEnthalpy(99796.7, 35.16504); err != nil {
			b.Fatal(err)
		}
	}
}
