package saltlock_test

import (
	"context"
	"errors"
	"net/http"
	"strconv"
	"strings"
	"testing"
	"time"

	saltlock "saltlock/clients/go"
)

// TestSavedTransfer saves the scats' transfer, logs that the drip ran slow, gets
// the plan corrected, and sees it stopped at a sign of distress.
func TestSavedTransfer(t *testing.T) {
	ctx := t.Context()
	c, err := saltlock.New(base, saltlock.Options{})
	if err != nil {
		t.Fatal(err)
	}
	begun := time.Now().Add(-70 * time.Minute).UTC().Truncate(time.Second)
	saved, err := c.SaveTransferWithResponse(ctx, &saltlock.SaveTransferParams{IdempotencyKey: new("0a7d9a52-6d0f-4b7e-8f2b-51c3a9e0d7f4")}, saltlock.TransferRequest{
		Animals:   &[]saltlock.TransferAnimal{{Species: new("scatophagus-argus"), Stage: new(saltlock.Juvenile), Origin: new(saltlock.OriginCaptive)}},
		From:      saltlock.TransferWater{Salinity: "2 ppt", Temperature: "26 C"},
		To:        saltlock.TransferWater{Salinity: "10 ppt", Temperature: "26 C"},
		Container: &saltlock.TransferContainer{Capacity: new("20 L"), StartVolume: new("6.00(1) L"), LeastVolume: new("6 L"), Aerated: new(true)},
		Line:      &saltlock.TransferLine{DropVolume: new("0.05 mL"), GreatestDrip: new("8 drops/s"), Settings: new(3)},
		Limits:    &saltlock.TransferLimits{PerHour: new("0.7 g/kg/h")},
		Start:     &begun,
	})
	if err != nil || saved.JSON201.Key == nil || saved.JSON201.Plan == nil {
		t.Fatalf("%v, %+v", err, saved)
	}
	id, plan := saved.JSON201.Id, saved.JSON201.Plan
	key := func(_ context.Context, r *http.Request) error {
		r.Header.Set("Authorization", "Bearer "+*saved.JSON201.Key)
		return nil
	}

	corrected := logSlowDrip(ctx, t, c, id, begun, plan, key)
	if now, was := corrected.Plan.Phases[0].Drip.Value, plan.Phases[0].Drip.Value; now <= was {
		t.Errorf("after a slow drip %g drops/s are told, before %g", now, was)
	}
	t.Log("\n" + corrected.Summary)

	read, err := c.GetTransferWithResponse(ctx, id, nil)
	if err != nil {
		t.Fatal(err)
	}
	if read.JSON200.Summary != corrected.Summary || read.JSON200.Key != nil {
		t.Errorf("read again it says\n%s", read.JSON200.Summary)
	}
	calendar, err := c.GetTransferCalendarWithResponse(ctx, id, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(calendar.Body), "BEGIN:VEVENT") {
		t.Errorf("calendar\n%s", calendar.Body)
	}

	stopped, err := c.LogReadingWithResponse(ctx, id, nil, saltlock.TransferReading{Behaviour: new(saltlock.Behaviour("gasping"))}, key)
	if err != nil || stopped.JSON201.Course.Verdict != "stopped" || stopped.JSON201.Plan != nil {
		t.Fatalf("%v, %+v", err, stopped)
	}
	_, err = c.DeleteTransferWithResponse(ctx, id, nil)
	if p, ok := errors.AsType[*saltlock.ProblemError](err); !ok || p.Status != http.StatusUnauthorized {
		t.Errorf("deleted without the key: %v", err)
	}
	if deleted, err := c.DeleteTransferWithResponse(ctx, id, nil, key); err != nil || deleted.StatusCode() != http.StatusNoContent {
		t.Errorf("deleted: %v, %v", deleted, err)
	}
}

// logSlowDrip logs what a drip at six tenths of the plan brought in an hour.
func logSlowDrip(ctx context.Context, t *testing.T, c *saltlock.ClientWithResponses, id string, begun time.Time, plan *saltlock.PlanAnswer, key saltlock.RequestEditorFn) *saltlock.SavedTransferAnswer {
	t.Helper()
	litres := 6 + 0.6*plan.Phases[0].Flow.Value*60/1000
	told, err := c.LogReadingWithResponse(ctx, id, nil, saltlock.TransferReading{
		Time: new(begun.Add(time.Hour)), Volume: new(format(litres) + " ± 0.01 L"), Salinity: new(format(10-8*6/litres) + " ± 0.1 ppt"), Behaviour: new(saltlock.Behaviour("ok")),
	}, key)
	if err != nil {
		t.Fatal(err)
	}
	course := told.JSON201.Course
	if course.Verdict != "corrected" || course.DripRatio.Value < 0.5 || course.DripRatio.Value > 0.7 || !strings.Contains(course.Now.Text, "instead of") {
		t.Errorf("a drip at 60 %%: %s, %v, %s", course.Verdict, course.DripRatio, course.Now.Text)
	}
	return told.JSON201
}

func format(x float64) string { return strconv.FormatFloat(x, 'f', 3, 64) }
