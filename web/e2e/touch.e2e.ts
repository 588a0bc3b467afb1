// A finger finds what it is to touch: on a phone, on every screen of every demo job, with everything unfolded that can be.
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { type Served, context, demo, jobs, launch, serve } from './harness';

const STAGES = ['walk-through', 'load', 'feeder', 'face', 'move', 'findings', 'price', 'papers', 'cut-over', 'proof', 'hand-over'];

let served: Served;
let browser: Browser;
beforeAll(async () => {
  [served, browser] = await Promise.all([serve(), launch()]);
});
afterAll(async () => {
  await browser?.close();
  await served?.stop();
});

/** What is too small for a finger: less than 44 by 24 px either way up, or lower than 44 px with something else to touch nearer than that. */
function tooSmall(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const TOUCH = 43.5;
    const all = [...document.querySelectorAll<HTMLElement>('button, a[href], summary, select, textarea, input, label.button, [role="button"], [role="slider"], [tabindex="0"]:is(svg *)')]
      .filter((element) => element.checkVisibility({ visibilityProperty: true, contentVisibilityAuto: true }) && !element.closest('.hidden-visually, .skip'))
      // A link in the middle of a sentence is as high as the sentence.
      .filter((element) => !(element.tagName === 'A' && getComputedStyle(element).display === 'inline' && (element.parentElement?.textContent ?? '').trim().length > (element.textContent ?? '').trim().length));
    const boxes = all.map((element) => {
      // What is touched of a breaker in a drawing is its body, of a panel on a wall the column it stands in; of a tick, its label too.
      const body = element instanceof SVGElement ? (element.querySelector('.grip, .body') ?? element.querySelector('rect') ?? element) : element;
      const label = element instanceof HTMLInputElement && ['checkbox', 'radio'].includes(element.type) ? element.closest('label') : null;
      return { element, box: (label ?? body).getBoundingClientRect() };
    }).filter(({ box }) => box.width > 0 && box.height > 0);
    const middle = (box: DOMRect) => ({ x: box.x + box.width / 2, y: box.y + box.height / 2 });
    const small = boxes.filter(({ element, box }) => {
      if (Math.max(box.width, box.height) < TOUCH || Math.min(box.width, box.height) < 24) return true;
      if (box.height >= TOUCH) return false;
      const at = middle(box);
      return boxes.some((other) => other.element !== element && !other.element.contains(element) && !element.contains(other.element)
        && Math.hypot(middle(other.box).x - at.x, middle(other.box).y - at.y) < TOUCH);
    });
    return small.map(({ element, box }) => `${Math.round(box.width)} x ${Math.round(box.height)}: ${element.outerHTML.replace(/\s+/g, ' ').slice(0, 140)}`);
  });
}

async function settled(page: Page): Promise<void> {
  await page.waitForFunction(() => document.querySelectorAll('main progress, main [aria-busy="true"]').length === 0, null, { timeout: 60_000 });
}

test('the judge sees what is small, and lets a link in a sentence be', async () => {
  const { context: tab } = await context(browser, 'phone');
  const page = await tab.newPage();
  await page.setContent(`<p>words <a href="/">and a link</a></p><button style="height:20px;width:90px">low</button>
    <div style="margin:80px 0;display:flex;gap:4px"><button style="height:30px;width:44px">one</button><button style="height:30px;width:30px">two</button></div>
    <button style="height:30px;width:90px;margin:80px">alone</button><button style="height:44px;width:44px">right</button>`);
  const found = await tooSmall(page);
  expect(found.map((each) => />(\w+)<\/button>/.exec(each)?.[1])).toEqual(['low', 'one', 'two']);
  await tab.close();
});

test('everything that can be touched on a phone is large enough', async () => {
  const { context: tab } = await context(browser, 'phone', { reducedMotion: 'reduce' });
  const page = await tab.newPage();
  const small = new Set<string>();
  const all = await jobs(served.origin);
  expect(all.length).toBeGreaterThan(3);
  for (const path of ['/', '/new', ...all.flatMap(({ id }) => STAGES.map((stage) => `/jobs/${id}/${stage}`))]) {
    await page.goto(served.origin + path);
    await page.locator('main h1').waitFor();
    await settled(page);
    await page.evaluate(() => document.querySelectorAll('details').forEach((each) => (each.open = true)));
    await settled(page);
    const where = path.split('/').at(-1) || 'jobs';
    for (const each of await tooSmall(page)) small.add(`${where}: ${each}`);
  }
  expect([...small]).toEqual([]);
  await tab.close();
});

test('a breaker that is dragged with a finger goes to the space under it', async () => {
  const { id } = await demo(served.origin, '42 circuits');
  const { context: tab } = await context(browser, 'phone', { reducedMotion: 'reduce' });
  const page = await tab.newPage();
  await page.goto(`${served.origin}/jobs/${id}/face`);
  const planned = page.locator('figure').filter({ hasText: 'As planned' });
  const sump = planned.getByRole('button', { name: /^sump/ });
  await sump.waitFor();
  expect(await sump.getAttribute('aria-label')).toMatch(/\b39\b/);
  const crawl = planned.getByRole('button', { name: /^crawl/ });
  // The free space 40 is one row below `crawl` in 38.
  await sump.locator('.body').evaluate((body) => body.scrollIntoView({ block: 'center' }));
  const [from, above] = [await sump.locator('.body').boundingBox(), await crawl.locator('.body').boundingBox()];
  if (!from || !above) throw new Error('not drawn');
  expect(from.height).toBeGreaterThanOrEqual(43.5);
  const pitch = from.y - above.y;
  await page.mouse.move(from.x + from.width / 2, from.y + from.height / 2);
  await page.mouse.down();
  await page.mouse.move(above.x + above.width / 2, above.y + above.height / 2 + pitch, { steps: 8 });
  await page.mouse.up();
  await expect.poll(() => sump.getAttribute('aria-label')).toMatch(/\b40\b/);
  await tab.close();
});
