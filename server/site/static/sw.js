// Keeps the page at the bucket and what it loads, so that it opens without a network.
// Pages are stored by their path alone: what stands behind the # is never part of it.
const store = 'saltlock-1';

self.addEventListener('install', () => self.skipWaiting());
self.addEventListener('activate', (e) => e.waitUntil((async () => {
	for (const name of await caches.keys()) if (name !== store) await caches.delete(name);
	await self.clients.claim();
})()));

const path = (request) => {
	const url = new URL(request.url);
	return url.pathname + url.search;
};

/** What the network has, else what was stored; a slow network counts as none. */
async function fresh(request) {
	const cache = await caches.open(store);
	try {
		const answer = await fetch(path(request), { headers: request.headers, signal: AbortSignal.timeout(8000), referrerPolicy: 'no-referrer' });
		if (answer.ok && !answer.redirected) await cache.put(path(request), answer.clone());
		return answer;
	} catch (reason) {
		const kept = await cache.match(path(request), { ignoreVary: true });
		if (kept) return kept;
		throw reason;
	}
}

self.addEventListener('fetch', (e) => {
	const url = new URL(e.request.url);
	if (e.request.method !== 'GET' || url.origin !== location.origin) return;
	if (/^\/(t|static)\//.test(url.pathname) || /^\/v1\/transfers\/\w+\/chart/.test(url.pathname) || url.pathname === '/qr.svg') e.respondWith(fresh(e.request));
});
