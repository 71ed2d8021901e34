// What the bundle replaces of Ink (see .build.mjs): it draws the same, cell by cell, and it replaces what it was made for.
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect, test } from 'vitest';
import { bundled } from '../support/bundled.ts';
import { galleryFrames, SIZES } from '../support/gallery.tsx';
import { Emulator } from '../support/terminal-screen.ts';

const ROOT = resolve(import.meta.dirname, '../..');

/** The same frames through Ink as the bundle has it. */
async function bundledFrames(): Promise<ReturnType<typeof galleryFrames>> {
  const { outfile, inputs } = await bundled('tests/support/gallery.tsx');
  expect(inputs).toContain('src/screen/ink-output.ts');
  expect(inputs.filter((file) => /ink\/build\/(output|devtools)\.js/.test(file))).toEqual([]);
  const module: typeof import('../support/gallery.tsx') = await import(pathToFileURL(outfile).href);
  return module.galleryFrames();
}

async function cellsOf(frame: string, columns: number, rows: number): Promise<string> {
  const emulator = new Emulator(columns, rows);
  await emulator.write(frame.replaceAll('\n', '\r\n'));
  const cells = emulator.cells().map((row) => row.map(({ text, style }) => `${text || ' '}|${style}`));
  return cells.map((row) => row.join('')).join('\n');
}

test("every cell of every moment is the same through Ink's own output and through the bundle's", async () => {
  const [published, replaced] = [galleryFrames(), await bundledFrames()];
  expect(Object.keys(replaced)).toEqual(Object.keys(published));
  for (const [moment, frames] of Object.entries(published))
    for (const [at, { columns, rows }] of SIZES.entries()) {
      const [theirs, ours] = [frames[at] ?? '', replaced[moment]?.[at] ?? ''];
      expect(await cellsOf(ours, columns, rows), `${moment} at ${columns}x${rows}`).toBe(
        await cellsOf(theirs, columns, rows),
      );
    }
});

test("Ink's output is the one that the bundle's was made for, and Ink is pinned to it", () => {
  const read = (path: string): string => readFileSync(join(ROOT, path), 'utf8');
  const sum = createHash('sha256').update(read('node_modules/ink/build/output.js')).digest('hex');
  expect(sum).toBe('de9078c7fc647c40cf9e32d6658fcbbee91dae9e3f6334e5f4ebfc5905fc401d');
  expect(JSON.parse(read('package.json')).dependencies.ink).toBe('6.8.0');
});
