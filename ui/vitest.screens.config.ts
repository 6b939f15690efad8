import { defineConfig } from 'vitest/config';

/** The built screens in a real browser: one at a time, the machine is small. */
export default defineConfig({
  resolve: { alias: { $: new URL('./src', import.meta.url).pathname } },
  test: {
    include: ['screens/**/*.test.ts'],
    environment: 'node',
    globalSetup: ['screens/serve.ts'],
    fileParallelism: false,
    maxWorkers: 1,
    testTimeout: 60_000,
    hookTimeout: 60_000,
  },
});
