import { svelte } from '@sveltejs/vite-plugin-svelte';
import { svelteTesting } from '@testing-library/svelte/vite';
import { defineConfig } from 'vitest/config';
import { serviceWorker } from './build/service-worker.ts';

// The address of a running `lugwright serve`, for `npm run dev`.
const server = process.env['LUGWRIGHT_SERVER'] ?? 'http://127.0.0.1:4780';

export default defineConfig({
  plugins: [svelte(), svelteTesting(), serviceWorker()],
  build: {
    target: 'es2022',
    modulePreload: { polyfill: false },
    assetsInlineLimit: 0,
    rolldownOptions: {
      input: { index: 'index.html', 'service-worker': 'src/service-worker.ts' },
      output: { entryFileNames: (chunk) => (chunk.name === 'service-worker' ? '[name].js' : 'assets/[name]-[hash].js') },
    },
  },
  worker: { format: 'es' },
  server: { proxy: { '/api': server } },
  // A machine that builds besides may take its time to load a screen.
  test: { environment: 'jsdom', testTimeout: 60_000, include: ['src/**/*.test.ts'] },
});
