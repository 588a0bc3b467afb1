// Tells the service worker which files make up the app, and a version that changes whenever one of them does.
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Plugin } from 'vite';

const NAME = 'service-worker.js';

export function serviceWorker(): Plugin {
  let folder = '';
  return {
    name: 'lugwright-service-worker',
    apply: 'build',
    configResolved(config) {
      folder = config.publicDir;
    },
    generateBundle: {
      order: 'post',
      handler(_, bundle) {
        const hash = createHash('sha256').update(readFileSync('index.html'));
        const files: string[] = [];
        const take = (name: string, bytes: string | Uint8Array) => {
          files.push(`/${name}`);
          hash.update(name).update(bytes);
        };
        const made = Object.values(bundle).filter((file) => file.fileName !== NAME);
        for (const file of made) take(file.fileName, file.type === 'chunk' ? file.code : file.source);
        for (const name of readdirSync(folder)) if (!name.startsWith('.')) take(name, readFileSync(join(folder, name)));
        // The start page is written after this step.
        if (!files.includes('/index.html')) files.push('/index.html');
        const worker = bundle[NAME];
        if (worker?.type !== 'chunk') throw new Error('the service worker was not built');
        const version = hash.digest('hex').slice(0, 16);
        worker.code = `const FILES = ${JSON.stringify(files.sort())};\nconst VERSION = ${JSON.stringify(version)};\n${worker.code}`;
      },
    },
  };
}
