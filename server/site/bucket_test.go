package site

import (
	"testing"
	"time"
)

// Nobody has done already what leaves things alone; anything else may be done by now.
func TestWhatWasSaidAWhileAgo(t *testing.T) {
	last := time.Now().Add(-time.Hour)
	for code, said := range map[string]bool{"now_go_on": false, "now_run_over": false, "now_hold": false, "now_next_cup": false, "now_look_first": false,
		"now_set": true, "now_pour_and_fill": true, "now_pour_cup": true} {
		v := &bucketView{saved: new(saved)}
		v.Now.Verdict, v.Now.Act.Code, v.Now.LastEntry = "on_course", code, &last
		if got := v.Said() != nil; got != said {
			t.Errorf("%s: %t, want %t", code, got, said)
		}
	}
}
