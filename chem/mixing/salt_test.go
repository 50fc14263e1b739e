package mixing

import (
	"math"
	"testing"

	"saltlock/chem/quantity"
)

func salt(t testing.TB, target, volume string) SaltRequest {
	t.Helper()
	return SaltRequest{Target: *reading(t, target), Volume: of[quantity.Volume](t, volume), Temperature: of[quantity.Celsius](t, "25 C")}
}

// 3.5986 kg for 100 L of 35 ppt is the reference library's (python3-gsw 3.6.16);
// the product with 15 % of water, and Kester's hydrates, weigh by as much more.
func TestSalt(t *testing.T) {
	b, err := Salt(salt(t, "35 ppt", "100 L"))
	if err != nil || !near(float64(b.Salt.Value), 3.59859, 1e-5) || b.SaltHydrated == nil || !near(float64(b.SaltHydrated.Value), 3.59859*41.31/35.17, 1e-5) {
		t.Errorf("Salt(35 ppt, 100 L) = %v, hydrated %v, %v, want 3.599 and 4.227 kg", b.Salt, b.SaltHydrated, err)
	}
	r := salt(t, "35 ppt", "100 L")
	r.ProductWaterContent = of[quantity.Fraction](t, "15 %")
	b, err = Salt(r)
	if err != nil || !near(float64(b.Salt.Value), 4.23364, 1e-5) || b.SaltHydrated != nil {
		t.Errorf("Salt(35 ppt, 100 L, 15 %% water) = %v, %v, want 4.234 kg", b.Salt, err)
	}
}

// A batch made as stated has the target salinity: its salt and water are weighed again.
func TestSaltConserves(t *testing.T) {
	for _, target := range []string{"1 ppt", "10 g/kg", "1.020 SG", "35 ppt", "100 g/kg", "30 g/L", "20 mS/cm"} {
		for _, source := range []string{"", "0.3 ppt", "0.9 g/kg"} {
			for _, water := range []string{"", "5 %", "30 %"} {
				r := salt(t, target, "80 L")
				r.Source, r.ProductWaterContent = reading(t, source), of[quantity.Fraction](t, water)
				b, err := Salt(r)
				if err != nil {
					t.Fatalf("Salt(%s from %q): %v", target, source, err)
				}
				full := r.WithDefaults()
				from := resolved(t, *full.Source)
				content := 0.0
				if b.ProductWaterContent != nil {
					content = float64(b.ProductWaterContent.Value)
				}
				mass := float64(b.SourceWater.Value)*kilogram(t, from, 25) + float64(b.Salt.Value)
				sa := (float64(b.SourceWater.Value)*kilogram(t, from, 25)*from/1000 + float64(b.Salt.Value)*(1-content)) / mass * 1000
				if !near(sa, float64(b.AbsoluteSalinity.Value), 1e-12) || !near(mass, 80*kilogram(t, sa, 25), 1e-12) {
					t.Errorf("Salt(%s from %q, %q water) makes %.15g g/kg of %.15g kg, want %.15g of %.15g", target, source, water,
						sa, mass, b.AbsoluteSalinity.Value, 80*kilogram(t, sa, 25))
				}
			}
		}
	}
}

// A trial batch gives the water content with which it was made.
func TestSaltTrial(t *testing.T) {
	const content = 0.12
	trial := SaltRequest{Target: *reading(t, "35 ppt"), Volume: of[quantity.Volume](t, "1 L"), Temperature: of[quantity.Celsius](t, "25 C"),
		ProductWaterContent: new(quantity.Of[quantity.Fraction](content, 0))}
	made, err := Salt(trial)
	if err != nil {
		t.Fatal(err)
	}
	r := salt(t, "10 ppt", "200 L")
	r.CalibrationBatchSalt, r.CalibrationBatchWater, r.CalibrationBatchReading = &made.Salt, &made.SourceWater, reading(t, "35 ppt")
	b, err := Salt(r)
	if err != nil || b.ProductWaterContent == nil || math.Abs(float64(b.ProductWaterContent.Value)-content) > 1e-12 {
		t.Errorf("Salt by a trial batch finds %v of water, %v, want %g", b.ProductWaterContent, err, content)
	}
	r.CalibrationBatchReading = reading(t, "40.5 ppt") // a little more than all of it
	if b, err = Salt(r); err != nil || b.ProductWaterContent.Value >= 0 || len(b.Warnings) != 1 || b.Warnings[0].Code != "trial_reads_above_dry" {
		t.Errorf("Salt by a trial that reads a little high: %v %v %v", b.ProductWaterContent, b.Warnings, err)
	}
}

func TestSaltInVessel(t *testing.T) {
	r := salt(t, "35 ppt", "")
	r.Shape, r.Length, r.Width, r.Height = new(Box), of[quantity.Length](t, "100 cm"), of[quantity.Length](t, "40(1) cm"), of[quantity.Length](t, "25 cm")
	r.SandDepth = of[quantity.Length](t, "1 cm")
	b, err := Salt(r)
	direct, noDirect := Salt(salt(t, "35 ppt", "97.6(25) L")) // 100 L less six tenths of 4 L
	if err != nil || noDirect != nil || !near(float64(b.Salt.Value), float64(direct.Salt.Value), 1e-12) || !near(float64(b.Salt.U), float64(direct.Salt.U), 0.05) {
		t.Errorf("Salt in a vessel takes %v, %v, want %v", b.Salt, err, direct.Salt)
	}
}

func TestSaltRefuses(t *testing.T) {
	change := func(f func(r *SaltRequest)) SaltRequest {
		r := salt(t, "35 ppt", "100 L")
		f(&r)
		return r
	}
	for _, c := range []struct {
		name  string
		r     SaltRequest
		where string
	}{
		{"negative volume", change(func(r *SaltRequest) { r.Volume = of[quantity.Volume](t, "-5 L") }), "volume"},
		{"no volume", change(func(r *SaltRequest) { r.Volume = nil }), "volume"},
		{"volume and vessel", change(func(r *SaltRequest) { r.Shape = new(Box) }), "volume"},
		{"vessel without sides", change(func(r *SaltRequest) { r.Volume, r.Shape = nil, new(Box) }), "height"},
		{"too salty", salt(t, "500 ppt", "100 L"), "target"},
		{"hot", change(func(r *SaltRequest) { r.Temperature = of[quantity.Celsius](t, "60 C") }), "temperature"},
		{"sodium chloride", change(func(r *SaltRequest) { r.SaltKind = new(SodiumChloride) }), "salt_kind"},
		{"below the source", change(func(r *SaltRequest) { r.Source = reading(t, "36 ppt") }), "target*"},
		{"at the source", change(func(r *SaltRequest) { r.Source = reading(t, "35 ppt") }), "target*"},
		{"mostly water", change(func(r *SaltRequest) { r.ProductWaterContent = of[quantity.Fraction](t, "95 %") }), "product_water_content"},
		{"half a trial", change(func(r *SaltRequest) { r.CalibrationBatchSalt = of[quantity.Mass](t, "40 g") }), "calibration_batch_water"},
		{"a trial and a content", change(func(r *SaltRequest) {
			r.ProductWaterContent = of[quantity.Fraction](t, "5 %")
			r.CalibrationBatchSalt, r.CalibrationBatchWater, r.CalibrationBatchReading = of[quantity.Mass](t, "40 g"), of[quantity.Volume](t, "1 L"), reading(t, "35 ppt")
		}), "product_water_content"},
		{"a trial that makes salt", change(func(r *SaltRequest) {
			r.CalibrationBatchSalt, r.CalibrationBatchWater, r.CalibrationBatchReading = of[quantity.Mass](t, "20 g"), of[quantity.Volume](t, "1 L"), reading(t, "35 ppt")
		}), "calibration_batch_reading"},
		{"uncertain beyond sense", change(func(r *SaltRequest) { r.Temperature = of[quantity.Celsius](t, "25 ± 1e60 C") }), "temperature"},
	} {
		_, err := Salt(c.r)
		if where := faultOf(err); where != c.where {
			t.Errorf("%s: %v at %q, want a fault at %q", c.name, err, where, c.where)
		}
	}
}
