// Retries and timeouts, against services made to be busy.
import assert from 'node:assert/strict';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { test } from 'node:test';
import { ProblemError, connect, convertReadings, listMethods, type Options } from '../src/index.js';
import { backoff, retryAfter } from '../src/steady.js';

interface Busy {
  status: number;
  after?: string;
  refusals: number;
  post?: boolean;
}

/** Asks a service that refuses some times; gives what came of it and how often it was asked. */
async function ask({ status, after, refusals, post }: Busy, options: Options = {}) {
  let asked = 0;
  const keys = new Set<string | string[] | undefined>();
  const server = createServer((request, response) => {
    request.resume();
    keys.add(request.headers['idempotency-key']);
    if (++asked > refusals) {
      response.setHeader('Content-Type', 'application/json').end('{}');
    } else if (status !== 0) {
      if (after) response.setHeader('Retry-After', after);
      response.writeHead(status).end();
    } // status 0 never answers
  });
  await new Promise<void>((ready) => server.listen(0, '127.0.0.1', ready));
  const service = connect(`http://127.0.0.1:${(server.address() as AddressInfo).port}`, options);
  const { error } = post ? await convertReadings({ client: service, body: [{ reading: '10 ppt' }] }) : await listMethods({ client: service });
  server.closeAllConnections();
  server.close();
  return { error: error as ProblemError | undefined, asked, keys: [...keys] };
}

const date = 'Sun, 06 Nov 1994 08:49:37 GMT';
const cases: [string, Busy, number, number | undefined][] = [
  ['turned away twice', { status: 429, after: '0', refusals: 2 }, 3, undefined],
  ['a date in the past', { status: 503, after: date, refusals: 1 }, 2, undefined],
  ['a post turned away', { status: 503, after: '0', refusals: 1, post: true }, 2, undefined],
  ['a post behind a broken gateway', { status: 502, after: '0', refusals: 1, post: true }, 1, 502],
  ['a get behind a broken gateway', { status: 502, after: '0', refusals: 1 }, 2, undefined],
  ['longer than one waits', { status: 429, after: '3600', refusals: 1 }, 1, 429],
  ['never mended', { status: 503, after: '0', refusals: 9 }, 4, 503],
  ['a fault of the request', { status: 400, refusals: 9 }, 1, 400],
];

for (const [name, busy, times, status] of cases) {
  test(name, async () => {
    const { error, asked, keys } = await ask(busy);
    assert.match(String(keys), busy.post ? /^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/ : /^$/); // each try has the same
    assert.deepEqual([asked, error?.status], [times, status]);
    if (status) assert.equal(error?.type, 'about:blank');
    if (busy.after === '3600') assert.equal(error?.retryAfter, 3600);
  });
}

test('an attempt ends with its time', async () => {
  let sent = 0; // what reached the service by then is left to chance
  const counted: typeof fetch = (input, init) => (sent++, fetch(input, init));
  const { error } = await ask({ status: 0, refusals: 9 }, { timeout: 30, retries: 1, fetch: counted });
  assert.ok(error instanceof ProblemError);
  assert.deepEqual([sent, error.status, error.title], [2, 0, 'No answer']);
  await ask({ status: 0, refusals: 9, post: true }, { timeout: 30, fetch: counted });
  assert.equal(sent, 3);
});

test('a wait ends with the signal of the caller', async () => {
  const service = connect('http://127.0.0.1:9', { fetch: async () => new Response(null, { status: 503, headers: { 'Retry-After': '20' } }) });
  const began = Date.now();
  const { error } = await listMethods({ client: service, signal: AbortSignal.timeout(50) });
  assert.ok(error !== undefined && Date.now() - began < 5000);
});

test('waits', () => {
  [0.5, 1, 2, 4, 8, 10, 10].forEach((most, attempt) => {
    const wait = backoff(attempt);
    assert.ok(wait >= most / 2 && wait <= most, `${wait} of ${most}`);
  });
  const soon = new Date(Date.now() + 20_000).toUTCString();
  assert.ok(Math.abs((retryAfter(new Response(null, { headers: { 'Retry-After': soon } })) ?? 0) - 20) < 3);
  assert.equal(retryAfter(new Response(null, { headers: { 'Retry-After': 'soon' } })), undefined);
});
