package transfer

import (
	"testing"

	"saltlock/chem/quantity"
)

// Numbers that only computing parts have no margin between them; others keep theirs, its sign too.
func TestMargin(t *testing.T) {
	tenths := quantity.AbsoluteSalinity(0.1)
	for _, c := range []struct{ above, below, want quantity.AbsoluteSalinity }{
		{0.3, 3 * tenths, 0}, {3 * tenths, 0.3, 0}, {2, 2.5, -0.5}, {3, 1, 2}, {0, 0, 0},
	} {
		if got := margin(c.above, c.below); got != c.want {
			t.Errorf("margin(%v, %v) = %v, want %v", c.above, c.below, got, c.want)
		}
	}
}
