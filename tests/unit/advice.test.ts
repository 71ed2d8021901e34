// What a trial leads to: deeper by whole steps, the spigot first, crests before cuts, and nothing where nothing helps.
import { describe, expect, test } from 'vitest';
import { adviceOn } from '../../src/core/bench/advice.ts';
import type { Fact } from '../../src/core/bench/entry.ts';
import { jobOf } from '../../src/core/bench/job.ts';
import type { Setup } from '../../src/core/bench/setup.ts';
import { lossOverRange } from '../../src/core/bench/target.ts';
import type { FitWord } from '../../src/core/thread/fit.ts';
import { degrees, humidityPercent, mm } from '../../src/core/units.ts';
import { played, TYPED_BORE, threaded } from '../support/bench.ts';

/** The limit of sharp 60 degree threads of 16 TPI, 1 mm deep each (4 x 1 mm less 2 H); one step deeper adds twice that step. */
const LIMIT = 4 - 2 * (25.4 / 16) * (Math.sqrt(3) / 2);
const { feed: _, ...byHand } = threaded;
const deep = (female: number, male = female): Setup => ({
  ...byHand,
  depth: { female: mm(female), male: mm(male) },
});
const relieved: Fact = { kind: 'crests-relieved', part: 'male' };

function advised(
  verdict: FitWord | null,
  /** What the pair was computed to have; null for a spigot never kept. */
  computed: number | null,
  setup: Setup = byHand,
  { before = [], after = [] }: { readonly before?: readonly Fact[]; readonly after?: readonly Fact[] } = {},
) {
  const diameter = mm(42 + LIMIT - (computed ?? 0));
  const spigot = { kind: 'spigot-taken', diameter, how: 'typed', fit: 'tight', clearance: mm(0) } as const;
  const facts: readonly Fact[] = [
    { kind: 'job-begun', setup },
    { kind: 'bore-taken', diameter: mm(42), ...TYPED_BORE },
    ...(computed === null ? [] : [spigot]),
    ...before,
    ...(verdict ? [{ kind: 'trial-made', verdict, clearance: null, standard: null } as const] : []),
    ...after,
  ];
  const job = jobOf(facts.map((fact, at) => ({ id: `e${at}`, job: 'j', at, fact, readings: [] })));
  return job ? adviceOn(job) : [];
}
const cuts = (...of: Parameters<typeof advised>) => advised(...of).filter(({ kind }) => kind === 'deepen');
const kinds = (...of: Parameters<typeof advised>) => advised(...of).map(({ kind }) => kind);
const deeper = (part: 'male' | 'female', by: number, detents: number | null = null) => ({
  kind: 'deepen',
  part,
  detents,
  by: expect.closeTo(by, 9),
  buys: expect.closeTo(2 * by, 9),
});

describe('a tight pair', () => {
  const bounds = { runningFrom: mm(0.28), looseFrom: mm(0.6) };
  const wide = { ...byHand, bounds };

  test.each<[FitWord, number | null, Setup, number, number | null]>([
    // Computed 0.25 mm too large: 0.08 wanted, 0.33 to buy, a tenth a step by hand.
    ['seized', -0.25, byHand, 0.2, null],
    ['tight', -0.25, byHand, 0.2, null],
    ['tight', -0.25, threaded, 0.2, 1],
    // The word is believed over the sums: seized has no clearance, tight at most half of what runs.
    ['seized', 0.5, wide, 0.15, null],
    ['seized', 0.2, wide, 0.15, null],
    ['tight', 0.5, wide, 0.1, null],
    ['tight', 0.1, wide, 0.1, null],
    ['tight', null, wide, 0.15, null],
    // Six steps at most: beyond that it is another job.
    ['seized', -0.45, byHand, 0.3, null],
  ])(
    '%s, computed %j: deeper until it runs, on the spigot first',
    (verdict, computed, setup, by, detents) => {
      expect(cuts(verdict, computed, setup)).toEqual([
        deeper('male', by, detents),
        deeper('female', by, detents),
      ]);
    },
  );

  test('that wants more is not advised', () => expect(advised('seized', -0.55)).toEqual([]));

  test('with no crest left to cut gets that advice after the cuts that still help', () => {
    // 16 TPI at 60 degrees has no crest left at a depth of 1.375 mm.
    const advice = advised('seized', 0, deep(1, 1.35)).filter(({ kind }) => kind !== 'relieve-crests');
    expect(advice).toMatchObject([
      { kind: 'deepen', part: 'female' },
      { kind: 'no-more', part: 'male' },
    ]);
    expect(kinds('seized', 0, deep(1.5, 1.35))).toEqual(['no-more', 'no-more']);
  });
});

describe('crests', () => {
  const round = (radius: number): Setup => ({
    ...deep(1.02),
    cutter: { name: 'nosed', angle: degrees(60), tip: { kind: 'radius', radius: mm(radius) } },
  });
  const after = [relieved];

  const sanding = { kind: 'relieve-crests', part: 'male' };
  const cutting = { kind: 'deepen', part: 'male' };

  test.each<[string, Setup, object]>([
    // Cut nearly to the sharp form's whole height, so that little is left between flanks and roots.
    ['that touch first, or hardly after the flanks', deep(1.36, 1.3), sanding],
    ['that have room', byHand, cutting],
    ['with square corners in round roots', round(0.15), sanding],
    ['with square corners in roots hardly round', round(0.02), cutting],
  ])('%s: first %j; nobody sands twice', (_, setup, first) => {
    expect(advised('tight', 0, setup)[0]).toMatchObject(first);
    expect(kinds('tight', 0, setup, { after })).not.toContain('relieve-crests');
  });
});

test('a pair that was not tried, runs, rattles, or was cut since its trial gets no cuts', () => {
  const cut = { kind: 'thread-cut', part: 'male', detents: 5, depth: mm(1.2), proven: true } as const;
  expect(advised(null, 0)).toEqual([]);
  expect(advised('tight', 0, byHand, { after: [cut] })).toEqual([]);
  expect(advised('running', 0)).toEqual([{ kind: 'runs' }]);
  expect(advised('loose', 0)).toEqual([{ kind: 'leave' }]);
});

describe('a pair made for a range of humidity', () => {
  /** Tried in air where it has all its clearance: the worst of the range takes some of it. */
  const season = { from: humidityPercent(40), to: humidityPercent(55), remains: mm(0.08) };
  const setup: Setup = { ...byHand, wood: 'maple, sugar', plannedBore: mm(42), season };
  const wide = { ...setup, season: { ...season, from: humidityPercent(25), to: humidityPercent(75) } };
  const loss = lossOverRange(played('', setup).job);
  const stepsFrom = (clearance: number) => 0.05 * Math.ceil((0.08 + loss - clearance) / 0.1);

  test('that is loose now and right in the worst air is left, and closed as one that runs', () => {
    // Clearances from 0.30 mm on are loose now; what the worst air leaves of 0.32 mm is well between 0.08 and 0.30 mm.
    expect(loss).toBeGreaterThan(0.05);
    expect(loss).toBeLessThan(0.2);
    expect(advised('loose', 0.32, setup)).toEqual([{ kind: 'runs-over-range' }]);
    const spigot = (42 + LIMIT - 0.32).toFixed(2);
    const table = played(`=42 keep @spigot 45x4 ${spigot}x4 keep keep @trial =4 @record keep`, setup);
    expect(table.job.closed?.how).toBe('runs');
  });

  test('is cut deeper by as much as the worst air needs, whether it runs now or is tight', () => {
    // 0.10 mm now leaves less than 0.08 mm: a step of 0.05 mm adds 0.10 mm.
    expect(advised('running', 0.1, setup)[0]).toEqual(deeper('male', stepsFrom(0.1)));
    expect(advised('tight', 0.2, setup)[0]).toEqual(deeper('male', stepsFrom(0.04)));
    expect(kinds('loose', 0.32, wide)[0]).toBe('deepen');
    expect(advised('running', 0.08 + loss + 0.01, setup)).toEqual([{ kind: 'runs' }]);
    expect(advised('running', 0.1)).toEqual([{ kind: 'runs' }]);
  });
});

test.each([
  ['seized', 'ease'],
  ['tight', 'ease'],
  ['running', 'runs'],
  ['loose', 'leave'],
] as const)('a plain lid held by 0.05 mm that is %s: %s', (verdict, kind) => {
  const held = { ...byHand, fit: 'plain', wanted: mm(-0.05) } as const;
  for (const computed of [-0.4, -0.05, 0.3]) expect(kinds(verdict, computed + LIMIT, held)).toEqual([kind]);
  expect(advised('tight', null, { ...byHand, fit: 'plain' })).toEqual([{ kind: 'ease', by: 0.08 }]);
});

describe('threads chased by hand', () => {
  const chased: Setup = { ...byHand, byHand: true };

  test.each<[FitWord, readonly Fact[], readonly string[]]>([
    ['running', [], ['runs']],
    ['loose', [], ['leave']],
    ['tight', [], ['chase', 'relieve-crests']],
    ['seized', [], ['chase', 'relieve-crests']],
    ['tight', [relieved], ['chase']],
  ])('whose depth nobody measured go by the verdict alone: %s, %j', (verdict, after, advice) => {
    expect(kinds(verdict, 0.15, chased, { after })).toEqual(advice);
  });

  test('whose depth a flat showed are cut deeper by as many strokes as the ones before it make likely', () => {
    const flat = { how: 'flat', strokes: 20, depth: mm(1), within: mm(0.02), flat: mm(0.4) } as const;
    const before = (['female', 'male'] as const).flatMap((part): readonly Fact[] => [
      ...Array.from({ length: 20 }, () => ({ kind: 'stroke', part }) as const),
      { kind: 'thread-chased', part, ...flat },
    ]);
    // 0.2 mm at 20 strokes a millimetre
    expect(cuts('seized', -0.25, chased, { before })).toEqual([
      { ...deeper('male', 0.2), strokes: 4 },
      { ...deeper('female', 0.2), strokes: 4 },
    ]);
  });
});
