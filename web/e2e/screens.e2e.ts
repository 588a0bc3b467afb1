// Every screen in both sizes and schemes: no serious accessibility finding, nothing wider than the screen, no error; a picture of each to look at.
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Served, type Size, accessibility, context, demo, launch, serve } from './harness';

const PICTURES = process.env['LUGWRIGHT_PICTURES'] ?? join(import.meta.dirname, 'pictures');
const STAGES = ['walk-through', 'load', 'feeder', 'face', 'move', 'findings', 'price', 'papers', 'cut-over', 'proof', 'hand-over'];

let served: Served;
let browser: Browser;
let id = '';
beforeAll(async () => {
  mkdirSync(PICTURES, { recursive: true });
  [served, browser] = await Promise.all([serve(), launch()]);
  id = (await demo(served.origin, process.env['LUGWRIGHT_DEMO'] ?? '42 circuits')).id;
});
afterAll(async () => {
  await browser?.close();
  await served?.stop();
});

const paths = (): [string, string][] => [['jobs', '/'], ['new', '/new'], ...STAGES.map((stage): [string, string] => [stage, `/jobs/${id}/${stage}`])];

describe.each<Size>(['phone', 'laptop'])('%s', (size) => {
  test.each(['light', 'dark'] as const)('%s', async (colorScheme) => {
    const { context: tab, wrong } = await context(browser, size, { colorScheme, reducedMotion: 'reduce' });
    const page = await tab.newPage();
    const found: string[] = [];
    for (const [name, path] of paths()) {
      await page.goto(served.origin + path);
      await page.locator('main h1').waitFor();
      await page.waitForFunction(() => document.querySelectorAll('main progress, main [aria-busy="true"]').length === 0, null, { timeout: 60_000 });
      if (name === 'new') await page.getByLabel(/Not known yet/).check();
      found.push(...(await accessibility(page)).map((each) => `${name}: ${each}`));
      const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      if (over > 0) found.push(`${name}: ${over} px wider than the screen`);
      await page.screenshot({ path: join(PICTURES, `${name}-${size}-${colorScheme}.png`), fullPage: true });
    }
    expect(found).toEqual([]);
    expect(wrong).toEqual([]);
    await tab.close();
  });

  test('what can be touched is at least 44 px high', async () => {
    const { context: tab } = await context(browser, size);
    const page = await tab.newPage();
    const small: string[] = [];
    for (const [name, path] of paths()) {
      await page.goto(served.origin + path);
      await page.locator('main h1').waitFor();
      await page.waitForFunction(() => document.querySelectorAll('main progress, main [aria-busy="true"]').length === 0, null, { timeout: 60_000 });
      const found = await page.evaluate(() =>
        [...document.querySelectorAll<HTMLElement>('button, a.button, nav a, summary, select, input:not([type=checkbox], [type=radio], [type=file], [type=range])')]
          .filter((element) => element.checkVisibility({ visibilityProperty: true }) && !element.closest('.hidden-visually'))
          .filter((element) => element.getBoundingClientRect().height < 43.5)
          .map((element) => element.outerHTML.slice(0, 120)),
      );
      small.push(...found.slice(0, 3).map((each) => `${name}: ${each}`));
    }
    expect(small).toEqual([]);
    await tab.close();
  });
});
