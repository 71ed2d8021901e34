// All families there are: every module of tests/published/families, by file name.
import { readdirSync } from 'node:fs';
import type { Family } from './check.ts';

export interface Named {
  readonly name: string;
  readonly family: Family;
}

/** The families in order of their names. A file there that exports no rows and no count is refused. */
export async function families(): Promise<readonly Named[]> {
  const folder = new URL('families/', import.meta.url);
  const files = readdirSync(folder)
    .filter((file) => file.endsWith('.ts'))
    .sort();
  return Promise.all(files.map((file) => load(new URL(file, folder), file.replace(/\.ts$/, ''))));
}

async function load(file: URL, name: string): Promise<Named> {
  const family: Partial<Family> = await import(file.href);
  if (typeof family.rows !== 'function' || typeof family.count !== 'number')
    throw new Error(`families/${name}.ts must export rows and count`);
  return { name, family: { ...family, rows: family.rows, count: family.count } };
}
