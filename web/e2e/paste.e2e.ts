// Rows from a spreadsheet become circuits, all of them or none. The judge is the text of the job on the server.
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { type Served, context, demo, job, launch, reached, saved, serve } from './harness';

let served: Served;
let browser: Browser;
beforeAll(async () => {
  [served, browser] = await Promise.all([serve(), launch()]);
});
afterAll(async () => {
  await browser?.close();
  await served?.stop();
});

const rows = (page: Page) => page.getByRole('textbox', { name: 'Rows', exact: true });
async function look(page: Page, lines: string[][]): Promise<void> {
  await rows(page).fill(lines.map((line) => line.join('\t')).join('\n'));
  await page.getByRole('button', { name: 'Look at them first' }).click();
}

test.each(['phone', 'laptop'] as const)('a paste makes its circuits; with one wrong row it says which, and makes none (%s)', async (size) => {
  const { id } = await demo(served.origin, '42 circuits');
  const { context: tab, wrong } = await context(browser, size);
  const page = await tab.newPage();
  await page.goto(`${served.origin}/jobs/${id}/walk-through`);
  await page.getByText('Paste from a spreadsheet', { exact: true }).click();
  const before = await job(served.origin, id);

  const head = ['space', 'serves', 'amps', 'poles', 'colour of the door'];
  await look(page, [head, ['51', `porch lamp ${size}`, '15', '1', 'red'], ['53', `pond pump ${size}`, 'twenty', '1', 'red']]);
  const alert = page.getByRole('alert').filter({ hasText: 'Nothing is taken over' });
  await alert.waitFor();
  // Counted as a spreadsheet does: the header line is row 1.
  const table = page.locator('table').filter({ hasText: 'pond pump' });
  expect(await table.innerText()).toContain('Row 3, amps: `twenty`. Expected: amperes');
  expect(await table.innerText()).not.toContain('Row 2');
  expect(await page.getByRole('button', { name: /^Take over/ }).count()).toBe(0);
  expect(await page.getByRole('button', { name: 'Undo', exact: true }).isDisabled()).toBe(true);

  await look(page, [head, ['51', `porch lamp ${size}`, '15', '1', 'red'], ['53', `pond pump ${size}`, '20', '1', 'red']]);
  await page.getByText('Columns left out').waitFor();
  await page.getByRole('button', { name: 'Take over 2 circuits' }).click();
  await reached(served.origin, id, `porch lamp ${size}`, `pond pump ${size}`);
  await saved(page);
  const { text, revision } = await job(served.origin, id);
  expect(revision, 'the refused paste was no save').toBe(before.revision + 1);
  for (const [serves, amps] of [[`porch lamp ${size}`, 15], [`pond pump ${size}`, 20]] as const) {
    const entry = text.split(/\n(?=\[)/).find((part) => part.includes(serves));
    expect(entry, serves).toMatch(new RegExp(`amps\\s*=.*\\b${amps}\\b`));
  }
  await page.getByRole('button', { name: `Details of porch lamp ${size}` }).waitFor();
  // One step in the history: a single undo takes both back.
  await page.getByRole('button', { name: 'Undo: Pasted 2 circuits' }).click();
  await expect.poll(async () => (await job(served.origin, id)).text.includes(`lamp ${size}`)).toBe(false);
  expect((await job(served.origin, id)).text).toBe(before.text);
  expect(wrong).toEqual([]);
  await tab.close();
});
