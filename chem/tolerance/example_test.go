package tolerance_test

import (
	"fmt"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// salinity is a band of salinity; a negative bound is unknown.
func salinity(lo, hi float64) *tolerance.Sourced[quantity.Salinity] {
	bound := func(v float64) *quantity.Estimate[quantity.Salinity] {
		if v < 0 {
			return nil
		}
		e := quantity.Of[quantity.Salinity](v, 0)
		return &e
	}
	b, err := tolerance.NewBand(bound(lo), bound(hi))
	if err != nil {
		panic(err)
	}
	return &tolerance.Sourced[quantity.Salinity]{Band: b}
}

// Two fish as in the species table. The tetra is known to live in fresh water, and no source
// says how much salt it survives. One laboratory kept the clownfish at 10 g/kg, and keepers
// have it in sea water.
var (
	tetra = tolerance.Taxon{ID: "paracheirodon-innesi", ScientificName: "Paracheirodon innesi", CommonNames: []string{"neon tetra"}, Stages: []tolerance.Stage{{
		Stage: tolerance.AllStages, SensitivityClass: tolerance.StenohalineFresh,
		Survived: salinity(0, -1), Preferred: salinity(0, 0.5),
	}}}
	clownfish = tolerance.Taxon{ID: "amphiprion-ocellaris", ScientificName: "Amphiprion ocellaris", CommonNames: []string{"common clownfish"}, Stages: []tolerance.Stage{{
		Stage: tolerance.Adult, SensitivityClass: tolerance.StenohalineMarine,
		Survived: salinity(10, 35), Preferred: salinity(30, 35),
	}}}
)

// A bound that no source gives stays nil.
func ExampleNewBand() {
	lo := quantity.Of[quantity.Salinity](5, 0)
	b, err := tolerance.NewBand(&lo, nil)
	fmt.Println(b.Min.Value, b.Max, err)
	// Output: 5 <nil> <nil>
}

func ExampleCompare() {
	c, err := tolerance.Compare([]tolerance.Member{{Taxon: tetra}, {Taxon: clownfish}}, nil)
	x := c.UsableRange.Conflicts[0]
	fmt.Println(c.Status, err)
	fmt.Printf("%s needs %g %s, %s takes %g, %g apart\n",
		x.Higher.Name, x.AtLeast.Value, x.AtLeast.Value.Unit(), x.Lower.Name, x.AtMost.Value, x.Gap.Value)
	// Output:
	// none <nil>
	// common clownfish needs 30 ppt, neon tetra takes 0.5, 29.5 apart
}

// A hardy fish on its way up, from the wild.
func ExampleDefaultLimits() {
	l, err := tolerance.DefaultLimits(tolerance.Hardy, true, tolerance.Wild)
	fmt.Printf("at once %g, per hour %g, per day %g g/kg, then %g h of rest (%s) %v\n",
		l.AtOnce, l.PerHour, l.Per24Hours, l.Hold, l.Notes[0].Code, err)
	// Output: at once 5, per hour 3, per day 12 g/kg, then 36 h of rest (limits_proposed) <nil>
}

// Below 2 g/kg the way down is slower.
func ExampleLimits_PerHourAt() {
	l, err := tolerance.DefaultLimits(tolerance.Hardy, false, tolerance.Wild)
	fmt.Println(l.PerHourAt(10), l.PerHourAt(1), err)
	// Output: 5 2.5 <nil>
}

// One laboratory kept clownfish at 12 g/kg; they are not planned for it.
func ExampleStage_Judge() {
	sa := quantity.Of[quantity.AbsoluteSalinity](12, 0)
	j, err := clownfish.Stages[0].Judge(tolerance.Water{Salinity: &sa})
	fmt.Println(j.Verdict, j.Reasons[0].Code, j.Reasons[1].Code, err)
	// Output: outside salinity_below_kept stenohaline_keeps_to_preferred <nil>
}

func ExampleStage_Usable() {
	b := tetra.Stages[0].Usable()
	fmt.Printf("%.4g to %.4g %s\n", b.Min.Value, b.Max.Value, b.Max.Value.Unit())
	// Output: 0 to 0.5024 g/kg
}

// Sea water of 35.165 g/kg is 35 ppt, which a bound of 35 admits.
func ExampleStage_Past() {
	fmt.Println(clownfish.Stages[0].Past(35.165), clownfish.Stages[0].Past(12))
	// Output: 0 -1
}

// Shops keep fish of the sea at 30 ppt: low, and no reason to refuse it.
func ExampleStage_Lean() {
	s := tolerance.Stage{SensitivityClass: tolerance.StenohalineMarine}
	fmt.Println(s.Lean(30), s.Lean(35), s.Lean(20), s.Past(30), s.Past(20))
	// Output: true false false 0 -1
}

func ExampleBehaviour_Is() {
	b := tolerance.Behaviour{Temper: []tolerance.Trait{{Kind: "fin-nipper", Mark: tolerance.CommonPractice}}}
	fmt.Println(b.Is("fin-nipper"), b.Is("peaceful"))
	// Output: true false
}

func ExampleBehaviour_Land() {
	b := tolerance.Behaviour{LeavesWater: &tolerance.Trait{Kind: "land-and-water", Mark: tolerance.CommonPractice}}
	fmt.Println(b.Land())
	// Output: true
}

func ExampleTaxon_StageFor() {
	s, assumed, err := clownfish.StageFor("")
	fmt.Println(s.Stage, assumed, err)
	_, _, err = clownfish.StageFor(tolerance.Larva)
	fmt.Println(err)
	// Output:
	// adult true <nil>
	// amphiprion-ocellaris: nothing is known of life stage "larva"; known: adult
}

func ExampleTaxon_Summary() {
	s := tetra.Summary()
	fmt.Println(s.ID, s.CommonNames, s.Stages[0].Preferred.Max.Value)
	// Output: paracheirodon-innesi [neon tetra] 0.5
}

func ExampleTaxon_Name() {
	fmt.Println(tetra.Name())
	// Output: neon tetra
}

func ExampleClass_Check() {
	fmt.Println(tolerance.Class("tough").Check())
	// Output: sensitivity class "tough" is none of [hardy moderate delicate invertebrate stenohaline-fresh stenohaline-marine plant]
}

func ExampleClasses() {
	fmt.Println(tolerance.Classes())
	// Output: [hardy moderate delicate invertebrate stenohaline-fresh stenohaline-marine plant]
}

func ExampleGroups() {
	fmt.Println(tolerance.Groups())
	// Output: [fish crustacean mollusc plant algae cnidarian amphibian reptile rotifer chelicerate]
}

func ExampleLifeStages() {
	fmt.Println(tolerance.LifeStages())
	// Output: [larva juvenile adult all]
}

func ExampleMethods() {
	for _, m := range tolerance.Methods() {
		fmt.Println(m.Key, m.Standing)
	}
	// Output:
	// common-band definition
	// water-verdict definition
	// limits-by-class proposed
	// length-weight common_practice
	// growth-target proposed
}

// A change of 0.002 in specific gravity, 2.7 g/kg, a week: common practice, no source.
func ExampleDefaultRamp() {
	ramp, err := tolerance.DefaultRamp(tolerance.Moderate)
	fmt.Println(ramp.PerWeek, ramp.PerDay, err)
	// Output: 2.7 1 <nil>
}

func ExampleDefaultGate() {
	gate := tolerance.DefaultGate()
	fmt.Println(gate.Step, gate.Wait, gate.WaitSalty)
	// Output: 2.7 72 168
}

func ExampleMarks() {
	fmt.Println(tolerance.Marks())
	// Output: [published definition common-practice memory proposed]
}

func ExampleShapes() {
	fmt.Println(tolerance.Shapes())
	// Output: [eel-like elongated fusiform short-and-deep]
}

// The relation by hand: 0.0112·10^3.04 = 12.28 g, half as much again or a third less.
func ExampleMassFromLength() {
	m, err := tolerance.MassFromLength(tolerance.Fusiform, quantity.Exactly[quantity.Length](10))
	fmt.Printf("%.2f ± %.1f g %v\n", 1000*m.Value, 1000*m.U, err)
	_, err = tolerance.MassFromLength("", quantity.Exactly[quantity.Length](10))
	fmt.Println(err)
	// Output:
	// 12.28 ± 6.3 g <nil>
	// no relation of length and mass is known for the build ""; known are [eel-like elongated fusiform short-and-deep]
}

func ExampleLimitsOf() {
	l, err := tolerance.LimitsOf(tolerance.Hardy)
	fmt.Printf("%s: %g at once, %g in 24 h, ramp %g a day %v\n", l.Mark, l.Up.AtOnce.Value, l.Up.Per24Hours.Value, l.Ramp.PerDay.Value, err)
	// Output: proposed: 5 at once, 12 in 24 h, ramp 2 a day <nil>
}

func ExampleNewCompany() {
	c, err := tolerance.NewCompany([]tolerance.Member{{Taxon: tetra}})
	fmt.Println(c.Takes(tetra), c.Takes(clownfish), err)
	// Output: true false <nil>
}

// A scat that prefers 5 to 20 g/kg young and 10 to 35 grown, at 6 g/kg now:
// 9 g/kg in 200 days are 0.045 a day.
func ExampleGrow() {
	scat := tolerance.Taxon{ID: "scatophagus-argus", CommonNames: []string{"spotted scat"}, Stages: []tolerance.Stage{
		{Stage: tolerance.Juvenile, SensitivityClass: tolerance.Hardy, Preferred: salinity(5, 20)},
		{Stage: tolerance.Adult, SensitivityClass: tolerance.Hardy, Preferred: salinity(10, 35)},
	}}
	now, then, in := quantity.Exactly[quantity.AbsoluteSalinity](6), quantity.Exactly[quantity.AbsoluteSalinity](15), quantity.Exactly[quantity.Duration](200*24)
	g, err := tolerance.Grow(scat, tolerance.GrowthRequest{Stage: tolerance.Juvenile, Salinity: &now, Target: &then, GrownIn: &in})
	fmt.Println(g.TargetCurve, err)
	// Output: [{0 min 6 g/kg} {4800 h 15 g/kg}] <nil>
}

// A clownfish survives no other water than it is kept in, the sea.
func ExampleStage_OrdinarySea() {
	fmt.Println(tolerance.Stage{Survived: salinity(33, 37), Preferred: salinity(34, 35)}.OrdinarySea())
	fmt.Println(tolerance.Stage{Survived: salinity(5, 37), Preferred: salinity(10, 35)}.OrdinarySea())
	// Output:
	// true
	// false
}

// A biter and a fish that fits its mouth go in two buckets, however short the way.
func ExampleForbidding() {
	puffer := tolerance.Taxon{ID: "puffer", CommonNames: []string{"puffer"}, Group: tolerance.GroupFish,
		Behaviour: tolerance.Behaviour{Temper: []tolerance.Trait{{Kind: "fin-nipper", Mark: tolerance.CommonPractice}, {Kind: "aggressive", Mark: tolerance.CommonPractice}}}}
	goby := tolerance.Taxon{ID: "goby", CommonNames: []string{"goby"}, Group: tolerance.GroupFish}
	for _, n := range tolerance.Forbidding([]tolerance.Member{{Taxon: puffer}, {Taxon: goby}}) {
		fmt.Println(n.Code, n.Params)
	}
	// Output: company_bites [puffer goby common practice]
}

// A moon jelly that would be stung and nipped by others.
func ExampleTaxon_Company() {
	jelly := tolerance.Taxon{CommonNames: []string{"moon jelly"}, Behaviour: tolerance.Behaviour{
		Temper: []tolerance.Trait{{Kind: "species-only", Mark: tolerance.CommonPractice}}}}
	for _, n := range jelly.Company() {
		fmt.Println(n.Code, n.Params)
	}
	// Output: company_species_only [moon jelly common practice]
}
