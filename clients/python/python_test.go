// Package python drives the tests of the Python module.
package python

import (
	"os"
	"strconv"
	"strings"
	"testing"

	"saltlock/clients/internal/live"
)

// base is where the real program answers.
var base string

func TestMain(m *testing.M) { os.Exit(live.Main(m, &base)) }

func TestModule(t *testing.T) {
	live.Need(t, "python3", "apt-get install python3")
	live.Run(t, []string{"SALTLOCK_URL=" + base, "PYTHONDONTWRITEBYTECODE=1"}, "python3", "-W", "error", "-m", "unittest")
}

// The first line of the README works as it stands there.
func TestShell(t *testing.T) {
	live.Need(t, "python3", "apt-get install python3")
	answer := live.Run(t, []string{"SALTLOCK_URL=" + base, "PYTHONDONTWRITEBYTECODE=1"},
		"python3", "-m", "saltlock", "mixes/salt", "target=1.010 SG", "volume=120 gal", "only=salt")
	if kg, err := strconv.ParseFloat(strings.TrimSpace(answer), 64); err != nil || kg < 6 || kg > 6.2 {
		t.Errorf("the answer is %q, want about 6.1", answer)
	}
}
