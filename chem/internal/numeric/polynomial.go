package numeric

// The polynomials c0 + c1·x + c2·x² + … by their degree, written out, so that the
// compiler puts them where they are used and their halves run side by side.

// Quadratic returns c0 + c1·x + c2·x².
func Quadratic(x, c0, c1, c2 float64) float64 { return c0 + x*(c1+x*c2) }

// Cubic returns c0 + c1·x + … + c3·x³.
func Cubic(x, c0, c1, c2, c3 float64) float64 { return c0 + x*c1 + x*x*(c2+x*c3) }

// Quartic returns c0 + c1·x + … + c4·x⁴.
func Quartic(x, c0, c1, c2, c3, c4 float64) float64 {
	square := x * x
	return c0 + x*c1 + square*(c2+x*c3+square*c4)
}

// Quintic returns c0 + c1·x + … + c5·x⁵.
func Quintic(x, c0, c1, c2, c3, c4, c5 float64) float64 {
	square := x * x
	return c0 + x*c1 + square*(c2+x*c3+square*(c4+x*c5))
}

// Sextic returns c0 + c1·x + … + c6·x⁶.
func Sextic(x, c0, c1, c2, c3, c4, c5, c6 float64) float64 {
	square := x * x
	return c0 + x*c1 + square*(c2+x*c3+square*(c4+x*c5+square*c6))
}

// Septic returns c0 + c1·x + … + c7·x⁷.
func Septic(x, c0, c1, c2, c3, c4, c5, c6, c7 float64) float64 {
	square := x * x
	return c0 + x*c1 + square*(c2+x*c3+square*(c4+x*c5+square*(c6+x*c7)))
}
