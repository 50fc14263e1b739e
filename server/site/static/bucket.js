// The page at the bucket: it logs, also without a network, counts down to the next act,
// and leads through what goes wrong, one act a screen. The plan itself is written by the
// server and only taken over from there.
import { Queue } from './queue.js';

// Every word that this script says by itself.
const english = {
	offline: 'No network. What you log is kept here and sent when it is back.',
	waiting: (n) => `No network. ${n === 1 ? 'One entry waits' : n + ' entries wait'} here and will be sent when it is back.`,
	sent: 'Sent. The plan is up to date.',
	sentNothing: 'Up to date.',
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
			then: ['Run a battery air pump, or pour cupfuls from 20 cm above the water every 5 minutes.', 'Wrap the container and leave the lid ajar.', 'Unplug heaters.', 'When the power is back, tap “Power is back”.'],
		},
		power_back: { title: 'Power is back', first: 'Leave the clamp closed and read the temperature in the container.', yes: [['Done. What next?', {}]], then: ['If the water cooled by more than 1 °C, warm it first and change the salinity 12 hours later.', 'Throw away the water of a canister filter that was off for more than 2 hours.', 'Log what you read.'] },
		late: { title: 'I am late', first: 'Close the clamp.', why: 'Nobody knows yet how far the drip has gone.', yes: [['It is closed', {}]], then: ['Look at the animals. If they look wrong, go back and tap “Animals look wrong”.', 'Read the salinity and how full the container is, and log them.'] },
	},
};

const german = {
	offline: 'Kein Netz. Was du einträgst, bleibt hier und wird gesendet, sobald es wieder da ist.',
	waiting: (n) => `Kein Netz. ${n === 1 ? 'Ein Eintrag wartet' : n + ' Einträge warten'} hier, bis es wieder da ist.`,
	sent: 'Gesendet. Der Plan ist auf dem neuesten Stand.',
	sentNothing: 'Auf dem neuesten Stand.',
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
			then: ['Nimm eine Batterie-Luftpumpe, oder gieß alle 5 Minuten Becher aus 20 cm Höhe zurück.', 'Pack den Behälter ein und lass den Deckel einen Spalt offen.', 'Zieh die Heizer aus der Steckdose.', 'Ist der Strom wieder da, tippe auf „Der Strom ist wieder da“.'],
		},
		power_back: { title: 'Der Strom ist wieder da', first: 'Lass die Klemme zu und miss die Temperatur im Behälter.', yes: [['Erledigt. Was nun?', {}]], then: ['Ist das Wasser um mehr als 1 °C abgekühlt, wärme es zuerst und ändere den Salzgehalt 12 Stunden später.', 'Schütte das Wasser eines Außenfilters weg, der mehr als 2 Stunden stand.', 'Trag ein, was du misst.'] },
		late: { title: 'Ich bin zu spät', first: 'Schließ die Klemme.', why: 'Noch weiß niemand, wie weit das Tropfen ist.', yes: [['Sie ist zu', {}]], then: ['Sieh dir die Tiere an. Stimmt etwas nicht, geh zurück und tippe auf „Mit den Tieren stimmt etwas nicht“.', 'Miss den Salzgehalt und wie voll der Behälter ist, und trag es ein.'] },
	},
};

const language = document.documentElement.lang;
const words = language === 'de' ? german : english;

const $ = (selector, from = document) => from.querySelector(selector);
const page = $('#bucket');
const id = page.dataset.id;
const kept = 'saltlock-key-' + id;
if (location.hash.length > 1) localStorage.setItem(kept, decodeURIComponent(location.hash.slice(1)));
const key = localStorage.getItem(kept);
const queue = key && new Queue(id, key, location.search);

/** How times are written: on the clock that the transfer goes by, else on that of the phone. */
const written = (options) => {
	const locale = language === 'de' ? 'de' : undefined;
	const whole = { hour: '2-digit', minute: '2-digit', ...options };
	try {
		return new Intl.DateTimeFormat(locale, { ...whole, timeZone: $('#now').dataset.zone || undefined });
	} catch { // an older browser knows no offsets
		return new Intl.DateTimeFormat(locale, whole);
	}
};
let clock, hour, seconds;
function setClocks() {
	clock = written({ weekday: 'short' });
	hour = written({});
	const elsewhere = hour.format() !== new Intl.DateTimeFormat(language === 'de' ? 'de' : undefined, { hour: '2-digit', minute: '2-digit' }).format();
	seconds = written({ second: '2-digit', ...(elsewhere && { timeZoneName: 'short' }) });
}

function localise() {
	for (const t of page.querySelectorAll('time[datetime]')) {
		const at = new Date(t.dateTime);
		t.textContent = clock.format(at);
		t.closest('.steps > li')?.classList.toggle('past', at < Date.now());
	}
}

function say(text) {
	const net = $('#net');
	net.textContent = text ?? '';
	net.hidden = !text;
}

/** The next act, as the server says it; where it could not be asked since, the next that its plan had. */
function nextAt() {
	const named = $('#now').dataset.next;
	if (!named) return null;
	const late = !$('#net').hidden && Date.now() - new Date(named) > 15 * 60000;
	const later = late && [...page.querySelectorAll('.steps time[datetime]')].map((t) => new Date(t.dateTime)).find((at) => at > Date.now());
	return later || new Date(named);
}

const span = (seconds) => {
	const [h, m, s] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, Math.floor(seconds % 60)];
	return h ? `${h} h ${String(m).padStart(2, '0')} min` : `${m}:${String(s).padStart(2, '0')} min`;
};

/** One part of the clock above: how long until then, and when that is. Returns when, if it is to come. */
function countdown(name, at, [before, at0, after]) {
	const value = $(`[data-clock=${name}]`);
	const part = value.parentElement;
	part.hidden = !at;
	if (!at) return '';
	const left = (at - Date.now()) / 1000;
	const when = (Math.abs(left) > 43200 ? clock : hour).format(at); // with its day where it is far
	$('dt', part).textContent = left < -60 ? after : left < 0 ? at0 : before;
	value.textContent = left < 0 && left > -60 ? words.now : span(Math.abs(left));
	$('.at', part).textContent = when;
	part.classList.toggle('over', name === 'next' && left < -60);
	return left > 0 ? when : '';
}

function tick() {
	$('[data-clock=now]').textContent = seconds.format();
	const when = countdown('next', nextAt(), [words.due, words.next, words.overdue]);
	const { end } = $('#now').dataset;
	countdown('end', end && new Date(end), [words.left, words.now, words.over]);
	$('#alarm .for-next').textContent = when && words.alarm(when);
	$('#alarm').hidden = !when;
}

function show() {
	setClocks();
	localise();
	$('#awake').parentElement.hidden = !navigator.wakeLock || !$('#now').hasAttribute('data-drips');
	const now = $('#now');
	const open = now.hasAttribute('data-open');
	$('[data-flow=stop]').hidden = $('#drops').closest('.twin > div').hidden = !dripping();
	const off = now.dataset.power === 'off';
	$('#power-back').hidden = !queue || !off;
	$('[data-flow=power_off]').hidden = off || !open;
	$('[data-flow=late]').hidden = !open;
	$('#logform').hidden = !queue || !open;
	const wayOn = queue && now.hasAttribute('data-way-on');
	$('#restart').hidden = !wayOn || !open;
	$('#begin').hidden = !queue || !now.hasAttribute('data-movable');
	$('#finish').hidden = !queue || !open;
	if (wayOn && open) $('.way-on', now)?.remove();
	tick();
}

/** Takes over what the server writes now. */
async function refresh() {
	try {
		const answer = await fetch(location.pathname + location.search, { referrerPolicy: 'no-referrer' });
		if (!answer.ok) return false;
		const fresh = new DOMParser().parseFromString(await answer.text(), 'text/html');
		for (const part of ['now', 'plan', 'log']) $('#' + part).replaceWith($('#' + part, fresh));
		show();
		return true;
	} catch {
		return false;
	}
}

/** Sends what waits and shows what came of it. */
async function deliver() {
	if (!queue) return null;
	const told = await queue.send();
	if (told.waits) say(words.waiting(queue.items.length));
	const refused = told.refused[0]?.body;
	if (refused) say(/^\/problems\/key/.test(refused.type) ? words.keyWrong : refused.errors?.[0]?.reason ?? refused.detail);
	if (told.sent.length) {
		if (!refused && !told.waits) say(words.sent);
		await refresh();
	}
	return told;
}

/** Changes the transfer itself, which waits for no network: says why that was not done, null if it was. */
async function change(body, method = 'PATCH', of = '') {
	try {
		const answer = await fetch(`/v1/transfers/${id}${of}${location.search}`, {
			method, referrerPolicy: 'no-referrer', cache: 'no-store', signal: AbortSignal.timeout(15000),
			headers: { 'Content-Type': 'application/json', Authorization: 'Bearer ' + key }, body: JSON.stringify(body),
		});
		if (answer.ok) await refresh();
		else return (await answer.json()).errors?.[0]?.reason ?? '';
		return null;
	} catch {
		return '';
	}
}

/** A time with the offset of this phone, so that the plan speaks by its clock. */
function stamp(at) {
	const minutes = -at.getTimezoneOffset();
	const two = (n) => String(Math.floor(n)).padStart(2, '0');
	const local = new Date(at.getTime() + minutes * 60000).toISOString().slice(0, 19);
	return `${local}${minutes < 0 ? '-' : '+'}${two(Math.abs(minutes) / 60)}:${two(Math.abs(minutes) % 60)}`;
}

async function begin(at) {
	const reason = await change({ start: stamp(at) });
	const fault = $('#begin .fault');
	fault.hidden = reason === null;
	fault.textContent = reason || words.notMoved;
	if (reason === null) $('#now').scrollIntoView({ block: 'start' });
}

/** Ends the transfer, once the keeper has said that all animals are safe. */
function finish(state) {
	const [title, question, yes] = words[state];
	act(title, question, '', [
		[yes, async () => {
			const reason = await change({ state });
			screen.close();
			if (reason !== null) say(reason || words.notEnded);
			$('#now').scrollIntoView({ block: 'start' });
		}],
		[words.finish, () => screen.close(), true],
	]);
}

// The form.
const withUnits = ['salinity', 'volume', 'temperature'];
const number = (name) => $('#' + name).value.trim().replace(',', '.');

/** What was typed and ticked; null if that is nothing, or no number. */
function seen() {
	const fault = $('#log-fault');
	const body = {};
	let wrong = '';
	for (const name of ['salinity', 'volume', 'temperature', 'drops']) {
		const text = number(name);
		const bad = text && !/^\d*\.?\d+$/.test(text) || name === 'drops' && text && !/^\d+$/.test(text);
		if (bad) wrong ||= words.notNumber($(`label[for=${name}]`).textContent);
		$('#' + name).ariaInvalid = bad ? 'true' : null;
		if (!text || bad) continue;
		if (name === 'drops') [body.drops, body.drops_in] = [+text, $('#drops-unit').value];
		else body[name] = `${text} ${$(`#${name}-unit`).value}`;
	}
	if ($('#well').checked) body.behaviour = 'ok';
	if (!wrong && !Object.keys(body).length) wrong = words.empty;
	fault.textContent = wrong;
	fault.hidden = !wrong;
	return wrong ? null : body;
}

function forget() {
	$('#logform form').reset();
	for (const name of withUnits) restoreUnit(name);
}

async function log(e) {
	e.preventDefault();
	const body = seen();
	if (!body) return;
	if (e.submitter?.id === 'restart') {
		const reason = await change(body, 'POST', '/restart');
		const fault = $('#log-fault');
		fault.hidden = reason === null;
		fault.textContent = reason || words.notPlanned;
		if (reason !== null) return;
		forget();
	} else {
		queue.add('readings', body);
		forget();
		say(words.offline);
		await deliver();
	}
	$('#now').scrollIntoView({ block: 'start' });
}

/** The unit that was used last. */
function restoreUnit(name) {
	const unit = localStorage.getItem('saltlock-unit-' + name);
	if (unit) $(`#${name}-unit`).value = unit;
}

// What goes wrong, one act a screen.
const screen = $('#screen');

function act(title, text, why, buttons) {
	$('#screen-title').textContent = title;
	$('#act').textContent = text;
	$('#act-why').textContent = why ?? '';
	$('#act-do').replaceChildren(...buttons.map(([name, go, second]) => {
		const b = document.createElement('button');
		b.textContent = name;
		b.className = second ? 'second' : '';
		b.onclick = go;
		return b;
	}));
	if (!screen.open) screen.showModal();
	$('#act-do button').focus();
}

/** Whether there is a clamp to close. Where no plan is in force there may be. */
const dripping = () => {
	const now = $('#now');
	return now.hasAttribute('data-open') && (!now.hasAttribute('data-running') || now.hasAttribute('data-drips'));
};

function trouble(event) {
	const flow = words.flows[event];
	const drips = dripping();
	const calm = event === 'power_back' || drips ? null : words.calm[event];
	act(flow.title, calm ?? flow.first, calm && event !== 'animals_look_wrong' ? '' : flow.why, [
		...(calm && flow.yes.length === 1 ? [[words.done, {}]] : flow.yes).map(([name, seen]) => [name, () => report(event, seen)]),
		[words.back, () => screen.close(), true],
	]);
}

async function report(event, seen) {
	const { once } = queue.add('events', { event, ...seen });
	const flow = words.flows[event];
	const told = deliver();
	// Where the old water may harm them, nothing leads back.
	walk(flow.title, flow.back && $('#now').hasAttribute('data-return') ? [...flow.then, flow.back] : flow.then, 0);
	const mine = (await told)?.sent.find((s) => s.item.once === once);
	const then = mine?.body.course?.then?.map((n) => n.text);
	if (then?.length && screen.open && $('#screen').dataset.at === '0') walk(flow.title, then, 0);
}

function walk(title, acts, i) {
	$('#screen').dataset.at = i;
	const last = i === acts.length - 1;
	act(`${title} · ${words.step(i + 1, acts.length)}`, acts[i], '', [
		last ? [words.finish, () => screen.close()] : [words.done, () => walk(title, acts, i + 1)],
		...(last ? [] : [[words.finish, () => screen.close(), true]]),
	]);
}

// The screen stays on while it drips, where the browser can do that.
let lock = null;
async function keepAwake() {
	if (!navigator.wakeLock) return;
	if (lock) await lock.release().catch(() => {});
	lock = null;
	if ($('#awake').checked && document.visibilityState === 'visible') lock = await navigator.wakeLock.request('screen').catch(() => null);
}

/** Has the worker store this page and what it loaded before there was one. */
async function keepOffline() {
	const loaded = performance.getEntriesByType('resource').map((r) => new URL(r.name)).filter((u) => u.origin === location.origin && u.pathname.startsWith('/static/'));
	const all = await Promise.all([...loaded.map((u) => fetch(u).then((r) => r.ok, () => false)), refresh()]);
	if (all.every(Boolean)) $('#offline-note').dataset.kept = '';
}

function start() {
	if (queue) {
		$('#trouble .four').hidden = $('#forget').hidden = false;
		$('#logform form').onsubmit = log;
		for (const name of withUnits) {
			restoreUnit(name);
			$(`#${name}-unit`).onchange = (e) => localStorage.setItem('saltlock-unit-' + name, e.target.value);
		}
		page.addEventListener('click', ({ target: { dataset } }) => {
			if (dataset?.flow) trouble(dataset.flow);
			if (dataset?.finish) finish(dataset.finish);
		});
		$('#begin-now').onclick = () => begin(new Date());
		$('#begin form').onsubmit = (e) => {
			e.preventDefault();
			begin(new Date($('#begin-at').value));
		};
		// A plan that was saved without a clock goes by the clock of the phone that opens it first.
		if ($('#now').hasAttribute('data-unzoned') && new Date().getTimezoneOffset()) change({ start: stamp(new Date($('#now').dataset.start)) });
		$('#forget').onclick = () => {
			localStorage.removeItem(kept);
			location.replace(location.pathname + location.search);
		};
	} else $('#reader').hidden = false;
	if (navigator.share || navigator.clipboard) {
		$('#share').hidden = false;
		$('#share').onclick = async () => {
			const url = location.origin + location.pathname + location.search; // never with the key
			if (navigator.share) return navigator.share({ url }).catch(() => {});
			await navigator.clipboard.writeText(url);
			say(words.shared);
		};
	}
	if (navigator.wakeLock) {
		$('#awake').checked = $('#now').hasAttribute('data-running');
		$('#awake').onchange = keepAwake;
		keepAwake();
	}
	show();
	setInterval(tick, 1000);
	const again = async () => {
		if (document.visibilityState !== 'visible') return;
		await deliver();
		if (!await refresh() && !queue?.items.length) say(words.offline);
		else if (!queue?.items.length && $('#net').textContent === words.offline) say();
		keepAwake();
	};
	setInterval(again, 30000);
	addEventListener('online', again);
	addEventListener('offline', () => say(queue?.items.length ? words.waiting(queue.items.length) : words.offline));
	document.addEventListener('visibilitychange', again);
	if (navigator.serviceWorker) {
		navigator.serviceWorker.addEventListener('controllerchange', keepOffline);
		navigator.serviceWorker.register(page.dataset.worker, { scope: '/t/' }).catch(() => {});
		if (navigator.serviceWorker.controller) keepOffline();
	} else $('#insecure').hidden = false;
	if (queue?.items.length) deliver();
}

start();
