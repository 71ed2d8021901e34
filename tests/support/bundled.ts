// A part of the tests bundled as the program is: for a process on its own, or because React for development keeps what React for
// production does not.
import { chmodSync, mkdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { build } from 'esbuild';
import { inkIn, OPTIONS } from '../../.build.mjs';
import { freshFolder } from './fresh-folder.ts';

const ROOT = resolve(import.meta.dirname, '../..');

/** One file that node runs at once, and all that it was made of; with `replaced` false, Ink is as it is published. */
export async function bundled(entry: string, { replaced = true } = {}) {
  // Beside node_modules, so that the drivers are found.
  const cache = join(ROOT, 'node_modules/.cache');
  mkdirSync(cache, { recursive: true });
  const folder = freshFolder(cache);
  // A test may run it as another user.
  chmodSync(folder, 0o755);
  const outfile = join(folder, 'program.mjs');
  const { metafile } = await build({
    ...{ ...OPTIONS, entryPoints: [join(ROOT, entry)], outfile },
    ...{ metafile: true as const, plugins: [inkIn({ replaced })] },
  });
  return { outfile, inputs: Object.keys(metafile.inputs) };
}
