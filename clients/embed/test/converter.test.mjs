// <saltlock-converter>, as a reader meets it.
import assert from 'node:assert/strict';
import test from 'node:test';
import { accessible, answered, fits, open, picture, shown } from './setup.mjs';

const tag = 'saltlock-converter';

test('it converts what the page asks, and what the reader enters', async (t) => {
	const page = await open(t, '/embed/converter');
	assert.equal(await answered(page, tag), '13.3 ppt, brackish water');
	await page.getByLabel('Reading', { exact: true }).fill('1.020');
	await page.getByLabel('Instrument').selectOption('hydrometer 60F/60F');
	await page.getByLabel('Water temperature', { exact: true }).fill('80');
	await page.getByLabel('Unit: Water temperature').selectOption('°F');
	await page.getByRole('button', { name: 'Convert' }).click();
	assert.match(await answered(page, tag), /^29\.\d ± 0\.\d ppt, brackish water$/);
	const text = await shown(page, tag);
	assert.match(text, /Specific gravity 25C\/25C\n1\.02\d\d ± /);
	assert.match(text, /hydrometer is for 60F\/60F/);
	assert.deepEqual([page.refused, page.faults], [[], []]);
});

test('it works by keyboard alone, and shows where the focus is', async (t) => {
	const page = await open(t, '/embed/frame/converter');
	const active = () => page.evaluate((name) => document.querySelector(name).shadowRoot.activeElement?.id || document.querySelector(name).shadowRoot.activeElement?.tagName, tag);
	await page.locator(`${tag} button`).waitFor();
	await page.keyboard.press('Tab');
	assert.equal(await active(), 'reading');
	const outline = await page.locator(`${tag} #reading`).evaluate((e) => getComputedStyle(e).outlineStyle + getComputedStyle(e).outlineWidth);
	assert.equal(outline, 'solid3px');
	await page.keyboard.press('Control+A');
	await page.keyboard.type('35');
	await page.keyboard.press('Tab');
	await page.keyboard.type('ppt');
	for (const there of ['temperature', 'SELECT', 'instrument', 'BUTTON']) {
		await page.keyboard.press('Tab');
		assert.equal(await active(), there);
	}
	await page.keyboard.press('Enter');
	assert.equal(await answered(page, tag), '35 ppt, sea water');
});

test('it asks nothing before the reader does, unless the page asks', async (t) => {
	const page = await open(t, 'about:blank');
	const asked = [];
	page.on('request', (r) => r.url().includes('/v1/') && asked.push(r.url()));
	await page.goto(process.env.SALTLOCK_URL + '/embed/frame/converter');
	await page.locator(`${tag} button`).waitFor();
	await page.waitForLoadState('networkidle');
	assert.deepEqual(asked, []);
});

test('a decimal comma is read, and answers have one', async (t) => {
	const page = await open(t, '/embed/frame/converter?lang=de');
	await page.getByLabel('Messwert', { exact: true }).fill('1,010');
	const request = page.waitForRequest(/v1\/conversions/);
	await page.keyboard.press('Enter');
	assert.equal(new URL((await request).url()).searchParams.get('decimal'), 'comma');
	assert.equal(await answered(page, tag), '13,3 ppt, Brackwasser');
	assert.match(await shown(page, tag), /Dichte 25C\/25C\n1,010 SG/);
	await picture(page, 'converter-german');
	await page.getByLabel('Messwert', { exact: true }).fill('1.010');
	await page.keyboard.press('Enter');
	await answered(page, tag);
	assert.match(await shown(page, tag), /ist nicht lesbar: .*schreib ein Komma/);
	await accessible(page);
});

test('faults are told at their field, which gets the focus', async (t) => {
	const page = await open(t, '/embed/frame/converter', { viewport: { width: 360, height: 800 } });
	await page.getByLabel('Reading', { exact: true }).fill('');
	await page.getByLabel('Water temperature', { exact: true }).fill('99');
	await page.getByLabel('Instrument').selectOption('hydrometer 60F/60F');
	await page.getByLabel('Water temperature', { exact: true }).focus();
	await page.keyboard.press('Enter');
	await answered(page, tag);
	const reading = page.getByLabel('Reading', { exact: true });
	assert.equal(await reading.getAttribute('aria-invalid'), 'true');
	assert.equal(await reading.evaluate((e) => e.getRootNode().activeElement === e), true);
	const told = (id) => page.locator(`${tag} #${id}`).evaluate((e) => e.getRootNode().getElementById(e.getAttribute('aria-describedby')).textContent);
	assert.match(await told('reading'), /missing/);
	await picture(page, 'converter-faults-360');
	await accessible(page);
	await fits(page);
	await reading.fill('1.010');
	await page.keyboard.press('Enter');
	await answered(page, tag);
	assert.equal(await reading.getAttribute('aria-invalid'), null);
	assert.match(await told('temperature'), /0 to 40 °C is allowed/);
});

test('attributes are properties, and a change of one is an answer or a new look', async (t) => {
	const page = await open(t, '/embed/converter');
	await answered(page, tag);
	const wait = page.evaluate((name) => new Promise((done) => document.addEventListener('saltlock-answer', (e) => done([e.target.localName, e.detail.practical_salinity.value, e.target.answer === e.detail, name]), { once: true })), tag);
	await page.locator(tag).evaluate((e) => { e.reading = '20 ppt'; });
	assert.deepEqual((await wait).slice(0, 3), [tag, 20, true]);
	await page.locator(tag).evaluate((e) => { e.lang = 'de'; e.units = 'us'; });
	await page.getByLabel('Messwert', { exact: true }).waitFor();
	assert.match(await answered(page, tag), /^20 ppt, Brackwasser$/);
	assert.equal(await page.getByLabel('Einheit: Wassertemperatur').inputValue(), '°C', 'what stood there stays');
	const problem = page.evaluate(() => new Promise((done) => document.addEventListener('saltlock-problem', (e) => done(e.detail.status), { once: true })));
	await page.locator(tag).evaluate((e) => { e.instrument = 'hydrometer 60F/60F'; e.reading = '1.010 SG'; e.setAttribute('temperature', '99 °C'); });
	assert.equal(await problem, 422);
});

test('its page names every attribute there is', async (t) => {
	for (const name of ['converter', 'salt', 'transfer', 'species']) {
		const page = await open(t, '/embed/' + name);
		const there = await page.evaluate((n) => customElements.get('saltlock-' + n).observedAttributes.toSorted(), name);
		assert.deepEqual((await page.locator('tbody th').allTextContents()).toSorted(), there);
	}
});
