package encode

import (
	"encoding/binary"
	"fmt"
	"math"
	"strconv"
)

// significant is how many digits a number in an answer has: as many as all computers agree on, and
// more than any instrument shows.
const significant = 12

// Number appends a number as JSON, rounded to twelve significant digits.
func Number(b []byte, x float64) ([]byte, error) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return b, fmt.Errorf("%g is not a number that JSON can hold", x)
	}
	if x == 0 {
		return append(b, '0'), nil
	}
	if x == math.Trunc(x) && math.Abs(x) < 1e12 {
		return strconv.AppendInt(b, int64(x), 10), nil
	}
	if x < 0 {
		b, x = append(b, '-'), -x
	}
	if digits, exponent, ok := rounded12(x); ok {
		end := significant
		for end > 1 && digits[end-1] == '0' {
			end--
		}
		return place(b, digits[:end], exponent), nil
	}
	// d.ddddddddddde±dd: eleven decimals and the exponent of the first digit.
	var space [significant + 8]byte
	text := strconv.AppendFloat(space[:0], x, 'e', significant-1, 64)
	exponent := 0
	for _, d := range text[significant+3:] {
		exponent = 10*exponent + int(d-'0')
	}
	if text[significant+2] == '-' {
		exponent = -exponent
	}
	digits := text[1 : significant+1] // the point is moved out of the way
	digits[0] = text[0]
	end := significant
	for end > 1 && digits[end-1] == '0' {
		end--
	}
	return place(b, digits[:end], exponent), nil
}

// rounded12 returns the digits of x > 0 and the exponent of the first, as strconv does more
// slowly. They are the digits of the whole number next to x times a power of ten, unless x lies so
// near the middle of two that rounding the product might choose the other.
func rounded12(x float64) (digits [significant]byte, exponent int, ok bool) {
	const log2of18 = 78913 // the decimal logarithm of 2, times 2^18
	e := int(math.Float64bits(x)>>52) - 1023
	exponent = (e * log2of18) >> 18 // or one more
	scaled, ok := timesPower(x, significant-1-exponent)
	if ok && scaled >= 1e12 {
		exponent++
		scaled, ok = timesPower(x, significant-1-exponent)
	}
	if !ok {
		return digits, 0, false
	}
	whole := uint64(scaled)
	over := scaled - float64(whole)
	if math.Abs(over-0.5) < 1e-3 { // the product is off by at most 6e-5
		return digits, 0, false
	}
	if over > 0.5 {
		whole++
	}
	if whole == 1e12 {
		whole, exponent = 1e11, exponent+1
	}
	high, low := uint32(whole/1e6), uint32(whole%1e6) // 32 bits divide faster
	putPair(&digits, 0, high/1e4)
	putPair(&digits, 2, high/100%100)
	putPair(&digits, 4, high%100)
	putPair(&digits, 6, low/1e4)
	putPair(&digits, 8, low/100%100)
	putPair(&digits, 10, low%100)
	return digits, exponent, true
}

// timesPower is x·10^n; false where the power is no float64.
func timesPower(x float64, n int) (float64, bool) {
	switch {
	case n < -exactPowers || n > exactPowers:
		return 0, false
	case n < 0:
		return x / powers[-n], true
	}
	return x * powers[n], true
}

// exactPowers is the largest power of ten that is exactly a float64.
const exactPowers = 22

var powers = func() (of [exactPowers + 1]float64) {
	for n := range of {
		of[n] = math.Pow10(n)
	}
	return of
}()

// putPair writes the two digits of a number below 100.
func putPair(digits *[significant]byte, at int, n uint32) {
	binary.LittleEndian.PutUint16(digits[at:], pairs[n])
}

// pairs are 00 to 99, the first digit in the lower byte.
var pairs = func() (of [100]uint16) {
	for n := range of {
		of[n] = uint16('0'+n/10) | uint16('0'+n%10)<<8
	}
	return of
}()

// place writes digits, the first of which is worth 10^exponent, as encoding/json would: in full
// from 1e-6 to 1e21.
func place(b, digits []byte, exponent int) []byte {
	switch n := len(digits); {
	case exponent < -6 || exponent >= 21:
		b = append(b, digits[0])
		if n > 1 {
			b = append(append(b, '.'), digits[1:]...)
		}
		return strconv.AppendInt(append(b, 'e'), int64(exponent), 10)
	case exponent < 0:
		b = append(b, '0', '.')
		for range -exponent - 1 {
			b = append(b, '0')
		}
		return append(b, digits...)
	case exponent >= n-1:
		b = append(b, digits...)
		for range exponent - n + 1 {
			b = append(b, '0')
		}
		return b
	default:
		b = append(append(b, digits[:exponent+1]...), '.')
		return append(b, digits[exponent+1:]...)
	}
}

// rounded appends JSON whose numbers may have more digits.
func rounded(b, json []byte) ([]byte, error) {
	for i := 0; i < len(json); {
		switch c := json[i]; {
		case c == '"':
			end := i + 1
			for json[end] != '"' {
				if json[end] == '\\' {
					end++
				}
				end++
			}
			b, i = append(b, json[i:end+1]...), end+1
		case c == '-' || c >= '0' && c <= '9':
			end, whole := i+1, true
			for ; end < len(json) && (json[end] >= '0' && json[end] <= '9' || json[end] == '.' || json[end]|0x20 == 'e' || json[end] == '+' || json[end] == '-'); end++ {
				whole = whole && json[end] >= '0' && json[end] <= '9'
			}
			if whole {
				b, i = append(b, json[i:end]...), end
				continue
			}
			x, err := strconv.ParseFloat(string(json[i:end]), 64)
			if err != nil {
				return b, err
			}
			if b, err = Number(b, x); err != nil {
				return b, err
			}
			i = end
		default:
			b, i = append(b, c), i+1
		}
	}
	return b, nil
}
