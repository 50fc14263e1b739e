// What every test needs: a browser, pages of a foreign host, axe.
import { readFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import { createRequire } from 'node:module';
import assert from 'node:assert/strict';
import { after } from 'node:test';
import { chromium } from 'playwright-core';

/** Where the service listens. */
export const api = process.env.SALTLOCK_URL;
assert.ok(api, 'SALTLOCK_URL names no running service; go test ./clients/embed starts one');

const shots = process.env.SALTLOCK_SHOTS; // a folder for pictures to look at

// Chromium does not start as root with its sandbox; the pages are our own.
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium', args: ['--no-sandbox'] });
const servers = [];
after(async () => {
	await browser.close();
	for (const s of servers) s.close();
});

/** Opens a page; what the policy of the page refuses is in page.refused, its errors in page.faults. */
export async function open(t, url, options = {}) {
	const context = await browser.newContext({ locale: 'en-GB', viewport: { width: 1000, height: 900 }, ...options });
	t.after(() => context.close());
	context.setDefaultTimeout(30000);
	const page = await context.newPage();
	page.refused = [];
	page.faults = [];
	page.on('pageerror', (e) => page.faults.push(String(e)));
	page.on('console', (m) => {
		if (/Content Security Policy|TrustedType/i.test(m.text())) page.refused.push(m.text());
		else if (m.type() === 'error') page.faults.push(m.text());
	});
	await page.goto(url.startsWith('/') ? api + url : url);
	return page;
}

/** Serves pages of another origin: files by path, each a body or [body, headers]. */
export async function host(files) {
	const server = createServer((request, response) => {
		const path = new URL(request.url, 'http://host').pathname;
		const found = path === '/favicon.ico' ? '' : files[path];
		const [body, headers] = Array.isArray(found) ? found : [found, {}];
		const type = /\.js$/.test(request.url) ? 'text/javascript' : 'text/html; charset=utf-8';
		response.writeHead(found === undefined ? 404 : 200, { 'Content-Type': type, ...headers });
		response.end(body ?? '');
	});
	servers.push(server);
	await new Promise((done) => server.listen(0, '127.0.0.1', done));
	return `http://127.0.0.1:${server.address().port}`;
}

/** A page of a host that carries an element. */
export const hostPage = (tag, script, { head = '', attributes = '' } = {}) => `<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>A club</title>${head}
<script type="module" src="${script}" crossorigin="anonymous"></script></head>
<body><main><h1>A club</h1><${tag} ${attributes}><a href="https://example.org/">fallback</a></${tag}></main></body></html>`;

/** The text of the status once it answers, of an element that was asked. */
export async function answered(page, tag) {
	const status = page.locator(`${tag} [role=status]`);
	await page.waitForFunction((name) => {
		const text = document.querySelector(name)?.shadowRoot?.querySelector('[role=status]')?.textContent;
		return text && !text.includes('…');
	}, tag);
	return (await status.textContent()).replaceAll('\u00a0', ' ').trim();
}

/** All text that an element shows, with plain blanks. */
export const shown = async (page, tag) => (await page.locator(`${tag} [part=box]`).innerText()).replaceAll('\u00a0', ' ');

const axeSource = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Fails with every violation of WCAG 2.2 AA that axe-core finds. */
export async function accessible(page) {
	await page.evaluate(axeSource); // by the debugger, which no policy of the page stops
	const { violations, passes } = await page.evaluate(() => axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'] }));
	assert.ok(passes.length > 5, 'axe has looked at the page');
	assert.deepEqual(violations.map((v) => `${v.id}, ${v.nodes.length} times, as ${v.nodes[0].target.flat().join(' ')}: ${v.nodes[0].failureSummary}`), []);
}

/** Light and dark, wide and on a phone: as four readers see a page. */
const looks = ['light', 'dark'].flatMap((colorScheme) => [1000, 360].map((width) => ({ colorScheme, width })));

// Four looks at every page take a browser minutes. Without SALTLOCK_LOOKS=all, as
// .ci/run sets it, a sixth of the pages are seen, each by one reader, the next by another,
// and of the elements the transfer alone.
export const allLooks = process.env.SALTLOCK_LOOKS === 'all';
let turn = 0;
const looksOfAPage = () => (allLooks ? looks : [looks[turn++ % looks.length]]);

/** Looks at a page as its readers see it. */
export async function everyLook(page, look) {
	for (const { colorScheme, width } of looksOfAPage()) {
		await page.emulateMedia({ colorScheme });
		await page.setViewportSize({ width, height: 800 });
		await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
		await look(`${colorScheme}-${width}`);
		await accessible(page);
		await fits(page);
	}
}

/** Nothing lies outside the width of the page. */
export async function fits(page) {
	const [wide, room] = await page.evaluate(() => [document.documentElement.scrollWidth, document.documentElement.clientWidth]);
	assert.ok(wide <= room, `the page is ${wide} wide in ${room}`);
}

/** Keeps a picture to look at, if asked. */
export async function picture(page, name) {
	if (shots) await page.screenshot({ path: `${shots}/${name}.png`, fullPage: true });
}
