package hydraulics

import (
	"regexp"
	"slices"
	"testing"

	"saltlock/chem/quantity"
)

// Every key has its entry, and every entry is whole.
func TestMethods(t *testing.T) {
	want := []string{OpenFlowMethod, DropVolumeMethod, SurfaceTensionMethod, DriftMethod, IntakeMethod}
	kebab := regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)+$`)
	var got []string
	for _, m := range Methods() {
		got = append(got, m.Key)
		if !kebab.MatchString(m.Key) {
			t.Errorf("key %q is not in kebab-case", m.Key)
		}
		if slices.Contains([]string{m.Title, m.Source, m.Validity, m.Uncertainty, string(m.Standing)}, "") {
			t.Errorf("%s lacks a field: %+v", m.Key, m)
		}
	}
	if !slices.Equal(got, want) {
		t.Errorf("Methods has %q, constants are %q", got, want)
	}
}

// The caller may change the list it got.
func TestMethodsAreTheCallers(t *testing.T) {
	Methods()[0] = quantity.Method{}
	if got := Methods()[0].Key; got != OpenFlowMethod {
		t.Errorf("Methods()[0].Key = %q, want %q", got, OpenFlowMethod)
	}
}
