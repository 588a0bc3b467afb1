// The keyboard alone: from the list into a job, through its places, an entry and its undoing. The mouse is never used.
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { type Served, context, launch, reached, serve } from './harness';

let served: Served;
let browser: Browser;
beforeAll(async () => {
  [served, browser] = await Promise.all([serve(), launch()]);
});
afterAll(async () => {
  await browser?.close();
  await served?.stop();
});

/** Tabs until the element with the focus answers to this name; the focus must be visible all the way. */
async function tabTo(page: Page, name: RegExp, most = 200): Promise<void> {
  for (let n = 0; n < most; n += 1) {
    await page.keyboard.press('Tab');
    const now = await page.evaluate(() => {
      const at = document.activeElement as HTMLElement | null;
      if (!at || at === document.body) return { name: '', visible: true };
      const labels = 'labels' in at ? [...((at as HTMLInputElement).labels ?? [])].map((label) => label.textContent ?? '') : [];
      const style = getComputedStyle(at);
      const stroke = at instanceof SVGElement || style.outlineStyle !== 'none' || (at instanceof HTMLInputElement && at.type === 'file');
      const form = at.closest('form')?.getAttribute('aria-label');
      return { name: `${form ? `${form} > ` : ''}${at.getAttribute('aria-label') ?? [...labels, at.textContent ?? ''].join(' ').trim()}`.replace(/\s+/g, ' '), visible: stroke };
    });
    if (!now.visible) throw new Error(`the focus cannot be seen on \`${now.name}\``);
    if (name.test(now.name)) return;
  }
  throw new Error(`the keyboard does not reach ${name}`);
}

test('a new job, a circuit, its undoing, and every place, by keyboard', async () => {
  const { context: tab, wrong } = await context(browser, 'laptop');
  const page = await tab.newPage();
  await page.goto(served.origin);
  await page.locator('main h1').waitFor();
  await tabTo(page, /^New job$/);
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { name: 'Is the service itself touched?' }).waitFor();
  await tabTo(page, /Yes: service panel/);
  await page.keyboard.press('Space');
  await tabTo(page, /What do you call this job/);
  await page.keyboard.type('By keyboard');
  await tabTo(page, /^State/);
  await page.keyboard.type('OH');
  await tabTo(page, /Code edition/);
  await page.keyboard.type('2023');
  await tabTo(page, /Panel 1/);
  await page.keyboard.type('garage panel');
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { level: 1, name: 'Walk-through' }).waitFor();
  await page.getByRole('form', { name: 'Add circuit' }).waitFor();

  await tabTo(page, /^Add circuit > Spaces/);
  await page.keyboard.type('1');
  await page.keyboard.press('Tab');
  await page.keyboard.type('garage receptacles');
  await page.keyboard.press('Enter');
  await page.getByRole('button', { name: 'Details of garage receptacles' }).waitFor();
  // Enter leads on to the next circuit.
  await expect.poll(() => page.evaluate(() => (document.activeElement as HTMLInputElement).value)).toBe('');
  await page.keyboard.type('3');
  await page.keyboard.press('Tab');
  await page.keyboard.type('garage lights');
  await page.keyboard.press('Enter');
  await page.getByRole('button', { name: 'Details of garage lights' }).waitFor();
  await tabTo(page, /^Details of garage lights/);
  await page.keyboard.press('Control+z');
  await page.getByRole('button', { name: 'Details of garage lights' }).waitFor({ state: 'detached' });
  await page.keyboard.press('Control+Shift+z');
  await page.getByRole('button', { name: 'Details of garage lights' }).waitFor();
  const id = new URL(page.url()).pathname.split('/')[2] ?? '';
  await reached(served.origin, id, 'garage receptacles', 'garage lights');

  for (const name of ['Load', 'Feeder', 'Face', 'Move', 'Findings', 'Price', 'Papers', 'Cut-over', 'Proof', 'Hand-over']) {
    await page.locator('nav a').first().focus();
    await tabTo(page, new RegExp(`^\\d+ ${name}$`), 20);
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { level: 1, name, exact: true }).waitFor();
  }
  expect(wrong).toEqual([]);
  await tab.close();
});
