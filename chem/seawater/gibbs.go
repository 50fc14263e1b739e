package seawater

import (
	"math"

	"saltlock/chem/internal/numeric"
	"saltlock/chem/quantity"
)

// The range in which the Gibbs function is used. It holds beyond 0 and 40 °C. The extra
// degree on each side is for mixtures, which the heat of dilution may carry a little
// outside.
var (
	gibbsSalinity    = quantity.Range[quantity.AbsoluteSalinity]{Lo: 0, Hi: 120}
	gibbsTemperature = quantity.Range[quantity.Celsius]{Lo: -1, Hi: 41}
)

// inTemperature is a polynomial in y = t/40 °C.
type inTemperature [8]float64

// Coefficients of the Gibbs function at atmospheric pressure, J/kg: of pure water
// (SR7-09), of x² ln x, and of x² to x⁷ (R13-08).
var (
	gibbsWater = inTemperature{101.342743139674, 5.90578347909402, -12357.785933039, 736.741204151612,
		-148.185936433658, 58.0259125842571, -18.9843846514172, 3.05081646487967}
	gibbsLog  = inTemperature{5812.81456626732, 851.226734946706}
	gibbsSalt = [...]inTemperature{
		{1416.27648484197, 168.072408311545, 880.031352997204, -225.267649263401, 91.4260447751259, -21.6603240875311, 2.13016970847183},
		{-2432.14662381794, -493.407510141682, -43.0664675978042, -10.0227370861875, 0.875600661808945},
		{2025.80115603697, 543.835333000098, -68.5572509204491, 49.3667694856254, -17.1397577419788, 2.49697009569508},
		{-1091.66841042967, -196.028306689776},
		{374.60123787784, 36.7571622995805},
		{-48.5891069025409},
	}
)

func (p *inTemperature) at(y float64) float64 {
	return numeric.Septic(y, p[0], p[1], p[2], p[3], p[4], p[5], p[6], p[7])
}

// add adds a multiple of another polynomial.
func (p *inTemperature) add(by float64, q *inTemperature) {
	for i := range p {
		p[i] += by * q[i]
	}
}

// gibbsOf returns the Gibbs energy of one salinity.
func gibbsOf(sa float64) inTemperature {
	g := gibbsWater
	// x² ln x is not a number at 0, to which the smallest salinities round.
	if x := math.Sqrt(sa / unitSalinity); x > 0 {
		power := x * x
		g.add(power*math.Log(x), &gibbsLog)
		for i := range gibbsSalt {
			g.add(power, &gibbsSalt[i])
			power *= x
		}
	}
	return g
}

// derivatives returns the Gibbs energy, J/kg, and its first two derivatives by
// temperature, per K and K².
func (p *inTemperature) derivatives(t float64) (g, gt, gtt float64) {
	y := t / 40
	g = p.at(y)
	gt = numeric.Sextic(y, p[1], 2*p[2], 3*p[3], 4*p[4], 5*p[5], 6*p[6], 7*p[7])
	gtt = numeric.Quintic(y, 2*p[2], 6*p[3], 12*p[4], 20*p[5], 30*p[6], 42*p[7])
	return g, gt / 40, gtt / (40 * 40)
}
