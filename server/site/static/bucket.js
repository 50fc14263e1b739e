// The page at the bucket: it logs, also without a network, counts down to the next act,
// and leads through what goes wrong, one act a screen. The plan itself is written by the
// server and only taken over from there.
import { Queue } from './queue.js';
import { words } from './words.js';
import { $, page, setClocks, localise, tick } from './clock.js';

const id = page.dataset.id;
const kept = 'saltlock-key-' + id;
if (location.hash.length > 1) localStorage.setItem(kept, decodeURIComponent(location.hash.slice(1)));
const key = localStorage.getItem(kept);
const queue = key && new Queue(id, key, location.search);

function say(text) {
	const net = $('#net');
	net.textContent = text ?? '';
	net.hidden = !text;
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
	const spared = $('#now').hasAttribute('data-bells') && words.bells[event]; // in place of air
	const first = spared ? [spared, ...flow.then.slice(1)] : flow.then;
	// Where the old water may harm them, nothing leads back.
	walk(flow.title, flow.back && $('#now').hasAttribute('data-return') ? [...first, flow.back] : first, 0);
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
