// <saltlock-species>: which water an animal lives in, with its sources.
import { define, h } from './base.js';
import { Fuller } from './fuller.js';

const stages = { larva: 'Larve', juvenile: 'Jungtier', adult: 'erwachsen', all: 'alle Stadien' };

const marks = { published: 'veröffentlicht', definition: 'Definition', 'common-practice': 'übliche Praxis', memory: 'aus dem Gedächtnis' };

const classes = { hardy: 'robust', moderate: 'mittel', delicate: 'heikel', invertebrate: 'Wirbellose', 'stenohaline-fresh': 'nur Süßwasser', 'stenohaline-marine': 'nur Meerwasser', plant: 'Pflanze' };

define('saltlock-species', class extends Fuller {
	static names = ['species', 'stage'];

	heading() { return this.say('Species card', 'Steckbrief'); }
	verb() { return this.say('Find', 'Suchen'); }

	form() {
		return [this.text('species', this.say('Name, common or scientific', 'Name, deutsch oder lateinisch'), { type: 'search' })];
	}

	async question() {
		const { species } = this.values();
		if (!species) throw { status: 400, errors: [{ where: 'species', rule: 'required', reason: this.say('write a name', 'einen Namen schreiben') }] };
		// Which name is of one species alone only the service knows; no other is taken for one.
		const found = await this.fetch(this.url('/v1/species', { q: species, limit: 8 }));
		return found.match.outcome === 'exact' && found.species.length ? this.card(found.species[0].id) : found;
	}

	card(id) { return this.fetch(this.base + '/v1/species/' + encodeURIComponent(id)); }

	show(a) {
		return a.stages ? this.#card(a) : [
			this.#understood(a),
			h('ul', {}, ...(a.total ? a.species : a.match.candidates.length ? a.match.candidates : a.near).map((s) => h('li', {}, h('button', {
				type: 'button',
				part: 'choice',
				onclick: () => {
					const input = this.shadowRoot.querySelector('input');
					input.value = s.scientific_name;
					input.focus();
					this.ask();
				},
			}, h('i', { lang: 'la' }, s.scientific_name)), ' ', this.#names(s)))),
		];
	}

	/** What an animal is called in the language of the reader, else in English. */
	#names(s) {
		return this.german && s.german_names?.[0] ? s.german_names.join(', ') : this.english(s.common_names?.join(', ') ?? s.name);
	}

	/** What a name that is not of one species alone may mean. */
	#understood(a) {
		switch (a.match.outcome) {
			case 'spelling': return this.say(`No animal here is called “${a.match.asked}”. Did you mean:`, `Kein Tier heißt hier „${a.match.asked}“. Gemeint ist vielleicht:`);
			case 'none': return this.say(`“${a.match.asked}” is not in the table.`, `„${a.match.asked}“ steht nicht in der Tabelle.`)
				+ (a.near.length ? ' ' + this.say('Names near it:', 'Ähnliche Namen:') : '');
			default: return this.say(`“${a.match.asked}” may mean any of ${a.total}; choose one.`, `„${a.match.asked}“ kann ${a.total} Arten meinen; bitte wählen.`);
		}
	}

	#card(a) {
		const shown = a.stages.filter((s) => !this.stage || s.stage === this.stage);
		return [
			h('i', { lang: 'la' }, a.scientific_name),
			h('p', {}, this.#names(a), ', ' + a.family),
			...(shown[0] ? shown : a.stages).map((s) => this.#stage(s)),
			h('p', {}, this.say('A bound that is absent is unknown, not infinite. What it survived is no water to keep it in. Adult sizes rule many species out for homes; local law decides about keeping.',
				'Eine fehlende Grenze ist unbekannt, nicht unendlich. Was überlebt wurde, ist kein Wasser zur Haltung. Die Endgröße schließt viele Arten für zu Hause aus; über die Haltung entscheidet das örtliche Recht.')),
		];
	}

	#stage(s) {
		const name = this.say(s.stage, stages[s.stage]);
		const sources = new Map();
		const band = (b) => {
			if (!b || !(b.min || b.max)) return this.say('unknown', 'unbekannt');
			if (b.source) sources.set(b.source.key, b.source);
			const [lo, hi] = [b.min, b.max].map((m) => (m ? this.number(m) : '?'));
			return lo.replace(/\s\S+$/, '') + ' – ' + hi + (b.mark ? ' (' + this.say(b.mark.replace('-', ' '), marks[b.mark]) + ')' : '');
		};
		const length = s.max_length;
		if (length?.source) sources.set(length.source.key, length.source);
		const card = this.part(name, this.rows([
			[this.say('Preferred salinity', 'Bevorzugter Salzgehalt'), band(s.preferred_range)],
			[this.say('Salinity survived', 'Überlebter Salzgehalt'), band(s.survived_range)],
			[this.say('Temperature', 'Temperatur'), band(s.temperature)],
			['pH', s.ph && band(s.ph)],
			[this.say('Greatest length', 'Größte Länge'), length?.length],
			[this.say('Class', 'Klasse'), this.say(s.sensitivity_class.replace('-', ' '), classes[s.sensitivity_class])],
		]), s.notes[0] ? h('ul', { part: 'notes' }, ...s.notes.map((text) => h('li', {}, this.english(text)))) : '');
		card.append(this.folded(this.say('Sources', 'Quellen'), sources.size ? h('ul', {}, ...[...sources.values()].map((x) => h('li', {}, this.english(x.citation)))) : ''));
		return card;
	}
});
