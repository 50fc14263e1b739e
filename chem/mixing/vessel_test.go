package mixing

import (
	"math"
	"testing"

	"saltlock/chem/quantity"
)

func vessel(t testing.TB, shape Shape, length, width, middle, height, diameter, top, bottom string) VesselRequest {
	t.Helper()
	return VesselRequest{Shape: shape, Length: of[quantity.Length](t, length), Width: of[quantity.Length](t, width),
		MiddleWidth: of[quantity.Length](t, middle), Height: of[quantity.Length](t, height), Diameter: of[quantity.Length](t, diameter),
		TopDiameter: of[quantity.Length](t, top), BottomDiameter: of[quantity.Length](t, bottom)}
}

// Volumes worked by hand: a box, π r² h, the frustum π h (R² + Rr + r²)/3, and a
// half circle in front of a box.
func TestVolumes(t *testing.T) {
	for _, c := range []struct {
		name  string
		r     VesselRequest
		litre float64
		level float64 // L/cm at the rim
	}{
		{"box", vessel(t, Box, "100 cm", "40 cm", "", "50 cm", "", "", ""), 200, 4},
		{"cylinder", vessel(t, Cylinder, "", "", "", "30 cm", "20 cm", "", ""), 3 * math.Pi, 0.1 * math.Pi},
		{"bucket", vessel(t, Bucket, "", "", "", "30 cm", "", "30 cm", "20 cm"), 10 * math.Pi * (15*15 + 15*10 + 10*10) / 1000, 0.225 * math.Pi},
		{"bucket without taper", vessel(t, Bucket, "", "", "", "30 cm", "", "20 cm", "20 cm"), 3 * math.Pi, 0.1 * math.Pi},
		{"bow of a half circle", vessel(t, BowFront, "60 cm", "30 cm", "60 cm", "10 cm", "", "", ""), 18 + 4.5*math.Pi, 1.8 + 0.45*math.Pi},
		{"bow of nothing", vessel(t, BowFront, "60 cm", "30 cm", "30 cm", "10 cm", "", "", ""), 18, 1.8},
		{"shallow bow", vessel(t, BowFront, "100 cm", "30 cm", "30.01 cm", "10 cm", "", "", ""), 30 + 2./3*100*0.01/100, 3 + 2./3*100*0.01/1000}, // two thirds of chord by rise
	} {
		v, err := NetVolume(c.r)
		if err != nil || !near(float64(v.NetVolume.Value), c.litre, 1e-9) || !near(float64(v.GrossVolume.Value), c.litre, 1e-9) || !near(float64(v.VolumePerLevel.Value), c.level, 1e-9) {
			t.Errorf("%s: %v net, %v gross, %v, %v, want %.9g L and %.9g L/cm", c.name, v.NetVolume, v.GrossVolume, v.VolumePerLevel, err, c.litre, c.level)
		}
		capacity, err := c.r.Capacity()
		if err != nil || !near(float64(capacity), c.litre, 1e-9) {
			t.Errorf("%s: Capacity = %v, %v, want %.9g L", c.name, capacity, err, c.litre)
		}
		for _, part := range []float64{0, 0.1, 0.5, 0.9, 1} { // the level of a volume, filled to, holds the volume
			level, err := c.r.LevelAt(quantity.Volume(part * c.litre))
			if err != nil {
				t.Errorf("%s: LevelAt(%g of it): %v", c.name, part, err)
				continue
			}
			if level < 0.1 {
				continue // below what NetVolume takes
			}
			filled := c.r
			filled.FillHeight = new(quantity.Exactly(level))
			if v, err := NetVolume(filled); err != nil || !near(float64(v.NetVolume.Value), part*c.litre, 1e-9) {
				t.Errorf("%s: filled to %g cm it holds %v, %v, want %.9g L", c.name, level, v.NetVolume, err, part*c.litre)
			}
		}
	}
}

// Outer sizes less the glass; grains and rock displace, pores hold.
func TestNetVolume(t *testing.T) {
	r := vessel(t, Box, "102 cm", "42 cm", "", "51 cm", "", "", "")
	r.Glass, r.FillHeight = of[quantity.Length](t, "10 mm"), of[quantity.Length](t, "45 cm")
	r.SandDepth, r.RockMass = of[quantity.Length](t, "5 cm"), of[quantity.Mass](t, "27 kg")
	v, err := NetVolume(r)
	if err != nil || !near(float64(v.GrossVolume.Value), 200, 1e-12) || !near(float64(v.SandWater.Value), 8, 1e-12) || !near(float64(v.SandVolume.Value), 12, 1e-12) ||
		!near(float64(v.RockVolume.Value), 10, 1e-12) || !near(float64(v.NetVolume.Value), 180-12-10, 1e-12) {
		t.Errorf("NetVolume = %+v, %v, want 158 L net of 200, 8 in the sand, 12 and 10 displaced", v, err)
	}
	if !near(float64(v.WaterMass.Value), 158*0.99704765, 1e-12) {
		t.Errorf("its water weighs %v, want %g kg", v.WaterMass, 158*0.99704765)
	}
}

func TestNetVolumeRefuses(t *testing.T) {
	box := func(f func(r *VesselRequest)) VesselRequest {
		r := vessel(t, Box, "100 cm", "40 cm", "", "50 cm", "", "", "")
		f(&r)
		return r
	}
	for _, c := range []struct {
		name  string
		r     VesselRequest
		where string
	}{
		{"no shape", VesselRequest{}, "shape"},
		{"no height", box(func(r *VesselRequest) { r.Height = nil }), "height"},
		{"no width", box(func(r *VesselRequest) { r.Width = nil }), "width"},
		{"negative", box(func(r *VesselRequest) { r.Length = of[quantity.Length](t, "-3 cm") }), "length"},
		{"all glass", box(func(r *VesselRequest) { r.Glass = of[quantity.Length](t, "20 cm") }), "glass"},
		{"overfull", box(func(r *VesselRequest) { r.FillHeight = of[quantity.Length](t, "55 cm") }), "fill_height"},
		{"sand above the water", box(func(r *VesselRequest) {
			r.FillHeight, r.SandDepth = of[quantity.Length](t, "10 cm"), of[quantity.Length](t, "20 cm")
		}), "sand_depth"},
		{"all rock", box(func(r *VesselRequest) { r.RockMass = of[quantity.Mass](t, "600 kg") }), "rock_mass"},
		{"floating rock", box(func(r *VesselRequest) {
			r.RockMass, r.RockDensity = of[quantity.Mass](t, "10 kg"), of[quantity.Density](t, "500 kg/m3")
		}), "rock_density"},
		{"bow inwards", vessel(t, BowFront, "60 cm", "30 cm", "25 cm", "10 cm", "", "", ""), "middle_width"},
		{"bow beyond a half circle", vessel(t, BowFront, "60 cm", "30 cm", "70 cm", "10 cm", "", "", ""), "middle_width"},
		{"uncertain beyond sense", box(func(r *VesselRequest) { r.Glass = of[quantity.Length](t, "1 ± 1e60 cm") }), "glass"},
	} {
		_, err := NetVolume(c.r)
		if where := faultOf(err); where != c.where {
			t.Errorf("%s: %v at %q, want a fault at %q", c.name, err, where, c.where)
		}
	}
	if level, err := box(func(*VesselRequest) {}).LevelAt(201); faultOf(err) != "volume" {
		t.Errorf("LevelAt(201 of 200 L) = %g, %v", level, err)
	}
}
