// The clock above the page at the bucket: what time it is, how long until the next act and
// until the animals are over, and every other time of the page on the same clock.
import { words, language } from './words.js';

export const $ = (selector, from = document) => from.querySelector(selector);
export const page = $('#bucket');

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
export function setClocks() {
	clock = written({ weekday: 'short' });
	hour = written({});
	const elsewhere = hour.format() !== new Intl.DateTimeFormat(language === 'de' ? 'de' : undefined, { hour: '2-digit', minute: '2-digit' }).format();
	seconds = written({ second: '2-digit', ...(elsewhere && { timeZoneName: 'short' }) });
}

export function localise() {
	for (const t of page.querySelectorAll('time[datetime]')) {
		const at = new Date(t.dateTime);
		t.textContent = clock.format(at);
	}
	passed();
}

/** Marks the steps whose time has come; all but the last of them are ticked. */
function passed() {
	for (const step of page.querySelectorAll('.steps > li')) {
		const at = $('time[datetime]', step);
		if (at) step.classList.toggle('past', new Date(at.dateTime) < Date.now());
	}
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

export function tick() {
	passed();
	$('[data-clock=now]').textContent = seconds.format();
	const when = countdown('next', nextAt(), [words.due, words.next, words.overdue]);
	const { end } = $('#now').dataset;
	countdown('end', end && new Date(end), [words.left, words.now, words.over]);
	$('#alarm .for-next').textContent = when && words.alarm(when);
	$('#alarm').hidden = !when;
}
