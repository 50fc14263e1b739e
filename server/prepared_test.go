package server

import (
	"fmt"
	"testing"
)

// What is kept comes back unchanged, and stays within its bound.
func TestPrepared(t *testing.T) {
	p := newPrepared()
	body := make([]byte, 10_000)
	for i := range 3000 {
		p.put(fmt.Sprint(i), preparedAnswer{media: fmt.Sprint("media ", i), body: body})
		if a, ok := p.get("0"); !ok || a.media != "media 0" {
			t.Fatalf("what is asked for all the time is gone after %d answers", i)
		}
	}
	if _, ok := p.get("1"); ok {
		t.Error("the first answer, never asked for again, is kept")
	}
	held := 0
	for _, half := range []map[string]preparedAnswer{p.young, p.old} {
		for _, a := range half {
			held += len(a.body)
		}
	}
	if held > preparedBytes {
		t.Errorf("%d bytes are kept, more than %d", held, preparedBytes)
	}
	if p.put("large", preparedAnswer{media: "", body: make([]byte, preparedBytes)}); p.size > preparedBytes {
		t.Error("an answer as large as all that may be kept is kept")
	}
}
