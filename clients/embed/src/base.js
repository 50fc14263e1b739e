// What all elements share: a form that asks the service, faults at their
// fields, words in two languages, numbers as a person can use them.
import style from './style.css';

// Adopted, since a strict policy forbids a style written into the page.
const sheet = new CSSStyleSheet();
sheet.replaceSync(style);

// The service lies above /embed/, where this module came from.
const home = import.meta.url.replace(/\/embed\/.*/, '');

/** Makes an element; what is no property of it becomes an attribute. */
export const h = (tag, props, ...children) => {
	const e = document.createElement(tag);
	for (const name in props) name in e ? (e[name] = props[name]) : e.setAttribute(name, props[name]);
	e.append(...children);
	return e;
};

const instruments = [
	['none', 'none: reading is true', 'keins: Messwert stimmt'],
	['hydrometer 60F/60F', 'hydrometer for 60 °F', 'Aräometer für 60 °F'],
	['hydrometer 25C/25C', 'hydrometer for 25 °C', 'Aräometer für 25 °C'],
	['refractometer seawater', 'refractometer, sea water', 'Refraktometer, Meerwasser'],
	['refractometer nacl', 'refractometer, NaCl', 'Refraktometer, NaCl'],
	['conductivity', 'conductivity meter', 'Leitwertmesser'],
];

export const salinities = ['SG', 'ppt', 'g/kg', 'g/L', 'mS/cm'];

const dashed = (name) => name.replaceAll('_', '-');
const camel = (name) => name.replace(/-./g, (s) => s[1].toUpperCase());

export class Element extends HTMLElement {
	#fields = {};
	#kept = {};
	#turn = 0;
	#due;
	#asks;

	/** The last answer of the service, as its contract describes it. */
	answer = null;

	static get observedAttributes() {
		return ['lang', 'units', 'decimal', 'theme', 'api', ...this.names.map(dashed)];
	}

	connectedCallback() {
		if (this.shadowRoot) return;
		for (const a of this.constructor.observedAttributes) {
			const name = camel(a);
			if (Object.hasOwn(this, name)) { // set before the element was defined
				const value = this[name];
				delete this[name];
				this[name] = value;
			}
		}
		this.attachShadow({ mode: 'open' }).adoptedStyleSheets = [sheet];
		this.#change(true);
	}

	attributeChangedCallback(name, before, after) {
		if (!this.shadowRoot || before === after) return;
		if (!this.#due) this.#keep(); // once, before the first of several changes
		const field = camel(name).replace(/[A-Z]/g, (s) => '_' + s.toLowerCase());
		this.#change(delete this.#kept[field] && this.constructor.names.includes(field));
	}

	/** Draws anew once, however many attributes change at a time. */
	#change(ask) {
		this.#asks ||= ask;
		this.#due ??= queueMicrotask(() => this.#draw()) ?? true;
	}

	#keep() {
		for (const name in this.#fields) {
			const [input, unit] = this.#fields[name];
			this.#kept[name] = [this.comma ? input.value.replace(',', '.') : input.value, unit?.value];
		}
	}

	#draw() {
		this.german = /^de/i.test(this.closest('[lang]')?.lang);
		this.us = this.getAttribute('units') === 'us';
		this.comma = (this.getAttribute('decimal') ?? (this.german && 'comma')) === 'comma';
		this.base = this.getAttribute('api') ?? home;
		this.#fields = {};
		this.status = h('div', { part: 'status', role: 'status' });
		this.output = h('div', { part: 'answer' });
		const title = this.heading();
		this.shadowRoot.replaceChildren(
			h('section', { part: 'box', lang: this.german ? 'de' : 'en', ariaLabel: title },
				h('p', { part: 'title' }, title),
				h('form', { noValidate: true, onsubmit: (e) => (e.preventDefault(), this.ask()) },
					h('div', { part: 'fields' }, ...this.form()),
					h('button', { part: 'button' }, this.verb())),
				this.status, this.output,
				h('a', { part: 'source', href: this.base + '/docs' }, this.say('Saltlock: formulas', 'Saltlock: Formeln'))));
		const ask = this.#asks && this.hasAttribute(dashed(this.constructor.names[0]));
		this.#asks = this.#due = null;
		if (ask) this.ask();
		else if (this.answer) this.#present();
	}

	/** The word in the language of the reader. */
	say(english, german) {
		return this.german ? german : english;
	}

	/** What was typed into a field, else what the page says. */
	first(name, value = '') {
		return this.#kept[name]?.[0] ?? this.getAttribute(dashed(name)) ?? value;
	}

	/** A field with its label, and the place where its faults are told. */
	field(name, label, input, unit) {
		const fault = h('span', { id: name + '-fault', part: 'fault' });
		input.id = input.name = name;
		input.part = 'input';
		input.setAttribute('aria-describedby', fault.id);
		this.#fields[name] = [input, unit, fault];
		return h('div', {}, h('label', { htmlFor: name }, label), h('div', { className: 'pair' }, input, unit ?? ''), fault);
	}

	/** A number and its unit. Attributes are written with a point, whatever the reader types. */
	quantity(name, label, units, value) {
		let [, number, unit] = /^\s*([-+\d.]*)\s*(.*?)\s*$/.exec(this.first(name, value));
		unit = this.#kept[name]?.[1] ?? unit;
		if (this.comma) number = number.replace('.', ',');
		return this.field(name, label,
			h('input', { inputMode: 'decimal', autocomplete: 'off', value: number }),
			this.#options({ ariaLabel: this.say('Unit: ', 'Einheit: ') + label }, unit, [...new Set([...units, unit || units[0]])].map((u) => [u, u])));
	}

	degrees(name, label, value) {
		return this.quantity(name, label, this.us ? ['°F', '°C'] : ['°C', '°F'], value && (this.us ? '77 °F' : '25 °C'));
	}

	choice(name, label, options) {
		return this.field(name, label, this.#options({}, this.first(name), options));
	}

	#options(props, value, options) {
		return h('select', props, ...options.map(([o, en, de = en]) => h('option', { value: o, selected: o === value }, this.say(en, de))));
	}

	device() {
		return this.choice('instrument', this.say('Instrument', 'Messgerät'), instruments);
	}

	/** What the form says, by the names of the contract. */
	values() {
		const q = {};
		for (const name in this.#fields) {
			const [input, unit] = this.#fields[name];
			const text = input.value.trim();
			if (text) q[name] = unit && !/[a-z°%]/i.test(text) ? text + ' ' + unit.value : text;
		}
		if (q.instrument) {
			const [kind, more] = q.instrument.split(' ');
			q.instrument = kind;
			if (more) q[/\//.test(more) ? 'calibration' : 'scale'] = more;
		}
		return q;
	}

	/** The URL of a question. */
	url(path, values) {
		if (this.comma) values.decimal = 'comma';
		if (this.german) values.lang = 'de';
		return this.base + path + '?' + new URLSearchParams(values);
	}

	async fetch(url) {
		const r = await fetch(url, { signal: AbortSignal.timeout(2e4) });
		const body = await r.json();
		this.spoken = r.headers.get('Content-Language') ?? 'en';
		if (!r.ok) throw body;
		return body;
	}

	/** Asks the service what the form says. */
	async ask() {
		const turn = ++this.#turn;
		let problem;
		for (const [input, , fault] of Object.values(this.#fields)) {
			input.ariaInvalid = null;
			fault.textContent = '';
		}
		this.answer = null;
		this.spoken = this.say('en', 'de');
		this.output.textContent = '';
		this.status.textContent = this.say('Computing …', 'Wird berechnet …');
		const answer = await this.question().catch((e) => { problem = e; });
		if (turn !== this.#turn) return;
		if (problem) this.#refuse(problem);
		else {
			this.answer = answer;
			this.#present();
		}
		this.dispatchEvent(new CustomEvent(problem ? 'saltlock-problem' : 'saltlock-answer', { detail: problem ?? answer, bubbles: true, composed: true }));
	}

	#present() {
		const [line, ...rest] = this.show(this.answer);
		this.status.replaceChildren(h('strong', {}, line));
		this.output.replaceChildren(...rest);
	}

	// The slot shows the page's own link where the service is out of reach.
	#refuse({ status, errors = [] }) {
		let first;
		this.status.replaceChildren(h('strong', { part: 'fault' }, status
			? this.say('No answer: see the remarks.', 'Keine Antwort: siehe Hinweise.')
			: this.say('Service out of reach.', 'Dienst nicht erreichbar.')), ' ', status ? '' : h('slot'));
		for (const { where, reason } of errors) {
			const [input, , fault] = this.#fields[where] ?? [];
			(fault ?? this.output).append(h('span', { part: 'fault' }, this.sentence(reason), ' '));
			if (input) {
				input.ariaInvalid = 'true';
				first ??= input;
			}
		}
		first?.focus();
	}

	/** What a screen reader must know to be English. */
	english(text) {
		return h('span', { lang: 'en' }, text);
	}

	/** A sentence of the service, in the language that its answer says. */
	sentence(text) {
		return h('span', { lang: this.spoken }, text);
	}

	/** Notes of an answer as a list. */
	notes(list) {
		return list[0] ? h('ul', { part: 'notes' }, ...list.map((n) => h('li', {}, this.sentence(n.text)))) : '';
	}

	/** What the answer comes to, a term and its quantity a row. */
	rows(list) {
		return h('dl', {}, ...list.filter(([, m]) => m).map(([term, m]) => h('div', {}, h('dt', {}, term), h('dd', { part: 'value' }, m.unit ? this.number(m) : m))));
	}

	/** A quantity no finer than its uncertainty leaves it. */
	number({ value, unit, uncertainty = 0 }, places = unit === 'SG' ? 4 : 1) {
		if (uncertainty) places = Math.max(0, Math.min(places, 1 - Math.floor(Math.log10(uncertainty))));
		const doubt = this.plain(uncertainty, places);
		return this.plain(value, places, unit === 'SG' ? 3 : 0) + (doubt > '0' ? ' ± ' + doubt : '') + '\u00a0' + unit;
	}

	plain(value, places, least = 0) {
		return value.toLocaleString(this.comma ? 'de' : 'en', { maximumFractionDigits: places, minimumFractionDigits: Math.min(least, places), useGrouping: false });
	}
}

/** Registers an element with a property for each attribute. */
export const define = (tag, type) => {
	for (const a of type.observedAttributes.slice(1)) { // lang is there already
		Object.defineProperty(type.prototype, camel(a), {
			get() { return this.getAttribute(a); },
			set(v) { v == null ? this.removeAttribute(a) : this.setAttribute(a, v); },
		});
	}
	customElements.get(tag) || customElements.define(tag, type);
};
