// <saltlock-salt>: how much salt makes this water.
import { define, h, salinities } from './base.js';
import { Fuller } from './fuller.js';

define('saltlock-salt', class extends Fuller {
	static names = ['target', 'volume', 'temperature', 'source', 'product_water_content'];

	heading() { return this.say('How much salt?', 'Wie viel Salz?'); }
	verb() { return this.say('Compute', 'Berechnen'); }

	form() {
		return [
			this.quantity('target', this.say('Salinity wanted', 'Gewünschter Salzgehalt'), salinities, '1.010 SG'),
			this.amount('volume', this.say('Finished water', 'Fertiges Wasser'), '100 L', '25 gal'),
			this.degrees('temperature', this.say('Water temperature', 'Wassertemperatur'), true),
			this.quantity('source', this.say('Salinity of the water you start from', 'Salzgehalt des Ausgangswassers'), ['ppt', 'g/kg', 'SG', 'mS/cm'], '0 ppt'),
			this.quantity('product_water_content', this.say('Water in the salt, if known', 'Wasser im Salz, falls bekannt'), ['%']),
		];
	}

	question() { return this.fetch(this.url('/v1/mixes/salt', this.values())); }

	show(a) {
		const [least, water] = [a.salt, a.source_water].map((m) => this.number(m));
		const most = a.salt_hydrated && this.number(a.salt_hydrated);
		const [number, unit] = least.split('\u00a0');
		const from = most?.endsWith('\u00a0' + unit) ? number : least; // the unit once for both
		return [
			most && most !== least ? this.say(`Between ${from} and ${most} of sea salt mix in ${water} of water.`, `Zwischen ${from} und ${most} Meersalz in ${water} Wasser.`)
				: this.say(`${least} of sea salt mix in ${water} of water.`, `${least} Meersalz in ${water} Wasser.`),
			h('ol', {}, ...[
				this.say(`Dissolve ${least} in a clean container without animals, stirred by a pump or air stone.`,
					`${least} in einem sauberen Behälter ohne Tiere auflösen, mit Pumpe oder Sprudelstein.`),
				this.say('Wait until it is clear and at its temperature, best overnight.',
					'Warten, bis es klar und auf Temperatur ist, am besten über Nacht.'),
				this.say('Measure.', 'Messen.'),
				most && this.say(`If it reads low, add little by little, up to ${most} in all, and measure each time.`,
					`Zeigt es zu wenig, nach und nach zugeben, bis zu ${most} insgesamt, und jedes Mal messen.`),
			].filter(Boolean).map((s) => h('li', {}, s))),
			this.rows([
				[most ? this.say('Dry salt, the least', 'Trockenes Salz, mindestens') : this.say('Salt', 'Salz'), a.salt],
				[this.say('Moist salt, the most', 'Feuchtes Salz, höchstens'), a.salt_hydrated],
				[this.say('Water to start from', 'Ausgangswasser'), a.source_water],
				[this.say('Finished water', 'Fertiges Wasser'), a.final_volume],
				[this.say('Practical salinity', 'Praktischer Salzgehalt'), a.practical_salinity],
			]),
			this.notes([...a.cautions, ...a.warnings]),
			this.folded(this.say('What was assumed', 'Annahmen'), this.notes(a.assumptions)),
		];
	}
});
