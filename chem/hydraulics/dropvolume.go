package hydraulics

import (
	"errors"
	"math"

	"saltlock/chem/internal/numeric"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// DropVolumeMethod is the key of DropVolume in Methods.
const DropVolumeMethod = "drop-volume-harkins-brown"

// DropVolumeFit is the standard uncertainty of the volume of a drop, 5 % of a drop from
// an air line: the effect of a fast drip, a skewed cut or a tip not wetted to its edge.
// Proposed by Saltlock; pharmacy droppers may be 10 % off.
const DropVolumeFit quantity.Volume = 4e-6

// TipDiameter is the range of outer diameters for DropVolume, in which the correction of
// Harkins and Brown is tabulated for any water.
var TipDiameter = quantity.Range[quantity.Length]{Lo: 0.2, Hi: 1}

var (
	dropSalinity    = quantity.Range[quantity.AbsoluteSalinity]{Lo: 0, Hi: 120}
	dropTemperature = quantity.Range[quantity.Celsius]{Lo: 0, Hi: 40}
)

// DropVolume returns the volume of a drop that falls slowly from the end of a tube
// that hangs straight down.
//
//	tip  outer diameter of the end, which the drop wets, 2 to 10 mm
//	sa   Absolute Salinity, 0 to 120 g/kg
//	t    temperature, 0 to 40 °C
//
// Standard uncertainty: 0.004 mL (DropVolumeFit).
// Check value: tip 3 mm, water at 25 °C, as of a pharmacy dropper, gives 0.047 mL;
// 20 of its drops weigh 0.9 to 1.1 g [USP1101].
//
// Source: weight against surface tension (Tate 1864, from memory), times the
// share of the drop that falls [HarkinsBrown19], from memory.
// Not implemented: tips thinner than 2 mm, such as those of infusion sets with 60
// drops/mL, because the correction is not tabulated here for them. Count their drops.
func DropVolume(tip quantity.Length, sa quantity.AbsoluteSalinity, t quantity.Celsius) (quantity.Volume, error) {
	if err := errors.Join(
		TipDiameter.Check("line.tip_diameter", tip),
		dropSalinity.Check("salinity", sa),
		dropTemperature.Check("temperature", t),
	); err != nil {
		return 0, err
	}
	rho, err := seawater.Density(sa, t)
	if err != nil {
		return 0, err
	}
	r := float64(tip) / 200
	hanging := 2 * math.Pi * r * surfaceTension(float64(sa), float64(t)) / (float64(rho) * gravity)
	// With x = r/V^(1/3) the volume is r³/x³, and r³/x³ = hanging·F(x).
	x, err := numeric.Root(func(x float64) float64 {
		return x*x*x*fallingShare(x) - r*r*r/hanging
	}, firstShare, lastShare)
	if err != nil {
		return 0, err
	}
	return quantity.Volume(1000 * r * r * r / (x * x * x)), nil
}

// Ends and step of the table of shares.
const (
	firstShare = 0.30
	lastShare  = 1.00
	shareStep  = 0.05
)

// shares is F, the part of the hanging drop that falls, by r/V^(1/3) from 0.30 on
// in steps of 0.05 [HarkinsBrown19], from memory.
var shares = [...]float64{.7256, .7011, .6828, .6669, .6515, .6362, .6250, .6171, .6093, .6032, .6000, .5992, .5998, .6034, .6098}

// fallingShare interpolates the table linearly.
func fallingShare(x float64) float64 {
	at := (x - firstShare) / shareStep
	i := min(int(at), len(shares)-2)
	return shares[i] + (at-float64(i))*(shares[i+1]-shares[i])
}
