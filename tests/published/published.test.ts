// Every published figure is compared, none can vanish, and each agrees within what its row allows.
import { expect, test } from 'vitest';
import { judge } from './check.ts';
import { families } from './collect.ts';
import { group } from './source.ts';

const all = await families();

/** Families that must be there; a new one adds its name. */
const names = [
  'calipers',
  'cantilever',
  'crc',
  'gum',
  'iso68',
  'iso724',
  'iso965',
  'nist',
  'percent-thread',
  'speeds',
  'student',
  'three-wire',
  'trade',
  'unified',
  'whitworth',
  'wood-coefficients',
  'wood-moisture',
  'wood-movement',
];

test('every family is there', () => {
  expect(all.map(({ name }) => name)).toEqual(expect.arrayContaining(names));
});

test.each(all)('$name has as many rows as it declares', ({ family }) => {
  expect(family.rows().length).toBe(family.count);
});

test.each(all)('$name agrees in every row, and misses only where it says so', ({ family }) => {
  const wrong = family.rows().filter((check) => ['differs', 'no longer misses'].includes(judge(check)));
  expect(wrong).toEqual([]);
});

test.each(all)('$name compares every figure of its groups or leaves it out by name', ({ family }) => {
  const compared = new Set(family.rows().flatMap(({ truth }) => (truth === undefined ? [] : [truth])));
  const leftOut = Object.keys(family.leftOut ?? {});
  const figures = (family.groups ?? []).flatMap((from) =>
    group(from).flatMap((row) => Object.keys(row.values).map((key) => `${from}/${row.id}/${key}`)),
  );
  const forgotten = figures.filter(
    (truth) =>
      !compared.has(truth) && !leftOut.some((left) => truth === left || truth.startsWith(`${left}/`)),
  );
  expect(forgotten).toEqual([]);
  for (const truth of compared) expect(figures).toContain(truth);
});

test('a wrong figure would be seen', () => {
  const right = {
    what: 'a',
    source: 'b',
    status: 'READ',
    expected: 1,
    ours: 1.0004,
    allowed: 0.0005,
    why: 'c',
  } as const;
  expect(judge(right)).toBe('agrees');
  expect(judge({ ...right, ours: 1.0006 })).toBe('differs');
  expect(judge({ ...right, ours: Number.NaN })).toBe('differs');
  expect(judge({ ...right, ours: 'x', expected: 'y' })).toBe('differs');
  expect(judge({ ...right, knownMiss: 'no more' })).toBe('no longer misses');
});
