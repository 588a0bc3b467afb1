// Does the engine in the browser answer as the engine on this machine does? Every demo job, every command, every edition, byte for byte.
// node tests/parity/parity.mjs FIRST.wasm WHOLE.wasm NATIVE, where NATIVE is the example `call` of crates/answers. What the app asks of the engine
// that it loads first is asked of both.
import { spawnSync } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";

const [, , firstPath, wholePath, nativePath] = process.argv;

const start = async (path) => (await WebAssembly.instantiate(readFileSync(path), {})).instance.exports;
const [first, whole] = [await start(firstPath), await start(wholePath)];

// The four bytes before an answer tell its length.
const ask = ({ memory, alloc, release, call }, question) => {
  const bytes = new TextEncoder().encode(question);
  const place = alloc(bytes.length);
  if (place === 0) throw new Error("the engine has no room for the question");
  new Uint8Array(memory.buffer, place, bytes.length).set(bytes);
  const answer = call(place, bytes.length);
  release(place, bytes.length);
  if (answer === 0) throw new Error("the engine has no room for the answer");
  const length = new DataView(memory.buffer).getUint32(answer, true);
  const text = new TextDecoder().decode(new Uint8Array(memory.buffer, answer + 4, length));
  release(answer, length + 4);
  return text;
};

const jobs = readdirSync("examples")
  .filter((name) => name.endsWith(".toml"))
  .sort()
  .map((name) => [name, readFileSync(join("examples", name), "utf8")]);
if (jobs.length < 6) throw new Error(`only ${jobs.length} demo jobs in examples`);

const questions = [];
for (const [name, job] of jobs) {
  for (const command of ["check", "face", "move", "cutover", "price"]) {
    questions.push([`${name} ${command}`, { command, job, drawing: true }]);
  }
  questions.push([`${name} price for the customer`, { command: "price", job, customer: true }]);
  for (const edition of ["2014", "2017", "2020", "2023", "2026"]) {
    questions.push([`${name} check ${edition}`, { command: "check", job, edition }]);
  }
  questions.push([`${name} read`, { command: "read", job }]);
  questions.push([`${name} edit`, { command: "edit", job, edits: [{ at: ["title"], to: "Another" }] }]);
  questions.push([`${name} layout`, { command: "layout", job }]);
  const [, board] = job.match(/^\[before\.boards\.(\w+)\]/m);
  questions.push([`${name} board`, { command: "board", job, board }]);
  const tight = job.replace(/main_amps = \{ is = \d+/, "main_amps = { is = 30");
  questions.push([`${name} check on a small main`, { command: "check", job: tight }]);
  const rows = "space,serves,amps\n1,bedroom,15\n2,kitchen,20\n";
  questions.push([`${name} paste`, { command: "paste", job, board: "Q", picture: "before", rows }]);
  questions.push([`${name} broken`, { command: "check", job: job.replace("amps", "ampz") }]);
}

questions.push(["start", { command: "start", interview: { edition: "2023", boards: [{ id: "P1", name: "closet" }] } }]);

const input = questions.map(([, question]) => JSON.stringify(question)).join("\n");
const ran = spawnSync(nativePath, { input, maxBuffer: 1 << 30, encoding: "utf8" });
if (ran.status !== 0) throw new Error(`${nativePath} did not run: ${ran.error ?? ran.stderr}`);
const native = ran.stdout.trimEnd().split("\n");
if (native.length !== questions.length) throw new Error(`${native.length} answers to ${questions.length} questions`);

const OF_FIRST = ["check", "read", "edit"];
let compared = 0;
let wrong = 0;
const answered = new Set();
questions.forEach(([name, question], i) => {
  for (const engine of OF_FIRST.includes(question.command) ? [first, whole] : [whole]) {
    const there = ask(engine, JSON.stringify(question));
    compared += 1;
    answered.add(JSON.parse(there).command);
    if (there === native[i]) continue;
    wrong += 1;
    let at = 0;
    while (at < there.length && there[at] === native[i][at]) at += 1;
    const around = (text) => text.slice(Math.max(0, at - 60), at + 60);
    console.error(`${name}: differ at ${at}\n  browser ${around(there)}\n  here    ${around(native[i])}`);
  }
});
if (wrong > 0) {
  console.error(`${wrong} of ${compared} answers differ`);
  process.exit(1);
}
const refused = JSON.parse(ask(first, JSON.stringify(questions.find(([, question]) => question.command === "price")[1])));
if (refused.command !== "error") {
  console.error("the engine that is loaded first answers what it does not have");
  process.exit(1);
}
for (const { command } of questions.map(([, question]) => question)) {
  if (!answered.has(command)) {
    console.error(`no question with \`${command}\` was answered, so nothing is known about it`);
    process.exit(1);
  }
}
console.error(`${compared} answers of the engine in the browser are the same as here`);
