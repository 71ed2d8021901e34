// The structure of the source: who may import whom, where a third party is named, no circles, one meaning for each exported name.
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
/** A third party, the layers that may name it, and in how many files. */
const parties: readonly { name: RegExp; layers: readonly string[]; files: number }[] = [
  { name: /^serialport$|^@serialport\//, layers: ['link'], files: 2 },
  { name: /^@photostructure\/sqlite$/, layers: ['records'], files: 1 },
  { name: /^uuid$/, layers: ['records'], files: 1 },
  { name: /^commander$/, layers: ['commands'], files: 1 },
  { name: /^ink$|^react$/, layers: ['screen'], files: 40 },
  { name: /^get-east-asian-width$/, layers: ['screen'], files: 1 },
  { name: /^jstat$/, layers: ['core'], files: 1 },
  { name: /^smol-toml$/, layers: ['kit'], files: 1 },
  { name: /^valibot$/, layers: ['kit', 'records'], files: 4 },
];

const files = readdirSync(src, { recursive: true, encoding: 'utf8' }).filter((file) => /\.tsx?$/.test(file));
const textOf = (file: string): string => readFileSync(join(src, file), 'utf8');
const importsOf = (file: string): string[] =>
  [...textOf(file).matchAll(/(?:from|import)\s*\(?\s*'([^']+)'/g)].flatMap((m) => m[1] ?? []);
const targetsOf = (file: string): string[] =>
  importsOf(file)
    .filter((name) => name.startsWith('.'))
    .map((name) => relative(src, resolve(dirname(join(src, file)), name)))
    .filter((target) => !target.startsWith('..'));
const layerOf = (file: string): string => file.split('/')[0] ?? '';

test('every import goes in an allowed direction', () => {
  const wrong = files.flatMap((file) =>
    targetsOf(file)
      .filter((target) => !(layers[layerOf(file)] ?? []).includes(layerOf(target)))
      .map(
        (target) =>
          `${file} imports ${target}, but ${layerOf(file)} may import only ${layers[layerOf(file)]}`,
      ),
  );
  expect(files.length).toBeGreaterThan(10);
  expect(wrong).toEqual([]);
});

test('no files import each other in a circle, late imports and types included', () => {
  const clear = new Set<string>();
  const circleFrom = (file: string, path: readonly string[]): readonly string[] | null => {
    if (path.includes(file)) return [...path.slice(path.indexOf(file)), file];
    if (clear.has(file)) return null;
    for (const target of targetsOf(file)) {
      const circle = circleFrom(target, [...path, file]);
      if (circle) return circle;
    }
    clear.add(file);
    return null;
  };
  for (const file of files) expect(circleFrom(file, [])).toBeNull();
});

test('no name is exported by two files', () => {
  const homes = new Map<string, string[]>();
  for (const file of files)
    for (const [, name = ''] of textOf(file).matchAll(
      /^export (?:async |abstract )?(?:function\*?|const|class|interface|type|enum) (\w+)/gm,
    ))
      homes.set(name, [...(homes.get(name) ?? []), file]);
  expect(homes.size).toBeGreaterThan(100);
  const twice = [...homes].filter(([, where]) => new Set(where).size > 1);
  expect(Object.fromEntries(twice)).toEqual({});
});

test('core asks for no clock, no chance and no input or output', () => {
  const banned = /\bDate\.now|\bnew Date\(\)|performance\.now|Math\.random|\bprocess\.|from 'node:/;
  expect(files.filter((file) => layerOf(file) === 'core' && banned.test(textOf(file)))).toEqual([]);
});

test.each(parties)(
  '$name is imported by at most $files files of $layers',
  ({ name, layers: allowed, files: count }) => {
    const naming = files.filter((file) => importsOf(file).some((target) => name.test(target)));
    expect(naming.filter((file) => !allowed.includes(layerOf(file)))).toEqual([]);
    expect(naming.length).toBeLessThanOrEqual(count);
  },
);

test('the mutants of core and wire meet every quick test of them', () => {
  const tests = resolve(import.meta.dirname, '..');
  const topics: Record<string, string[]> = JSON.parse(
    readFileSync(join(tests, 'mutation/topics.json'), 'utf8'),
  );
  const met = Object.values(topics).flat();
  const others = ['link', 'records', 'kit', 'screen', 'sheet', 'commands'];
  const quick = readdirSync(join(tests, 'unit')).filter((file) => {
    const text = readFileSync(join(tests, 'unit', file), 'utf8');
    return /src\/(core|wire)\//.test(text) && !others.some((layer) => text.includes(`src/${layer}/`));
  });
  expect(quick.length).toBeGreaterThan(10);
  expect(
    quick.map((file) => `unit/${file.slice(0, -'.test.ts'.length)}`).filter((name) => !met.includes(name)),
  ).toEqual([]);
});
