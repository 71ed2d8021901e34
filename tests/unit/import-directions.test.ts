// The layers: who may import whom, and where a third party's name may stand.
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { expect, test } from 'vitest';

const src = resolve(import.meta.dirname, '../../src');
const layers: Record<string, readonly string[]> = {
  core: ['core'],
  wire: ['core', 'wire'],
  link: ['core', 'wire', 'link'],
  records: ['core', 'records'],
  kit: ['core', 'kit'],
  screen: ['core', 'screen'],
  sheet: ['core', 'sheet'],
  commands: ['core', 'wire', 'link', 'records', 'kit', 'screen', 'sheet', 'commands'],
  'main.ts': ['core', 'wire', 'link', 'records', 'kit', 'screen', 'sheet', 'commands'],
};
/** A third party, the one layer that may name it, and in how many files. */
const parties: readonly { name: RegExp; layer: string; files: number }[] = [
  { name: /^serialport$|^@serialport\//, layer: 'link', files: 2 },
  { name: /^@photostructure\/sqlite$/, layer: 'records', files: 1 },
  { name: /^uuid$/, layer: 'records', files: 1 },
  { name: /^commander$/, layer: 'commands', files: 1 },
  { name: /^ink$|^react/, layer: 'screen', files: 40 },
];

const files = readdirSync(src, { recursive: true, encoding: 'utf8' }).filter((file) => /\.tsx?$/.test(file));
const importsOf = (file: string): string[] =>
  [...readFileSync(join(src, file), 'utf8').matchAll(/(?:from|import)\s*\(?\s*'([^']+)'/g)].flatMap(
    (m) => m[1] ?? [],
  );
const layerOf = (file: string): string => file.split('/')[0] ?? '';

test('every import goes in an allowed direction', () => {
  const wrong = files.flatMap((file) =>
    importsOf(file)
      .filter((name) => name.startsWith('.'))
      .map((name) => relative(src, resolve(dirname(join(src, file)), name)))
      .filter((target) => !target.startsWith('..'))
      .filter((target) => !(layers[layerOf(file)] ?? []).includes(layerOf(target)))
      .map(
        (target) =>
          `${file} imports ${target}, but ${layerOf(file)} may import only ${layers[layerOf(file)]}`,
      ),
  );
  expect(files.length).toBeGreaterThan(10);
  expect(wrong).toEqual([]);
});

test('core asks for no clock, no chance and no input or output', () => {
  const banned = /\bDate\.now|\bnew Date\(\)|performance\.now|Math\.random|\bprocess\.|from 'node:/;
  const wrong = files.filter(
    (file) => layerOf(file) === 'core' && banned.test(readFileSync(join(src, file), 'utf8')),
  );
  expect(wrong).toEqual([]);
});

test.each(parties)('$name stands in $files file of $layer', ({ name, layer, files: count }) => {
  const naming = files.filter((file) => importsOf(file).some((target) => name.test(target)));
  expect(naming.filter((file) => layerOf(file) !== layer)).toEqual([]);
  expect(naming.length).toBeLessThanOrEqual(count);
});
