package quantity

import (
	"fmt"
	"math/rand/v2"
	"strconv"
	"testing"
)

// Where a number is read the short way, it is the float64 that strconv reads.
func TestExact(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 1))
	short := 0
	for range 200_000 {
		whole, part := random.Uint64N(1<<random.IntN(50)), random.Uint64N(1<<random.IntN(40))
		mantissa, exponent := fmt.Sprint(whole), random.IntN(50)-25
		if random.IntN(4) > 0 {
			mantissa = fmt.Sprintf("%d.%d", whole, part)
		}
		got, ok := exact(mantissa, exponent)
		if !ok {
			continue
		}
		short++
		want, err := strconv.ParseFloat(fmt.Sprintf("%se%d", mantissa, exponent), 64)
		if err != nil || got != want {
			t.Fatalf("exact(%s, %d) = %v, strconv reads %v, %v", mantissa, exponent, got, want, err)
		}
	}
	if short < 10_000 {
		t.Errorf("only %d numbers are read the short way", short)
	}
}
