package render

// germanRefusals say why there is no plan, and what would make one.
var germanRefusals = sentences{
	// What a refusal begins with.
	"refused_unwise": "Mach diesen Umzug nicht.",
	"refused_urgent": "Handle heute; das wartet auf keinen Plan.",
	"refused_way":    "So bleiben die Tiere in keinem Plan sicher.",
	"refused_more":   "Frag nach der vollständigen Antwort: Sie nennt {0, plural, one {# weiteres Hindernis} other {# weitere Hindernisse}}.",

	// A value of the request.
	"out_of_range":          "{0, name} ist angegeben; erlaubt ist {1, name} bis {2, name}",
	"beyond_preference":     "{0, name} ist angegeben; das Stadium {3, name} von {4, name} mag {1, name} bis {2, name}. Wähle ein Ziel darin.",
	"out_of_range_hot":      "{0, name} ist angegeben; erlaubt ist {1, name} bis {2, name}. Prüf Komma und Einheit",
	"time_in_future":        "Der Zeitpunkt liegt in der Zukunft. Prüf das Datum.",
	"time_too_late":         "Der Zeitpunkt liegt mehr als {0} voraus. Prüf das Datum.",
	"time_too_early":        "Der Zeitpunkt liegt mehr als {0} zurück. Prüf das Datum.",
	"salinity_out_of_reach": "{0} ist nicht zu erreichen, wohl aber {1..2}. {3, name}",

	// The move itself is unwise.
	"no_step_while_sick":      "Bring ein krankes Tier in keinen anderen Salzgehalt. Behandle es erst, mit einem Tierarzt, und plane neu, wenn es gesund ist.",
	"no_step_while_medicated": "Ändere den Salzgehalt nicht, solange ein Medikament im Wasser ist. Beende die Behandlung, wechsle das Wasser und plane dann neu. Kupfer, Formalin und die meisten Wurmmittel töten Garnelen, Schnecken und Korallen. Setz diese sofort in unbehandeltes Wasser mit demselben Salzgehalt und derselben Temperatur.",
	"no_step_just_shipped":    "Lass gerade angekommene Tiere einen Tag ruhen, in sauberem Wasser mit dem Salzgehalt und der Temperatur, in denen sie kamen.",
	"no_step_while_moulting":  "Lass ein Tier in der Häutung, wo es ist, bis sein Panzer hart ist. Das dauert einige Tage.",
	"short_spell_is_a_dip":    "{0} bei {1} sind ein kurzes Bad: eine Behandlung mit Risiken. Die leitet ein Tierarzt oder Fischgesundheitsdienst; hier wird nichts geplant.",
	"target_below_band":       "{0, name} kann bei {1} nicht leben; das Tier braucht mindestens {2}.",
	"target_below_as_dip":     "{0, name}: Haltung bei {2} oder mehr; {1} ist zu wenig. Ein kurzes Bad in solchem Wasser ist eine Behandlung mit Risiken. Die leitet ein Tierarzt oder Fischgesundheitsdienst; hier wird nichts geplant.",
	"target_above_band":       "{0, name} kann bei {1} nicht leben; das Tier verträgt höchstens {2}.",
	"target_above_as_dip":     "{0, name}: Haltung bei {2} oder weniger; {1} ist zu viel. Ein kurzes Bad in solchem Wasser ist eine Behandlung mit Risiken. Die leitet ein Tierarzt oder Fischgesundheitsdienst; hier wird nichts geplant.",
	"no_air_stone":            "Häng einen Sprudelstein in den Behälter. Ohne ihn sinkt Salzwasser ab, und Tiere am Boden bekommen es unverdünnt.",

	// Too much for one day or one step.
	"over_24_hours":                  "Der Unterschied beträgt {0}; an einem Tag sind höchstens {1} erlaubt. Mit einem Eimer geht das nicht.",
	"over_24_hours_from_bag":         "Heute kommen sie in eine Wanne oder ein Quarantänebecken: sauberes, entchlortes, belüftetes Wasser mit {2} und {3}. Öffne den Beutel und setze sie jetzt hinein, ohne das Beutelwasser. Der Unterschied beträgt {0}; an einem Tag sind höchstens {1} erlaubt. Plane den Weg von dort.",
	"day_used_up":                    "Von den {1} für heute sind {0} verbraucht, und dieser Umzug braucht {2}. Warte bis morgen.",
	"gap_over_at_once":               "Der Unterschied beträgt {0}; ein Schritt darf höchstens {1} betragen. Tropfe, oder gleiche die Wasser erst einander an.",
	"temperature_over_24_hours":      "Die Wasser sind {0} verschieden warm; an einem Tag sind höchstens {1} erlaubt. Bring das neue Wasser erst auf {2-} oder näher.",
	"temperature_over_24_hours_down": "Die Wasser sind {0} verschieden warm; an einem Tag sind höchstens {1} erlaubt. Bring das neue Wasser erst auf {2+} oder näher.",
	"a_day_would_do":                 "Oder warte, bis die frühere Änderung einen Tag her ist.",
	"tolerance_over_at_once":         "Du erlaubst {0} für den letzten Schritt; ein Schritt darf höchstens {1-} betragen.",
	"tolerance_of_zero":              "Tropfen erreicht das neue Wasser nie ganz. Erlaube mit diesem Behälter und Schlauch {0} für den letzten Schritt.",
	"search_ended_without_cups":      "Unter den vielen versuchten Plänen mit Bechern war keiner, der geht. Tropfe, oder beginne mit mehr Wasser.",
	"search_ended_without_a_plan":    "Unter den vielen versuchten Plänen war keiner, der geht. Erlaube weniger Einstellungen des Ventils, einen größeren letzten Schritt oder mehr Termine.",
	"tolerance_out_of_reach":         "Selbst nach {1, number}-mal Abgießen bleiben mit diesem Behälter und Schlauch {0+}.",
	"overflow_never_ends":            "Mit einem Überlauf erreicht das Tropfen das neue Wasser nie ganz. Erlaube einen Rest für den letzten Schritt, etwa {0}.",

	// Other ways to go.
	"holding_tanks_would_do": "Gehe über Zwischenbecken mit eingefahrenem Filter: {0, plural, one {# Teil} other {# Teile}} von {1}, mit {2} in jedem Becken. Gib an, wie viel ein Zwischenbecken fasst, dann wird es geplant.",
	"combined_would_do":      "Oder stelle erst ihr eigenes Becken auf {0} um und tropfe dann den Rest. Beides geht in einem Plan.",
	"ramp_would_do":          "Oder wechsle das Wasser in ihrem eigenen Becken, jeden Tag ein wenig. Gib an, wie viel es fasst, dann wird es geplant.",
	"ramp_not_needed":        "Der Unterschied von {0} ist weniger, als ein Tag erlaubt, {1}. Tropfe, wenn nötig einen Tag nach der letzten Änderung.",
	"bag_is_no_home_tank":    "Tiere im Beutel haben kein Becken, das man umstellen könnte. Lass sie einen Tag in sauberem Wasser wie im Beutel ruhen und plane von dort.",
	"stages_not_needed":      "Der Unterschied von {0} ist weniger, als ein Tag erlaubt, {1}. Tropfe, oder überlass die Wahl dem Planer.",
	"too_many_stages":        "Der Weg hätte {0, number} Teile; mehr als {1, number} zu planen lohnt nicht. Stelle erst ihr eigenes Becken um.",

	// Tanks.
	"ramp_without_end":         "Mit Wechseln von höchstens {0} des Beckens kommt es nie ans Ziel. Erlaube einen größeren Anteil.",
	"ramp_below_the_tap":       "Du willst {0}, aber das Wasser für die Wechsel hat {1}. Nimm salzärmeres Wasser.",
	"nothing_to_ramp":          "Beide Wasser haben denselben Salzgehalt. Es gibt nichts umzustellen.",
	"needs_more_holding_tanks": "{0, number} Teile brauchen {1, plural, one {# Zwischenbecken} other {# Zwischenbecken}}, jedes mit eingefahrenem Filter. Du hast {2, number}.",
	"stage_below_the_source":   "Das Wasser für die Zwischenbecken hat {0}; eines davon braucht {1}. Nimm salzärmeres Wasser.",

	// Life in the container.
	"too_many_charges":                "Du müsstest eine Kanne mehr als {0, number}-mal füllen. Tropfe aus dem Becken.",
	"too_much_ammonia":                "Schlimmstenfalls stiege das Ammoniak auf {0}; die Grenze ist {1}. {2, plural, =0 {Schon ein Tier ist zu viel} =1 {Platz ist für eines der Tiere} other {Platz ist für # der Tiere}}.",
	"too_much_ammonia_of_all":         "Schlimmstenfalls stiege das Ammoniak auf {0}; die Grenze ist {1}. Setze weniger Tiere auf einmal um.",
	"too_little_oxygen":               "Schlimmstenfalls fiele der Sauerstoff auf {0}; die Grenze ist {1}. {2, plural, =0 {Schon ein Tier ist zu viel} =1 {Platz ist für eines der Tiere} other {Platz ist für # der Tiere}}.",
	"too_little_oxygen_for_all":       "Schlimmstenfalls fiele der Sauerstoff auf {0}; die Grenze ist {1}. Setze weniger Tiere auf einmal um.",
	"cups_change_too_fast":            "Selbst ein Becher mit {0} ändert das Wasser zu schnell.",
	"cups_too_long":                   "Mit Bechern wären die Tiere {0} ohne Filter und Futter; höchstens {1} sind erlaubt. Komm öfter, oder beginne mit weniger Wasser.",
	"drip_never_ends":                 "Ein Tropfen erreicht das neue Wasser nie ganz. Erlaube einen Rest für den letzten Schritt.",
	"heating_would_do":                "Heiz den Behälter, oder stell ihn in ein Wasserbad.",
	"larger_last_step_would_do":       "Erlaube {0+} für den letzten Schritt.",
	"marks_never_reach":               "Selbst nach {1, number}-mal Abgießen bleiben {0+}, mehr als ein Schritt sein darf.",
	"needs_larger_container_and_step": "Ein größerer Behälter genügt, {0+} oder mehr, mit einem letzten Schritt von {1-}.",
	"needs_room_for_cups":             "Nimm einen Behälter mit etwa {0}, mit mehr Wasser am Anfang.",
	"slowest_drip_too_fast":           "Selbst das langsamste Tropfen ist zu schnell.",
	"waste_bucket_fills_too_often":    "{0} laufen in den Eimer unter dem Überlauf; er wäre mehr als {1, number}-mal zu leeren.",
	"needs_room_for_animals":          "Nimm einen Behälter mit etwa {0}, mit mehr Wasser am Anfang und schnellerem Tropfen.",
	"water_holds_too_little_oxygen":   "Selbst ohne Tiere und mit Sprudelstein hält dieses Wasser nur {0} Sauerstoff; die Grenze ist {1}. Nimm kühleres Wasser.",
	"water_brings_ammonia":            "Selbst ohne Tiere kommt das Ammoniak auf {0}; die Grenze ist {1}. Nimm saubereres Wasser.",
	"acidity_would_help":              "Gerechnet ist mit {0}, weil die Karbonathärte fehlt. Miss pH und Karbonathärte beider Wasser; ein niedrigerer pH erlaubt vielleicht mehr Tiere.",
	"too_long_without_food":           "Die Tiere wären {0} in einem Behälter ohne Filter und Futter; höchstens {1} sind erlaubt. Lass es schneller tropfen.",

	// Container and line.
	"freeboard_takes_all":       "Der freie Rand nimmt die ganzen {0} ein. Lass weniger frei.",
	"start_leaves_no_room":      "Mit {0} am Anfang bleibt kein Platz zum Tropfen; der Behälter darf {1} enthalten. Beginne mit weniger, oder nimm einen größeren.",
	"start_below_least":         "Du beginnst mit {0}, aber die Tiere brauchen {1}. Beginne mit mehr.",
	"overflow_above_the_rim":    "Der Überlauf säße bei {0}, über den {1}, die der Behälter enthalten darf. Setz ihn tiefer, oder nimm einen größeren Behälter.",
	"waste_bucket_too_small":    "{0} laufen in den Eimer unter dem Überlauf; er wäre mehr als {2, number}-mal zu leeren. Nimm einen mit {1} oder mehr.",
	"least_drip_above_greatest": "Dein langsamstes Tropfen, {0}, ist schneller als dein schnellstes, {1}.",
	"needs_slower_drip":         "Selbst das langsamste Tropfen ist zu schnell. Du brauchst ein Ventil, das {0-} hält.",
	"needs_smaller_drop":        "Oder mach kleinere Tropfen, höchstens {0-}.",
	"needs_more_water_for_cups": "Selbst ein Becher mit {0} ändert das Wasser zu schnell. Beginne mit {1+} oder mehr.",
	"needs_more_water":          "Beginne mit mehr Wasser: {0+} oder mehr.",
	"needs_larger_container":    "Oder nimm einen größeren Behälter: {0+} oder mehr.",
	"source_runs_dry":           "Das Becken fasst {0}, und das Tropfen nimmt {1}. Nimm weniger, oder füll nach, während der Stand sinkt.",
	"head_runs_out":             "Mit dem Becken {0} über dem Schlauchende hört das Tropfen zu früh auf. Stell das Becken höher oder das Schlauchende tiefer, auf {1+} oder mehr.",
	"line_passes_too_little":    "Der Plan tropft {0}, aber der offene Schlauch lässt nur {1} durch. Nimm einen weiteren oder kürzeren Schlauch, oder stell das Becken höher.",
	"needs_wider_bore":          "Ein Schlauch mit {0+} Innendurchmesser oder mehr schafft es.",
	"intake_uncovered":          "Bei {0} käme das Schlauchende aus dem Wasser, bevor das Tropfen fertig ist. Häng es {1..2} unter die Oberfläche des Beckens.",
	"intake_below_bottom":       "Das Becken ist nur {1} tief, und das Schlauchende hinge auf {0}. Häng es {2..3} unter die Oberfläche.",
	"intake_above_water":        "Bei {0} ist das Schlauchende nicht unter Wasser. Häng es unter die Oberfläche; mit der Wasserfläche des Beckens sagt der Plan, wie tief.",

	// Visits.
	"visits_do_not_suffice":   "Mit diesen Terminen lässt sich kein Tropfen betreuen. Dazwischen liefe der Behälter über, oder es müsste langsamer tropfen, als das Ventil hält.",
	"start_later_would_do":    "Beginne {0} später.",
	"come_more_often":         "Oder komm alle {0}.",
	"quiet_hours_never_end":   "Ruhezeiten von {0, name} bis {0, name} enden nie. Sag, wann sie enden.",
	"start_in_quiet_hours":    "Am Anfang muss jemand da sein, und deine Ruhezeit geht von {0, name} bis {1, name}. Beginne {2} später.",
	"no_cups_with_overflow":   "Becher liefen am Überlauf wieder hinaus. Nimm einen Behälter ohne Überlauf, oder tropfe.",
	"no_visits_with_overflow": "Tropfen mit Überlauf lässt sich nicht um Termine herum planen. Lass sie weg, oder tropfe ohne Überlauf.",

	// Under way.
	"room_changes_too_fast": "Nichts hält die Temperatur im Behälter. In einem Raum mit {2} ändert sie sich um {0}; die Grenze ist {1}. Heiz ihn, oder stell ihn in ein Wasserbad.",
	"room_changes_too_much": "Nichts hält die Temperatur im Behälter. In einem Raum mit {2} ändert sie sich um {0}; an einem Tag sind höchstens {1} erlaubt. Heiz ihn, oder stell ihn in ein Wasserbad.",

	"cups_would_do":                  "Oder gieß das neue Wasser von Hand zu: {0, plural, one {# abgemessener Becher} other {# abgemessene Becher}} in {1}.",
	"stream_would_do":                "Lass den Schlauch als Strahl bis {1} laufen, insgesamt {0}. Stell ihn danach ein, was ein Messbecher in einer Minute auffängt. Erlaube {2}, dann wird es geplant.",
	"overflow_needs_volume":          "Mit einem Überlauf zeigt keine Marke, wie weit du bist. Gib das Volumen bis zum Überlauf an. Gieß dazu Wasser kannenweise hinein und zähle mit.",
	"nitrite_in_new_water":           "Das neue Wasser hat {0} Nitrit; mehr als {1} schadet. Warte, bis sein Filter Ammonium und Nitrit an zwei Tagen so weit gesenkt hat.",
	"too_little_oxygen_in_drops":     "Mit {0} dauert das Tropfen zu lang. Schlimmstenfalls fiele der Sauerstoff auf {1}; die Grenze ist {2}.",
	"too_much_ammonia_in_drops":      "Mit {0} dauert das Tropfen zu lang. Schlimmstenfalls stiege das Ammoniak auf {1}; die Grenze ist {2}.",
	"too_long_without_food_in_drops": "Mit {0} würde es {1} dauern. Tiere ohne Futter werden höchstens {2} gehalten.",
	"target_above_kept":              "{0, name}: Haltung bei {2} oder weniger; {1} ist zu viel für das Tier.",
	"target_below_kept":              "{0, name}: Haltung bei {2} oder mehr; {1} ist zu wenig für das Tier.",

	"problem_no_plan":       "Kein Plan hält die Tiere in ihren Grenzen",
	"problem_which_species": "Welche?",
	"problem_not_found":     "Das gibt es hier nicht",
	"detail_more":           "{0, name} (und mehr: siehe errors)",
	"detail_and_more":       "{0, name} (und {1, number} weitere, davon {2, number} unter errors)",
}
