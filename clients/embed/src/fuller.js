// What the larger elements share beyond the base: volumes and masses in the
// reader's units, times, cautions in German.
import { Element, h } from './base.js';
import style from './fuller.css';

const sheet = new CSSStyleSheet();
sheet.replaceSync(style);

// Factors: NIST SP 811 (2008), appendix B.
const customary = { L: ['gal', 1 / 3.785411784], kg: ['lb', 1 / 0.45359237], '°C': ['°F', 1.8, 32], cm: ['in', 1 / 2.54] };

// Below what size a smaller unit is handier, and how many of it make one.
const smaller = { kg: ['g', 1000, 1], lb: ['oz', 16, 1], L: ['mL', 1000, 0.1], gal: ['fl oz', 128, 0.1], 'drops/s': ['drops/min', 60, 1] };

// How many places a keeper can use where it is not one.
const places = { SG: 4, kg: 2, lb: 2, g: 0, mL: 0, '°F': 0, 'mg/L N': 2, 'drops/min': 0 };

const german = {
	temperature_assumed: 'Ohne Angabe gelten 25 °C.',
	convention_assumed: 'Das Dichteverhältnis gilt als 25C/25C.',
	product_taken_dry: 'Der Wassergehalt des Salzes ist nicht bekannt: gerechnet ist mit trockenem Salz, dem Mindesten.',
	dissolve_without_animals: 'Salz nie auflösen, wo Tiere sind.',
	no_animals_near_the_salt: 'Neues Wasser getrennt ansetzen, auf Beckentemperatur bringen und langsam zugießen.',
	water_is_heavy: 'Wasser ist schwer: Last teilen oder pumpen, Netzstecker von Salzwasser fernhalten, Tragfähigkeit des Bodens klären.',
	never_siphon_by_mouth: 'Nie mit dem Mund ansaugen.',
	drip_never_a_stream: 'Immer tropfen, nie fließen lassen; bei jedem Blick die Tropfen zählen.',
	failed_valve: 'Ein Ventil kann versagen: Schlauch nur so tief hängen, dass der Heber abreißt, bevor der Behälter überläuft; Behälter dorthin stellen, wo Wasser nicht schadet.',
	source_pumps_and_top_off: 'Solange das Becken speist: Nachfüllautomatik aus, ebenso Heizer und Pumpen, die trockenfallen.',
	lift_with_care: 'Der volle Behälter ist schwer: nicht tragen, sondern abschöpfen oder pumpen.',
	mains_near_salt_water: 'Salzwasser leitet Strom: FI-Schutzschalter, Abtropfschlaufen, Stecker über dem Wasser, Elektriker für die Leitungen.',
	keep_a_way_back: 'Gleich viel altes Wasser belüftet und abgedeckt bis einen Tag nach dem Umsetzen aufheben.',
	life_support_not_planned: 'Sauerstoff und Ammoniak sind nicht berechnet, da Zahl und Masse der Tiere fehlen: Luftstein laufen lassen, nicht füttern, nicht überbesetzen, nie in Transportwasser tropfen.',
	stop_on_distress: 'Wenn sie nach Luft schnappen, taumeln, das Gleichgewicht verlieren oder schleimen: aufhören und einen halben Schritt zurück.',
	vet_for_the_sick: 'Ein Wechsel der Salinität ist keine Kur; über kranke Tiere entscheidet der Tierarzt.',
	never_release_to_nature: 'Nie Tiere, Pflanzen oder ihr Wasser in die Natur geben.',
	salt_water_to_the_sewer: 'Salzwasser in die Kanalisation, wo das erlaubt ist; nie auf den Boden, in Regenabläufe oder Kleinkläranlagen.',
	temperature_and_salinity_together: 'Temperatur und Salinität ändern sich zugleich: es gilt die Hälfte der Grenzwerte. Besser erst die Temperaturen angleichen.',
	equalise_temperature_first: 'Erst die Temperaturen angleichen, schwimmend im eigenen Wasser.',
	target_below_band: 'Das Ziel liegt unter dem Bereich, der für die Art geplant wird.',
	target_above_band: 'Das Ziel liegt über dem Bereich, der für die Art geplant wird.',
	filter_gate: 'Der Filter muss mitkommen: vor jedem Schritt Ammonium und Nitrit messen und bei erhöhten Werten warten.',
	one_filling_leaves: 'Eine Füllung schließt den Abstand nur zum Teil; bis zum Ende muss abgegossen und neu gefüllt werden.',
	limits_proposed: 'Die Grenzwerte sind hier vorgeschlagen; keine Norm legt sie fest.',
};

export class Fuller extends Element {
	connectedCallback() {
		super.connectedCallback();
		if (!this.shadowRoot.adoptedStyleSheets.includes(sheet)) this.shadowRoot.adoptedStyleSheets.push(sheet);
	}

	amount(name, label, metric, gallons) {
		return this.quantity(name, label, this.us ? ['gal', 'L'] : ['L', 'gal'], this.us ? gallons : metric);
	}

	text(name, label, more) {
		return this.field(name, label, h('input', { autocomplete: 'off', value: this.first(name), ...more }));
	}

	notes(list, more) {
		return super.notes(list, { ...german, ...more });
	}

	/** A part of an answer under its own heading. */
	part(title, ...children) {
		return h('section', { ariaLabel: title }, h('p', { part: 'title' }, title), ...children);
	}

	/** What few need to read, folded away. */
	folded(title, child) {
		return child && h('details', {}, h('summary', {}, title), child);
	}

	number({ value, unit, uncertainty = 0 }) {
		if (unit === 'h') return this.time(value);
		const to = ([name, scale, offset = 0]) => {
			value = value * scale + offset;
			uncertainty *= scale;
			unit = name;
		};
		if (this.us && customary[unit]) to(customary[unit]);
		const [name, scale, least] = smaller[unit] ?? [];
		if (Math.abs(value) < least) to([name, scale]);
		const text = super.number({ value, unit, uncertainty }, unit === 'kg' && value < 10 ? 3 : places[unit] ?? 1); // a kitchen scale shows grams
		return this.say(text, text.replace('drops', 'Tropfen'));
	}

	time(hours) {
		if (hours >= 72) return this.plain(hours / 24, 1) + this.say(' days', ' Tage');
		const all = Math.round(hours * 60);
		const [full, rest] = [Math.floor(all / 60), all % 60];
		return [full && full + ' h', (rest || !full) && rest + ' min'].filter(Boolean).join(' ');
	}
}
