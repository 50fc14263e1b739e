package server_test

import (
	"fmt"
	"net/http"
	"testing"
	"time"

	"saltlock/chem/followup"
	"saltlock/chem/quantity"
	"saltlock/server/store"
)

// BenchmarkLongLog measures one more reading of a drip that runs as planned, after many. All are
// weighed again, so its time grows with their number and no faster.
func BenchmarkLongLog(b *testing.B) {
	for _, n := range []int{100, 1000, 9999} {
		b.Run(fmt.Sprint(n+1), func(b *testing.B) {
			s := savePlan(b)
			saved, err := s.db.Transfer(b.Context(), s.id)
			if err != nil {
				b.Fatal(err)
			}
			saved.Log = quietLog(saved, n)
			if _, err := s.db.ChangeTransfer(b.Context(), saved); err != nil {
				b.Fatal(err)
			}
			last := saved.Log[n-1].Entry
			body := fmt.Sprintf(`{"salinity": "%s", "instrument": {"kind": "none"}, "temperature": "26 C", "volume": "%s"}`, last.Salinity, last.Volume)
			*s.now = *last.Time
			for b.Loop() {
				_, a := s.sends(b, http.MethodPost, s.path+"/readings", body, "Authorization", "Bearer "+s.key)
				if a.status != http.StatusCreated {
					b.Fatalf("%d\n%.500s", a.status, a.body)
				}
				b.StopTimer() // and as long as before
				now, err := s.db.Transfer(b.Context(), s.id)
				if err != nil {
					b.Fatal(err)
				}
				now.Log = now.Log[:n]
				if _, err := s.db.ChangeTransfer(b.Context(), now); err != nil {
					b.Fatal(err)
				}
				b.StartTimer()
			}
		})
	}
}

// quietLog is read so many times on the curve of a plan, over its first quarter.
func quietLog(saved store.Transfer, n int) []store.Logged {
	curve := saved.Legs[0].Plan.Curve
	first := curve[:len(curve)/4]
	log := make([]store.Logged, n)
	for i := range log {
		at := first[i*len(first)/n]
		e := &log[i].Entry
		e.Time = new(saved.Request.Start.Add(time.Duration(float64(at.Time.Value)*float64(time.Hour)) + time.Duration(i)*time.Millisecond))
		e.Salinity = &quantity.Reading{Value: float64(at.PracticalSalinity.Value), U: 0.2, Scale: quantity.PracticalScale}
		e.Volume = new(quantity.Of[quantity.Volume](float64(at.Volume.Value), 0.1))
		e.Temperature, e.Behaviour = &at.Temperature, new(followup.Calm)
	}
	return log
}
