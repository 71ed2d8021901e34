// Bundles the program for production: one small entry, and a chunk for each part that is only loaded when wanted.
// Chunks carry their hash in their name and older ones are left, so that a program that runs meanwhile still finds its own.
import { chmodSync } from 'node:fs';
import { build } from 'esbuild';

await build({
  entryPoints: { lidwright: 'src/main.ts' },
  outdir: 'dist',
  bundle: true,
  splitting: true,
  platform: 'node',
  target: 'node20',
  format: 'esm',
  minify: true,
  external: ['better-sqlite3', 'serialport', '@serialport/*'],
  define: { 'process.env.NODE_ENV': '"production"' },
  banner: {
    js: "#!/usr/bin/env node\nimport { createRequire as madeRequire } from 'node:module';const require = madeRequire(import.meta.url);",
  },
  logLevel: 'warning',
});
chmodSync('dist/lidwright.js', 0o755);
