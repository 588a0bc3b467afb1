// Starts the real program on a free port with a fresh folder, and a real browser.
// LUGWRIGHT_BIN is the program (with the built app in it), CHROMIUM the browser.
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import axe from 'axe-core';
import { type Browser, type BrowserContext, type BrowserContextOptions, type Page, chromium } from 'playwright-core';

export const SIZES = {
  phone: { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2 },
  laptop: { viewport: { width: 1280, height: 800 } },
} as const;
export type Size = keyof typeof SIZES;

export type Served = { origin: string; stop: () => Promise<void> };

const pause = (ms: number) => new Promise((yes) => setTimeout(yes, ms));

function freePort(): Promise<number> {
  return new Promise((yes, no) => {
    const server = createServer();
    server.once('error', no);
    server.listen(0, '127.0.0.1', () => {
      const address = server.address();
      server.close(() => (typeof address === 'object' && address ? yes(address.port) : no(new Error('no port'))));
    });
  });
}

/** A running program. `port` and `data` start it again where it was. */
export async function serve(again?: { port: number; data: string }): Promise<Served & { port: number; data: string; halt: () => Promise<void> }> {
  const program = process.env['LUGWRIGHT_BIN'];
  if (!program) throw new Error('LUGWRIGHT_BIN must name the program: build the web app, then the program, then run again');
  const port = again?.port ?? (await freePort());
  const data = again?.data ?? mkdtempSync(join(tmpdir(), 'lugwright-e2e-'));
  const origin = `http://127.0.0.1:${port}`;
  let said = '';
  const child: ChildProcess = spawn(program, ['serve', '--data', data, '--port', String(port)], { stdio: ['ignore', 'pipe', 'pipe'] });
  child.stdout?.on('data', (text: Buffer) => (said += text.toString()));
  child.stderr?.on('data', (text: Buffer) => (said += text.toString()));
  for (let turn = 0; ; turn += 1) {
    if (child.exitCode !== null) throw new Error(`the program ended at once: ${said}`);
    const answer = await fetch(`${origin}/health`).catch(() => null);
    if (answer?.ok) break;
    if (turn > 300) throw new Error(`the program does not answer: ${said}`);
    await pause(100);
  }
  const halt = async () => {
    if (child.exitCode !== null) return;
    const ended = new Promise((yes) => child.once('exit', yes));
    child.kill('SIGTERM');
    await ended;
  };
  const stop = async () => {
    await halt();
    rmSync(data, { recursive: true, force: true });
  };
  return { origin, port, data, halt, stop };
}

export function launch(): Promise<Browser> {
  return chromium.launch({ executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium', args: process.getuid?.() === 0 ? ['--no-sandbox'] : [] });
}

/** A context whose pages report what went wrong in them: an error in the page or a refused load fails the test. */
export async function context(browser: Browser, size: Size, more: BrowserContextOptions = {}): Promise<{ context: BrowserContext; wrong: string[] }> {
  const made = await browser.newContext({ ...SIZES[size], ...more });
  const wrong: string[] = [];
  made.on('weberror', (error) => wrong.push(String(error.error())));
  made.on('console', (message) => {
    if (message.type() === 'error' && !/Failed to load resource|net::ERR/.test(message.text())) wrong.push(message.text());
  });
  return { context: made, wrong };
}

/** Waits until the head of the app says so. */
export async function saved(page: Page, state = 'saved'): Promise<void> {
  await page.locator(`[data-saved="${state}"]`).waitFor({ timeout: 30_000 });
}

export type JobCard = { id: string; title: string; revision: number; text: string };

export async function jobs(origin: string): Promise<JobCard[]> {
  const answer = (await (await fetch(`${origin}/api/v1/jobs?limit=500`)).json()) as { jobs: JobCard[] };
  return answer.jobs;
}

export async function job(origin: string, id: string): Promise<JobCard> {
  return (await (await fetch(`${origin}/api/v1/jobs/${id}`)).json()) as JobCard;
}

/** Waits until the server has a text of the job with all of these in it. */
export async function reached(origin: string, id: string, ...parts: string[]): Promise<void> {
  let text = '';
  for (let turn = 0; turn < 300; turn += 1) {
    text = (await job(origin, id)).text;
    if (parts.every((part) => text.includes(part))) return;
    await pause(100);
  }
  throw new Error(`did not reach the server: ${parts.filter((part) => !text.includes(part)).join(', ')}`);
}

/** The demo job whose title has this word. */
export async function demo(origin: string, part: string): Promise<JobCard> {
  const found = (await jobs(origin)).find((each) => each.title.includes(part));
  if (!found) throw new Error(`no demo job with \`${part}\` in its title`);
  return job(origin, found.id);
}

/** Goes to a place of the app without loading it anew. */
export async function go(page: Page, path: string): Promise<void> {
  await page.evaluate((to) => {
    history.pushState(null, '', to);
    dispatchEvent(new PopStateEvent('popstate'));
  }, path);
}

/** Serious and critical findings of axe on the page as it is, one line each. */
export async function accessibility(page: Page): Promise<string[]> {
  await page.evaluate(axe.source);
  const found = await page.evaluate(async () => {
    const run = (window as unknown as { axe: { run: (of: Document, how: object) => Promise<{ violations: { id: string; impact: string; nodes: { html: string; failureSummary: string }[] }[] }> } }).axe;
    return (await run.run(document, { resultTypes: ['violations'] })).violations;
  });
  return found
    .filter((each) => each.impact === 'serious' || each.impact === 'critical')
    .flatMap((each) => each.nodes.slice(0, 3).map((node) => `${each.id} (${each.impact}): ${node.html.slice(0, 160)} ${node.failureSummary.replaceAll('\n', ' ').slice(0, 200)}`));
}
