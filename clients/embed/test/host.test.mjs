// The elements on pages of others: strict policies, hostile styles, frames.
import assert from 'node:assert/strict';
import test from 'node:test';
import { accessible, allLooks, answered, api, fits, host, hostPage, open, picture, shown } from './setup.mjs';

const snippet = async (t, name) => {
	const page = await open(t, '/embed/' + name);
	return page.locator('pre code').allTextContents(); // pinned, moving, framed
};
const served = (code) => `<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>A club</title></head><body><main><h1>A club</h1>${code}</main></body></html>`;
const strict = (policy) => ({ 'Content-Security-Policy': `default-src 'none'; ${policy}` });

for (const name of allLooks ? ['converter', 'salt', 'transfer', 'species'] : ['transfer']) {
	test(`the pasted code of ${name} runs under a strict policy, with the digest checked`, async (t) => {
		const [pinned, moving] = await snippet(t, name);
		assert.match(pinned, /src="[^"]*\/embed\/\d+\.\d+\.\d+-[0-9a-f]{8}\/\w+\.js" integrity="sha384-/);
		const policy = `script-src ${api}; connect-src ${api}; require-trusted-types-for 'script'`;
		const url = await host({ '/pinned': [served(pinned), strict(policy)], '/moving': [served(moving), strict(policy)] });
		for (const path of ['/pinned', '/moving']) {
			const page = await open(t, url + path);
			assert.match(await answered(page, 'saltlock-' + name), /\d|Scatophagus/);
			if (name === 'transfer') await page.locator('saltlock-transfer figure polyline').first().waitFor();
			assert.deepEqual([page.refused, page.faults], [[], []]);
			await accessible(page);
		}
	});
}

test('a copy on the own site, under script-src self', async (t) => {
	const script = await (await fetch(api + '/embed/all.js')).text();
	const url = await host({ '/all.js': script, '/': [hostPage('saltlock-transfer', '/all.js', { attributes: `api="${api}" from-salinity="2 ppt" to-salinity="10 ppt" sensitivity="hardy" container-aerated="true"` }), strict(`script-src 'self'; connect-src ${api}`)] });
	const page = await open(t, url);
	assert.match(await answered(page, 'saltlock-transfer'), /^Drip for /);
	await page.locator('saltlock-transfer figure polyline').first().waitFor();
	assert.deepEqual(page.refused, []);
});

test('a changed module is refused by its digest, and the link of the page stays', async (t) => {
	const [pinned] = await snippet(t, 'converter');
	const url = await host({ '/': served(pinned.replace('sha384-', 'sha384-AAAA')) });
	const page = await open(t, url);
	await page.waitForLoadState('networkidle');
	assert.equal(await page.getByRole('link', { name: 'Salinity converter' }).isVisible(), true);
});

test('hostile styles of the page do not reach in', async (t) => {
	const hostile = `<style>
		html { font-size: 4px } body { direction: rtl; text-transform: uppercase; letter-spacing: 1em; line-height: .3; visibility: visible; color: lime; cursor: none }
		* { font-size: 60px !important; color: lime !important; background: black !important; text-align: right !important; pointer-events: auto; white-space: nowrap !important; text-transform: uppercase !important; letter-spacing: 9px !important }
		input, select, button, label, dl, dd, p { display: none !important; opacity: 0 !important }
		[part=box], .pair { display: none !important } section { position: fixed !important; left: -9999px !important }
	</style>`;
	const url = await host({ '/': hostPage('saltlock-converter', api + '/embed/converter.js', { head: hostile, attributes: 'reading="1.010 SG" theme="light"' }) });
	const page = await open(t, url, { viewport: { width: 360, height: 800 } });
	assert.equal(await answered(page, 'saltlock-converter'), '13.3 ppt, brackish water');
	const box = page.locator('saltlock-converter [part=box]');
	const look = await box.evaluate((e) => ((s) => [s.fontSize, s.color, s.backgroundColor, s.textTransform, s.letterSpacing, s.direction, s.whiteSpace, s.display])(getComputedStyle(e)));
	assert.deepEqual(look, ['16px', 'rgb(22, 38, 44)', 'rgb(255, 255, 255)', 'none', 'normal', 'ltr', 'normal', 'block']);
	for (const id of ['reading', 'temperature', 'instrument']) {
		const field = await page.locator(`saltlock-converter #${id}`).boundingBox();
		assert.ok(field.width >= 24 && field.height >= 24 && field.x >= 0 && field.x + field.width <= 360, id + ' ' + JSON.stringify(field));
	}
	await picture(page, 'hostile-360');
});

test('the page styles it by custom properties and parts', async (t) => {
	const head = '<style>saltlock-converter { --saltlock-accent: rgb(1, 2, 3); --saltlock-size: 20px; --saltlock-font: serif } saltlock-converter::part(value) { color: rgb(4, 5, 6) }</style>';
	const url = await host({ '/': hostPage('saltlock-converter', api + '/embed/converter.js', { head, attributes: 'reading="1.010 SG"' }) });
	const page = await open(t, url);
	await answered(page, 'saltlock-converter');
	const style = (part, name) => page.locator(`saltlock-converter [part=${part}]`).first().evaluate((e, n) => getComputedStyle(e)[n], name);
	assert.deepEqual([await style('button', 'backgroundColor'), await style('box', 'fontSize'), await style('box', 'fontFamily'), await style('value', 'color')], ['rgb(1, 2, 3)', '20px', 'serif', 'rgb(4, 5, 6)']);
});

test('light and dark by the system, and by attribute', async (t) => {
	const url = await host({ '/': hostPage('saltlock-converter', api + '/embed/converter.js', { attributes: 'reading="1.010 SG"' }) });
	const paper = (page) => page.locator('saltlock-converter [part=box]').evaluate((e) => getComputedStyle(e).backgroundColor);
	const page = await open(t, url, { colorScheme: 'dark' });
	await answered(page, 'saltlock-converter');
	assert.equal(await paper(page), 'rgb(20, 34, 40)');
	await page.locator('saltlock-converter').evaluate((e) => { e.theme = 'light'; });
	assert.equal(await paper(page), 'rgb(255, 255, 255)');
	await page.emulateMedia({ colorScheme: 'light' });
	await page.locator('saltlock-converter').evaluate((e) => { e.theme = 'dark'; });
	assert.equal(await paper(page), 'rgb(20, 34, 40)');
	await accessible(page);
});

test('where the service is out of reach the link of the page shows', async (t) => {
	const script = await (await fetch(api + '/embed/converter.js')).text();
	const url = await host({ '/c.js': script, '/': hostPage('saltlock-converter', '/c.js', { attributes: 'api="http://127.0.0.1:9" reading="1.010 SG"' }) });
	const page = await open(t, url);
	assert.equal(await answered(page, 'saltlock-converter'), 'Service out of reach.');
	assert.equal(await page.getByRole('link', { name: 'fallback' }).isVisible(), true);
});

test('a refusal does not show it', async (t) => {
	const url = await host({ '/': hostPage('saltlock-salt', api + '/embed/salt.js', { attributes: 'target="70000 ppt"' }) });
	const page = await open(t, url);
	assert.equal(await answered(page, 'saltlock-salt'), 'No answer: see the remarks.');
	assert.equal(await page.getByRole('link', { name: 'fallback' }).isVisible(), false);
});

test('without script the link of the page shows', async (t) => {
	const page = await open(t, '/embed/converter', { javaScriptEnabled: false });
	assert.equal(await page.getByRole('link', { name: /plain text/ }).isVisible(), true);
});

test('a frame follows the height of its element', async (t) => {
	const [, , framed, follow] = await snippet(t, 'converter');
	const policy = strict(`frame-src ${api}; script-src ${api}`);
	const url = await host({ '/': [served(framed + follow), policy] });
	const page = await open(t, url, { viewport: { width: 600, height: 800 } });
	const high = () => page.locator('iframe').evaluate((f) => f.clientHeight);
	const box = page.frameLocator('iframe').locator('[part=box]');
	await page.waitForFunction(() => document.querySelector('iframe').height !== '640');
	const before = await high();
	assert.ok(Math.abs(before - (await box.boundingBox()).height) < 4, `${before} high`);
	await page.setViewportSize({ width: 320, height: 800 });
	await page.waitForFunction((h) => document.querySelector('iframe').clientHeight > h, before);
	assert.deepEqual([page.refused, page.faults], [[], []]);
});

test('the frame page may be framed, no other', async (t) => {
	const [, , framed] = await snippet(t, 'converter');
	const url = await host({
		'/frame': [served(framed), strict(`frame-src ${api}`)],
		'/page': served(`<iframe title="x" src="${api}/embed/converter"></iframe>`),
	});
	const page = await open(t, url + '/frame');
	const inner = page.frameLocator('iframe').locator('saltlock-converter');
	await inner.locator('dl').waitFor();
	assert.match(await inner.locator('[role=status]').textContent(), /^13\.3/);
	await fits(page);
	const other = await open(t, url + '/page');
	await other.waitForLoadState('networkidle');
	assert.equal(await other.frameLocator('iframe').locator('saltlock-converter').count(), 0);
	assert.match(other.refused.join(), /frame-ancestors 'none'/);
});

test('two modules that define the same element live on one page', async (t) => {
	const url = await host({ '/': hostPage('saltlock-salt', api + '/embed/all.js', { head: `<script type="module" src="${api}/embed/salt.js" crossorigin></script>`, attributes: 'target="10 ppt" volume="450 L"' }) });
	const page = await open(t, url);
	assert.match(await answered(page, 'saltlock-salt'), /^Between 4\.5/);
	assert.match(await shown(page, 'saltlock-salt'), /Measure\./);
	assert.deepEqual(page.faults, []);
});
