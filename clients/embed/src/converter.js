// <saltlock-converter>: what one reading means on the other measures.
import { Element, define, salinities } from './base.js';

// What people call the zones of the Venice system.
const water = (zone) => (/^l/.test(zone) ? ['fresh water', 'Süßwasser'] : /^[eh]/.test(zone) ? ['sea water', 'Meerwasser'] : ['brackish water', 'Brackwasser']);

define('saltlock-converter', class extends Element {
	static names = ['reading', 'temperature', 'instrument'];

	heading() { return this.say('Salinity converter', 'Salzgehalt umrechnen'); }
	verb() { return this.say('Convert', 'Umrechnen'); }

	form() {
		return [
			this.quantity('reading', this.say('Reading', 'Messwert'), salinities, '1.010 SG'),
			this.degrees('temperature', this.say('Water temperature', 'Wassertemperatur'), true),
			this.device(),
		];
	}

	question() { return this.fetch(this.url('/v1/conversions', this.values())); }

	show(a) {
		return [
			(a.practical_salinity ? this.number(a.practical_salinity) + ', ' : '') + this.say(...water(a.zone)),
			this.rows([
				[this.say('Practical salinity', 'Praktischer Salzgehalt'), a.practical_salinity],
				[this.say('Absolute salinity', 'Absoluter Salzgehalt'), a.absolute_salinity],
				...a.specific_gravity.filter((g) => /^25C.25|60F/.test(g.convention)).map((g) => [this.say('Specific gravity ', 'Dichte ') + g.convention, g.value]),
				[this.say('Sea salt per litre', 'Meersalz je Liter'), a.salt_per_litre],
				[this.say('Conductivity at 25 °C', 'Leitwert bei 25 °C'), a.conductivity_25],
			]),
			this.notes([...a.corrections, ...a.warnings, ...a.assumptions]),
		];
	}
});
