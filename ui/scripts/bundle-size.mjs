// Fails the build when what the phone loads is over its budget: 200 KB after gzip, fonts included.
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join, relative } from 'node:path';
import { gzipSync } from 'node:zlib';

const BUDGET = 200 * 1024;
const root = new URL('../dist/', import.meta.url).pathname;

const files = (folder) =>
  readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    return statSync(path).isDirectory() ? files(path) : [path];
  });

const sizes = files(root).map((path) => ({
  path: relative(root, path),
  bytes: gzipSync(readFileSync(path), { level: 9 }).length,
}));
const total = sizes.reduce((sum, { bytes }) => sum + bytes, 0);
const kb = (bytes) => `${(bytes / 1024).toFixed(1)} KB`;

for (const { path, bytes } of sizes.sort((a, b) => b.bytes - a.bytes)) {
  console.log(`${kb(bytes).padStart(9)}  ${path}`);
}
console.log(`${kb(total).padStart(9)}  together, gzip; allowed ${kb(BUDGET)}`);
if (total > BUDGET) {
  console.error('The bundle is over its budget.');
  process.exit(1);
}
