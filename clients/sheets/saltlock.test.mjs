// The functions of Saltlock.js against the real program (SALTLOCK_URL), with
// what Google gives a script stubbed: properties, cache, digests, fetching.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import vm from 'node:vm';

const server = process.env.SALTLOCK_URL;
assert.ok(server, 'SALTLOCK_URL says where the program answers');
const code = readFileSync(new URL('Saltlock.js', import.meta.url), 'utf8');

// A script fetches and waits for the answer; Node can only in another process.
const fetching = `
const [url, options] = JSON.parse(require('fs').readFileSync(0, 'utf8'));
fetch(url, options).then(async (r) => console.log(JSON.stringify([r.status, await r.text(), [...r.headers]])));`;

function realFetch(url, { method, contentType, payload, headers }) {
  const options = { method, body: payload, headers: contentType ? { ...headers, 'Content-Type': contentType } : headers };
  const out = execFileSync(process.execPath, ['-e', fetching], { input: JSON.stringify([url, options]), maxBuffer: 1 << 28 });
  return JSON.parse(out);
}

/** A spreadsheet's script: its functions, and what they did. */
function script(fetch = realFetch) {
  const kept = new Map();
  const did = { fetched: [], slept: [] };
  const check = (key) => assert.ok(key.length <= 250, 'the cache takes keys of at most 250 characters');
  const put = (key, value, seconds) => {
    check(key);
    assert.ok(value.length <= 100_000 && seconds <= 21600, 'the cache takes 100 kB for six hours');
    kept.set(key, value);
  };
  const cache = {
    get: (key) => (check(key), kept.get(key) ?? null),
    put,
    getAll: (keys) => Object.fromEntries(keys.filter((key) => kept.has(key)).map((key) => [key, kept.get(key)])),
    putAll: (values, seconds) => Object.entries(values).forEach(([key, value]) => put(key, value, seconds)),
  };
  const context = vm.createContext({
    PropertiesService: { getScriptProperties: () => ({ getProperty: (name) => (name === 'SALTLOCK_URL' ? server + '/' : null) }) },
    CacheService: { getScriptCache: () => cache },
    Utilities: {
      DigestAlgorithm: { SHA_256: 'sha256' },
      Charset: { UTF_8: 'utf8' },
      computeDigest: (algorithm, text, charset) => [...new Int8Array(createHash(algorithm).update(text, charset).digest())],
      sleep: (ms) => did.slept.push(ms),
    },
    UrlFetchApp: {
      fetch(url, options) {
        assert.equal(options.muteHttpExceptions, true);
        did.fetched.push(url);
        const [status, text, headers] = fetch(url, options);
        return { getResponseCode: () => status, getContentText: () => text, getHeaders: () => Object.fromEntries(headers) };
      },
    },
  });
  vm.runInContext(code, context);
  return { sheet: context, did };
}

const near = (got, want, by) => assert.ok(Math.abs(got - want) <= by, `${got} is not ${want} ± ${by}`);

test('SG to ppt for a column in one call, then from the cache', () => {
  const { sheet, did } = script();
  const readings = [[1.0055], [1.01], [''], [1.01]];
  const ask = () => sheet.SALTLOCK_PRACTICAL_SALINITY(readings, 'SG', [[26], [77], [26], [77]].map(([t], i) => [i % 2 ? t + ' F' : t]), 'C', 'hydrometer', '60F/60F');
  const rows = ask();
  assert.equal(rows.length, 4);
  near(rows[0][0], 10, 0.3); // a 60F/60F hydrometer at 26 °C reads 2.8 g/kg low
  near(rows[1][0], 15.7, 0.3);
  assert.equal(rows[2][0], '');
  assert.equal(rows[3][0], rows[1][0]);
  assert.equal(did.fetched.length, 1);
  assert.deepEqual(ask(), rows);
  sheet.SALTLOCK_DENSITY(readings, 'SG', 26, 'C', 'hydrometer', '60F/60F'); // another question, another call
  sheet.SALTLOCK_CONDUCTIVITY(readings, 'SG', 26, 'C', 'hydrometer', '60F/60F'); // another measure of the same
  assert.equal(did.fetched.length, 2);
});

test('one cell, with its unit', () => {
  const { sheet } = script();
  // IAPWS R13-08: 35 on the practical scale is 35.16504 g/kg.
  near(sheet.SALTLOCK_ABSOLUTE_SALINITY('35 ppt'), 35.16504, 1e-4);
  assert.equal(sheet.SALTLOCK_ABSOLUTE_SALINITY(''), '');
});

test('a bad reading spoils its own cell alone', () => {
  const { sheet } = script();
  const rows = sheet.SALTLOCK_ABSOLUTE_SALINITY([['35 ppt', '35'], ['x', '10 ppt']]);
  near(rows[0][0], 35.165, 1e-3);
  assert.match(rows[0][1], /^\? reading: .*(unit|scale)/);
  assert.match(rows[1][0], /^\? reading: /);
  near(rows[1][1], 10.047, 1e-3);
});

test('a measure out of range says so', () => {
  const { sheet } = script();
  const cell = sheet.SALTLOCK_CONDUCTIVITY('100 g/kg');
  assert.match(String(cell), /^\? Conductivity is left out\. [^.]*42 ppt; [^:]*$/);
});

test('ranges of other sizes are refused', () => {
  const { sheet, did } = script();
  assert.throws(() => sheet.SALTLOCK_DENSITY([['35 ppt'], ['10 ppt']], '', [['25 C'], ['25 C'], ['25 C']]), /temperature has 3 x 1 cells, reading has 2 x 1/);
  assert.equal(did.fetched.length, 0);
});

test('more readings than a call holds take a few calls', () => {
  const { sheet, did } = script();
  const rows = sheet.SALTLOCK_ABSOLUTE_SALINITY(Array.from({ length: 1500 }, (_, i) => [i / 100]), 'ppt');
  assert.equal(did.fetched.length, 2);
  near(rows[1499][0], 14.99 * 35.16504 / 35, 1e-3);
});

test('how much marine salt', () => {
  const { sheet, did } = script();
  const inputs = [['target', '1.010 SG'], ['volume', 120, 'gal'], ['', '']];
  near(sheet.SALTLOCK_SALT_MIX('salt', inputs), 6.1, 0.1);
  near(sheet.SALTLOCK_SALT_MIX('salt', inputs), 6.1, 0.1);
  assert.equal(did.fetched.length, 1);
  assert.throws(() => sheet.SALTLOCK_SALT_MIX('pepper', inputs), /give one of salt, /);
  assert.throws(() => sheet.SALTLOCK_SALT_MIX('salt', [['target', '1.010'], ['volume', '120']]), /target: .*\nvolume: /s);
  near(sheet.SALTLOCK_BLEND('practical_salinity', [['water', '10 L, 0 ppt, 25 C'], ['water', '10 L, 20 ppt, 25 C']]), 10, 0.2);
});

test('a busy service is asked again when it says, within the time of a cell', () => {
  const busy = (after, times) => script((url, options) => (times-- > 0 ? [429, '', [['Retry-After', after]]] : realFetch(url, options)));
  const patient = busy('3', 2);
  near(patient.sheet.SALTLOCK_ABSOLUTE_SALINITY('35 ppt'), 35.165, 1e-3);
  assert.deepEqual(patient.did.slept, [3000, 3000]);
  const over = busy('3600', 9);
  assert.throws(() => over.sheet.SALTLOCK_ABSOLUTE_SALINITY('35 ppt'), /busy; ask again in 3600 s/);
  assert.deepEqual(over.did.slept, []);
});

test('every function of a cell is documented for the sheet', () => {
  const functions = code.match(/^function SALTLOCK_/gm).length;
  assert.ok(functions > 10);
  assert.equal(code.match(/@customfunction\n \*\/\nfunction SALTLOCK_[A-Z0-9_]+\(/g).length, functions);
});
