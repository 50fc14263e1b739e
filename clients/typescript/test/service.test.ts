// The library against the real program, whose address is in SALTLOCK_URL.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import {
  ProblemError, connect, convertReadings, deleteTransfer, getCompatibility, getConversion, getSaltMix, getSpecies, logReading, planTransfer, saveTransfer, textOf, urlOf,
  type GetSaltMixData, type GetTransferPlanData, type Problem, type SaltMixAnswer,
} from '../src/index.js';

const address = process.env['SALTLOCK_URL'];
assert.ok(address, 'SALTLOCK_URL says where the program answers');
const service = connect(address);

const near = (got: number | undefined, want: number, by: number) => assert.ok(got !== undefined && Math.abs(got - want) <= by, `${got} is not ${want} ± ${by}`);

test('how much marine salt', async () => {
  const { data, error } = await getSaltMix({ client: service, query: { target: '1.010 SG', volume: '120 gal' } });
  assert.equal(error, undefined);
  const mix: SaltMixAnswer | undefined = data;
  near(mix?.salt.value, 6.1, 0.1); // 454 L of water with 13.4 g/kg
  assert.equal(mix?.salt.unit, 'kg');
});

test('SG to ppt', async () => {
  const { data } = await getConversion({
    client: service, throwOnError: true,
    query: { reading: '1.0055 SG', temperature: '26 C', instrument: 'hydrometer', calibration: '60F/60F' },
  });
  near(data.practical_salinity?.value, 10, 0.3);
});

test('many readings', async () => {
  const { data } = await convertReadings({ client: service, throwOnError: true, body: [{ reading: '35 ppt' }, { reading: '35' }] });
  assert.deepEqual([data.good, data.bad], [1, 1]);
  // IAPWS R13-08: 35 on the practical scale is 35.16504 g/kg.
  near(data.items[0]?.conversion?.absolute_salinity?.value, 35.16504, 1e-4);
});

test('lists and paths', async () => {
  const { data: shared } = await getCompatibility({ client: service, throwOnError: true, query: { species: ['scatophagus-argus:juvenile', 'carassius-auratus'] } });
  assert.equal(shared.members.length, 2);
  const { data: scat } = await getSpecies({ client: service, throwOnError: true, path: { id: 'scatophagus-argus' } });
  assert.equal(scat.scientific_name, 'Scatophagus argus');
});

test('a plan, and its picture by URL', async () => {
  const { data: plan } = await planTransfer({
    client: service, throwOnError: true,
    body: {
      animals: [{ species: 'scatophagus-argus', stage: 'juvenile', origin: 'captive' }],
      from: { salinity: '2 ppt', temperature: '26 C' }, to: { salinity: '10 ppt', temperature: '26 C' },
      container: { capacity: '20 L', start_volume: '6 L', aerated: true }, line: { drop_volume: '0.05 mL' },
    },
  });
  assert.equal(plan.route, 'drip');
  const picture = await fetch(urlOf<GetTransferPlanData>(service, 'png', {
    url: '/v1/transfers/plan',
    query: {
      from_salinity: '2 ppt', from_temperature: '26 C', to_salinity: '10 ppt', to_temperature: '26 C', sensitivity: 'hardy',
      container_capacity: '20 L', container_start_volume: '6 L', container_aerated: true,
    },
  }));
  assert.equal(picture.headers.get('Content-Type'), 'image/png');
  assert.deepEqual([...new Uint8Array(await picture.arrayBuffer()).slice(1, 4)], [...'PNG'].map((c) => c.charCodeAt(0)));
});

test('a saved transfer, and its key', async () => {
  const { data: saved } = await saveTransfer({
    client: service, throwOnError: true,
    body: {
      animals: [{ sensitivity: 'hardy' }], start: new Date(Date.now() - 3600e3).toISOString(),
      from: { salinity: '2 ppt', temperature: '26 C' }, to: { salinity: '10 ppt', temperature: '26 C' },
      container: { capacity: '20 L', start_volume: '6 L', aerated: true },
    },
  });
  const path = { id: saved.id };
  await assert.rejects(logReading({ client: service, throwOnError: true, path, body: { behaviour: 'ok' } }), (e) => e instanceof ProblemError && e.status === 401);
  const { data: told } = await logReading({ client: service, throwOnError: true, path, body: { behaviour: 'ok' }, auth: saved.key });
  assert.ok(told.course);
  await deleteTransfer({ client: service, throwOnError: true, path, auth: saved.key });
});

test('lines for a chat', async () => {
  const text = await textOf<GetSaltMixData>(service, { url: '/v1/mixes/salt', query: { target: '10 ppt', volume: '450 L' } });
  assert.match(text, /^Start with 4\.54/);
  await assert.rejects(textOf<GetSaltMixData>(service, { url: '/v1/mixes/salt', query: { target: '10', volume: '450 L' } }), ProblemError);
});

test('every fault at once, typed', async () => {
  const { data, error } = await getSaltMix({ client: service, query: { target: '1.010', volume: '120' } });
  assert.equal(data, undefined);
  const problem: Problem | undefined = error; // what the types promise
  assert.ok(problem instanceof ProblemError); // what is there
  assert.equal(problem.status, 400);
  assert.equal(problem.type, '/problems/invalid-request');
  assert.deepEqual(problem.errors.map((fault) => fault.where), ['target', 'volume']);
  assert.match(problem.message, /target: .*[Ww]rite "1\.010 SG"/);
  await assert.rejects(getSaltMix({ client: service, throwOnError: true, query: { target: '1.010', volume: '1 L' } }), (e) => e instanceof ProblemError && e.errors.length === 1);
});
