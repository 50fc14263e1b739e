package mixing

import (
	"testing"

	"saltlock/chem/quantity"
)

func BenchmarkSalt(b *testing.B) {
	r := salt(b, "35(1) ppt", "100(3) L")
	for b.Loop() {
		if _, err := Salt(r); err != nil {
			b.Fatal(err)
		}
	}
}

// Twenty waters are the most that the contract takes, every number of theirs uncertain.
func BenchmarkBlendOfTwenty(b *testing.B) {
	var r BlendRequest
	for range 10 {
		r.Water = append(r.Water, waters(b, "10 ± 0.3 L, 1.020(1) SG, 24 ± 1 C, 3 ± 0.1 meq/L", "5 ± 0.2 L, 2.0(2) ppt, 18 ± 2 C, 1 ± 0.1 meq/L")...)
	}
	for b.Loop() {
		if _, err := BlendWaters(r); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkChangeInSteps(b *testing.B) {
	r := WaterChangeRequest{Volume: *of[quantity.Volume](b, "200(5) L"), Salinity: *reading(b, "8.0(5) ppt"), Target: reading(b, "30.0(5) ppt"),
		NewWater: reading(b, "35(1) ppt"), GreatestChange: of[quantity.AbsoluteSalinity](b, "1 g/kg")}
	for b.Loop() {
		if _, err := Change(r); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkNetVolume(b *testing.B) {
	r := vessel(b, Bucket, "", "", "", "35.0(5) cm", "", "30.0(5) cm", "26.0(5) cm")
	for b.Loop() {
		if _, err := NetVolume(r); err != nil {
			b.Fatal(err)
		}
	}
}
