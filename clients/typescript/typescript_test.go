// Package typescript drives the tests of the TypeScript library.
package typescript

import (
	"os"
	"testing"

	"saltlock/clients/internal/live"
)

// base is where the real program answers.
var base string

func TestMain(m *testing.M) { os.Exit(live.Main(m, &base)) }

func TestLibrary(t *testing.T) {
	live.Need(t, "npm", "apt-get install nodejs npm")
	if _, err := os.Stat("node_modules"); err != nil {
		live.Missing(t, "the compiler", "npm --prefix clients/typescript ci")
	}
	live.Run(t, []string{"SALTLOCK_URL=" + base}, "npm", "test")
}
