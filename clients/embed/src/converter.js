// <saltlock-converter>: what one reading means on the other measures.
import { Element, define, salinities } from './base.js';

const german = {
	temperature_assumed: 'Ohne Angabe gelten 25 °C.',
	convention_assumed: 'Das Dichteverhältnis gilt als 25C/25C.',
	half_division_assumed: 'Der Messwert gilt auf einen halben Teilstrich genau.',
	hydrometer_temperature: 'Temperatur und Glas sind berücksichtigt.',
	refractometer_corrected: 'Skala und Temperatur sind berücksichtigt.',
	refractometer_compensation_assumed: 'Das Refraktometer gilt als temperaturkompensiert.',
};

// What people call the zones of the Venice system.
const water = (zone) => (/^l/.test(zone) ? ['fresh water', 'Süßwasser'] : /^[eh]/.test(zone) ? ['sea water', 'Meerwasser'] : ['brackish water', 'Brackwasser']);

define('saltlock-converter', class extends Element {
	static names = ['reading', 'temperature', 'instrument'];

	heading() { return this.say('Salinity converter', 'Salinität umrechnen'); }
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
				[this.say('Practical salinity', 'Praktische Salinität'), a.practical_salinity],
				[this.say('Absolute salinity', 'Absolute Salinität'), a.absolute_salinity],
				...a.specific_gravity.filter((g) => /^25C.25|60F/.test(g.convention)).map((g) => [this.say('Specific gravity ', 'Dichteverhältnis ') + g.convention, g.value]),
				[this.say('Sea salt per litre', 'Meersalz je Liter'), a.salt_per_litre],
				[this.say('Conductivity at 25 °C', 'Leitfähigkeit bei 25 °C'), a.conductivity_25],
			]),
			this.notes([...a.corrections, ...a.warnings, ...a.assumptions], german),
		];
	}
});
