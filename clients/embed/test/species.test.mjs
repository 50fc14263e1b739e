// <saltlock-species>.
import assert from 'node:assert/strict';
import test from 'node:test';
import { accessible, answered, open, picture, shown } from './setup.mjs';

const tag = 'saltlock-species';

test('it shows the card of a species, with standing and sources', async (t) => {
	const page = await open(t, '/embed/species');
	assert.equal(await answered(page, tag), 'Scatophagus argus');
	const text = await shown(page, tag);
	assert.match(text, /5 – 20 ppt \(common practice\)/);
	assert.match(text, /Salinity survived\nunknown/);
	await page.locator(`${tag} summary`).first().click();
	assert.match(await shown(page, tag), /Chang S-L/);
});

test('of several found the reader chooses one, by keyboard', async (t) => {
	const page = await open(t, '/embed/frame/species', { viewport: { width: 360, height: 800 } });
	await page.getByRole('searchbox').fill('scat');
	await page.keyboard.press('Enter');
	assert.match(await answered(page, tag), /^“scat” may mean any of 3; choose one\.$/);
	await picture(page, 'species-found-360');
	await accessible(page);
	const second = page.locator(`${tag} [part=choice]`).nth(1);
	const name = await second.textContent();
	await second.focus();
	await page.keyboard.press('Enter');
	await page.locator(`${tag} dl`).first().waitFor();
	assert.equal(await answered(page, tag), name);
});

test('a misspelled name asks, and picks nobody', async (t) => {
	const page = await open(t, '/embed/frame/species');
	await page.getByRole('searchbox').fill('spoted scat');
	await page.keyboard.press('Enter');
	assert.equal(await answered(page, tag), 'No animal here is called “spoted scat”. Did you mean:');
	assert.equal(await page.locator(`${tag} [part=choice]`).first().textContent(), 'Scatophagus argus');
	await page.getByRole('searchbox').fill('congo tetra');
	await page.keyboard.press('Enter');
	assert.match(await answered(page, tag), /^“congo tetra” is not in the table\./);
});

test('a name that nobody bears, and none', async (t) => {
	const page = await open(t, '/embed/frame/species?lang=de');
	await page.getByRole('searchbox').fill('qqqqzzzz');
	await page.keyboard.press('Enter');
	assert.equal(await answered(page, tag), '„qqqqzzzz“ steht nicht in der Tabelle.');
	await page.getByRole('searchbox').fill('');
	await page.keyboard.press('Enter');
	await answered(page, tag);
	assert.match(await page.locator(`${tag} #species-fault`).textContent(), /einen Namen schreiben/);
	await page.getByRole('searchbox').fill('goldfish');
	await page.keyboard.press('Enter');
	assert.equal(await answered(page, tag), 'Carassius auratus');
	await picture(page, 'species-german');
	await accessible(page);
});
