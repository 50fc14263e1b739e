package render

import (
	"regexp"
	"strings"
	"time"

	"golang.org/x/text/language"
)

// germanNames are the names of the contract in German, and whatever else English says without a
// sentence.
var germanNames = map[string]string{
	// Instruments and what they are marked for.
	"none": "keines", "hydrometer": "Aräometer", "pointer_hydrometer": "Zeigerspindel", "refractometer": "Refraktometer",
	"conductivity": "Leitwert", "conductivity_meter": "Leitwertmesser", "tds": "TDS-Stift",
	"seawater": "Meerwasser", "sea_salt": "Meersalz", "nacl": "Kochsalz", "brix": "Zucker (Brix)",
	// What is measured.
	"practical_salinity": "praktischer Salzgehalt", "absolute_salinity": "absoluter Salzgehalt", "salinity": "Salzgehalt",
	"salt_per_litre": "Salz pro Liter", "density": "Dichte", "conductivity_25": "Leitwert bei 25 °C",
	"refractive_index": "Brechungsindex", "chlorinity": "Chlorinität", "osmolality": "Osmolalität",
	"freezing_point": "Gefrierpunkt", "oxygen_saturation": "Sauerstoffsättigung",
	"temperature": "Temperatur", "volume": "Volumen", "level": "Wasserstand", "drops": "Tropfen", "nitrite": "Nitrit",
	"practical salinity": "praktischer Salzgehalt", "salinity difference": "Unterschied im Salzgehalt", "salinity rate": "Änderung des Salzgehalts",
	"salt per litre": "Salz pro Liter", "specific gravity": "spezifisches Gewicht", "refractive index": "Brechungsindex", "dissolved solids": "gelöste Stoffe", "degrees Brix": "Grad Brix",
	"temperature difference": "Temperaturunterschied", "temperature rate": "Temperaturänderung", "dissolved oxygen": "gelöster Sauerstoff",
	"ammonia": "Ammonium", "area": "Fläche", "drip rate": "Tropfrate", "duration": "Dauer", "flow": "Durchfluss", "fraction": "Anteil", "length": "Länge", "mass": "Gewicht",
	"ph": "pH", "alkalinity": "Karbonathärte", "time": "Zeit", "event": "Ereignis", "note": "Notiz", "behaviour": "Verhalten",
	// Waters, in the order of the Venice system.
	"limnetic": "Süßwasser", "oligohaline_beta": "leicht brackiges Wasser", "oligohaline_alpha": "leicht brackiges Wasser",
	"mesohaline_beta": "Brackwasser", "mesohaline_alpha": "Brackwasser", "polyhaline": "stark brackiges Wasser",
	"euhaline": "Meerwasser", "hyperhaline": "Wasser, salziger als das Meer",
	// Signs of distress.
	"signs_of_jellyfish":    "nicht mehr schlagen, schrumpfen oder den Schirm umstülpen",
	"signs_of_cnidarians":   "geschlossen bleiben, klaffen, sich häuten oder herabhängen",
	"signs_of_clams":        "geschlossen bleiben, klaffen oder den Mantel einziehen",
	"signs_of_molluscs":     "sich schließen und geschlossen bleiben oder auf dem Rücken liegen",
	"signs_of_crustaceans":  "auf der Seite liegen, taumeln oder sich kaum bewegen",
	"signs_of_chelicerates": "auf dem Rücken liegen oder sich kaum bewegen",
	"signs_of_amphibians":   "schief treiben, schlaff hängen oder ihre Haut abstoßen",
	"signs_of_reptiles":     "schief treiben, nach Luft schnappen oder schlaff hängen",
	// Animals.
	"larva": "Larve", "fry": "Jungfisch", "juvenile": "jung", "smolt": "Smolt", "adult": "erwachsen", "all": "alle Stadien",
	"hardy": "robuste Tiere", "moderate": "mäßig robuste Tiere", "delicate": "heikle Tiere", "invertebrate": "Wirbellose", "plant": "Pflanzen",
	"stenohaline-fresh": "reine Süßwassertiere", "stenohaline-marine": "reine Meerestiere",
	"TL": "Gesamtlänge", "SL": "Standardlänge", "OT": "andere Länge", "NG": "Länge ungenannt", "shell-length": "Schalenlänge",
	"ok": "ruhig", "loss_of_balance": "kippt", "gasping": "schnappt nach Luft", "heavy_mucus": "schleimt stark", "not_feeding": "frisst nicht",
	"something looks wrong": "etwas stimmt nicht",
	"CR":                    "vom Aussterben bedroht (CR)", "EN": "stark gefährdet (EN)", "VU": "gefährdet (VU)", "Appendix I": "Anhang I", "Appendix II": "Anhang II", "Appendix III": "Anhang III",
	// How well a figure is founded.
	"published": "veröffentlicht", "common-practice": "gängige Praxis", "common practice": "gängige Praxis", "memory": "aus dem Gedächtnis",
	"from memory": "aus dem Gedächtnis", "proposed": "hier vorgeschlagen", "proposed here": "hier vorgeschlagen", "definition": "nach Definition",
	// Limits.
	"at_once": "Grenze für einen Schritt", "per_hour": "Grenze pro Stunde", "per_24_hours": "Grenze pro Tag", "temperature_per_hour": "Grenze pro Stunde für die Temperatur",
	"nh3": "Grenze für Ammoniak", "oxygen": "Grenze für Sauerstoff",
	// What a request may hold, and instruments by what they show.
	"true or false": "wahr oder falsch (true, false)", "a whole number": "eine ganze Zahl", "a number": "eine Zahl", "text": "Text", "a list": "eine Liste", "an object": "ein Objekt",
	"a hydrometer or a specific gravity": "ein Aräometer oder eine Dichte", "a refractometer": "ein Refraktometer", "a conductivity or tds meter": "ein Leitwertmesser oder TDS-Stift",
	"a tds meter": "ein TDS-Stift", "a hydrometer": "ein Aräometer", "a hydrometer with a pointer": "eine Zeigerspindel", "a conductivity meter": "ein Leitwertmesser", "a TDS meter": "ein TDS-Stift",
	"mS/cm or ppt": "mS/cm oder ppt", "SG, kg/m3 or ppt": "SG, kg/m3 oder ppt", "ppm, mg/L, g/L or ppt": "ppm, mg/L, g/L oder ppt",
	"box": "Quader", "cylinder": "Zylinder", "bucket": "Eimer", "bow_front": "gewölbte Front",
	// Acts of a plan.
	"prepare": "vorbereiten", "fill": "tropfen", "run_over": "tropfen", "cups": "Becher zugeben", "pour_off": "abgießen", "rest": "Ruhe",
	"release": "umsetzen", "move": "umsetzen", "water_change": "Wasserwechsel", "hold": "warten",
}

// germanName translates what English calls a thing: a name of the contract, an animal with its
// stage in brackets, a source, a time, or the ends of a range.
func (v Voice) germanName(s string) string {
	if name, ok := germanNames[s]; ok {
		return name
	}
	if animal, ok := v.Animals[s]; ok {
		return v.called(animal)
	}
	if animal, stage, ok := strings.Cut(strings.TrimSuffix(s, ")"), " ("); ok && strings.HasSuffix(s, ")") {
		name, known := v.Animals[animal]
		if at, staged := germanNames[stage]; known && staged {
			return v.called(name) + " (" + at + ")"
		}
	}
	for _, layout := range stampsOfAnswers {
		if at, err := time.Parse(layout, s); err == nil {
			return at.Format("2. ") + germanMonths[at.Month()-1] + at.Format(strings.TrimPrefix(layout, "2 January"))
		}
	}
	if m := clockOfAnswers.FindStringSubmatch(s); m != nil {
		if m[1] == "" {
			return m[2] + " Uhr"
		}
		return germanDays[m[1]] + ", " + m[2] + " Uhr"
	}
	if sourceOfAnswers.MatchString(s) {
		return germanSource(s)
	}
	if m := rangeOfAnswers.FindStringSubmatch(s); m != nil {
		return v.point(m[1]) + " bis " + v.point(m[2]) + m[3]
	}
	return nameInEnglish(s)
}

// What names look like that are no words of the contract.
var (
	stampsOfAnswers = [...]string{"2 January 2006, 15:04 MST", "2 January 2006, 15:04", "2 January 2006"}
	clockOfAnswers  = regexp.MustCompile(`^(?:(Mon|Tue|Wed|Thu|Fri|Sat|Sun) )?([0-9]{2}:[0-9]{2})$`)
	rangeOfAnswers  = regexp.MustCompile(`^(-?[0-9.]+) to (-?[0-9.]+)( [^ ]+)?$`)
	sourceOfAnswers = regexp.MustCompile(`, (?:[0-9]{4}|Dhaka|Kenya|Pichilingue)$|^a study of `)
)

var germanDays = map[string]string{"Mon": "Mo", "Tue": "Di", "Wed": "Mi", "Thu": "Do", "Fri": "Fr", "Sat": "Sa", "Sun": "So"}

var germanMonths = [...]string{"Januar", "Februar", "März", "April", "Mai", "Juni", "Juli", "August", "September", "Oktober", "November", "Dezember"}

// germanSource writes the short name of a source.
func germanSource(s string) string {
	if of, ok := strings.CutPrefix(s, "a study of "); ok {
		return "Studie zu " + germanStudies.Replace(of)
	}
	return strings.Replace(strings.Replace(s, " and others", " u. a.", 1), " and ", " und ", 1)
}

// germanStudies are what studies without an author in their short names are about.
var germanStudies = strings.NewReplacer(
	"freshwater puffers", "Süßwasser-Kugelfischen", "spotbanded scats", "Silber-Argusfischen", "mudskippers", "Schlammspringern",
	"velifera mollies", "Segelkärpflingen", "orange chromides", "Indischen Buntbarschen", "eel catfish", "Aalwelsen",
	"Asian seabass", "Barramundis", "hybrid striped bass", "Felsenbarsch-Hybriden", "Siamese fighting fish larvae", "Larven des Kampffischs",
	"Siamese fighting fish", "Kampffischen", "land hermit crabs", "Landeinsiedlerkrebsen", "trumpet snails", "Turmdeckelschnecken",
	"eelgrass ecotypes", "Seegras", "rainbow trout", "Regenbogenforellen", "climbing perch", "Kletterfischen", "striped catfish", "Haiwelsen",
	"fiddler crab larvae", "Larven von Winkerkrabben", "sesarmid crab larvae", "Larven von Mangrovenkrabben", "brine shrimp", "Salzkrebsen", "clawed frogs", "Krallenfröschen",
	"ten clownfish", "zehn Clownfischen", "rotifer strains", "Rädertierchen",
)

// appendGermanName puts a name into a sentence. Before an hour of another day German says am, not
// um.
func (v Voice) appendGermanName(b []byte, name string) []byte {
	day, clock, dated := strings.Cut(name, ", ")
	if _, isDay := germanDayNames[day]; dated && isDay {
		for _, um := range []string{"um ", "Um "} {
			if before, ok := strings.CutSuffix(string(b), um); ok {
				am := map[string]string{"um ": "am ", "Um ": "Am "}[um]
				return append(append(b[:len(before)], am...), day+" um "+clock...)
			}
		}
	}
	return append(b, name...)
}

var germanDayNames = func() map[string]bool {
	all := map[string]bool{}
	for _, day := range germanDays {
		all[day] = true
	}
	return all
}()

// dativeBefore reports whether what follows a text is in the dative, as after in and nach.
func dativeBefore(b []byte) bool {
	text := strings.TrimSuffix(string(b), "etwa ")
	for _, preposition := range []string{"in ", "nach ", "vor ", "seit ", "mit ", "von "} {
		if before, ok := strings.CutSuffix(strings.ToLower(text), preposition); ok && (before == "" || strings.HasSuffix(before, " ")) {
			return true
		}
	}
	return false
}

// called is an animal's name in a sentence.
func (v Voice) called(a Animal) string {
	if v.first {
		return a.Alone
	}
	return a.Within
}

// Animal names an animal by itself, from its usual English name.
func (v Voice) Animal(english string) string {
	if animal, ok := v.Animals[english]; ok {
		return animal.Alone
	}
	return english
}

// Day writes a day of the year for an axis.
func (v Voice) Day(at time.Time) string {
	if v.Language == language.German {
		return at.Format("2. ") + string([]rune(germanMonths[at.Month()-1])[:3])
	}
	return at.Format("2 Jan")
}

// Weekday writes a day of the year with that of its week.
func (v Voice) Weekday(at time.Time) string {
	day := at.Format("Mon")
	if v.Language == language.German {
		day = germanDays[day]
	}
	return day + " " + v.Day(at)
}

// Date writes a day.
func (v Voice) Date(at time.Time) string {
	if v.Language == language.German {
		return at.Format("2. ") + germanMonths[at.Month()-1] + at.Format(" 2006")
	}
	return at.Format("2 January 2006")
}
