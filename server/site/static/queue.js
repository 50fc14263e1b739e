// What was logged and is not sent yet. It outlives the page, goes out in order, each with
// the time it was seen and a key of its own, so that sending twice logs once.

/** A random UUID (version 4), also where the browser has none of its own to give. */
export function uuid() {
	const b = crypto.getRandomValues(new Uint8Array(16));
	b[6] = (b[6] & 15) | 64;
	b[8] = (b[8] & 63) | 128;
	const x = [...b].map((n) => n.toString(16).padStart(2, '0')).join('');
	return `${x.slice(0, 8)}-${x.slice(8, 12)}-${x.slice(12, 16)}-${x.slice(16, 20)}-${x.slice(20)}`;
}

export class Queue {
	#name;
	#key;
	#search;
	#sending = null;

	constructor(id, key, search = '') {
		this.#name = 'saltlock-unsent-' + id;
		this.id = id;
		this.#key = key;
		this.#search = search; // the language of the answers
	}

	get items() { return JSON.parse(localStorage.getItem(this.#name) ?? '[]'); }

	#keep(items) {
		if (items.length) localStorage.setItem(this.#name, JSON.stringify(items));
		else localStorage.removeItem(this.#name);
	}

	/** Adds what was seen: kind is readings or events. */
	add(kind, body) {
		const item = { kind, once: uuid(), body: { time: new Date().toISOString().replace(/\.\d+/, ''), ...body } };
		this.#keep([...this.items, item]);
		return item;
	}

	/** Sends all that waits; says what became of each. One call at a time. */
	send() {
		this.#sending ??= this.#sendAll().finally(() => { this.#sending = null; });
		return this.#sending;
	}

	async #sendAll() {
		const told = { sent: [], refused: [], waits: false };
		for (let [item] = this.items; item; [item] = this.items) {
			let answer, body;
			try {
				answer = await fetch(`/v1/transfers/${this.id}/${item.kind}${this.#search}`, {
					method: 'POST', referrerPolicy: 'no-referrer', cache: 'no-store', signal: AbortSignal.timeout(15000),
					headers: { 'Content-Type': 'application/json', Authorization: 'Bearer ' + this.#key, 'Idempotency-Key': item.once },
					body: JSON.stringify(item.body),
				});
				body = await answer.json();
			} catch {
				told.waits = true;
				return told;
			}
			if (answer.status === 429 || answer.status >= 500) { // the service will take it later
				told.waits = true;
				return told;
			}
			this.#keep(this.items.filter((x) => x.once !== item.once));
			if (answer.ok) told.sent.push({ item, body });
			else told.refused.push({ item, body });
		}
		return told;
	}
}
