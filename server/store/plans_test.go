package store

import (
	"encoding/json"
	"errors"
	"testing"
	"time"

	"saltlock/chem/followup"
	"saltlock/chem/transfer"
)

// A plan is written again as the line it was read from, comes back unchanged, and each caller gets
// its own copy. An older row, with the plan in its value, is read the same.
func TestPlansComeBack(t *testing.T) {
	eachEngine(t, func(t *testing.T, path string) {
		db := openAt(t, path)
		p, err := transfer.NewPlan(t.Context(), drippable(t))
		if err != nil {
			t.Fatal(err)
		}
		k := kept(t)
		k.Legs = append(k.Legs, followup.Leg{At: 2, Request: k.Request, Plan: &p})
		saved, _, err := db.SaveTransfer(t.Context(), k, db.Now().Add(time.Hour), "", nil)
		if err != nil {
			t.Fatal(err)
		}
		read := func() Transfer {
			t.Helper()
			got, err := db.Transfer(t.Context(), saved.ID)
			if err != nil {
				t.Fatal(err)
			}
			return got
		}
		asJSON := func(x any) string {
			b, err := json.Marshal(x)
			if err != nil {
				t.Fatal(err)
			}
			return string(b)
		}
		first := read()
		if first.Legs[0].Plan != nil || asJSON(first.Legs[1].Plan) != asJSON(p) {
			t.Errorf("it comes back as %+v", first.Legs)
		}
		first.Note = "changed"
		if first, err = db.ChangeTransfer(t.Context(), first); err != nil {
			t.Fatal(err)
		}
		second, third := read(), read()
		if asJSON(second.Legs) != asJSON(first.Legs) || second.Note != "changed" {
			t.Errorf("after a change it comes back as %+v", second.Legs)
		}
		for _, n := range second.Legs[1].Plan.Notes() {
			n.Text = "filled in"
		}
		second.Legs[1].Plan.Curve[0].Time.Value = -1
		if asJSON(third.Legs) != asJSON(first.Legs) || asJSON(read().Legs) != asJSON(first.Legs) {
			t.Error("what one reader fills in, another reads")
		}
		whole := asJSON(first.Kept)
		if _, err := db.write.ExecContext(t.Context(), "UPDATE transfers SET value = $1, plans = '' WHERE id = $2", whole, saved.ID); err != nil {
			t.Fatal(err)
		}
		if old := read(); asJSON(old.Legs) != asJSON(first.Legs) {
			t.Errorf("a row of before comes back as %+v", old.Legs)
		}
		if _, err := db.write.ExecContext(t.Context(), "UPDATE transfers SET plans = 'x' WHERE id = $1", saved.ID); err != nil {
			t.Fatal(err)
		}
		var damaged *DamagedError
		if _, err := db.Transfer(t.Context(), saved.ID); !errors.As(err, &damaged) {
			t.Errorf("with one plan for two legs: %v", err)
		}
	})
}

// drippable is a request that has a plan.
func drippable(t testing.TB) transfer.Request {
	t.Helper()
	var r transfer.Request
	if err := json.Unmarshal([]byte(`{"from": {"salinity": "2 ppt", "temperature": "25 C"}, "limits": {"at_once": "3 g/kg", "per_hour": "2 g/kg/h", "per_24_hours": "40 g/kg"}, "to": {"salinity": "8 ppt", "temperature": "25 C"},
		"container": {"capacity": "20 L", "start_volume": "6 L", "aerated": true}, "line": {"drop_volume": "0.05 mL", "greatest_drip": "10 drops/s"}}`), &r); err != nil {
		t.Fatal(err)
	}
	return r
}
