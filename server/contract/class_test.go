package contract

import (
	"net/http"
	"regexp"
	"slices"
	"testing"

	"saltlock/api"
)

// Every operation names its class; without one the contract cannot be loaded.
func TestOperationWithoutAClass(t *testing.T) {
	classes := regexp.MustCompile(`(?m)^ +x-class: \w+\n`).FindAllIndex(api.Spec, -1)
	c, err := Load(api.Spec)
	if err != nil || len(classes) != len(c.Operations) {
		t.Fatalf("%d classes of %d operations, %v", len(classes), len(c.Operations), err)
	}
	for _, at := range classes {
		if _, err := Load(slices.Concat(api.Spec[:at[0]], api.Spec[at[1]:])); err == nil {
			t.Errorf("nobody misses %q", api.Spec[at[0]:at[1]])
		}
	}
}

// Operations that change something are counted, and operations that only read can be cached.
func TestClasses(t *testing.T) {
	c, err := Load(api.Spec)
	if err != nil {
		t.Fatal(err)
	}
	for key, op := range c.Operations {
		reads, keyed := op.Route.Method == http.MethodGet, op.Security != nil && len(*op.Security) > 0
		if reads && op.Class == Write || keyed && op.Class != Write || !reads && !slices.Contains([]Class{Plan, Batch, Write}, op.Class) {
			t.Errorf("%s is of class %s", key, op.Class)
		}
	}
}
