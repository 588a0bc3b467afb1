import { defineConfig } from 'vitest/config';

// `--mode measure` runs the measurements instead of the tests.
export default defineConfig(({ mode }) => ({
  test: {
    root: import.meta.dirname,
    environment: 'node',
    include: mode === 'measure' ? ['*.measure.ts'] : ['*.e2e.ts'],
    fileParallelism: false,
    testTimeout: 180_000,
    // A busy machine is no fault of the app.
    expect: { poll: { timeout: 30_000 } },
    hookTimeout: 120_000,
    disableConsoleIntercept: true,
  },
}));
