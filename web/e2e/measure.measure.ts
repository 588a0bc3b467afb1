// Measures the app in Chromium and prints JSON: size of the first load and of the rest of the engine, time until it can be used at a quarter of the speed,
// recalculation of the 42-circuit job, frames while a panel is dragged along the wall. Prints; asserts no times.
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { CDPSession, Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { context, demo, launch, serve } from './harness';

const median = (all: number[]) => [...all].sort((a, b) => a - b)[Math.floor(all.length / 2)] ?? NaN;
const round = (value: number) => Math.round(value * 100) / 100;

/** Bytes over the line until nothing is fetched any more, by kind, before the service worker fetches for later. */
async function firstLoad(page: Page, wire: CDPSession, address: string): Promise<Record<string, number>> {
  const bytes: Record<string, number> = {};
  const names = new Map<string, string>();
  wire.on('Network.responseReceived', (event) => names.set(event.requestId, new URL(event.response.url).pathname));
  wire.on('Network.loadingFinished', (event) => {
    const name = names.get(event.requestId);
    if (!name || name.startsWith('/api/')) return;
    const kind = name.endsWith('.wasm') ? name.slice(1) : 'app';
    bytes[kind] = (bytes[kind] ?? 0) + event.encodedDataLength;
  });
  await wire.send('Network.enable');
  await page.goto(address, { waitUntil: 'networkidle' });
  return bytes;
}

test('measure', async () => {
  const [served, browser] = await Promise.all([serve(), launch()]);
  const result: Record<string, unknown> = {};
  try {
    const { id } = await demo(served.origin, '42 circuits');

    {
      const { context: tab } = await context(browser, 'laptop', { serviceWorkers: 'block' });
      const page = await tab.newPage();
      const bytes = await firstLoad(page, await tab.newCDPSession(page), `${served.origin}/`);
      await expect.poll(() => bytes['engine.wasm'], { timeout: 30_000 }).toBeGreaterThan(0);
      const [app, engine, later] = [bytes['app'] ?? 0, bytes['engine-first.wasm'] ?? 0, bytes['engine.wasm'] ?? 0];
      expect(app).toBeGreaterThan(0);
      expect(engine).toBeGreaterThan(0);
      result['first_load_bytes'] = { app, engine, together: app + engine, whole_engine_later: later };
      await tab.close();
    }

    const ready: Record<string, number[]> = {};
    for (const [name, path, sign] of [['list', '/', 'main li a'], ['load_with_engine', `/jobs/${id}/load`, 'main table td']] as const) {
      for (let turn = 0; turn < 5; turn += 1) {
        const { context: tab } = await context(browser, 'phone', { serviceWorkers: 'block' });
        const page = await tab.newPage();
        const wire = await tab.newCDPSession(page);
        await wire.send('Emulation.setCPUThrottlingRate', { rate: 4 });
        await page.addInitScript((selector) => {
          const look = () => {
            if (document.querySelector(selector)) (window as unknown as { ready: number }).ready = performance.now();
            else requestAnimationFrame(look);
          };
          look();
        }, sign);
        await page.goto(served.origin + path);
        const at = await page.waitForFunction(() => (window as unknown as { ready?: number }).ready, null, { timeout: 60_000 });
        (ready[name] ??= []).push(round(await at.jsonValue() ?? NaN));
        await tab.close();
      }
    }
    result['ready_ms_at_4x_slowdown'] = Object.fromEntries(Object.entries(ready).map(([name, all]) => [name, { median: median(all), all }]));

    {
      const { context: tab } = await context(browser, 'laptop', { serviceWorkers: 'block' });
      const page = await tab.newPage();
      await page.goto(served.origin);
      const text = (await demo(served.origin, '42 circuits')).text;
      // The engine alone, as the workers run it; each time another text, so that nothing can be remembered.
      const times = await page.evaluate(async (job) => {
        type Engine = { memory: WebAssembly.Memory; alloc(n: number): number; call(p: number, n: number): number; release(p: number, n: number): void };
        const start = async (file: string) => (await WebAssembly.instantiateStreaming(fetch(file))).instance.exports as unknown as Engine;
        const [first, whole] = [await start('/engine-first.wasm'), await start('/engine.wasm')];
        const call = (question: { command: string; [entry: string]: unknown }) => {
          const engine = question.command === 'price' ? whole : first;
          const bytes = new TextEncoder().encode(JSON.stringify(question));
          const place = engine.alloc(bytes.length);
          new Uint8Array(engine.memory.buffer, place, bytes.length).set(bytes);
          const answer = engine.call(place, bytes.length);
          engine.release(place, bytes.length);
          const length = new DataView(engine.memory.buffer).getUint32(answer, true);
          const said = new TextDecoder().decode(new Uint8Array(engine.memory.buffer, answer + 4, length));
          engine.release(answer, length + 4);
          return said;
        };
        const all: Record<string, number[]> = {};
        const from = performance.now();
        call({ command: 'check', job });
        const cold = performance.now() - from;
        for (let turn = 0; turn < 60; turn += 1) {
          const other = job.replace(/^title = "/m, `title = "${turn} `);
          for (const command of ['check', 'price', 'read', 'edit']) {
            const start = performance.now();
            call({ command, job: other, ...(command === 'edit' ? { edits: [{ at: ['reason'], to: `turn ${turn}` }] } : {}) });
            (all[command] ??= []).push(performance.now() - start);
          }
        }
        return { cold, all };
      }, text);
      result['engine_ms_42_circuits'] = { first: round(times.cold), ...Object.fromEntries(Object.entries(times.all).map(([name, all]) => [name, round(median(all))])) };
      await tab.close();
    }

    {
      const moving = await demo(served.origin, 'to the hall');
      const { context: tab } = await context(browser, 'laptop', { serviceWorkers: 'block' });
      const page = await tab.newPage();
      await page.goto(`${served.origin}/jobs/${moving.id}/move`);
      const handle = page.locator('main svg [role="slider"] .body').first();
      await handle.waitFor({ timeout: 60_000 });
      const box = await handle.boundingBox();
      if (!box) throw new Error('the panel is not drawn');
      const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
      await page.evaluate(() => {
        const store = window as unknown as { frames: number[] };
        store.frames = [];
        const tick = (at: number) => {
          store.frames.push(at);
          requestAnimationFrame(tick);
        };
        requestAnimationFrame(tick);
      });
      await page.mouse.move(x, y);
      await page.mouse.down();
      const from = await page.evaluate(() => performance.now());
      for (let turn = 0; turn < 180; turn += 1) await page.mouse.move(x + Math.sin(turn / 14) * 220, y);
      const to = await page.evaluate(() => performance.now());
      await page.mouse.up();
      const frames = await page.evaluate(([a, b]) => (window as unknown as { frames: number[] }).frames.filter((at) => at >= a! && at <= b!), [from, to]);
      const gaps = frames.slice(1).map((at, n) => at - (frames[n] ?? at));
      result['drag_in_move'] = { frames_a_second: round((frames.length - 1) / ((to - from) / 1000)), longest_frame_ms: round(Math.max(...gaps)), median_frame_ms: round(median(gaps)) };
      await tab.close();
    }
  } finally {
    await browser.close();
    await served.stop();
  }
  mkdirSync(join(import.meta.dirname, 'results'), { recursive: true });
  writeFileSync(join(import.meta.dirname, 'results', 'measured.json'), `${JSON.stringify(result, null, 2)}\n`);
  console.log(JSON.stringify(result, null, 2));
});
