package saltlock_test

import (
	"bufio"
	"context"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	saltlock "saltlock/clients/go"
)

// TestJob does the whole job through the client against the real program: six
// young spotted scats leave quarantine at 2 ppt for a 450 L mangrove display.
func TestJob(t *testing.T) {
	ctx := t.Context()
	c, err := saltlock.NewClientWithResponses(start(t))
	if err != nil {
		t.Fatal(err)
	}

	reading := readInstrument(ctx, t, c)
	checkSpecies(ctx, t, c, reading)
	volume := sizeTank(ctx, t, c)
	makeWater(ctx, t, c, volume)
	planTransfer(ctx, t, c)
}

// readInstrument asks what a 60F/60F hydrometer floating at 1.0055 in the display at 26 °C means.
func readInstrument(ctx context.Context, t *testing.T, c *saltlock.ClientWithResponses) string {
	t.Helper()
	r, err := c.GetConversionWithResponse(ctx, &saltlock.GetConversionParams{
		Reading: "1.0055 SG", Temperature: ptr("26 C"), Instrument: ptr(saltlock.InstrumentKindHydrometer), Calibration: ptr("60F/60F"),
	})
	answered(t, err, r.HTTPResponse, r.Body)
	if got := r.JSON200.PracticalSalinity.Value; got < 9 || got > 11 {
		t.Errorf("hydrometer at 1.0055 in 26 °C reads %.2f ppt, want about 10 (without its correction it would be 7)", got)
	}
	if len(r.JSON200.Corrections) == 0 {
		t.Error("no correction is told for a hydrometer read warm")
	}
	return "10 ppt"
}

func checkSpecies(ctx context.Context, t *testing.T, c *saltlock.ClientWithResponses, salinity string) {
	t.Helper()
	found, err := c.ListSpeciesWithResponse(ctx, &saltlock.ListSpeciesParams{Q: ptr("spotted scat")})
	answered(t, err, found.HTTPResponse, found.Body)
	id := found.JSON200.Species[0].Id
	if id != "scatophagus-argus" {
		t.Fatalf("spotted scat found first is %q", id)
	}
	shared, err := c.GetCompatibilityWithResponse(ctx, &saltlock.GetCompatibilityParams{
		Species: []string{id + ":juvenile", "monodactylus-argenteus"}, Salinity: &salinity,
	})
	answered(t, err, shared.HTTPResponse, shared.Body)
	if v := shared.JSON200.Verdict; v == nil || *v == saltlock.VerdictOutside {
		t.Errorf("scat and mono at %s: verdict %v", salinity, v)
	}
}

func sizeTank(ctx context.Context, t *testing.T, c *saltlock.ClientWithResponses) string {
	t.Helper()
	r, err := c.GetVesselVolumeWithResponse(ctx, &saltlock.GetVesselVolumeParams{
		Shape: saltlock.Box, Length: ptr("150 cm"), Width: ptr("55 cm"), Height: ptr("65 cm"), FillHeight: ptr("58 cm"),
		Glass: ptr("12 mm"), SandDepth: ptr("4 cm"), RockMass: ptr("20 kg"),
	})
	answered(t, err, r.HTTPResponse, r.Body)
	if got := r.JSON200.NetVolume.Value; got < 400 || got > 460 {
		t.Errorf("net volume %.1f L, want 400 to 460 of the 478 L that the water's outline holds", got)
	}
	return "450 L"
}

func makeWater(ctx context.Context, t *testing.T, c *saltlock.ClientWithResponses, volume string) {
	t.Helper()
	r, err := c.GetSaltMixWithResponse(ctx, &saltlock.GetSaltMixParams{Target: "10 ppt", Volume: &volume, Temperature: ptr("26 C"), Source: ptr("0.2 ppt")})
	answered(t, err, r.HTTPResponse, r.Body)
	// 9.85 g/kg are to be added to 452 kg of water.
	if got := r.JSON200.Salt.Value; got < 4.3 || got > 4.6 {
		t.Errorf("salt for 450 L from 0.2 to 10 ppt is %.3f kg, want about 4.5", got)
	}
}

func planTransfer(ctx context.Context, t *testing.T, c *saltlock.ClientWithResponses) {
	t.Helper()
	r, err := c.PlanTransferWithResponse(ctx, nil, saltlock.TransferRequest{
		Animals:    &[]saltlock.TransferAnimal{{Species: ptr("scatophagus-argus"), Stage: ptr(saltlock.Juvenile), Origin: ptr(saltlock.OriginCaptive)}},
		From:       saltlock.TransferWater{Salinity: "2 ppt", Temperature: "26 C"},
		To:         saltlock.TransferWater{Salinity: "10 ppt", Temperature: "26 C"},
		Container:  &saltlock.TransferContainer{Capacity: ptr("20 L"), StartVolume: ptr("6 L"), LeastVolume: ptr("6 L"), Aerated: ptr(true)},
		Line:       &saltlock.TransferLine{DropVolume: ptr("0.05 mL"), Settings: ptr(3)},
		Instrument: &saltlock.TransferInstrument{Kind: ptr(saltlock.InstrumentKindHydrometer), Calibration: ptr("60F/60F")},
	})
	answered(t, err, r.HTTPResponse, r.Body)
	plan := r.JSON200
	if plan.Route != saltlock.Drip || len(plan.Phases) == 0 {
		t.Fatalf("route %q with %d phases, want a drip", plan.Route, len(plan.Phases))
	}
	for _, l := range plan.Limits {
		if l.Margin.Value < 0 {
			t.Errorf("limit %s is broken: %v against %v", l.Name, l.Extreme, l.Limit)
		}
	}
	if plan.Duration.Value < plan.ExactDuration.Value || plan.ExactDuration.Value < plan.LeastDuration.Value {
		t.Errorf("durations out of order: %v, exact %v, least %v", plan.Duration.Value, plan.ExactDuration.Value, plan.LeastDuration.Value)
	}
	t.Log("\n" + plan.Summary)
}

// start builds the program, runs it on a free port and returns its address.
func start(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	program := filepath.Join(dir, "saltlock")
	if out, err := exec.CommandContext(t.Context(), "go", "build", "-o", program, "saltlock/cmd/saltlock").CombinedOutput(); err != nil {
		t.Fatalf("build: %v\n%s", err, out)
	}
	cmd := exec.Command(program, "serve", "--addr", "127.0.0.1:0", "--database", filepath.Join(dir, "test.db"))
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := cmd.Process.Signal(os.Interrupt); err != nil {
			t.Error(err)
		}
		if err := cmd.Wait(); err != nil {
			t.Errorf("the program did not end well: %v", err)
		}
	})
	address := make(chan string, 1)
	go func() {
		for s := bufio.NewScanner(out); s.Scan(); {
			if m := regexp.MustCompile(`http://[0-9.:]+`).FindString(s.Text()); m != "" && strings.Contains(s.Text(), "curl") {
				address <- m
			}
		}
	}()
	select {
	case a := <-address:
		return a
	case <-time.After(30 * time.Second):
		t.Fatal("the program did not say where it listens")
		return ""
	}
}

func answered(t *testing.T, err error, r *http.Response, body []byte) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	if r.StatusCode != http.StatusOK {
		t.Fatalf("%s %s: %s\n%s", r.Request.Method, r.Request.URL, r.Status, body)
	}
}

func ptr[T any](v T) *T { return &v }
