// Nothing that was entered is lost: without a line, on a reload in the middle of an edit, with two tabs, with two devices.
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { context, demo, job, launch, reached, saved, serve } from './harness';

let served: Awaited<ReturnType<typeof serve>>;
let browser: Browser;
beforeAll(async () => {
  [served, browser] = await Promise.all([serve(), launch()]);
});
afterAll(async () => {
  await browser?.close();
  await served?.stop();
});

const reason = (page: Page) => page.getByLabel('Why now', { exact: true });
async function say(page: Page, text: string): Promise<void> {
  await reason(page).fill(text);
  await reason(page).press('Tab');
}
/** Opens the part of the walk-through that holds title, reason and place. */
async function unfold(page: Page): Promise<void> {
  await page.getByText('This job', { exact: true }).click();
  await reason(page).waitFor();
}
async function open(page: Page, id: string): Promise<void> {
  await page.goto(`${served.origin}/jobs/${id}/walk-through`);
  await unfold(page);
}

test('the line goes in the middle and comes back: the app starts without it, and what was entered goes up', async () => {
  const { id } = await demo(served.origin, '42 circuits');
  const { context: tab, wrong } = await context(browser, 'phone');
  const page = await tab.newPage();
  await open(page, id);
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await page.reload();
  await unfold(page);
  await tab.setOffline(true);
  await say(page, 'entered in the basement');
  await saved(page, 'waiting');
  // The whole app anew, without a line.
  await page.reload();
  await unfold(page);
  expect(await reason(page).inputValue()).toBe('entered in the basement');
  await page.goto(`${served.origin}/jobs/${id}/load`);
  await page.getByRole('heading', { level: 1, name: 'Load' }).waitFor();
  await page.getByText('VA').first().waitFor();
  expect((await job(served.origin, id)).text).not.toContain('entered in the basement');
  await tab.setOffline(false);
  await reached(served.origin, id, 'entered in the basement');
  await saved(page);
  expect(wrong).toEqual([]);
  await tab.close();
});

test('the server is gone for a while: edits wait and go up when it is there again', async () => {
  const { id } = await demo(served.origin, '42 circuits');
  const { context: tab } = await context(browser, 'laptop');
  const page = await tab.newPage();
  await open(page, id);
  await served.halt();
  await say(page, 'entered while the server slept');
  await saved(page, 'waiting');
  served = await serve({ port: served.port, data: served.data });
  await reached(served.origin, id, 'entered while the server slept');
  await saved(page);
  await tab.close();
});

test('a reload right after an edit finds it, and undo still knows the step', async () => {
  const { id } = await demo(served.origin, '42 circuits');
  const { context: tab } = await context(browser, 'laptop');
  const page = await tab.newPage();
  await open(page, id);
  const before = await reason(page).inputValue();
  await say(page, 'written just before the reload');
  await page.getByRole('button', { name: 'Undo: Why now' }).waitFor();
  await page.reload();
  await unfold(page);
  expect(await reason(page).inputValue()).toBe('written just before the reload');
  await page.getByRole('button', { name: 'Undo: Why now' }).click();
  await expect.poll(() => reason(page).inputValue()).toBe(before);
  await page.getByRole('button', { name: 'Redo: Why now' }).click();
  await expect.poll(() => reason(page).inputValue()).toBe('written just before the reload');
  await reached(served.origin, id, 'written just before the reload');
  await tab.close();
});

test('two tabs on one job: each shows what the other enters, and nothing is lost', async () => {
  const { id } = await demo(served.origin, '42 circuits');
  const { context: tab } = await context(browser, 'laptop');
  const [one, two] = [await tab.newPage(), await tab.newPage()];
  await open(one, id);
  await open(two, id);
  await Promise.all([say(one, 'from the first tab'), (async () => {
    await two.getByLabel('Utility', { exact: true }).fill('Second Tab Power');
    await two.getByLabel('Utility', { exact: true }).press('Tab');
  })()]);
  await expect.poll(() => reason(two).inputValue()).toBe('from the first tab');
  await expect.poll(() => one.getByLabel('Utility', { exact: true }).inputValue()).toBe('Second Tab Power');
  await reached(served.origin, id, 'from the first tab', 'Second Tab Power');
  await saved(one);
  await saved(two);
  await tab.close();
});

test('two devices change one job: both versions are shown, and laying one over the other keeps both', async () => {
  const { id } = await demo(served.origin, '42 circuits');
  const here = await context(browser, 'laptop');
  const there = await context(browser, 'phone');
  const [mine, theirs] = [await here.context.newPage(), await there.context.newPage()];
  await open(mine, id);
  await open(theirs, id);
  await here.context.setOffline(true);
  await say(mine, 'from the laptop');
  await saved(mine, 'waiting');
  await theirs.getByLabel('Utility', { exact: true }).fill('Phone Power');
  await theirs.getByLabel('Utility', { exact: true }).press('Tab');
  await reached(served.origin, id, 'Phone Power');
  await here.context.setOffline(false);
  await saved(mine, 'conflict');
  const shown = mine.getByRole('region', { name: 'This job was changed in two places' });
  expect(await shown.innerText()).toContain('from the laptop');
  expect(await shown.innerText()).toContain('Phone Power');
  await mine.getByRole('button', { name: 'Lay my changes over theirs' }).click();
  await reached(served.origin, id, 'from the laptop', 'Phone Power');
  await saved(mine);
  await here.context.close();
  await there.context.close();
});

test('choosing theirs keeps mine one step back', async () => {
  const { id } = await demo(served.origin, '42 circuits');
  const { context: tab } = await context(browser, 'laptop');
  const page = await tab.newPage();
  await open(page, id);
  await tab.setOffline(true);
  await say(page, 'mine, to be taken back');
  await saved(page, 'waiting');
  const now = await job(served.origin, id);
  const text = now.text.replace(/^reason = .*$/m, 'reason = "theirs"');
  const put = await fetch(`${served.origin}/api/v1/jobs/${id}`, { method: 'PUT', headers: { 'content-type': 'application/json', 'if-match': `"${now.revision}"` }, body: JSON.stringify({ text, by: 'office' }) });
  expect(put.status).toBe(200);
  await tab.setOffline(false);
  await saved(page, 'conflict');
  await page.getByRole('button', { name: 'Go on with theirs' }).click();
  await saved(page);
  await expect.poll(() => reason(page).inputValue()).toBe('theirs');
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect.poll(() => reason(page).inputValue()).toBe('mine, to be taken back');
  await reached(served.origin, id, 'mine, to be taken back');
  await tab.close();
});
