// Holds one copy of the engine and answers questions one after the other. Plain C interface: alloc, call, release; see crates/engine-wasm.
type Engine = {
  memory: WebAssembly.Memory;
  alloc(length: number): number;
  call(place: number, length: number): number;
  release(place: number, length: number): void;
};
export type ToWorker = { module: WebAssembly.Module } | { id: number; question: string };
export type FromWorker = { ready: true } | { id: number; answer: string; ms: number } | { id: number; broken: string };

let engine: Promise<Engine> | undefined;

function start(module: WebAssembly.Module): Promise<Engine> {
  return WebAssembly.instantiate(module, {}).then((instance) => instance.exports as unknown as Engine);
}

function call(engine: Engine, question: string): string {
  const asked = new TextEncoder().encode(question);
  const place = engine.alloc(asked.length);
  if (place === 0) throw new Error('the engine has no room for the question');
  new Uint8Array(engine.memory.buffer, place, asked.length).set(asked);
  const answer = engine.call(place, asked.length);
  engine.release(place, asked.length);
  if (answer === 0) throw new Error('the engine has no room for the answer');
  // The memory may have grown, so look at it anew.
  const length = new DataView(engine.memory.buffer).getUint32(answer, true);
  const text = new TextDecoder().decode(new Uint8Array(engine.memory.buffer, answer + 4, length));
  engine.release(answer, length + 4);
  return text;
}

const say = (message: FromWorker) => self.postMessage(message);

self.onmessage = async (event: MessageEvent<ToWorker>) => {
  const message = event.data;
  if ('module' in message) {
    engine = start(message.module);
    await engine;
    say({ ready: true });
    return;
  }
  try {
    const running = await engine;
    if (!running) throw new Error('the engine is not loaded');
    const from = performance.now();
    const answer = call(running, message.question);
    say({ id: message.id, answer, ms: performance.now() - from });
  } catch (why) {
    say({ id: message.id, broken: why instanceof Error ? why.message : String(why) });
  }
};
