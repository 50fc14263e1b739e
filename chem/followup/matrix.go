package followup

type (
	vector [states]float64
	matrix [states][states]float64
)

// follow is a covariance after a change of mass and of what is missing alone, by their slopes.
func (a *matrix) follow(byMass, byMissing vector) {
	var toMass, toMissing vector
	for j := range states {
		for k := range states {
			toMass[j] += byMass[k] * a[k][j]
			toMissing[j] += byMissing[k] * a[k][j]
		}
	}
	massMass, massMissing, missingMissing := 0.0, 0.0, 0.0
	for k := range states {
		massMass += byMass[k] * toMass[k]
		massMissing += byMissing[k] * toMass[k]
		missingMissing += byMissing[k] * toMissing[k]
	}
	for j := range states {
		a[mass][j], a[j][mass] = toMass[j], toMass[j]
		a[missing][j], a[j][missing] = toMissing[j], toMissing[j]
	}
	a[mass][mass], a[missing][missing] = massMass, missingMissing
	a[mass][missing], a[missing][mass] = massMissing, massMissing
}

func (a matrix) times(b matrix) (c matrix) {
	for i := range states {
		for k := range states {
			if a[i][k] == 0 {
				continue
			}
			for j := range states {
				c[i][j] += a[i][k] * b[k][j]
			}
		}
	}
	return c
}

func (a matrix) transposed() (t matrix) {
	for i := range states {
		for j := range states {
			t[j][i] = a[i][j]
		}
	}
	return t
}
