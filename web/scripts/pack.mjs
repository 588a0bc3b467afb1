// Puts what the web build made (web/dist) where the program takes its files from (crates/app-files/packed),
// each text and the engine also compressed with Brotli and gzip. What is there already is not touched, so that nothing is built again in vain.
import { mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { dirname, join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { brotliCompressSync, constants, gzipSync } from "node:zlib";

const root = join(dirname(fileURLToPath(import.meta.url)), "../..");
const from = join(root, "web/dist");
const to = join(root, "crates/app-files/packed");
const COMPRESSED = /\.(html|js|mjs|css|json|svg|wasm|webmanifest|txt)$/;

const filesOf = (folder) =>
  readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath ?? entry.path, entry.name)))
    .filter((name) => !name.startsWith("."));

const same = (path, bytes) => {
  try {
    return statSync(path).size === bytes.length && readFileSync(path).equals(bytes);
  } catch {
    return false;
  }
};

const brotli = (bytes) =>
  brotliCompressSync(bytes, {
    params: {
      [constants.BROTLI_PARAM_QUALITY]: 11,
      [constants.BROTLI_PARAM_LGWIN]: 24,
      [constants.BROTLI_PARAM_SIZE_HINT]: bytes.length,
    },
  });

const kept = new Set();
let total = 0;
for (const name of filesOf(from)) {
  const bytes = readFileSync(join(from, name));
  const place = join(to, name);
  const compressed = COMPRESSED.test(name);
  const isThere = same(place, bytes) && (!compressed || existsBoth(place));
  if (!isThere) {
    mkdirSync(dirname(place), { recursive: true });
    if (compressed) {
      writeFileSync(`${place}.br`, brotli(bytes));
      writeFileSync(`${place}.gz`, gzipSync(bytes, { level: 9 }));
    }
    writeFileSync(place, bytes);
  }
  kept.add(name);
  if (compressed) {
    kept.add(`${name}.br`);
    kept.add(`${name}.gz`);
  }
  total += statSync(compressed ? `${place}.br` : place).size;
}
for (const name of filesOf(to)) {
  if (!kept.has(name)) rmSync(join(to, name));
}
console.error(`packed ${kept.size} files; ${Math.ceil(total / 1000)} kB as a browser gets them`);

function existsBoth(place) {
  return [".br", ".gz"].every((ending) => {
    try {
      return statSync(place + ending).isFile();
    } catch {
      return false;
    }
  });
}
