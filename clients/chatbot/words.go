package main

import "regexp"

// A wording is one of many ways to say something, and the form that parse.go reads. To teach the
// bot another, add a row.
type wording struct {
	said *regexp.Regexp
	read string
}

func wordings(rows ...string) []wording {
	var all []wording
	for i := 0; i < len(rows); i += 2 {
		all = append(all, wording{regexp.MustCompile(`(?i)` + rows[i]), rows[i+1]})
	}
	return all
}

func reword(text string, rows []wording) string {
	for _, w := range rows {
		text = w.said.ReplaceAllString(text, w.read)
	}
	return text
}

var english = wordings(
	// Units behind a number, as the service writes them.
	`(?:parts?\s+per\s+(?:thousand|mille?)|promille)\b|‰`, ` ppt `,
	`\b(?:specific\s+gravity|s\.g\.)`, `SG`,
	`\b(?:half\s+an?|1/2|½)\s*(gal|l)`, `0.5 $1`,
	`([0-9])\s*(?:grams?|g)\s*(?:per|/)\s*(?:lit(?:er|re)|l)\b`, `$1 g/L`,
	`([0-9])\s*(?:milli\s*siemens|ms)(?:\s*(?:per|/)\s*(?:cm|centimet(?:er|re)))?\b`, `$1 mS/cm`,
	`([0-9])\s*(?:micro\s*siemens|[uµμ]s)(?:\s*(?:per|/)\s*(?:cm|centimet(?:er|re)))?\b`, `$1 µS/cm`,
	`([0-9])[\s-]*(?:imp(?:erial|\.)?|uk|british)\s*gal(?:lon)?s?\b`, `$1 gal_imp`,
	`([0-9])[\s-]*(?:us\s*)?gal(?:lon)?s?\b`, `$1 gal`,
	`([0-9])\s*g\s+(tank|long|breeder|cube|bucket)\b`, `$1 gal $2`,
	`([0-9])[\s-]*(?:lit(?:er|re)s?|ltrs?|lts?)\b`, `$1 L`,
	`([1-9][0-9]?),([0-9]{3})\s*(gal|L|mg/l|µS/cm|ppm)\b`, `$1$2 $3`,
	`([0-9])\s*millilit(?:er|re)s?\b`, `$1 mL`,
	`([0-9])\s*(?:m3\b|m³|cubic\s+met(?:er|re)s?\b)`, `$1 m³`,
	`\b(?:per|a|each)\s+gal(?:lon)?\b`, `for 1 gal`,
	`\b(?:per|a|each)\s+lit(?:er|re)\b`, `for 1 L`,
	`\b(?:SG|density)\s*(?:of\s+|is\s+|at\s+|[:=]\s*)?(1[.,]0[0-9]*)`, `$1 SG`,
	// Words.
	`\b(?:salnity|salinty|saltiness)\b`, `salinity`,
	`\b(?:slat|sallt)\b`, `salt`,
	`\bplan\s+to\s+(keep|have|buy)\b`, `want to $1`,
	`\bhow\s+(?:mch|muhc|mutch)\b`, `how much`,
	`\b(?:(?:full\s+)?salt[\s-]*water|sea\s*water|full\s+(?:salt|marine)|marine\s+water)\b`, `saltwater`,
	`\b(to|into|in)\s+(?:salt|marine|a\s+reef)(\s*(?:$|[.,;?!]))`, `$1 saltwater$2`,
	`\b(?:(?:marine|sea|reef|ocean|synthetic)[\s-]+)+(?:salt|mix)(?:\s+mix)?\b|\bsalt\s+mix\b`, `salt`,
)

// inGerman finds a German message by words that English does not have.
var inGerman = regexp.MustCompile(`(?i)\b(?:wie|wieviel|für|kann|mein|meine[nr]?|ist|bei|dichte|und|nicht|welche[rsn]?)\b|wasser|salz|krank|fisch(?:e|en)?\b|ü|ö|ä|ß`)

var german = wordings(
	`\bwie\s*viel\b`, `how much`,
	`\bwie\s+schnell\b`, `how fast`,
	`\bwie\s+(?:gewöhne|bringe|setze|bekomme)\b`, `how do i move`,
	`\b(?:umsetzen|umgewöhnen|umziehen)\b`, `move`,
	`\b(?:salz|meer)wasser\b`, `saltwater`,
	`\bbrackwasser\b`, `brackish`,
	`\bsüßwasser\b|\bsuesswasser\b`, `freshwater`,
	`\b(?:salinität|salzgehalt|salzgehalte)\b`, `salinity`,
	`\b(?:meersalz|salz)\b`, `salt`,
	`\bdichte\s*(?:von\s+)?([0-9.,]+)`, `$1 SG`,
	`\bdichte\b`, `SG`,
	`\baräometer\b`, `hydrometer`,
	`\brefraktometer\b`, `refractometer`,
	`\b(?:zeigt|misst)\b`, `shows`,
	`\bgramm\b`, `g`,
	`\bgrad\b`, `°C`,
	`\bpro\s+liter\b`, `for 1 L`,
	`\bliter\b`, `L`,
	`\bfür\b`, `for`,
	`\bvon\b`, `from`,
	`\b(?:bei|mit|auf)\b`, `at`,
	`\b(?:an|ins?|nach|zu)\s+(saltwater|brackish|freshwater)`, `to $1`,
	`\bkann\b`, `can`,
	`\b(?:ist|sind)\b`, `is`,
	`\bund\b`, `and`,
	`\b(?:gegen|at|wegen)\s+ich\b`, `for white spot`,
	`\bich\b`, `i`,
	`\b(?:mit\s+)?(?:luftstein|ausströmer|sprudelstein)\b`, `with an air stone`,
	`\b(?:eimer)\b`, `bucket`,
	`\bjunge\b`, `young`,
)

// A filler says nothing the bot needs.
var filler = regexp.MustCompile(`(?i)^(?:a|an|the|this|that|my|our|your|i|i'm|im|we|you|it|its|it's|they|them|their|me|there|some|any|` +
	`and|or|but|so|if|when|then|also|too|just|now|already|currently|please|pls|plz|hi|hey|hello|hallo|guten|abend|tag|morgen|thanks|thank|thx|cheers|guys|folks|everyone|` +
	`am|is|are|was|be|do|does|did|can|could|will|would|should|shall|may|have|has|got|get|go|let|` +
	`how|what|what's|whats|which|when|much|many|long|fast|quick|quickly|slow|slowly|amount|number|quantity|` +
	`of|for|to|into|in|on|at|with|without|from|up|out|by|as|than|about|under|over|per|until|` +
	`i've|i'd|need|needs|needed|want|wants|like|likes|use|using|add|adding|put|make|making|mix|mixing|prepare|calculate|convert|know|mean|means|tell|help|` +
	`live|lives|keep|keeping|kept|survive|handle|tolerate|take|stand|move|moving|acclimat(?:e|ing|ion)|acclimati[sz](?:e|ing)|transfer|plan|bring|raise|lower|drop|down|change|kill|increase|reach|hit|go|drip|safely|say|says|reads?|shows?|` +
	`salt|salinity|salty|saltwater|marine|water|fresh|freshwater|tap|ro|rodi|brackish|sea|reef|sg|ppt|psu|g/kg|g/l|ms/cm|µs/cm|gravity|level|scale|reading|readings|value|ph|` +
	`tank|pond|aquarium|bucket|tub|sump|display|nano|quarantine|qt|container|batch|setup|gallon|gal|long|breeder|cube|inch|inches|bag|` +
	`breed|breeding|conductivity|leitfähigkeit|leitwert|refractometer|hydrometer|meter|pen|tds|probe|swing|arm|kilos?|kg|grams?|g|lbs?|pounds?|oz|cups?|teaspoons?|tablespoons?|tsp|tbsp|` +
	`rate|range|order|half|switch|natural|nat|instant|best|right|good|ok|okay|fine|correct|ideal|proper|safe|high|low|max|maximum|min|minimum|kind|sort|new|more|=|-|&|@|w/|` +
	`ich|wir|braucht?|brauchen?|messe|zeigt|bedeutet|heißt|lange|dauert|bringen|um|viel|darf|dürfen|erhöhen|senken|salzig|pro|verträgt|vertragen|können|mein|meine|meinen|ein|eine|einen|einem|einer|der|die|das|den|dem|was|wie|welche[rsn]?|leben|halten|nehme|in|im|zu|oder|bitte|aquarium|becken)$`)

// asks are the cues of a question.
var (
	saltNoun     = regexp.MustCompile(`(?i)\bsalt\b`)
	howMuch      = regexp.MustCompile(`(?i)\b(?:how\s+(?:much|many)|amount|quantity)\b`)
	howMuchWater = regexp.MustCompile(`(?i)\bhow\s+(?:much|many)\s+(?:water|lit(?:er|re)s?|gal(?:lon)?s?)\b`)
	howFast      = regexp.MustCompile(`(?i)\bhow\s+(?:fast|quick(?:ly)?|slow(?:ly)?|long)\b`)
	move         = regexp.MustCompile(`(?i)\b(?:plan|move|moving|acclimat(?:e|ing)|acclimati[sz]e|transfer|switch|bring)\b|\bhow\s+(?:do\s+i|to)\s+get\b|\bin\s+(?:a|the|its|their)\s+bag\b|\bjust\s+(?:got|bought|arrived)\b`)
	newcomer     = regexp.MustCompile(`(?i)\bin\s+(?:a|the|its|their)\s+bag\b|\bjust\s+(?:got|bought|arrived)\b`)
	water        = regexp.MustCompile(`(?i)\b(?:salinity|SG|ppt|salt|saltwater|brackish|freshwater|water|live|survive)\b`)
	scales       = regexp.MustCompile(`(?i)\b(?:SG|ppt)\s+(?:to|in)\s+(?:SG|ppt)\b`)
	whatFor      = regexp.MustCompile(`(?i)\b(?:what|which|best|right)\b`)
	before       = regexp.MustCompile(`(?i)\b(?:them|they|it|these|those|salt|how\s+much)\b`) // may mean the animals of the previous question
	begin        = regexp.MustCompile(`(?i)(?:^|[.,;?!\n]|\b(?:and|then|also)\s)\s*(?:how|what|whats|what's|which|can|could|will|do|does|is|are|convert|plan)\b`)
)

// ill finds an animal that is not well, moults or is under medicine, in English and in German.
var ill = regexp.MustCompile(`(?i)\b(?:sick|ill|illness|diseased?|dying|dead|died|dies|ich|ick|velvet|flukes?|parasites?|fungus|fungal|dropsy|bloat(?:ed)?|pop-?eye|` +
	`(?:fin|tail|mouth)\s*rot|swim\s+bladder|white\s*spots?|wounds?|injur(?:y|ed)|stress(?:ed)?|lethargic|clamped|gasp(?:s|ing)?|` +
	`on\s+(?:its|their|his|her)\s+side|(?:floating|swimming)\s+upside|m(?:o|ou)lt(?:s|ed|ing)?|medicat(?:ed|ing|ion)|medicines?|copper|` +
	`treat(?:s|ed|ing|ment)?|cure|hypo(?:salinity)?|heal|(?:salt|freshwater|fresh\s+water)\s+(?:dips?|baths?)|(?:dips?|baths?)\s+for|(?:not|won'?t|isn'?t|aren'?t|stopped)\s+(?:eat|feed)(?:ing)?|breathing\s+(?:fast|heavily|hard)|flashing|ulcers?|sores?|bleeding|infect(?:ed|ion)|bacterial|cloudy\s+eyes?|torn\s+fins?|` +
	`krank\w*|stirbt|sterben|tot|ichthyo|kupfer|medikamente?|salzbad|frisst\s+nicht|fressen\s+nicht|schnappt|schnappen|häutet|häutung)\b|pünktchen|verpilz|flossenfäule`)

// wrongSalts are salts other than sea salt, and what they are.
var wrongSalts = []struct {
	name *regexp.Regexp
	is   string
}{
	{regexp.MustCompile(`(?i)\b(?:epsom(?:\s+salts?)?|bittersalz)\b`), magnesiumSulphate},
	{regexp.MustCompile(`(?i)\b(?:baking\s+(?:soda|powder)|bicarb(?:onate)?|natron|backpulver)\b`), sodiumBicarbonate},
	{regexp.MustCompile(`(?i)\b(?:table|cooking|kitchen|rock|kosher|iodi[sz]ed|pool|pond|softener|road|aquarium|himalayan?)\s+salts?\b|\b(?:nacl|sodium\s+chloride|natriumchlorid|kochsalz|speisesalz|jodsalz|streusalz|steinsalz|siedesalz|aquariensalz)\b`), sodiumChloride},
}

const (
	magnesiumSulphate = "magnesium sulphate"
	sodiumBicarbonate = "sodium bicarbonate"
	sodiumChloride    = "sodium chloride"
)

// greeting is a message that asks nothing.
var greeting = regexp.MustCompile(`(?i)^\s*(?:hi|hey|hello|hallo|good\s+(?:morning|evening)|thanks?|thank\s+you|thx|cheers|danke|moin|servus)\b`)

// other finds what a number may measure other than salinity.
var other = regexp.MustCompile(`(?i)\b(?:nitrates?|nitrites?|ammonia|ammonium|phosphates?|calcium|alkalinity|magnesium|iodine|chlorine|nitrat|nitrit|ammoniak|phosphat)\b`)
