// @vitest-environment node
import 'fake-indexeddb/auto';
import { beforeEach, expect, test, vi } from 'vitest';
import type { Kept } from './kept';
import * as local from './local';
import { carry, fetchPhoto, remove, standing, take, tryAgain } from './photos';

// A server in small: photos of one job by name. `says` answers in its place.
const server = new Map<string, Uint8Array<ArrayBuffer>>();
let says: ((method: string) => Response | 'no line' | undefined) | undefined;
const asked: string[] = [];
async function sha(bytes: Uint8Array<ArrayBuffer>): Promise<string> {
  return [...new Uint8Array(await crypto.subtle.digest('SHA-256', bytes))].map((b) => b.toString(16).padStart(2, '0')).join('');
}
const shape = async (name: string, bytes: Uint8Array<ArrayBuffer>) => ({ number: 1, name, kind: 'image/jpeg', bytes: bytes.length, sha256: await sha(bytes), at: 7, removed: null });

vi.stubGlobal('fetch', async (path: string, request: RequestInit = {}) => {
  const method = request.method ?? 'GET';
  const name = decodeURIComponent(path.split('/photos')[1]?.slice(1) ?? '');
  asked.push(`${method} ${name}`.trim());
  const said = says?.(method);
  if (said === 'no line') throw new TypeError('no line');
  if (said) return said;
  const had = server.get(name);
  const headers = request.headers as Record<string, string>;
  if (method === 'PUT') {
    const bytes = new Uint8Array(await (request.body as Blob).arrayBuffer());
    server.set(name, bytes);
    return Response.json(await shape(name, bytes));
  }
  if (name === '') return Response.json({ photos: await Promise.all([...server].map(([each, bytes]) => shape(each, bytes))) });
  if (!had) return Response.json({ error: 'There is none.' }, { status: 404 });
  if (method === 'GET') return new Response(had, { headers: { etag: `"${await sha(had)}"`, 'content-type': 'image/jpeg' } });
  if (headers['if-match'] !== `"${await sha(had)}"`) return Response.json({ error: 'Another.', theirs: await shape(name, had) }, { status: 412 });
  server.delete(name);
  return Response.json(await shape(name, had));
});

let n = 0;
let job = '';
beforeEach(async () => {
  n += 1;
  job = `job-${n}`;
  server.clear();
  asked.length = 0;
  says = undefined;
  const kept: Kept = {
    id: job, title: '', address: '', customer: '', stage: 'walk_through', next_date: null, price: null, updated_at: 0,
    text: '', seq: 0, base: { revision: 1, text: '' }, waiting: false, pending: [], conflict: null, refused: null, steps: [''], step: 0,
  };
  await local.put(kept);
});

const bytes = (text: string) => new TextEncoder().encode(text);
const taken = (name: string, text: string) => take(job, name, 'image/jpeg', new Blob([bytes(text)]));
const photo = async (name: string) => (await local.photos(job)).find((each) => each.name === name);
const content = async (name: string) => (await photo(name))?.blob?.text();
const stands = async (name: string) => standing((await photo(name)) as local.Photo, false);
const go = (look = false) => carry(job, look, () => undefined);

test('a photo is kept without a line, goes up when it is there, and only once', async () => {
  says = () => 'no line';
  await taken('Meter', 'one');
  expect(await go()).toBe(0);
  expect(await stands('Meter')).toBe('here');
  expect(await local.jobsWithPhotosWaiting()).toContain(job);
  says = undefined;
  expect(await go()).toBe(200);
  expect(server.get('Meter')).toEqual(bytes('one'));
  expect(await stands('Meter')).toBe('kept');
  expect(await local.jobsWithPhotosWaiting()).not.toContain(job);
  expect(await go()).toBeNull();
});

test('a photo waits for its job', async () => {
  await local.update(job, (now) => ({ ...now, base: null }));
  await taken('Meter', 'one');
  expect(await go(true)).toBeNull();
  expect(asked).toEqual([]);
  expect(await stands('Meter')).toBe('here');
});

test('a photo that is taken again while the first goes up goes up too', async () => {
  await taken('Meter', 'one');
  let again: Promise<void> | undefined;
  says = (method) => {
    if (method === 'PUT') again ??= taken('Meter', 'two');
    return undefined;
  };
  await go();
  await again;
  expect(await stands('Meter')).toBe('here');
  await go();
  expect(server.get('Meter')).toEqual(bytes('two'));
  expect(await stands('Meter')).toBe('kept');
});

test('what the server refuses says why, stays, and is sent again only when that is asked for', async () => {
  await taken('Meter', 'one');
  says = () => Response.json({ error: 'The job is removed.', expected: 'a job in the list', advice: 'Restore it.' }, { status: 410 });
  await go();
  expect((await photo('Meter'))?.refused).toBe('The job is removed. Expected: a job in the list. Restore it.');
  expect([await stands('Meter'), await content('Meter')]).toEqual(['refused', 'one']);
  says = undefined;
  expect(await go()).toBeNull();
  await tryAgain(job, 'Meter');
  await go();
  expect([await stands('Meter'), server.size]).toEqual(['kept', 1]);
});

test('a photo of another device is known at once and here once it was looked at', async () => {
  server.set('Panel', bytes('theirs'));
  expect(await go(true)).toBe(200);
  expect([await stands('Panel'), await content('Panel')]).toEqual(['elsewhere', undefined]);
  await fetchPhoto((await photo('Panel')) as local.Photo);
  expect([await stands('Panel'), await content('Panel')]).toEqual(['kept', 'theirs']);
  server.set('Panel', bytes('taken again'));
  await go(true);
  expect([await stands('Panel'), await content('Panel')]).toEqual(['elsewhere', undefined]);
});

test('what is not on the server any more goes here too, but nothing that waits', async () => {
  await taken('Meter', 'one');
  await taken('Panel', 'two');
  await go();
  server.clear();
  says = (method) => (method === 'PUT' ? 'no line' : undefined);
  await taken('Panel', 'three');
  await go(true);
  says = (method) => (method === 'PUT' ? Response.json({ error: 'No.' }, { status: 415 }) : undefined);
  await go(true);
  expect(await photo('Meter')).toBeUndefined();
  expect(await content('Panel')).toBe('three');
});

test('a removal goes up; one that was never sent just goes; a photo that was not seen stays', async () => {
  await taken('Meter', 'one');
  await go();
  await remove(job, 'Meter');
  expect(await local.jobsWithPhotosWaiting()).toContain(job);
  await go();
  expect([server.size, await photo('Meter')]).toEqual([0, undefined]);

  await taken('Panel', 'two');
  await remove(job, 'Panel');
  asked.length = 0;
  await go();
  expect([asked, await photo('Panel')]).toEqual([[], undefined]);

  await taken('Meter', 'one');
  await go();
  server.set('Meter', bytes('of another device'));
  await remove(job, 'Meter');
  await go();
  expect([await stands('Meter'), server.size]).toEqual(['elsewhere', 1]);
});
