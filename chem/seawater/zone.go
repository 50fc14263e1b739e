package seawater

import "saltlock/chem/quantity"

// ZoneMethod is the key of ZoneOf in Methods.
const ZoneMethod = "zone-venice1958"

// Zone is a class of water in the Venice system.
type Zone string

// The zones, from fresh to concentrated.
const (
	Limnetic         Zone = "limnetic"
	OligohalineBeta  Zone = "oligohaline_beta"
	OligohalineAlpha Zone = "oligohaline_alpha"
	MesohalineBeta   Zone = "mesohaline_beta"
	MesohalineAlpha  Zone = "mesohaline_alpha"
	Polyhaline       Zone = "polyhaline"
	Euhaline         Zone = "euhaline"
	Hyperhaline      Zone = "hyperhaline"
)

// zoneSalinity has no upper limit other than 1000 permille.
var zoneSalinity = quantity.Range[quantity.Salinity]{Lo: 0, Hi: 1000}

// zoneLimits are where each zone but the last ends, in permille.
var zoneLimits = []struct {
	zone  Zone
	below quantity.Salinity
}{
	{Limnetic, 0.5},
	{OligohalineBeta, 3},
	{OligohalineAlpha, 5},
	{MesohalineBeta, 10},
	{MesohalineAlpha, 18},
	{Polyhaline, 30},
}

// ZoneOf returns the zone of a water in the Venice system.
//
//	sp  practical salinity, 0 to 1000; the system's permille
//
// Standard uncertainty: none; the limits are a convention. A water on a limit belongs to
// the saltier zone, except that 40 is still euhaline, because the system calls water above
// 40 hyperhaline.
// Check value: sp = 13.3 is mesohaline_alpha.
//
// Source: the symposium's resolution [Venice1958].
func ZoneOf(sp quantity.Salinity) (Zone, error) {
	if !zoneSalinity.Contains(sp) {
		return "", zoneSalinity.Check("salinity", sp)
	}
	for _, l := range zoneLimits {
		if sp < l.below {
			return l.zone, nil
		}
	}
	if sp <= 40 {
		return Euhaline, nil
	}
	return Hyperhaline, nil
}
