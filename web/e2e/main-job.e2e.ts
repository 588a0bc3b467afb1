// The whole main job, from the first question to a printed permit set, on a phone and on a laptop.
import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { type Served, type Size, context, go, job, launch, reached, saved, serve } from './harness';

let served: Served;
let browser: Browser;
beforeAll(async () => {
  [served, browser] = await Promise.all([serve(), launch()]);
});
afterAll(async () => {
  await browser?.close();
  await served?.stop();
});

const CIRCUITS = [
  ['1', 'north bedroom receptacles', '15', '14 Cu'],
  ['3', 'kitchen counter, left of the sink', '20', '12 Cu'],
  ['5', 'hall bathroom receptacles', '20', '12 Cu'],
] as const;

async function interview(page: Page): Promise<string> {
  await page.goto(served.origin);
  await page.getByRole('link', { name: 'New job' }).click();
  await page.getByLabel(/No: only what hangs on it/).check();
  await page.getByLabel('What do you call this job?').fill('Closet panel to the hall');
  await page.getByLabel('Why now?').fill('Insurer');
  await page.getByLabel('Address').fill('12 Rill Lane, Fernbrook');
  await page.getByLabel('Kind of dwelling').selectOption('one_family');
  await page.getByLabel(/Living area/).fill('1240');
  await page.getByLabel('State').fill('OH');
  await page.getByLabel('Code edition in force there').selectOption('2023');
  await page.getByLabel('Panel 1: what you call it').fill('closet panel');
  await page.getByLabel(/Bus rating/).fill('150');
  await page.getByRole('button', { name: 'Start the walk-through' }).click();
  await page.getByRole('heading', { level: 1, name: 'Walk-through' }).waitFor();
  const id = new URL(page.url()).pathname.split('/')[2];
  if (!id) throw new Error('no job in the address');
  return id;
}

async function walk(page: Page): Promise<void> {
  for (const [spaces, serves, amps, wire] of CIRCUITS) {
    await page.getByLabel('Spaces', { exact: true }).first().waitFor();
    const entry = page.getByRole('form', { name: 'Add circuit' });
    await entry.getByLabel('Spaces').fill(spaces);
    await entry.getByLabel('What it serves').fill(serves);
    await entry.getByRole('textbox', { name: 'Amperes' }).fill(amps);
    await entry.getByLabel('Wire').selectOption(wire);
    await entry.getByLabel('What it serves').press('Enter');
    await page.getByRole('button', { name: `Details of ${serves}` }).waitFor();
  }
}

test.each<Size>(['phone', 'laptop'])('from the first question to a printed permit set (%s)', async (size) => {
  const { context: tab, wrong } = await context(browser, size, { acceptDownloads: true });
  const page = await tab.newPage();
  const id = await interview(page);
  await walk(page);
  await reached(served.origin, id, ...CIRCUITS.map(([, serves]) => serves));
  await saved(page);
  expect((await job(served.origin, id)).title).toBe('Closet panel to the hall');

  for (const [path, name] of [['load', 'Load'], ['feeder', 'Feeder'], ['face', 'Face'], ['move', 'Move'], ['findings', 'Findings'], ['price', 'Price'], ['cut-over', 'Cut-over'], ['papers', 'Papers']] as const) {
    await go(page, `/jobs/${id}/${path}`);
    await page.getByRole('heading', { level: 1, name, exact: true }).waitFor();
    expect(await page.locator('[aria-busy="true"], progress').count().then(async (n) => (n > 0 ? page.waitForFunction(() => document.querySelectorAll('main progress').length === 0).then(() => 0) : 0))).toBe(0);
  }
  await page.getByLabel(/Permit set/).check();
  await page.getByRole('button', { name: 'Show it' }).click();
  const link = page.getByRole('link', { name: 'Download Permit set' });
  await link.waitFor({ timeout: 60_000 });
  const [download] = await Promise.all([page.waitForEvent('download'), link.click()]);
  const bytes = readFileSync(await download.path());
  expect(bytes.subarray(0, 5).toString()).toBe('%PDF-');
  expect(bytes.length).toBeGreaterThan(20_000);
  expect(wrong).toEqual([]);
  await tab.close();
});
