import { svelte } from '@sveltejs/vite-plugin-svelte';
import { svelteTesting } from '@testing-library/svelte/vite';
import { defineConfig } from 'vitest/config';

// The address of a running `lugwright serve`, for `npm run dev`.
const server = process.env['LUGWRIGHT_SERVER'] ?? 'http://127.0.0.1:4780';

export default defineConfig({
  plugins: [svelte(), svelteTesting()],
  build: { target: 'es2022', modulePreload: { polyfill: false }, assetsInlineLimit: 0, cssCodeSplit: true },
  worker: { format: 'es' },
  server: { proxy: { '/api': server } },
  test: { environment: 'jsdom', include: ['src/**/*.test.ts'] },
});
