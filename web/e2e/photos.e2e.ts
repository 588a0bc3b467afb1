// Photos of a job, in a real browser against the real program: kept without a line, carried when it is back, seen on another device.
// The judge is the server: the bytes it gives back, and the folder it keeps them in.
import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { deflateSync } from 'node:zlib';
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { accessibility, context, demo, launch, serve } from './harness';

let served: Awaited<ReturnType<typeof serve>>;
let browser: Browser;
let folder = '';
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'lugwright-photos-'));
  [served, browser] = await Promise.all([serve(), launch()]);
});
afterAll(async () => {
  await browser?.close();
  await served?.stop();
  rmSync(folder, { recursive: true, force: true });
});

/** CRC-32 as PNG wants it (ISO/IEC 15948, annex D). */
function crc(bytes: Buffer): number {
  let all = 0xffffffff;
  for (const byte of bytes) {
    all ^= byte;
    for (let n = 0; n < 8; n += 1) all = (all >>> 1) ^ (all & 1 ? 0xedb88320 : 0);
  }
  return (all ^ 0xffffffff) >>> 0;
}
function chunk(kind: string, data: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(kind), data]);
  const [length, check] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(data.length);
  check.writeUInt32BE(crc(body));
  return Buffer.concat([length, body, check]);
}
/** A picture of one grey, 40 by 30, that every browser shows. */
function picture(grey: number): Buffer {
  const size = Buffer.from([0, 0, 0, 40, 0, 0, 0, 30, 8, 0, 0, 0, 0]);
  const rows = Buffer.concat(Array.from({ length: 30 }, () => Buffer.from([0, ...Array.from<number>({ length: 40 }).fill(grey)])));
  return Buffer.concat([Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'), chunk('IHDR', size), chunk('IDAT', deflateSync(rows)), chunk('IEND', Buffer.alloc(0))]);
}
function file(name: string, bytes: Buffer): string {
  const path = join(folder, name);
  writeFileSync(path, bytes);
  return path;
}

const METER = 'Meter and service entrance';
const GROUNDING = 'Electrodes and their conductors';
const slot = (page: Page, name: string): Locator => page.getByRole('listitem').filter({ hasText: name, has: page.locator('input[type=file]') });
const choose = (page: Page, name: string, path: string) => slot(page, name).locator('input[type=file]').setInputFiles(path);
const stands = (page: Page, name: string, state: string) => slot(page, name).locator(`[data-photo="${state}"]`).waitFor({ timeout: 30_000 });
/** The picture is there and can be drawn. */
const drawn = (page: Page, name: string) =>
  expect.poll(() => slot(page, name).locator('img').evaluateAll((all) => all.map((img) => (img as HTMLImageElement).naturalWidth))).toEqual([40]);

async function open(page: Page, id: string): Promise<void> {
  await page.goto(`${served.origin}/jobs/${id}/walk-through`);
  await unfold(page);
}
async function unfold(page: Page): Promise<void> {
  await page.getByText('Photos', { exact: true }).click();
  await slot(page, METER).waitFor();
}
const there = async (id: string, name: string) => {
  const answer = await fetch(`${served.origin}/api/v1/jobs/${id}/photos/${encodeURIComponent(name)}`);
  return answer.ok ? Buffer.from(await answer.arrayBuffer()) : null;
};

test('photos taken with and without a line go to the job, and another device sees them and keeps them', async () => {
  const { id } = await demo(served.origin, '42 circuits');
  const { context: tab, wrong } = await context(browser, 'phone');
  const page = await tab.newPage();
  await open(page, id);
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await page.reload();
  await unfold(page);
  const [light, dark] = [picture(200), picture(60)];
  await choose(page, METER, file('meter.png', light));
  await stands(page, METER, 'kept');
  await drawn(page, METER);
  expect(await there(id, METER)).toEqual(light);

  await tab.setOffline(true);
  await choose(page, GROUNDING, file('grounding.png', dark));
  await stands(page, GROUNDING, 'here');
  await page.reload();
  await unfold(page);
  await stands(page, GROUNDING, 'here');
  await drawn(page, GROUNDING);
  expect(await there(id, GROUNDING)).toBeNull();
  await tab.setOffline(false);
  await stands(page, GROUNDING, 'kept');
  expect(await there(id, GROUNDING)).toEqual(dark);

  const { context: other, wrong: wrongThere } = await context(browser, 'laptop');
  const second = await other.newPage();
  await open(second, id);
  await second.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  for (const name of [METER, GROUNDING]) {
    await slot(second, name).scrollIntoViewIfNeeded();
    await stands(second, name, 'kept');
    await drawn(second, name);
  }
  // Seen once, they are there without a line too.
  await second.reload();
  await other.setOffline(true);
  await second.reload();
  await unfold(second);
  await drawn(second, METER);
  await other.setOffline(false);

  // Taken away on one device, it goes on the other; the file of it stays in the data folder.
  await second.getByRole('button', { name: `Remove the photo ${METER}` }).click();
  await expect.poll(() => there(id, METER)).toBeNull();
  await page.reload();
  await unfold(page);
  await expect.poll(() => slot(page, METER).locator('img').count()).toBe(0);
  await stands(page, GROUNDING, 'kept');
  // It can take its place again.
  await page.getByText('Taken again or removed', { exact: true }).click();
  await page.getByRole('button', { name: `Bring back ${METER}` }).click();
  await stands(page, METER, 'kept');
  await drawn(page, METER);
  expect(await there(id, METER)).toEqual(light);
  expect(await accessibility(page)).toEqual([]);
  const files = readdirSync(join(served.data, 'photos'));
  expect(files.map((each) => readFileSync(join(served.data, 'photos', each))).sort(Buffer.compare)).toEqual([light, dark].sort(Buffer.compare));
  expect([wrong, wrongThere]).toEqual([[], []]);
  await tab.close();
  await other.close();
});

test('a text file that is called .jpg is refused with words, here and by the server, and the photo that was there stays', async () => {
  const { id } = await demo(served.origin, '42 circuits');
  const { context: tab } = await context(browser, 'phone');
  const page = await tab.newPage();
  await open(page, id);
  const grey = picture(120);
  await choose(page, METER, file('meter-again.png', grey));
  await stands(page, METER, 'kept');
  const text = Buffer.from('this is a shopping list, whatever its name says');
  await choose(page, METER, file('list.jpg', text));
  const said = await slot(page, METER).getByRole('alert').innerText();
  expect(said).toContain('no photo');
  expect(said).toContain('JPEG, PNG, WebP or HEIC');
  await drawn(page, METER);
  const answer = await fetch(`${served.origin}/api/v1/jobs/${id}/photos/list`, { method: 'PUT', headers: { 'content-type': 'image/jpeg' }, body: text });
  expect(answer.status).toBe(415);
  expect(await there(id, METER)).toEqual(grey);
  await tab.close();
});

test('a photo that the server refuses says why and stays, and goes up once that is mended', async () => {
  const { id } = await demo(served.origin, '42 circuits');
  const { context: tab } = await context(browser, 'laptop');
  const page = await tab.newPage();
  await open(page, id);
  expect((await fetch(`${served.origin}/api/v1/jobs/${id}`, { method: 'DELETE' })).status).toBe(200);
  await choose(page, GROUNDING, file('late.png', picture(90)));
  await stands(page, GROUNDING, 'refused');
  expect(await slot(page, GROUNDING).innerText()).toContain('The job is removed.');
  await drawn(page, GROUNDING);
  expect(await accessibility(page)).toEqual([]);
  expect((await fetch(`${served.origin}/api/v1/jobs/${id}/restore`, { method: 'POST' })).status).toBe(200);
  await page.getByRole('button', { name: `Try again to send the photo ${GROUNDING}` }).click();
  await stands(page, GROUNDING, 'kept');
  expect(await there(id, GROUNDING)).toEqual(picture(90));
  await tab.close();
});

test('a photo that this browser cannot show is kept, with quiet words in place of a broken picture', async () => {
  const { id } = await demo(served.origin, '42 circuits');
  const { context: tab } = await context(browser, 'phone');
  const page = await tab.newPage();
  await open(page, id);
  const heic = Buffer.concat([Buffer.from('\0\0\0\x18ftypheic\0\0\0\0mif1heic', 'latin1'), Buffer.alloc(400, 7)]);
  await choose(page, METER, file('meter.heic', heic));
  await stands(page, METER, 'kept');
  await slot(page, METER).getByText('HEIC: kept, no preview here').waitFor();
  expect(await slot(page, METER).locator('img').count()).toBe(0);
  expect(await there(id, METER)).toEqual(heic);
  await tab.close();
});
