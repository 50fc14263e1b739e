package render

import (
	"math"
	"strconv"
)

// magnitude is the power of ten of the first digit of x > 0.
func magnitude(x float64) int {
	const log2 = 0.30102999566398119521 // the decimal logarithm of 2
	_, e := math.Frexp(x)
	m := int(math.Floor(float64(e-1) * log2))
	if x >= math.Pow10(m+1) {
		m++
	}
	return m
}

// appendFixed writes x with n decimals, as strconv does more slowly. A number of few digits is a
// whole number of its last decimal, unless it lies so near the middle of two that the
// multiplication might choose the other.
func appendFixed(b []byte, x float64, n int) []byte {
	const few, near = 1e9, 1e-6
	scaled := math.Abs(x) * math.Pow10(n)
	below := math.Floor(scaled)
	over := scaled - below
	if n > 15 || !(scaled < few) || math.Abs(over-0.5) < near {
		return strconv.AppendFloat(b, x, 'f', n, 64)
	}
	whole := uint32(below)
	if over > 0.5 {
		whole++
	}
	if math.Signbit(x) {
		b = append(b, '-')
	}
	var digits [20]byte // written from the last, which is at the end
	at := len(digits)
	for i := 0; whole > 0 || i <= n; i++ {
		if i == n && n > 0 {
			at--
			digits[at] = '.'
		}
		at--
		digits[at] = '0' + byte(whole%10)
		whole /= 10
	}
	return append(b, digits[at:]...)
}
