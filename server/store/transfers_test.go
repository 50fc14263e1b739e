package store

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"reflect"
	"strings"
	"sync"
	"testing"
	"time"

	"saltlock/chem/followup"
	"saltlock/chem/transfer"
)

// everything is a request with every field a request can have.
const everything = `{
	"animals": [{"species": "scatophagus-argus", "stage": "juvenile", "sensitivity": "hardy", "origin": "captive", "count": 4, "mass": "1.0(1) g", "condition": "thin"}],
	"from": {"salinity": "1.0025(5) SG 60F/60F", "temperature": "78.8 F", "ph": "7.6", "alkalinity": "4 dKH", "tan": "0.1 mg/L N"},
	"to": {"salinity": "10.1(2) ppt", "temperature": "26.3(2) C"},
	"container": {"shape": "bucket", "top_diameter": "30 cm", "bottom_diameter": "26 cm", "height": "12.5 in", "freeboard": "0.4 gal", "start_volume": "6.1(1) L", "least_volume": "6 L", "aerated": true},
	"line": {"drop_volume": "0.0503(7) mL", "settings": 3, "least_drip": "7 drops/min", "greatest_drip": "4 drops/s"},
	"source_tank": {"volume": "120 gal", "surface": "7500 cm2"},
	"home_tank": {"volume": "450 L", "source": "0.2 ppt", "greatest_share": "20 %", "evaporation_per_day": "3 L", "filter": true},
	"instrument": {"kind": "refractometer", "scale": "seawater", "temperature_compensated": false, "zero_temperature": "20 C", "correction": "-0.4(1) ppt"},
	"tolerance": "2 g/kg", "limits": {"per_hour": "1.5 g/kg/h", "temperature_per_hour": "1 K/h", "oxygen": "5 mg/L"},
	"room_temperature": "24 C", "recent_change": "0.3 g/kg", "route": "drip", "start": "2026-12-01T09:00:00+01:00", "prefer": "visits"}`

func kept(t testing.TB) Kept {
	t.Helper()
	var r transfer.Request
	if err := json.Unmarshal([]byte(everything), &r); err != nil {
		t.Fatal(err)
	}
	var e followup.LogEntry
	entry := `{"time": "2026-12-01T10:00:00Z", "salinity": "17.3 mS/cm", "instrument": {"kind": "conductivity", "compensation": "1.91 %/C"}, "level": "17.0(2) cm", "drops": 26, "drops_in": "10 s", "behaviour": "ok", "note": "n"}`
	if err := json.Unmarshal([]byte(entry), &e); err != nil {
		t.Fatal(err)
	}
	return Kept{Request: r, Legs: []followup.Leg{{At: 0.1, Full: 1. / 3, Request: r, Steps: []followup.Step{{PourTo: 6, Drip: 2.6, Set: true, Until: 10.7}}}},
		Log: []Logged{{Entry: e, Sent: NewSent("a", []byte("b"))}}, Note: "blue valve", Told: &Told{Course: followup.Course{Verdict: followup.NotBegun}}}
}

func save(t testing.TB, db *DB, retry, body string) (Transfer, string) {
	t.Helper()
	saved, key, err := db.SaveTransfer(t.Context(), kept(t), db.Now().Add(time.Hour), retry, []byte(body))
	if err != nil {
		t.Fatal(err)
	}
	return saved, key
}

// What is loaded is what was saved, to the last bit, even by another program on the same file.
func TestTransferComesBack(t *testing.T) {
	eachEngine(t, func(t *testing.T, path string) {
		db := openAt(t, path)
		saved, key := save(t, db, "", "")
		other := openAt(t, path)
		got, err := other.Transfer(t.Context(), saved.ID)
		if err != nil {
			t.Fatal(err)
		}
		want, _ := json.Marshal(saved.Kept)
		if have, _ := json.Marshal(got.Kept); string(have) != string(want) || !got.Created.Equal(saved.Created) || got.Version != 1 {
			t.Errorf("got\n%s\nwant\n%s", have, want)
		}
		if !reflect.DeepEqual(*got.Request.Line, *saved.Request.Line) || !reflect.DeepEqual(got.Request.Instrument, saved.Request.Instrument) || !reflect.DeepEqual(got.Request.From, saved.Request.From) {
			t.Errorf("got %+v, want %+v", got.Request, saved.Request)
		}
		if !got.Opens(key) || got.Opens("") || got.Opens(key+"x") || got.Opens(saved.ID) {
			t.Error("the key opens not, or another one does")
		}
	})
}

// Neither the key nor the idempotency key is in the file; ids and keys are long and differ.
func TestKeysAreNotKept(t *testing.T) {
	eachEngine(t, func(t *testing.T, path string) {
		db := openAt(t, path)
		seen := map[string]bool{}
		for range 50 {
			saved, key := save(t, db, "", "")
			if len(saved.ID) < 26 || len(key) < 64 || seen[saved.ID] || seen[key] { // 128 bits in base 32, 256 in base 16
				t.Fatalf("id %q, key %q", saved.ID, key)
			}
			seen[saved.ID], seen[key] = true, true
			retried, secret := save(t, db, "retry-"+saved.ID, "")
			for _, id := range []string{saved.ID, retried.ID} {
				row := make([][]byte, 7)
				const columns = "id, key_hash, salt, retry_hash, value, told, plans"
				if err := db.read.QueryRowContext(t.Context(), "SELECT "+columns+" FROM transfers WHERE id = $1", id).Scan(&row[0], &row[1], &row[2], &row[3], &row[4], &row[5], &row[6]); err != nil {
					t.Fatal(err)
				}
				plain, hex := string(bytes.Join(row, nil)), fmt.Sprintf("%x", row)
				for _, secret := range []string{key, secret, "retry-"} {
					if strings.Contains(plain, secret) || strings.Contains(hex, secret) {
						t.Errorf("%q stands in the row", secret)
					}
				}
			}
		}
	})
}

func TestIdempotency(t *testing.T) {
	eachEngine(t, func(t *testing.T, path string) {
		db := openAt(t, path)
		const retry = "0190b6f2-7c1a-7d3e-9c55-3f1f6f1f7a01"
		first, key := save(t, db, retry, "body")
		again, same := save(t, db, retry, "body")
		if again.ID != first.ID || same != key || !again.Opens(key) {
			t.Errorf("sent again it is %s with key %s, want %s, %s", again.ID, same, first.ID, key)
		}
		if _, _, err := db.SaveTransfer(t.Context(), kept(t), db.Now().Add(time.Hour), retry, []byte("other")); !errors.Is(err, ErrRetry) {
			t.Errorf("with another body: %v", err)
		}
		if other, _ := save(t, db, "", "body"); other.ID == first.ID {
			t.Error("without a key the same body is taken for a retry")
		}
	})
}

func TestChangesDoNotOverwriteEachOther(t *testing.T) {
	eachEngine(t, func(t *testing.T, path string) {
		db := openAt(t, path)
		saved, _ := save(t, db, "", "")
		var wg sync.WaitGroup
		const writers, each = 4, 15
		for w := range writers {
			wg.Go(func() {
				for i := 0; i < each; {
					mine, err := db.Transfer(context.Background(), saved.ID)
					if err != nil {
						t.Error(err)
						return
					}
					mine.Note = fmt.Sprintf("%s %d.%d", mine.Note, w, i)
					if _, err := db.ChangeTransfer(context.Background(), mine); err == nil {
						i++
					} else if !errors.Is(err, ErrConflict) {
						t.Error(err)
						return
					}
				}
			})
		}
		wg.Wait()
		got, err := db.Transfer(t.Context(), saved.ID)
		if err != nil || got.Version != 1+writers*each || len(strings.Fields(got.Note)) != 2+writers*each {
			t.Errorf("version %d, note of %d words, %v", got.Version, len(strings.Fields(got.Note)), err)
		}
		if err := db.DeleteTransfer(t.Context(), saved); !errors.Is(err, ErrConflict) {
			t.Errorf("deleted as it was long ago: %v", err)
		}
		if err := db.DeleteTransfer(t.Context(), got); err != nil {
			t.Error(err)
		}
		if _, err := db.Transfer(t.Context(), saved.ID); !errors.Is(err, ErrNotFound) {
			t.Errorf("deleted, it is found: %v", err)
		}
	})
}

// No more transfers are stored than allowed; one that expires makes room.
func TestMostTransfers(t *testing.T) {
	eachEngine(t, func(t *testing.T, path string) {
		db := openAt(t, path)
		now := time.Date(2026, 12, 1, 9, 0, 0, 0, time.UTC)
		db.Now, db.MostTransfers = func() time.Time { return now }, 2
		save(t, db, "", "")
		save(t, db, "", "")
		if _, _, err := db.SaveTransfer(t.Context(), kept(t), now.Add(time.Hour), "", nil); !errors.Is(err, ErrMany) {
			t.Errorf("a third: %v", err)
		}
		now = now.Add(2 * time.Hour)
		save(t, db, "", "")
	})
}

// Disk kept in reserve is for transfers under way: they can change, and be deleted, when no new
// one can be saved.
func TestReserve(t *testing.T) {
	db := openAt(t, filepath.Join(t.TempDir(), "x.db"))
	saved, _ := save(t, db, "", "")
	db.Reserve = math.MaxUint64
	if _, _, err := db.SaveTransfer(t.Context(), kept(t), db.Now().Add(time.Hour), "", nil); !errors.Is(err, ErrFull) {
		t.Errorf("saved on a disk without room: %v", err)
	}
	saved, err := db.ChangeTransfer(t.Context(), saved)
	if err != nil {
		t.Error(err)
	}
	if err := db.DeleteTransfer(t.Context(), saved); err != nil {
		t.Error(err)
	}
	if db.Reserve = 1; db.Ping(t.Context()) != nil {
		t.Error("not ready with room")
	}
	save(t, db, "", "")
}

// An expired transfer is gone for readers at once, and leaves the file when the next one is saved.
func TestExpiry(t *testing.T) {
	eachEngine(t, func(t *testing.T, path string) {
		db := openAt(t, path)
		now := time.Date(2026, 12, 1, 9, 0, 0, 0, time.UTC)
		db.Now = func() time.Time { return now }
		saved, _ := save(t, db, "", "")
		now = now.Add(2 * time.Hour)
		if _, err := db.Transfer(t.Context(), saved.ID); !errors.Is(err, ErrNotFound) {
			t.Errorf("expired, it is found: %v", err)
		}
		save(t, db, "", "")
		var rows int
		if err := db.read.QueryRowContext(t.Context(), "SELECT COUNT(*) FROM transfers").Scan(&rows); err != nil || rows != 1 {
			t.Errorf("%d rows, %v; want 1", rows, err)
		}
	})
}
