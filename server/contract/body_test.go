package contract

import (
	"strings"
	"testing"
)

// The items of a list are parts of it, whatever lies between them.
func TestListItems(t *testing.T) {
	items, err := ListItems([]byte("\t[ {\"a\" : [1, 2]} ,\n17 , -1.5e3,\"x, y\"\n,null,[ ] ] "), 6)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, item := range items {
		got = append(got, string(item))
	}
	if want := `{"a" : [1, 2]}|17|-1.5e3|"x, y"|null|[ ]`; strings.Join(got, "|") != want {
		t.Errorf("ListItems = %q, want %q", strings.Join(got, "|"), want)
	}
	for list, want := range map[string]string{"[1,2,3,4,5,6,7]": "more than 6", "[]": "empty", "{}": "no list", "[1,": "no JSON", "[1] 2": "follows", "[1 2]": "no JSON"} {
		if _, err := ListItems([]byte(list), 6); err == nil || !strings.Contains(err.(*Fault).Reason, want) {
			t.Errorf("ListItems(%s): %v, want %q", list, err, want)
		}
	}
}

// A calendar has years of four digits, and time.Duration holds 292 years.
func TestReadableTimes(t *testing.T) {
	for given, ok := range map[string]bool{
		"2026-12-01T09:00:00Z": true, "1970-01-01T00:00:00Z": true, "2199-12-31T23:59:59Z": true,
		"9999-12-31T23:59:59Z": false, "0001-01-01T00:00:00Z": false, "1969-12-31T23:59:59Z": false, "2199-12-31T23:59:59-01:00": false,
	} {
		if err := readableTime(given); (err == nil) != ok {
			t.Errorf("%s: %v", given, err)
		}
	}
}
