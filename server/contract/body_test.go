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
