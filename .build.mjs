// Bundles the program for production: a small entry, and one file for each part that the source imports only when wanted.
// What two parts share stands in both. Opening a file costs a start more than its length does: with shared chunks `fit`
// opened twenty-four of them and took a quarter longer. `sideEffects` in package.json says that loading our modules does nothing
// by itself, so a part leaves out what it imports and never uses: without that, most parts carried the statistics library.
import { chmodSync, mkdirSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const ROOT = fileURLToPath(new URL('.', import.meta.url));
const SOURCE = resolve(ROOT, 'src');
const MAIN = resolve(SOURCE, 'main.ts');
const fileOf = (module) =>
  module === MAIN
    ? 'lidwright.js'
    : `${relative(SOURCE, module)
        .replace(/\.tsx?$/, '')
        .replaceAll('/', '-')}.js`;

/** Stands for an inner module of Ink in the bundle, and says why. */
const INK_OUTPUT = resolve(ROOT, 'src/screen/ink-output.ts');

/** Ink in a bundle; with `replaced` false, as it is published. */
export const inkIn = ({ replaced }) => ({
  name: 'ink',
  setup({ onResolve, onLoad }) {
    const inInk = (importer) => /[\\/]node_modules[\\/]ink[\\/]/.test(importer);
    onResolve({ filter: /^\.\.?\/output\.js$/ }, ({ importer }) =>
      replaced && inInk(importer) ? { path: INK_OUTPUT } : undefined,
    );
    // React's developer tools, which Ink opens only where DEV is set, would bring a web socket along.
    onResolve({ filter: /^\.\/devtools\.js$/ }, ({ importer }) =>
      inInk(importer) ? { path: 'devtools', namespace: 'none' } : undefined,
    );
    onLoad({ filter: /.*/, namespace: 'none' }, () => ({ contents: 'export default undefined;' }));
  },
});

/** How every part is built. Ink's layout library fetches its own code from a data address, which loads a whole web client. */
export const OPTIONS = {
  bundle: true,
  platform: 'node',
  target: 'node20',
  format: 'esm',
  minify: true,
  jsx: 'automatic',
  external: ['@photostructure/sqlite', 'serialport', '@serialport/*'],
  define: { 'process.env.NODE_ENV': '"production"', fetch: 'undefined' },
  banner: {
    js: "#!/usr/bin/env node\nimport { createRequire as madeRequire } from 'node:module';const require = madeRequire(import.meta.url);",
  },
  logLevel: 'warning',
};

/** Put in place whole: a program that is started meanwhile finds the file of before or the one of after. */
function place(file, text) {
  writeFileSync(`${file}.new`, text);
  chmodSync(`${file}.new`, 0o755);
  renameSync(`${file}.new`, file);
}

async function buildProgram() {
  const found = [MAIN];
  const lateParts = {
    name: 'late parts are files of their own',
    setup({ onResolve }) {
      onResolve({ filter: /^\./ }, ({ kind, path, resolveDir }) => {
        if (kind !== 'dynamic-import' || !resolveDir.startsWith(SOURCE)) return undefined;
        const module = resolve(resolveDir, path);
        if (!found.includes(module)) found.push(module);
        return { path: `./${fileOf(module)}`, external: true };
      });
    },
  };
  mkdirSync('dist', { recursive: true });
  for (const module of found) {
    const { outputFiles } = await build({
      ...OPTIONS,
      entryPoints: [module],
      outfile: resolve('dist', fileOf(module)),
      write: false,
      plugins: [inkIn({ replaced: true }), lateParts],
    });
    for (const { path, contents } of outputFiles) place(path, contents);
  }
  for (const file of readdirSync('dist'))
    if (!found.map(fileOf).includes(file)) rmSync(resolve('dist', file), { recursive: true });
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await buildProgram();
