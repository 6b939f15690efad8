import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  plugins: [svelte()],
  // The shell serves the files from its own origin.
  base: './',
  clearScreen: false,
  resolve: { alias: { $: new URL('./src', import.meta.url).pathname } },
  server: { port: 1420, strictPort: true },
  build: {
    target: ['chrome111', 'safari16'],
    // A picture or a font inside the script would be parsed before the first screen is shown.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
  test: {
    include: ['src/**/*.test.ts'],
    environment: 'node',
    restoreMocks: true,
  },
});
