// A keeper's way on a phone: from the first page to a saved plan, then beside the bucket.
import assert from 'node:assert/strict';
import test from 'node:test';
import { accessible, everyLook, fits, open, picture } from './setup.mjs';
import { youngScats } from './paths.mjs';

const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };

/** A finger that counts. Within a form it goes on by the "next" key of the phone's keyboard
 * and sends by its "go" key; the first field of a page, choices and buttons are taps. */
function finger(page) {
	const counts = { taps: 0, typed: 0 };
	const tap = async (locator) => {
		counts.taps++;
		await locator.tap();
	};
	const type = async (label, text) => {
		const field = page.getByLabel(label, { exact: true });
		for (let i = 0; i < 4 && !await field.evaluate((e) => e === document.activeElement); i++) await page.keyboard.press('Tab');
		if (!await field.evaluate((e) => e === document.activeElement)) await tap(field);
		counts.typed++;
		await page.keyboard.type(text);
	};
	const go = (url) => Promise.all([page.waitForURL(url), page.keyboard.press('Enter')]);
	return { counts, tap, type, go };
}

/** From the first page to the page of a saved plan. */
async function savedPlan(page) {
	const { counts, tap, type, go } = finger(page);
	await type('Which animals?', 'spotted scat');
	await go(/step=animals/);
	await fits(page);
	await tap(page.getByRole('radio', { name: 'Young' }));
	await type('How many of them?', '4');
	await type('How long is one?', '2');
	await go(/step=waters/);
	await fits(page);
	await type('Its salinity', '2');
	await type('Its temperature', '26');
	await type('Salinity of the new water', '10');
	await go(/step=container/);
	await fits(page);
	await tap(page.getByRole('radio', { name: '20 L bucket' }));
	await tap(page.getByRole('radio', { name: 'Yes' }));
	await tap(page.getByRole('button', { name: 'Make the plan' }));
	await page.waitForURL((u) => u.pathname === '/plan' && !u.searchParams.has('step'));
	await fits(page);
	await tap(page.getByRole('button', { name: 'Save it' }));
	await page.waitForURL(/\/t\/\w+#.+/);
	return counts;
}

test('from the first page to a saved plan in nine taps and six values, then a reading without a network', async (t) => {
	const page = await open(t, '/', phone);
	const counts = await savedPlan(page);
	t.diagnostic(`${counts.taps} taps, ${counts.typed} values`);
	assert.ok(counts.taps <= 9 && counts.typed <= 6, JSON.stringify(counts));
	const key = new URL(page.url()).hash.slice(1);
	await page.locator('#logform').waitFor();
	await fits(page);
	await picture(page, 'bucket-390');
	await accessible(page);
	await page.locator('#offline-note[data-kept]').waitFor({ state: 'attached' });

	await page.context().setOffline(true);
	await page.reload();
	await page.locator('#logform').waitFor();
	await page.getByLabel('Instrument reads').fill('6.5');
	await page.getByLabel('Water in the container').fill('6.6');
	await page.getByRole('button', { name: 'Log it' }).tap();
	await page.getByText('One entry waits here').waitFor();
	await page.reload(); // a phone that was put away
	await page.getByText('One entry waits here').waitFor();
	await picture(page, 'bucket-offline-390');
	const before = await page.locator('#plan').innerText();

	await page.context().setOffline(false);
	await page.locator('#log').getByText('salinity 6.5 ppt, volume 6.6 L').waitFor({ timeout: 40000 });
	await page.waitForFunction(() => !localStorage.getItem('saltlock-unsent-' + location.pathname.slice(3)));
	assert.notEqual(await page.locator('#plan').innerText() + await page.locator('#now').innerText(), before, 'the plan follows the reading');
	assert.equal(await page.locator('#log li').count(), 1, 'it is logged once');

	const leaks = await page.evaluate(async () => {
		const stored = [];
		for (const name of await caches.keys()) for (const r of await (await caches.open(name)).keys()) stored.push(r.url);
		return [document.cookie, ...stored];
	});
	assert.ok(!leaks.join().includes(key), 'the key is in no cookie and in no cache');
	assert.deepEqual(page.refused, []);
});

test('distress in two taps, one act a screen, the drip counts as closed', async (t) => {
	const page = await open(t, '/', phone);
	await savedPlan(page);
	const { counts, tap } = finger(page);
	const sent = page.waitForRequest(/\/events$/);
	await tap(page.getByRole('button', { name: 'Animals look wrong' }));
	assert.equal(await page.locator('#act').innerText(), 'Close the clamp.');
	await picture(page, 'distress-390');
	await accessible(page);
	await tap(page.getByRole('button', { name: 'They gasp' }));
	assert.equal(counts.taps, 2);
	const request = await sent;
	assert.deepEqual([request.postDataJSON().event, request.postDataJSON().behaviour, !!request.headers()['idempotency-key'], request.headers().referer || ''], ['animals_look_wrong', 'gasping', true, '']);
	await page.locator('#act').getByText('See that the air stone runs').waitFor();
	await page.locator('#now[data-verdict=stopped]').waitFor();
	for (let i = 0; i < 9 && await page.locator('#screen').evaluate((d) => d.open); i++) await page.locator('#act-do button').first().tap();
	assert.match(await page.locator('#log').innerText(), /Animals look wrong, they gasp/i);
	await picture(page, 'stopped-390');
	await accessible(page);
	await fits(page);
	assert.deepEqual(page.refused, []);
});

test('power fails without a network: the acts are there, and the report goes out later', async (t) => {
	const page = await open(t, '/', phone);
	await savedPlan(page);
	await page.locator('#offline-note[data-kept]').waitFor({ state: 'attached' });
	await page.context().setOffline(true);
	await page.getByRole('button', { name: 'Power is off' }).tap();
	await page.getByRole('button', { name: 'It is closed' }).tap();
	assert.match(await page.locator('#act').innerText(), /battery air pump/);
	await page.context().setOffline(false);
	await page.getByRole('button', { name: 'Back to the plan' }).tap();
	await page.getByRole('button', { name: 'Power is back' }).waitFor({ timeout: 40000 });
});

test('a start of the keeper, on the clock of the phone, and an end', async (t) => {
	const page = await open(t, '/', { ...phone, timezoneId: 'Asia/Kolkata' });
	await savedPlan(page);
	const now = page.locator('#now');
	await page.locator('#now[data-zone="+05:30"]').waitFor({ state: 'attached' });
	const clock = (name) => page.locator(`[data-clock=${name}]`);
	assert.match(await clock('now').innerText(), /^\d\d:\d\d:\d\d$/);
	assert.match(await clock('end').innerText(), /^\d+ h \d\d min$/);
	await page.getByText('Start at another time').tap();
	await page.getByLabel('Start', { exact: true }).fill(new Date(Date.now() + 86_400_000 + 19_800_000).toISOString().slice(0, 10) + 'T09:00');
	await page.getByRole('button', { name: 'Set this start' }).tap();
	await page.locator('#now[data-start$="03:30:00Z"]').waitFor({ state: 'attached' });
	assert.match(await now.locator('.next').innerText(), /09:00/);
	await accessible(page);
	await page.getByRole('button', { name: 'Start now' }).tap();
	await page.locator('#now:not([data-start$="03:30:00Z"])').waitFor({ state: 'attached' });
	assert.ok(Math.abs(Date.parse(await now.getAttribute('data-start')) - Date.now()) < 60_000);
	await page.getByRole('button', { name: 'The animals are over' }).tap();
	await page.getByRole('button', { name: 'Yes, they are over' }).tap();
	await page.locator('#now[data-verdict=ended]').waitFor();
	assert.equal(await page.locator('#begin').isVisible() || await page.locator('#finish').isVisible(), false);
	assert.deepEqual(page.refused, []);
});

test('who has the read link alone reads, and cannot log', async (t) => {
	const page = await open(t, '/', phone);
	await savedPlan(page);
	const url = page.url().replace(/#.*/, '');
	const helper = await open(t, url, phone);
	await helper.getByText('You are reading along').waitFor();
	assert.equal(await helper.getByRole('button', { name: 'Stop the drip' }).isVisible(), false);
	assert.equal(await helper.locator('#logform').isVisible(), false);
	await accessible(helper);
	const still = await open(t, url, { ...phone, javaScriptEnabled: false });
	assert.equal(await still.getByRole('heading', { name: 'The plan' }).isVisible(), true);
	const answer = await (await fetch(url)).text();
	assert.ok(!answer.includes(new URL(page.url()).hash.slice(1)));
});

test('the page at the bucket and its card are accessible, light and dark, wide and on a phone', async (t) => {
	const page = await open(t, '/', phone);
	await savedPlan(page);
	await page.locator('#logform').waitFor();
	await everyLook(page, (look) => picture(page, `bucket-${look}`));
	await page.getByRole('link', { name: 'Card to print' }).tap();
	await page.waitForURL(/\/card$/, { waitUntil: 'domcontentloaded', timeout: 30000 });
	await everyLook(page, (look) => picture(page, `bucket-card-${look}`));
});

test('the page at the bucket weighs under 120 kB', async (t) => {
	const page = await open(t, '/', phone);
	await savedPlan(page);
	const sizes = [];
	const context = await page.context().browser().newContext({ ...phone, serviceWorkers: 'block' });
	t.after(() => context.close());
	const bare = await context.newPage();
	bare.on('response', async (r) => sizes.push(r.request().sizes().then((s) => s.responseBodySize)));
	await bare.goto(page.url());
	await bare.waitForLoadState('networkidle');
	const whole = (await Promise.all(await Promise.all(sizes))).reduce((a, b) => a + b, 0);
	t.diagnostic(`${whole} bytes`);
	assert.ok(whole > 5000 && whole < 120_000, `${whole} bytes`);
});

for (const [format, width, height] of [['A4', '210mm', '297mm'], ['A6', '105mm', '148mm']]) {
	test(`the card to print fits one page of ${format}`, async (t) => {
		const page = await open(t, youngScats.replace('/plan', '/card'));
		const sheet = (await page.pdf({ width, height, printBackground: true, preferCSSPageSize: false })).toString('latin1');
		assert.equal(sheet.match(/\/Type\s*\/Page\b/g).length, 1);
	});
}

test('an error at the top leads to its field', async (t) => {
	const page = await open(t, '/plan?step=waters', phone);
	await page.getByLabel('Its salinity', { exact: true }).fill('lots');
	await page.getByRole('button', { name: 'Continue' }).tap();
	await page.locator('.errors a').first().tap();
	assert.equal(await page.evaluate(() => document.activeElement.id), 'from_salinity');
	assert.equal(await page.getByLabel('Its salinity', { exact: true }).inputValue(), 'lots');
	await page.getByRole('link', { name: 'Back' }).tap();
	await page.waitForURL(/step=animals/);
});
