// Every published figure is compared, none can vanish, and each agrees within what its row allows.
import { expect, test } from 'vitest';
import { judge } from './check.ts';
import { families } from './families.ts';
import { group } from './source.ts';

test.each(families)('$name agrees in every row it declares, and misses only where it says so', (family) => {
  const rows = family.rows();
  expect(rows.length).toBe(family.count);
  expect(rows.filter((check) => ['differs', 'no longer misses'].includes(judge(check)))).toEqual([]);
});

test.each(families)('$name leaves out only figures that are there', ({ leftOut }) => {
  for (const left of Object.keys(leftOut)) {
    const [name = ''] = left.split('/');
    const figures = group(name).flatMap(({ id, values }) =>
      ['', ...Object.keys(values).map((key) => `/${key}`)].map((key) => `${name}/${id}${key}`),
    );
    expect([name, ...figures]).toContain(left);
  }
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
