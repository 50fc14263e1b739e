// <saltlock-salt>.
import assert from 'node:assert/strict';
import test from 'node:test';
import { accessible, answered, open, picture, shown } from './setup.mjs';

const tag = 'saltlock-salt';

test('it says how much salt, from a dry product to a hydrated one', async (t) => {
	const page = await open(t, '/embed/frame/salt');
	await page.getByLabel('Salinity wanted', { exact: true }).fill('10');
	await page.getByLabel('Unit: Salinity wanted').selectOption('ppt');
	await page.getByLabel('Finished water', { exact: true }).fill('450');
	await page.keyboard.press('Enter');
	assert.match(await answered(page, tag), /^Between 4\.54 and 5\.3[34] kg of sea salt mix in 449 L of water\.$/);
	assert.match(await shown(page, tag), /Never dissolve salt where animals are\./);
	assert.doesNotMatch(await shown(page, tag), /±[^\n]*(kg|L)$/m); // a scale and a jug are coarser than the computing
	await accessible(page);
});

test('it speaks in gallons, pounds and Fahrenheit where the page says so', async (t) => {
	const page = await open(t, '/embed/frame/salt?units=us&target=1.010%20SG&volume=120%20gal');
	assert.match(await answered(page, tag), /^Between 13\.5 and 15\.8 lb of sea salt mix in 120 gal of water\.$/);
	assert.equal(await page.getByLabel('Unit: Water temperature').inputValue(), '°F');
	await picture(page, 'salt-us');
});

test('in German, with the water content of the product', async (t) => {
	const page = await open(t, '/embed/frame/salt?lang=de&target=35%20ppt&volume=100%20L&product-water-content=12.5%20%25', { viewport: { width: 360, height: 800 } });
	assert.match(await answered(page, tag), /^4,\d\d? kg Meersalz in \d+(?:,\d)? L Wasser\.$/);
	assert.match(await shown(page, tag), /\nSalz\n4,\d/);
	assert.equal(await page.getByLabel('Wasser im Salz, falls bekannt', { exact: true }).inputValue(), '12,5');
	await picture(page, 'salt-german-360');
	await accessible(page);
});
