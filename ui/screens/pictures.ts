import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import pixelmatch from 'pixelmatch';
import { PNG } from 'pngjs';

/** Pictures are kept at half their size: small in the repository, and a letter's edge that another
 * build of the browser draws a little otherwise does not count. */
const FOLDER = new URL('./pictures/', import.meta.url).pathname;
const SEEN = new URL('./seen/', import.meta.url).pathname;
/** This part of the pixels may differ. A word more or less is about a hundredth. */
const ALLOWED = 0.006;

function halved(picture: PNG): PNG {
  const half = new PNG({ width: picture.width >> 1, height: picture.height >> 1 });
  for (let y = 0; y < half.height; y += 1) {
    for (let x = 0; x < half.width; x += 1) {
      for (let part = 0; part < 4; part += 1) {
        const at = (dx: number, dy: number): number =>
          picture.data[((2 * y + dy) * picture.width + 2 * x + dx) * 4 + part] ?? 0;
        // Coarser steps pack better and are not seen.
        const mean = (at(0, 0) + at(1, 0) + at(0, 1) + at(1, 1)) / 4;
        half.data[(y * half.width + x) * 4 + part] = part === 3 ? 255 : Math.min(255, Math.round(mean / 6) * 6);
      }
    }
  }
  return half;
}

/** What is wrong with a picture against the one that is kept; null when nothing is. With
 * NEW_PICTURES set, it is kept instead. */
export function differs(name: string, taken: Buffer): string | null {
  const now = halved(PNG.sync.read(taken));
  const path = `${FOLDER}${name}.png`;
  const bytes = PNG.sync.write(now, { deflateLevel: 9, colorType: 2 });
  if (process.env['NEW_PICTURES']) {
    mkdirSync(FOLDER, { recursive: true });
    writeFileSync(path, bytes);
    return null;
  }
  if (!existsSync(path)) return `${name}: no picture is kept; npm run screens:new takes one`;
  const kept = PNG.sync.read(readFileSync(path));
  const keepSeen = (): string => {
    mkdirSync(SEEN, { recursive: true });
    writeFileSync(`${SEEN}${name}.png`, bytes);
    return `what was seen is in screens/seen/${name}.png`;
  };
  if (kept.width !== now.width || kept.height !== now.height) {
    return `${name}: ${now.width} x ${now.height}, kept ${kept.width} x ${kept.height}; ${keepSeen()}`;
  }
  const off = pixelmatch(kept.data, now.data, undefined, now.width, now.height, { threshold: 0.2 });
  const part = off / (now.width * now.height);
  if (part <= ALLOWED) return null;
  return `${name}: ${(part * 100).toFixed(2)} % of the pixels differ, allowed ${ALLOWED * 100} %; ${keepSeen()}`;
}
