import { existsSync } from 'node:fs';
import { build, preview } from 'vite';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  interface ProvidedContext {
    address: string;
    standIn: string;
  }
}

/** Serves `dist/` and makes the stand-in for the core into one script for the page. */
export default async function serve(project: TestProject): Promise<() => Promise<void>> {
  const root = new URL('..', import.meta.url).pathname;
  if (!existsSync(`${root}dist/index.html`)) throw new Error('dist is missing: npm run build first');
  const server = await preview({ root, configFile: false, preview: { port: 0 }, logLevel: 'silent' });
  const address = server.resolvedUrls?.local[0];
  if (!address) throw new Error('the preview server has no address');
  const made = await build({
    root,
    configFile: false,
    logLevel: 'silent',
    resolve: { alias: { $: `${root}src` } },
    build: {
      write: false,
      minify: false,
      lib: { entry: `${root}screens/page.ts`, formats: ['iife'], name: 'page' },
    },
  });
  const [bundle] = Array.isArray(made) ? made : [made];
  const chunk = bundle && 'output' in bundle ? bundle.output[0] : undefined;
  if (!chunk) throw new Error('the stand-in was not built');
  project.provide('address', address);
  project.provide('standIn', chunk.code);
  return async () => {
    await server.close();
  };
}
