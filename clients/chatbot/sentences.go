package main

const help = `I answer four questions:
how much salt for 120 gal at 1.010
what is 1.010 SG at 25 C
what salinity for a figure 8 puffer
plan 4 young spotted scats of 1 g from 2 ppt to 10 ppt at 26 C in a 20 L bucket with 6 L and an air stone`

// The bot's own sentences; all others are the service's.
const (
	illness = "You write of an animal that is not well or under medicine. Do not change its salinity now. " +
		"See that the air stone runs, test ammonia and nitrite, and ask a vet. Plan the move again when it is well."
	notUnderstood = "I did not understand that."
	empty         = "Your message is empty."
	tooLong       = "Your message has %d characters; I read no more than %d, so I have read none of it."
	mixedMarks    = "Some of your numbers have a comma and some a point, so I did not understand which marks the decimals. Write them all one way."
	askVolume     = "Say for how much water, such as: for 120 gal"
	askTarget     = "Say how salty it shall be, such as: at 1.010, or: at 10 ppt"
	askWhich      = "Say which salinity it has and which it shall have, such as: from 1.022 to 1.026"
	askFrom       = "Say from which water, such as: from 2 ppt"
	askTo         = "Say to which water, such as: to 10 ppt"
	askWarmth     = "Say how warm the waters are, such as: at 26 C"
	askAnimal     = "Say which animal, such as: what salinity for a figure 8 puffer"
	askOne        = "A plan is for one species. Give each a container of its own, and ask for each."
	askFewer      = "You name more than I can look up at once. Ask about fewer."
	askReading    = "Say the reading and how warm the water is, such as: what is 1.010 SG at 25 C"
	askUnit       = "“%s” has no unit. Write ppt behind it, or a specific gravity as 1.0…"
	askSG         = "“%s” is no specific gravity of water. Do you mean %s?"
	askNumber     = "“%s” is no number. Write it with one point, such as 1.010."
	askWater      = "“%s” can be many waters. Measure it, and say it in ppt or as SG."
	askMass       = "The ppm of a pen are dissolved solids, never ppt. Say the salinity in ppt or as SG."
	notSeaSalt    = "“%s” is %s. It lacks much of what animals of brackish and sea water need, so I give no figures for it. Use a complete sea salt."
	away          = "The calculator does not answer just now. Ask again in a minute."
	asGravity     = "%s as specific gravity"
	asPPT         = "%s as %s ppt"
	asSea         = "“saltwater” as " + sea
	asAnimal      = "“%s” as %s"
	asBoth        = "%s as the temperature of both waters"
	asWarm        = "no temperature, and took 25 °C: say how warm the sample is"
	iRead         = "I read %s."
	pointMarks    = "In my numbers the point marks the decimals."
	unreadWords   = "I did not understand: %s"
)

// inGermanToo are the bot's own sentences in German.
var inGermanToo = map[string]string{
	help: `Ich beantworte vier Fragen:
wie viel Salz für 450 L mit 10 ppt
was ist Dichte 1,010 bei 25 °C
welche Salinität für Argusfische
wie viel Salz für 200 L von 5 ppt auf 10 ppt`,
	illness: "Einem Tier geht es nicht gut, oder es bekommt Medizin. Ändere seinen Salzgehalt jetzt nicht. " +
		"Sieh nach, ob der Ausströmer läuft, miss Ammoniak und Nitrit, und frag einen Tierarzt. Plane den Umzug neu, wenn es gesund ist.",
	notUnderstood:     "Das habe ich nicht verstanden.",
	empty:             "Deine Nachricht ist leer.",
	mixedMarks:        "Einige Zahlen haben ein Komma, andere einen Punkt. Ich weiß nicht, welches Zeichen die Dezimalen trennt. Schreib alle gleich.",
	askVolume:         "Sag, für wie viel Wasser, etwa: für 450 L",
	askTarget:         "Sag, wie salzig es werden soll, etwa: mit 10 ppt",
	askWhich:          "Sag, welchen Salzgehalt es hat und welchen es haben soll, etwa: von 1,022 auf 1,026",
	askFrom:           "Sag, aus welchem Wasser, etwa: von 2 ppt",
	askTo:             "Sag, in welches Wasser, etwa: auf 10 ppt",
	askWarmth:         "Sag, wie warm das Wasser ist, etwa: bei 26 °C",
	askAnimal:         "Sag, welches Tier, etwa: welche Salinität für Argusfische",
	askOne:            "Ein Plan ist für eine Art. Gib jeder einen eigenen Behälter, und frag für jede.",
	askFewer:          "Du nennst mehr, als ich auf einmal nachsehen kann. Frag nach weniger.",
	askReading:        "Sag die Ablesung, und wie warm das Wasser ist, etwa: was ist Dichte 1,010 bei 25 °C",
	askUnit:           "„%s“ hat keine Einheit. Schreib ppt dahinter, oder die Dichte als 1,0…",
	askSG:             "„%s“ ist keine Dichte von Wasser. Meinst du %s?",
	askNumber:         "„%s“ ist keine Zahl. Schreib sie mit einem Komma, etwa 1,010.",
	askWater:          "„%s“ kann vieles sein. Miss es, und sag die ppt oder die Dichte.",
	askMass:           "ppm eines Stifts sind gelöste Stoffe, nie ppt. Sag die ppt oder die Dichte.",
	notSeaSalt:        "„%s“ ist %s. Es fehlt viel von dem, was Tiere in Brack- und Meerwasser brauchen, darum nenne ich keine Menge. Nimm ein vollständiges Meersalz.",
	magnesiumSulphate: "Magnesiumsulfat", sodiumBicarbonate: "Natriumhydrogencarbonat", sodiumChloride: "Natriumchlorid",
	asGravity:   "%s als Dichte",
	asPPT:       "%s als %s ppt",
	asSea:       "„Salzwasser“ als " + sea,
	asAnimal:    "„%s“ als %s",
	asBoth:      "%s als Temperatur beider Wasser",
	asWarm:      "keine Temperatur, und nahm 25 °C: sag, wie warm die Probe ist",
	iRead:       "Ich las %s.",
	unreadWords: "Das habe ich nicht verstanden: %s",
	away:        "Der Rechner antwortet gerade nicht. Frag in einer Minute noch einmal.",
}
