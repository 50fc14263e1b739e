package saltlock_test

import (
	"context"
	"os"
	"testing"

	saltlock "saltlock/clients/go"
	"saltlock/clients/internal/live"
)

// base is where the real program answers.
var base string

func TestMain(m *testing.M) { os.Exit(live.Main(m, &base)) }

// TestJob does the whole job through the client against the real program: six
// young spotted scats leave quarantine at 2 ppt for a 450 L mangrove display.
func TestJob(t *testing.T) {
	live.Watch(t)
	ctx := t.Context()
	c, err := saltlock.New(base, saltlock.Options{})
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
		Reading: "1.0055 SG", Temperature: new("26 C"), Instrument: new(saltlock.InstrumentKindHydrometer), Calibration: new("60F/60F"),
	})
	if err != nil {
		t.Fatal(err)
	}
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
	found, err := c.ListSpeciesWithResponse(ctx, &saltlock.ListSpeciesParams{Q: new("spotted scat")})
	if err != nil {
		t.Fatal(err)
	}
	id := found.JSON200.Species[0].Id
	if id != "scatophagus-argus" {
		t.Fatalf("spotted scat found first is %q", id)
	}
	shared, err := c.GetCompatibilityWithResponse(ctx, &saltlock.GetCompatibilityParams{
		Species: []string{id + ":juvenile", "monodactylus-argenteus"}, Salinity: &salinity,
	})
	if err != nil {
		t.Fatal(err)
	}
	if v := shared.JSON200.Verdict; v == nil || *v == saltlock.VerdictOutside {
		t.Errorf("scat and mono at %s: verdict %v", salinity, v)
	}
}

func sizeTank(ctx context.Context, t *testing.T, c *saltlock.ClientWithResponses) string {
	t.Helper()
	r, err := c.GetVesselVolumeWithResponse(ctx, &saltlock.GetVesselVolumeParams{
		Shape: saltlock.Box, Length: new("150 cm"), Width: new("55 cm"), Height: new("65 cm"), FillHeight: new("58 cm"),
		Glass: new("12 mm"), SandDepth: new("4 cm"), RockMass: new("20 kg"),
	})
	if err != nil {
		t.Fatal(err)
	}
	if got := r.JSON200.NetVolume.Value; got < 400 || got > 460 {
		t.Errorf("net volume %.1f L, want 400 to 460 of the 478 L that the water's outline holds", got)
	}
	return "450 L"
}

func makeWater(ctx context.Context, t *testing.T, c *saltlock.ClientWithResponses, volume string) {
	t.Helper()
	r, err := c.GetSaltMixWithResponse(ctx, &saltlock.GetSaltMixParams{Target: "10 ppt", Volume: &volume, Temperature: new("26 C"), Source: new("0.2 ppt")})
	if err != nil {
		t.Fatal(err)
	}
	// 9.85 g/kg are to be added to 452 kg of water.
	if got := r.JSON200.Salt.Value; got < 4.3 || got > 4.6 {
		t.Errorf("salt for 450 L from 0.2 to 10 ppt is %.3f kg, want about 4.5", got)
	}
}

func planTransfer(ctx context.Context, t *testing.T, c *saltlock.ClientWithResponses) {
	t.Helper()
	r, err := c.PlanTransferWithResponse(ctx, nil, saltlock.TransferRequest{
		Animals:    &[]saltlock.TransferAnimal{{Species: new("scatophagus-argus"), Stage: new(saltlock.Juvenile), Origin: new(saltlock.OriginCaptive)}},
		From:       saltlock.TransferWater{Salinity: "2 ppt", Temperature: "26 C"},
		To:         saltlock.TransferWater{Salinity: "10 ppt", Temperature: "26 C"},
		Container:  &saltlock.TransferContainer{Capacity: new("20 L"), StartVolume: new("6 L"), LeastVolume: new("6 L"), Aerated: new(true)},
		Line:       &saltlock.TransferLine{DropVolume: new("0.05 mL"), Settings: new(3)},
		Instrument: &saltlock.TransferInstrument{Kind: new(saltlock.InstrumentKindHydrometer), Calibration: new("60F/60F")},
	})
	if err != nil {
		t.Fatal(err)
	}
	plan := r.JSON200
	if plan.Route != saltlock.TransferRouteDrip || len(plan.Phases) == 0 {
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
