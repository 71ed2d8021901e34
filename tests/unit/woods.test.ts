// The table of woods: every published figure is in it unchanged, nothing unknown is filled in, and any of its names finds a wood.
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import published from '../../shared/published.json' with { type: 'json' };
import table from '../../shared/woods.json' with { type: 'json' };
import { findWood, WOODS } from '../../src/core/wood/woods.ts';
import { ofKind } from '../support/of-kind.ts';

type Figure = number | readonly number[] | null;
const COLUMNS = {
  S_R: 'radial',
  S_T: 'tangential',
  S_V: 'volumetric',
  C_R: 'radialPerPoint',
  C_T: 'tangentialPerPoint',
  q_R_pct_per_pctMC: 'radialPerPoint',
  q_T_pct_per_pctMC: 'tangentialPerPoint',
} as const;

/** A published figure as the table keeps it: a range is a pair, percent per percent a share. */
function asKept(key: string, value: unknown): Figure {
  if (typeof value === 'string') {
    const ends = value.split('-').map(Number);
    return ends.length === 1 ? (ends[0] ?? null) : ends;
  }
  if (typeof value !== 'number') return null;
  return key.startsWith('q_') ? Number((value / 100).toFixed(6)) : value;
}

const GROUPS = [
  '2c_shrinkage_table4_3',
  '2c_shrinkage_imported',
  '2c_shrinkage_european',
  '2d_coefficients_table13_5',
] as const;
const figures = GROUPS.flatMap((name) =>
  published.groups[name].map((row) => ({
    id: row.id,
    status: row.status.toLowerCase(),
    values: Object.entries(row.values ?? {}).map(([key, value]): [string, Figure] => [
      new Map<string, string>(Object.entries(COLUMNS)).get(key) ?? key,
      asKept(key, value),
    ]),
  })),
).filter(({ values }) => values.length > 0);

const valueIn = (row: object, key: string): unknown => new Map<string, unknown>(Object.entries(row)).get(key);

test('every published row is a row of the table, with its figures and its standing', () => {
  expect(figures).toHaveLength(140);
  const left = [...table.woods];
  const lost = figures.filter(({ status, values }) => {
    const at = left.findIndex(
      (row) =>
        row.status === status &&
        values.every(([key, value]) => JSON.stringify(valueIn(row, key)) === JSON.stringify(value)),
    );
    if (at >= 0) left.splice(at, 1);
    return at < 0;
  });
  expect(lost).toEqual([]);
  expect(left.map(({ id }) => id)).toEqual(['plum/none', 'yew-european/none']);
});

test('every row names its source and status, has its own line, and its own id', () => {
  const sources = new Set(Object.keys(table.sources));
  for (const row of table.woods) {
    if (row.status === 'none') expect(row).toMatchObject({ source: null, radial: null, tangential: null });
    else expect(sources).toContain(row.source);
    expect(['read', 'memory', 'none']).toContain(row.status);
  }
  expect(new Set(table.woods.map(({ id }) => id)).size).toBe(table.woods.length);
  const text = readFileSync(new URL('../../shared/woods.json', import.meta.url), 'utf8');
  const lines = text.split('\n').filter((line) => line.trimStart().startsWith('{"id"'));
  expect(lines).toHaveLength(table.woods.length);
});

test('figures that were read stand before figures recalled', () => {
  const order = { read: 0, memory: 1, none: 2 } as const;
  for (const { figures: of } of WOODS) {
    const ranks = of.map(({ status }) => order[status]);
    expect(ranks).toEqual([...ranks].sort());
  }
});

test.each([
  ['sug map', 'Maple, sugar'],
  ['Maple, sugar', 'Maple, sugar'],
  ['HARD MAPLE', 'Maple, sugar'],
  ['acer saccharum', 'Maple, sugar'],
  ['rotbuche', 'Beech, European'],
  ['box', 'Boxwood'],
  ['white oak', 'Oak, white'],
  ['spp', undefined],
  ['junglans', undefined],
  ['jug reg', 'Walnut, European'],
  ['Gonçalo', 'Goncalo alves'],
  ['', undefined],
  ['  , ', undefined],
  ['oak of nowhere', undefined],
])('"%s" finds %s', (typed, trade) => {
  const found = findWood(typed);
  if (trade === undefined) expect(found.kind).toBe('unknown');
  else expect(found).toMatchObject({ kind: 'found', wood: { trade } });
});

const woodCalled = (name: string) => ofKind('found', findWood(name)).wood;

test('part-words that fit several woods list them all', () => {
  const trades = ofKind('ambiguous', findWood('walnut')).candidates.map(({ trade }) => trade);
  expect(trades).toEqual(['Walnut, black', 'Walnut, European']);
});

test('each wood is found by its id, its trade name and its botanical name, alone or among its like', () => {
  for (const wood of WOODS) {
    for (const name of [wood.id, wood.trade]) expect(woodCalled(name)).toBe(wood);
    if (wood.botanical === null) continue;
    const found = findWood(wood.botanical);
    expect(found.kind === 'found' ? [found.wood] : ofKind('ambiguous', found).candidates).toContain(wood);
  }
});

test('what is unknown stays unknown', () => {
  expect(woodCalled('plum').figures).toEqual([]);
  const osage = table.woods.find(({ id }) => id === 'osage-orange/wh190-4-3');
  expect(osage).toMatchObject({ radial: null, tangential: null, volumetric: 9.2 });
});

test('a source that gives a range counts by its middle, one with coefficients by those; sources are kept apart', () => {
  // DIN 68100 as in the table: 4.6 to 4.8 and 6.9 to 8.3 percent.
  expect(woodCalled('Elm, European').figures[0]).toMatchObject({
    radial: { shrinkage: expect.closeTo(4.7, 9) },
    tangential: { shrinkage: expect.closeTo(7.6, 9) },
  });
  const silver = woodCalled('Maple, silver').figures.find(({ source }) => /190.*13-5/.test(source));
  expect([silver?.radial.coefficient, silver?.tangential.coefficient]).toEqual([0.00102, 0.00252]);
  expect(woodCalled('pear').figures.map(({ tangential }) => tangential.shrinkage)).toEqual([9.1, 11.3]);
});
