package server_test

import (
	"net/http"
	"testing"
	"time"
)

// A log takes ten thousand readings and then says that it takes no more; what goes wrong can still
// be logged.
func TestTenThousandReadings(t *testing.T) {
	s := savePlan(t)
	saved, err := s.db.Transfer(t.Context(), s.id)
	if err != nil {
		t.Fatal(err)
	}
	saved.Log = quietLog(saved, 9999)
	if _, err := s.db.ChangeTransfer(t.Context(), saved); err != nil {
		t.Fatal(err)
	}
	last := saved.Log[9998].Entry.Time.Sub(nine) + time.Second
	const calm = `{"behaviour": "ok"}`
	if a := s.logs(t, last.Hours(), calm, ""); a.status != http.StatusCreated || len(a.field(t, "log").([]any)) != 10_000 {
		t.Errorf("the ten thousandth: %d %.300s", a.status, a.body)
	}
	if a := s.logs(t, last.Hours(), calm, ""); a.status != http.StatusConflict {
		t.Errorf("one more: %d %.300s", a.status, a.body)
	}
	if a := s.event(t, last.Hours(), `{"event": "animals_look_wrong"}`, ""); a.status != http.StatusCreated || a.field(t, "course.verdict") != "stopped" {
		t.Errorf("distress after it: %d %.300s", a.status, a.body)
	}
}
