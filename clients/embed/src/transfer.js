// <saltlock-transfer>: a plan for moving animals from one water to another.
import { define, h, salinities } from './base.js';
import { Fuller } from './fuller.js';
import { chart } from './chart.js';

const stages = [['', 'not known', 'unbekannt'], ['larva', 'larva', 'Larve'], ['juvenile', 'juvenile', 'Jungtier'], ['adult', 'adult', 'erwachsen']];

const classes = [['', 'as the species', 'wie die Art'], ['hardy', 'hardy', 'robust'], ['moderate', 'moderate', 'mittel'], ['delicate', 'delicate', 'heikel'], ['invertebrate', 'invertebrate', 'Wirbellose']];

const origins = [['unknown', 'unknown', 'unbekannt'], ['captive', 'captive', 'Nachzucht'], ['wild', 'wild', 'Wildfang']];

const conditions = [['well', 'well', 'gesund'], ['thin', 'thin', 'mager'], ['sick', 'sick', 'krank'], ['medicated', 'medicated', 'unter Medikament'], ['just_shipped', 'just shipped', 'gerade angekommen'], ['moulting', 'moulting', 'in Häutung']];

const limits = { at_once: 'auf einmal', per_hour: 'je Stunde', per_24_hours: 'in 24 Stunden', per_day: 'je Tag', per_week: 'je Woche', greatest_drip: 'schnellstes Tropfen', least_drip: 'langsamstes Tropfen', greatest_volume: 'größtes Volumen', least_volume: 'kleinstes Volumen', nh3: 'NH₃', oxygen: 'Sauerstoff', temperature_per_hour: 'Temperatur je Stunde', temperature_per_24_hours: 'Temperatur in 24 Stunden', filter_step: 'Schritt des Filters' };

define('saltlock-transfer', class extends Fuller {
	static names = ['from_salinity', 'from_temperature', 'to_salinity', 'to_temperature', 'species', 'stage', 'sensitivity', 'origin', 'condition', 'count', 'mass',
		'container_capacity', 'container_start_volume', 'container_aerated', 'line_drop_volume', 'home_tank_volume', 'instrument'];

	heading() { return this.say('Transfer planner', 'Umsetzplaner'); }
	verb() { return this.say('Plan', 'Planen'); }

	form() {
		const group = (legend, ...fields) => h('fieldset', {}, h('legend', {}, legend), ...fields);
		const salinity = this.say('Salinity', 'Salzgehalt');
		const temperature = this.say('Temperature', 'Temperatur');
		return [
			group(this.say('The water they are in', 'Das Wasser, in dem sie sind'),
				this.quantity('from_salinity', salinity, salinities, '2 ppt'),
				this.degrees('from_temperature', temperature, true),
				this.amount('home_tank_volume', this.say('Their tank holds', 'Ihr Becken fasst'))),
			group(this.say('The new water', 'Das neue Wasser'),
				this.quantity('to_salinity', salinity, salinities, '10 ppt'),
				this.degrees('to_temperature', temperature, true)),
			group(this.say('The animals', 'Die Tiere'),
				this.text('species', this.say('Species', 'Art (wissenschaftlich)')),
				this.choice('stage', this.say('Life stage', 'Lebensstadium'), stages),
				this.choice('sensitivity', this.say('Sensitivity', 'Empfindlichkeit'), classes),
				this.choice('origin', this.say('Origin', 'Herkunft'), origins),
				this.choice('condition', this.say('Condition', 'Zustand'), conditions),
				this.text('count', this.say('How many', 'Anzahl'), { inputMode: 'numeric' }),
				this.quantity('mass', this.say('Mass of one', 'Masse eines Tiers'), this.us ? ['oz', 'g'] : ['g', 'oz'])),
			group(this.say('Container and drip line', 'Behälter und Tropfleitung'),
				this.amount('container_capacity', this.say('Container holds', 'Behälter fasst'), '20 L', '5 gal'),
				this.amount('container_start_volume', this.say('Water in it at the start', 'Wasser darin am Anfang')),
				this.choice('container_aerated', this.say('Air stone in it', 'Sprudelstein darin'), [['false', 'no', 'nein'], ['true', 'yes', 'ja']]),
				this.quantity('line_drop_volume', this.say('Volume of a drop', 'Volumen eines Tropfens'), ['mL']),
				this.device()),
		];
	}

	async question() {
		const q = this.values();
		for (const name of ['instrument', 'calibration', 'scale']) {
			if (q[name] && q.instrument !== 'none') q['instrument_' + name.replace('instrument', 'kind')] = q[name];
		}
		for (const name of ['instrument', 'calibration', 'scale']) delete q[name];
		if (this.comma) q.decimal = 'comma';
		this.asked = q;
		return this.fetch(this.url('/v1/transfers/plan', { ...q }));
	}


	show(a) {
		const picture = h('figure', { part: 'chart' });
		if (a.curve.length > 1) chart(picture, this.url('/v1/transfers/plan', { ...this.asked, format: 'svg', units: this.us ? 'us' : 'metric' })).catch(() => picture.remove());
		const reason = this.notes([a.reason]);
		const long = a.checkpoints.length > 9;
		const checks = h('ol', { part: 'checks' }, ...a.checkpoints.map((c) => h('li', {}, h('b', {}, this.#at(c.time) + ': '), this.#reading(c), ' ', this.sentence(c.why.text))));
		const looksTitle = this.say('When to look', 'Wann nachsehen');
		return [
			this.#headline(a), ...(a.understood ?? []).map((u) => h('p', {}, this.say('“' + u.asked + '” was understood as ', '„' + u.asked + '“ wurde verstanden als '), h('i', { lang: 'la' }, u.scientific_name))), reason,
			this.folded(this.say('Have ready before you start', 'Vorher bereitstellen'), this.notes(a.before ?? [])),
			this.part(this.say('What to do', 'Was zu tun ist'), h('ol', { part: 'steps' }, ...a.phases.map((p) => h('li', {}, h('b', {}, this.#at(p.start) + ': '), this.#jug(p, a), this.#step(p, a))))),
			this.folded(this.say('If something fails', 'Wenn etwas ausfällt'), this.notes(a.if ?? [])),
			picture,
			long ? this.folded(looksTitle, checks) : this.part(looksTitle, checks),
			this.part(this.say('Cautions', 'Vorsicht'), this.notes([...a.warnings, ...a.cautions])),
			this.rows([
				[this.say('Gap', 'Unterschied'), a.gap],
				[this.say('Last step at the release', 'Letzter Schritt beim Umsetzen'), a.tolerance],
				[this.say('Least time any plan takes', 'Mindestzeit jedes Plans'), a.least_duration],
				[this.say('New water drawn', 'Entnommenes neues Wasser'), a.draw?.volume],
				[this.say('Salt to replace it', 'Salz zum Ersetzen'), a.draw?.replacement_salt],
			]),
			this.folded(this.say('Limits', 'Grenzwerte'), this.rows(a.limits.map((l) => [
				this.say(l.name.replaceAll('_', ' '), limits[l.name] ?? l.name),
				this.number(l.extreme) + this.say(' of ', ' von ') + this.number(l.limit) + (l.binding ? this.say(', binding', ', bindend') : ''),
			]))),
			this.folded(this.say('What was assumed', 'Annahmen'), this.notes(a.assumptions)),
			h('a', { href: this.url('/v1/transfers/plan', { ...this.asked, format: 'text', units: this.us ? 'us' : 'metric' }) }, this.say('This plan as text', 'Dieser Plan als Text')),
		];
	}

	#headline(a) {
		const time = this.number(a.duration);
		switch (a.route) {
		case 'direct': return this.say('Move them over in one step.', 'In einem Schritt umsetzen.');
		case 'combined': return this.say(`Change their tank around them, then drip the rest, over ${time}.`, `Das Becken um sie herum umstellen, dann den Rest tropfen, über ${time}.`);
		case 'staged': return this.say(`Move them in ${a.stages.length} stages over ${time}.`, `In ${a.stages.length} Etappen umsetzen, über ${time}.`);
		case 'ramp': return this.say(`Change their tank around them over ${time}.`, `Das Becken um sie herum umstellen, über ${time}.`);
		case 'drip': break;
		default: return this.sentence(a.summary.split('\n')[0]);
		}
		return this.say(`Drip for ${time}, release after ${this.number(a.release.time)}.`, `${time} lang tropfen, nach ${this.number(a.release.time)} umsetzen.`);
	}

	#at(time) {
		return time.value ? this.say('after ', 'nach ') + this.number(time).replace('Tage', 'Tagen') : this.say('at the start', 'zu Beginn');
	}

	#reading({ reading, practical_salinity }) {
		return (reading ? this.number(reading) + (reading.convention ? ' ' + reading.convention : '') : this.number(practical_salinity)) + '.';
	}

	/** What goes into the jug before a drip. */
	#jug(p, a) {
		const charge = p.drip && a.draw?.charges?.find((c) => Math.abs(c.time.value - p.start.value) < 1e-6);
		return charge ? this.say(`fill the jug with ${this.number(charge.volume)} of the new water; `, `${this.number(charge.volume)} neues Wasser in die Kanne; `) : '';
	}

	/** One phase in words, as its numbers say. */
	#step(p, a) {
		const [time, from, to, flow, out, put, fresh, salt, level] = [p.duration, p.from_volume, p.to_volume, p.flow, p.take_out, p.put_in, p.new_water, p.salt, p.to_level].map((m) => m && this.number(m));
		const end = this.number(p.to_salinity);
		const until = to + (level ? this.say(`, ${level} high`, `, ${level} hoch`) : '');
		switch (p.kind) {
		case 'fill': {
			if (!p.set_valve) return this.say(`leave the valve as it is for ${time}, until the container holds ${until}.`, `Ventil ${time} so lassen, bis ${until} im Behälter sind.`);
			const [drops, seconds] = this.#count(p.drip.value);
			return this.say(`set the drip to ${drops} drops in ${seconds} s (${flow}) and let it run for ${time}, until the container holds ${until}.`,
				`${drops} Tropfen in ${seconds} s einstellen (${flow}) und ${time} laufen lassen, bis ${until} im Behälter sind.`);
		}
		case 'pour_off': {
			const off = this.number({ value: p.from_volume.value - p.to_volume.value, unit: 'L' });
			return this.say(`pour off ${off}, down to ${until}.`, `${off} abgießen, bis ${until} bleiben.`);
		}
		case 'rest': return this.say(`stop the drip and let them rest for ${time}.`, `Tropfen beenden und sie ${time} ruhen lassen.`);
		case 'release': return this.say(`move them into the new water, ${end}.`, `ins neue Wasser umsetzen, ${end}.`);
		case 'water_change': return this.say(`take out ${out}, put in ${put} at ${fresh} (${salt} of dry salt); the tank then stands at ${end}.`,
			`${out} entnehmen, ${put} mit ${fresh} zugeben (${salt} trockenes Salz); das Becken steht dann bei ${end}.`);
		case 'hold': return this.say(`let them live there for ${time}.`, `${time} dort leben lassen.`);
		case 'move': return this.say(`move them into the water at ${end}.`, `ins Wasser mit ${end} umsetzen.`);
		}
		return this.sentence(p.instruction.text);
	}

	/** A drip as it is counted: in ten seconds, in a minute, or ten drops timed. */
	#count(rate) {
		if (rate >= 2) return [Math.round(rate * 10), 10];
		return rate >= 1 / 3 ? [Math.round(rate * 60), 60] : [10, Math.round(10 / rate)];
	}
});
