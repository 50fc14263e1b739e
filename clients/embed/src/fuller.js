// What the larger elements share beyond the base: volumes and masses in the
// reader's units, and times.
import { Element, h } from './base.js';
import style from './fuller.css';

const sheet = new CSSStyleSheet();
sheet.replaceSync(style);

// Factors: NIST SP 811 (2008), appendix B.
const customary = { L: ['gal', 1 / 3.785411784], kg: ['lb', 1 / 0.45359237], '°C': ['°F', 1.8, 32], cm: ['in', 1 / 2.54] };

// Below what size a smaller unit is handier, and how many of it make one.
const smaller = { kg: ['g', 1000, 1], lb: ['oz', 16, 1], L: ['mL', 1000, 0.1], gal: ['fl oz', 128, 0.1], 'drops/s': ['drops/min', 60, 1] };

// How many places a keeper can use where it is not one.
const places = { SG: 4, kg: 2, g: 0, mL: 0, '°F': 0, 'mg/L N': 2, 'drops/min': 0 };

// What is weighed or poured: its error is that of the scale or the jug, not of computing.
const byHand = ['kg', 'g', 'lb', 'oz', 'L', 'mL', 'gal', 'fl oz'];

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
		let finest = places[unit] ?? 1;
		if (byHand.includes(unit)) {
			uncertainty = 0;
			finest = value >= 100 ? 0 : Math.min(finest, value >= 10 ? 1 : 2);
		}
		const text = super.number({ value, unit, uncertainty }, finest);
		return this.say(text, text.replace('drops', 'Tropfen'));
	}

	time(hours) {
		if (hours >= 72) return this.plain(hours / 24, 1) + this.say(' days', ' Tage');
		const all = Math.round(hours * 60);
		const [full, rest] = [Math.floor(all / 60), all % 60];
		return [full && full + ' h', (rest || !full) && rest + ' min'].filter(Boolean).join(' ');
	}
}
