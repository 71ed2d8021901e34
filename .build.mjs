// Bundles the program for production: a small entry, and one file for each part that the source imports only when wanted.
// What two parts share stands in both. Opening a file costs a start more than its length does: with shared chunks `fit`
// opened twenty-four of them and took a quarter longer.
import { chmodSync, mkdirSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { relative, resolve } from 'node:path';
import { build } from 'esbuild';

const SOURCE = resolve('src');
const MAIN = resolve(SOURCE, 'main.ts');
const fileOf = (module) =>
  module === MAIN
    ? 'lidwright.js'
    : `${relative(SOURCE, module).replace(/\.ts$/, '').replaceAll('/', '-')}.js`;

const found = [MAIN];
const lateParts = {
  name: 'late parts are files of their own',
  setup({ onResolve }) {
    onResolve({ filter: /^\./ }, ({ kind, path, resolveDir }) => {
      if (kind !== 'dynamic-import') return undefined;
      const module = resolve(resolveDir, path);
      if (!found.includes(module)) found.push(module);
      return { path: `./${fileOf(module)}`, external: true };
    });
  },
};

/** Put in place whole: a program that is started meanwhile finds the file of before or the one of after. */
function place(file, text) {
  writeFileSync(`${file}.new`, text);
  chmodSync(`${file}.new`, 0o755);
  renameSync(`${file}.new`, file);
}

mkdirSync('dist', { recursive: true });
for (const module of found) {
  const { outputFiles } = await build({
    entryPoints: [module],
    outfile: resolve('dist', fileOf(module)),
    write: false,
    bundle: true,
    platform: 'node',
    target: 'node20',
    format: 'esm',
    minify: true,
    external: ['@photostructure/sqlite', 'serialport', '@serialport/*'],
    define: { 'process.env.NODE_ENV': '"production"' },
    banner: {
      js: "#!/usr/bin/env node\nimport { createRequire as madeRequire } from 'node:module';const require = madeRequire(import.meta.url);",
    },
    logLevel: 'warning',
    plugins: [lateParts],
  });
  for (const { path, contents } of outputFiles) place(path, contents);
}
for (const file of readdirSync('dist'))
  if (!found.map(fileOf).includes(file)) rmSync(resolve('dist', file), { recursive: true });
