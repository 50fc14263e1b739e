// <saltlock-transfer>.
import assert from 'node:assert/strict';
import test from 'node:test';
import { accessible, answered, fits, open, picture, shown } from './setup.mjs';

const tag = 'saltlock-transfer';
const drawn = (page) => page.locator(`${tag} figure svg polyline`).first().waitFor();

test('young spotted scats leave quarantine: steps, chart, looks, cautions', async (t) => {
	const page = await open(t, '/embed/transfer', { viewport: { width: 360, height: 800 } });
	assert.match(await answered(page, tag), /^Drip for \d+ h.*, release after \d+ h.*\.$/);
	await drawn(page);
	const box = await page.locator(`${tag} svg`).boundingBox();
	assert.ok(box.width > 250 && box.width <= 340 && box.height > 300, `the chart is ${box.width} by ${box.height}`);
	assert.equal(await page.locator(`${tag} svg`).getAttribute('role'), 'img');
	assert.equal(await page.locator(`${tag} polyline`).first().evaluate((e) => getComputedStyle(e).stroke), 'rgb(29, 130, 153)');
	const text = await shown(page, tag);
	assert.match(text, /set the drip to 40 drops in 10 s/);
	assert.match(text, /pour off \d(\.\d)? L/);
	assert.match(text, /Never start a siphon by mouth\./);
	await picture(page, 'transfer-360');
	await accessible(page);
	await fits(page);
	assert.deepEqual([page.refused, page.faults], [[], []]);
});

test('a reader plans by keyboard, with a name that several share', async (t) => {
	const page = await open(t, '/embed/frame/transfer');
	await page.getByLabel('Species').fill('scat');
	await page.getByLabel('Air stone in it').selectOption('true');
	await page.getByLabel('Species').press('Enter');
	await answered(page, tag);
	assert.match(await page.locator(`${tag} #species-fault`).textContent(), /“scat” may mean spotted scat \(Scatophagus argus\), /);
	await page.getByLabel('Species').fill('Spotted scat');
	await page.keyboard.press('Enter');
	assert.match(await answered(page, tag), /^Drip for /);
	assert.match(await shown(page, tag), /“Spotted scat” was understood as Scatophagus argus/);
	await drawn(page);
});

test('a refusal says what stands in the way', async (t) => {
	const page = await open(t, '/embed/frame/transfer?from-salinity=0%20ppt&to-salinity=30%20ppt&sensitivity=delicate&container-aerated=true');
	assert.equal(await answered(page, tag), 'No answer: see the remarks.');
	assert.match(await page.locator(`${tag} #to_salinity-fault`).textContent(), /One bucket cannot do that/);
	assert.match(await page.locator(`${tag} #home_tank_volume-fault`).textContent(), /the water of such a tank all the way/);
	await picture(page, 'transfer-refused');
	await accessible(page);
	await page.getByLabel('Their tank holds').first().fill('200');
	await page.keyboard.press('Enter');
	assert.match(await answered(page, tag), /^Change their tank around them, then drip the rest, over [\d.]+ days\.$/);
	await drawn(page);
});

test('in German, in the dark, in the hydrometer of the keeper', async (t) => {
	const page = await open(t, '/embed/frame/transfer?lang=de&theme=dark&from-salinity=2%20ppt&to-salinity=10%20ppt&species=scatophagus-argus&container-aerated=true&instrument=hydrometer%2060F%2F60F');
	assert.match(await answered(page, tag), /^\d+ h.* lang tropfen, nach .* umsetzen\.$/);
	await drawn(page);
	const text = await shown(page, tag);
	assert.match(text, /Tropfen in \d+ s einstellen/);
	assert.match(text, /1,00\d+ SG 60F\/60F/);
	assert.match(await page.locator(`${tag} svg`).textContent(), /Salzgehalt von 2 auf 10/);
	await picture(page, 'transfer-german-dark');
	await accessible(page);
});

test('a plan in gallons', async (t) => {
	const page = await open(t, '/embed/frame/transfer?units=us&from-salinity=2%20ppt&to-salinity=10%20ppt&sensitivity=hardy&container-aerated=true');
	assert.match(await answered(page, tag), /^Drip for /);
	assert.match(await shown(page, tag), /until the container holds \d(\.\d+)? gal/);
	await drawn(page);
	assert.match(await page.locator(`${tag} svg`).textContent(), /Volume, gal/);
});
