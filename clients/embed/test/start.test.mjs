// The pages of common questions, which answer without script.
import assert from 'node:assert/strict';
import test from 'node:test';
import { accessible, fits, open, picture } from './setup.mjs';


/** Sends a form and waits for the page that answers it. */
const sent = (page, send) => Promise.all([page.waitForURL(/\?/), send()]);

/** Fills a form by keyboard alone: the next field by Tab, sent by Enter. */
async function type(page, first, texts) {
	await first.focus();
	for (const [i, text] of texts.entries()) {
		if (i > 0) for (const key of ['Tab', 'Tab']) await page.keyboard.press(key); // past the unit
		await page.keyboard.press('Control+A');
		await page.keyboard.type(text);
	}
	await sent(page, () => page.keyboard.press('Enter'));
}

test('how much marine salt, by keyboard, with a decimal comma', async (t) => {
	const page = await open(t, '/water');
	await type(page, page.getByLabel('How much water', { exact: true }), ['120 gal', '1,010 SG']);
	assert.match(await page.locator('main').innerText(), /Start with 6,11 kg/);
	await accessible(page);
});

test('what a reading means, on a phone, in the dark', async (t) => {
	const page = await open(t, '/water', { viewport: { width: 360, height: 800 }, colorScheme: 'dark' });
	await page.getByLabel('It shows', { exact: true }).fill('35 ppt');
	await sent(page, () => page.getByRole('button', { name: 'Convert the reading' }).click());
	assert.match(await page.locator('main').innerText(), /The salinity is 35 ppt, or 35\.2 g\/kg by mass: sea water/);
	await fits(page);
	await picture(page, 'start-360-dark');
	await accessible(page);
});

test('a fault stands beside its entry', async (t) => {
	const page = await open(t, '/water');
	await page.getByLabel('How much water', { exact: true }).fill('much');
	await sent(page, () => page.keyboard.press('Enter'));
	const entry = page.getByLabel('How much water', { exact: true });
	assert.equal(await entry.getAttribute('aria-invalid'), 'true');
	assert.equal(await entry.inputValue(), 'much');
	await accessible(page);
});
