// Every word that the page at the bucket says by itself, in both languages.
const english = {
	offline: 'No network. What you log is kept here and sent when it is back.',
	waiting: (n) => `No network. ${n === 1 ? 'One entry waits' : n + ' entries wait'} here and will be sent when it is back.`,
	sent: 'Sent. The plan is up to date.',
	keyWrong: 'The key of this link does not open the transfer, so nothing can be logged from here.',
	empty: 'Enter at least one of the three, or tick that the animals look well.',
	notNumber: (name) => `${name}: enter a number.`,
	overdue: 'Overdue by',
	now: 'now',
	due: 'Next act in',
	next: 'Next act',
	over: 'Done since',
	left: 'All done in',
	notMoved: 'The start could not be moved. Try again when the network is back.',
	notPlanned: 'There is no new plan yet. Try again when the network is back.',
	notEnded: 'That could not be saved. Try again when the network is back.',
	finished: ['End the move', 'Are all animals in the new water?', 'Yes, they are over'],
	cancelled: ['Call the move off', 'Are all animals safe in water they know?', 'Yes, call it off'],
	alarm: (time) => ` for ${time}`,
	back: 'Nothing happened, go back',
	done: 'Done. What next?',
	finish: 'Back to the plan',
	bells: { animals_look_wrong: 'See that the water turns gently and no bubble reaches them.', power_off: 'Stir the water slowly by hand every 5 minutes, without bubbles.' }, // first, of jellyfish
	calm: { animals_look_wrong: 'Change nothing more.', power_off: 'See that the animals have air.', late: 'Look at the animals.' }, // where nothing drips
	step: (i, n) => `${i} of ${n}`,
	shared: 'The read link is copied.',
	flows: {
		stop: { title: 'Stop the drip', first: 'Close the clamp.', yes: [['It is closed', {}]], then: ['Read the salinity, the temperature and how full the container is, and log them.'] },
		animals_look_wrong: {
			title: 'Animals look wrong', first: 'Close the clamp.', why: 'Then say what you see:',
			yes: [['They gasp', { behaviour: 'gasping' }], ['They roll or lose balance', { behaviour: 'loss_of_balance' }], ['They make slime', { behaviour: 'heavy_mucus' }], ['Something else', {}]],
			then: ['See that the air stone runs and the surface moves.', 'Check the temperature.', 'Test for ammonia. If there is any, change some of the water for clean water like it. Call a vet.'],
			back: 'If the change of water was the cause, go half a step back toward the old water.',
		},
		power_off: {
			title: 'Power is off', first: 'Close the clamp.', why: 'Gravity goes on dripping.', yes: [['It is closed', {}]],
			then: ['Run a battery air pump, or pour cupfuls from 20 cm above the water every 5 minutes.', 'Wrap the container. Leave an opening for air, too narrow for any of them.', 'Unplug heaters.', 'When the power is back, tap “Power is back”.'],
		},
		power_back: { title: 'Power is back', first: 'Close the clamp and read the temperature in the container.', yes: [['Done. What next?', {}]], then: ['If the water cooled by more than 1 °C, warm it first and change the salinity 12 hours later.', 'Throw away the water of a canister filter that was off for more than 2 hours.', 'Log what you read.'] },
		late: { title: 'I am late', first: 'Close the clamp.', why: 'Nobody knows yet how far the drip has gone.', yes: [['It is closed', {}]], then: ['Look at the animals. If they look wrong, go back and tap “Animals look wrong”.', 'Read the salinity and how full the container is, and log them.'] },
	},
};

const german = {
	offline: 'Kein Netz. Was du einträgst, bleibt hier und wird gesendet, sobald es wieder da ist.',
	waiting: (n) => `Kein Netz. ${n === 1 ? 'Ein Eintrag wartet' : n + ' Einträge warten'} hier, bis es wieder da ist.`,
	sent: 'Gesendet. Der Plan ist auf dem neuesten Stand.',
	keyWrong: 'Der Schlüssel dieses Links öffnet den Umzug nicht; von hier lässt sich nichts eintragen.',
	empty: 'Gib mindestens eines der drei ein, oder hak an, dass es den Tieren gut geht.',
	notNumber: (name) => `${name}: Gib eine Zahl ein.`,
	overdue: 'Überfällig seit',
	now: 'jetzt',
	due: 'Weiter in',
	next: 'Weiter',
	over: 'Fertig seit',
	left: 'Ganz fertig in',
	notMoved: 'Der Beginn ließ sich nicht ändern. Versuch es noch einmal, wenn das Netz wieder da ist.',
	notPlanned: 'Einen neuen Plan gibt es noch nicht. Versuch es noch einmal, wenn das Netz wieder da ist.',
	notEnded: 'Das ließ sich nicht speichern. Versuch es noch einmal, wenn das Netz wieder da ist.',
	finished: ['Den Umzug beenden', 'Sind alle Tiere im neuen Wasser?', 'Ja, sie sind drüben'],
	cancelled: ['Den Umzug absagen', 'Sind alle Tiere sicher in vertrautem Wasser?', 'Ja, absagen'],
	alarm: (time) => ` auf ${time}`,
	back: 'Nichts passiert, zurück',
	done: 'Erledigt. Was nun?',
	finish: 'Zurück zum Plan',
	bells: { animals_look_wrong: 'Sieh nach, ob das Wasser sanft kreist und keine Blase sie erreicht.', power_off: 'Rühr das Wasser alle 5 Minuten langsam von Hand, ohne Blasen.' },
	calm: { animals_look_wrong: 'Ändere nichts mehr.', power_off: 'Sorg dafür, dass die Tiere Luft haben.', late: 'Sieh dir die Tiere an.' },
	step: (i, n) => `${i} von ${n}`,
	shared: 'Der Leselink ist kopiert.',
	flows: {
		stop: { title: 'Das Tropfen stoppen', first: 'Schließ die Klemme.', yes: [['Sie ist zu', {}]], then: ['Miss den Salzgehalt, die Temperatur und wie voll der Behälter ist, und trag es ein.'] },
		animals_look_wrong: {
			title: 'Mit den Tieren stimmt etwas nicht', first: 'Schließ die Klemme.', why: 'Dann sag, was du siehst:',
			yes: [['Sie schnappen nach Luft', { behaviour: 'gasping' }], ['Sie taumeln oder kippen', { behaviour: 'loss_of_balance' }], ['Sie schleimen', { behaviour: 'heavy_mucus' }], ['Etwas anderes', {}]],
			then: ['Sieh nach, ob der Sprudelstein läuft und die Oberfläche sich bewegt.', 'Prüf die Temperatur.', 'Teste auf Ammonium. Ist welches da, wechsle einen Teil gegen sauberes Wasser wie dieses. Ruf einen Tierarzt.'],
			back: 'War die Änderung schuld, geh einen halben Schritt zurück zum alten Wasser.',
		},
		power_off: {
			title: 'Der Strom ist weg', first: 'Schließ die Klemme.', why: 'Die Schwerkraft tropft weiter.', yes: [['Sie ist zu', {}]],
			then: ['Nimm eine Batterie-Luftpumpe, oder gieß alle 5 Minuten Becher aus 20 cm Höhe zurück.', 'Pack den Behälter ein. Lass einen Spalt für Luft, zu schmal für jedes Tier.', 'Zieh die Heizer aus der Steckdose.', 'Ist der Strom wieder da, tippe auf „Der Strom ist wieder da“.'],
		},
		power_back: { title: 'Der Strom ist wieder da', first: 'Schließ die Klemme und miss die Temperatur im Behälter.', yes: [['Erledigt. Was nun?', {}]], then: ['Ist das Wasser um mehr als 1 °C abgekühlt, wärme es zuerst und ändere den Salzgehalt 12 Stunden später.', 'Schütte das Wasser eines Außenfilters weg, der mehr als 2 Stunden stand.', 'Trag ein, was du misst.'] },
		late: { title: 'Ich bin zu spät', first: 'Schließ die Klemme.', why: 'Noch weiß niemand, wie weit das Tropfen ist.', yes: [['Sie ist zu', {}]], then: ['Sieh dir die Tiere an. Stimmt etwas nicht, geh zurück und tippe auf „Mit den Tieren stimmt etwas nicht“.', 'Miss den Salzgehalt und wie voll der Behälter ist, und trag es ein.'] },
	},
};

export const language = document.documentElement.lang;
export const words = language === 'de' ? german : english;
