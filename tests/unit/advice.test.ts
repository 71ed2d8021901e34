// What a trial leads to: deeper by whole steps, the spigot first, crests before cuts, and nothing where nothing helps.
import { describe, expect, test } from 'vitest';
import { adviceOn } from '../../src/core/bench/advice.ts';
import type { Fact } from '../../src/core/bench/entry.ts';
import { jobOf } from '../../src/core/bench/job.ts';
import type { Setup } from '../../src/core/bench/setup.ts';
import { lossOverRange } from '../../src/core/bench/target.ts';
import type { FitWord } from '../../src/core/thread/fit.ts';
import { degrees, humidityPercent, mm } from '../../src/core/units.ts';
import { Table, TYPED_BORE, threaded } from '../support/bench.ts';

/** The limit of sharp 60 degree threads of 16 TPI, 1 mm deep each (4 x 1 mm less 2 H); one step deeper adds twice that step. */
const LIMIT = 4 - 2 * (25.4 / 16) * (Math.sqrt(3) / 2);
const { feed: _, ...byHand } = threaded;

function advised(
  verdict: FitWord | null,
  /** What the pair was computed to have; null for a spigot never taken. */
  computed: number | null,
  setup: Setup = byHand,
  ...further: readonly Fact[]
) {
  const bore = { kind: 'bore-taken', diameter: mm(42), ...TYPED_BORE } as const;
  const diameter = mm(42 + LIMIT - (computed ?? 0));
  const spigot = { kind: 'spigot-taken', diameter, how: 'typed', fit: 'tight', clearance: mm(0) } as const;
  const facts: readonly Fact[] = [
    { kind: 'job-begun', setup },
    bore,
    ...(computed === null ? [] : [spigot]),
    ...(verdict ? [{ kind: 'trial-made', verdict, clearance: null, standard: null } as const] : []),
    ...further,
  ];
  const job = jobOf(facts.map((fact, at) => ({ id: `e${at}`, job: 'j', at, fact, readings: [] })));
  return job ? adviceOn(job) : [];
}
const cuts = (...of: Parameters<typeof advised>) => advised(...of).filter(({ kind }) => kind === 'deepen');
const deeper = (part: 'male' | 'female', by: number, detents: number | null = null) => ({
  kind: 'deepen',
  part,
  detents,
  by: expect.closeTo(by, 9),
  buys: expect.closeTo(2 * by, 9),
});

describe('a tight pair', () => {
  test('is cut deeper by as many steps as bring it to running, on the spigot first', () => {
    // Computed 0.25 mm too large: 0.08 wanted, 0.33 to buy, a tenth a step by hand.
    expect(cuts('seized', -0.25)).toEqual([deeper('male', 0.2), deeper('female', 0.2)]);
    expect(cuts('tight', -0.25)).toEqual([deeper('male', 0.2), deeper('female', 0.2)]);
    expect(cuts('tight', -0.25, threaded)).toEqual([deeper('male', 0.2, 1), deeper('female', 0.2, 1)]);
  });

  test('is believed over the sums: seized has no clearance, tight at most half of what runs', () => {
    const bounds = { runningFrom: mm(0.28), looseFrom: mm(0.6) };
    for (const computed of [0.5, 0.2])
      expect(cuts('seized', computed, { ...byHand, bounds })[0]).toEqual(deeper('male', 0.15));
    expect(cuts('tight', 0.5, { ...byHand, bounds })[0]).toEqual(deeper('male', 0.1));
    expect(cuts('tight', 0.1, { ...byHand, bounds })[0]).toEqual(deeper('male', 0.1));
    expect(cuts('tight', null, { ...byHand, bounds })[0]).toEqual(deeper('male', 0.15));
  });

  test('that wants more than six steps is another job', () => {
    expect(cuts('seized', -0.45)[0]).toEqual(deeper('male', 0.3));
    expect(advised('seized', -0.55)).toEqual([]);
  });

  test('with no crest left to cut gets that advice after the cuts that still help', () => {
    // 16 TPI at 60 degrees has no crest left at a depth of 1.375 mm.
    const setup = { ...byHand, depth: { female: mm(1), male: mm(1.35) } };
    const [first, second, ...more] = advised('seized', 0, setup).filter(
      ({ kind }) => kind !== 'relieve-crests',
    );
    expect(first).toMatchObject({ kind: 'deepen', part: 'female' });
    expect(second).toEqual({ kind: 'no-more', part: 'male' });
    expect(more).toEqual([]);
    const eaten = { ...byHand, depth: { female: mm(1.5), male: mm(1.35) } };
    expect(advised('seized', 0, eaten).map(({ kind }) => kind)).toEqual(['no-more', 'no-more']);
  });
});

describe('crests', () => {
  const sand = { kind: 'relieve-crests', part: 'male' };
  /** Cut nearly to the sharp form's whole height, so that little is left between flanks and roots. */
  const crowded = { ...byHand, depth: { female: mm(1.36), male: mm(1.3) } };

  test('that touch first, or hardly after the flanks, are sanded before anything is cut', () => {
    expect(advised('tight', 0, crowded)[0]).toEqual(sand);
    expect(advised('tight', 0)).not.toContainEqual(sand);
  });

  test('once sanded are not advised again', () => {
    expect(advised('tight', 0, crowded, { kind: 'crests-relieved', part: 'male' })).not.toContainEqual(sand);
  });

  test('with square corners in round roots touch before their tops do', () => {
    const depth = { female: mm(1.02), male: mm(1.02) };
    const round = (radius: number): Setup => ({
      ...byHand,
      depth,
      cutter: { name: 'nosed', angle: degrees(60), tip: { kind: 'radius', radius: mm(radius) } },
    });
    expect(advised('tight', 0, round(0.02))).not.toContainEqual(sand);
    expect(advised('tight', 0, round(0.15))).toContainEqual(sand);
  });
});

test('a pair that was not tried, runs, rattles, or was cut since its trial gets no cuts', () => {
  expect(advised(null, 0)).toEqual([]);
  expect(advised('running', 0)).toEqual([{ kind: 'runs' }]);
  expect(advised('loose', 0)).toEqual([{ kind: 'leave' }]);
  const cut = { kind: 'thread-cut', part: 'male', detents: 5, depth: mm(1.2), proven: true } as const;
  expect(advised('tight', 0, byHand, cut)).toEqual([]);
});

describe('a pair made for a range of humidity', () => {
  /** Tried in air where it has all its clearance: the worst of the range takes some of it. */
  const season = { from: humidityPercent(40), to: humidityPercent(55), remains: mm(0.08) };
  const setup: Setup = { ...byHand, wood: 'maple, sugar', plannedBore: mm(42), season };
  const wide = { ...setup, season: { ...season, from: humidityPercent(25), to: humidityPercent(75) } };
  const begun = jobOf([{ id: 'e', job: 'j', at: 0, fact: { kind: 'job-begun', setup }, readings: [] }]);
  const loss = begun ? lossOverRange(begun) : 0;

  test('that is loose now and right in the worst air is left, and closed as one that runs', () => {
    // clearances from 0.30 mm on are loose now; what the worst air leaves of 0.32 mm is well between 0.08 and 0.30 mm
    expect(loss).toBeGreaterThan(0.05);
    expect(loss).toBeLessThan(0.2);
    expect(advised('loose', 0.32, setup)).toEqual([{ kind: 'runs-over-range' }]);
    expect(advised('loose', 0.32)).toEqual([{ kind: 'leave' }]);
    const table = new Table(setup).type('42').act('keep').to('spigot');
    table
      .turns(42 + LIMIT - 0.32)
      .act('keep', 'keep')
      .to('trial')
      .type('4')
      .to('record')
      .act('keep');
    expect(table.bench.job?.closed?.how).toBe('runs');
  });

  test('that runs now and binds in the worst air is cut deeper by as much as the worst air needs', () => {
    // 0.10 mm now leaves less than 0.08 mm: a step of 0.05 mm adds 0.10 mm
    const cut = 0.05 * Math.ceil((0.08 + loss - 0.1) / 0.1);
    expect(advised('running', 0.1, setup)[0]).toEqual(deeper('male', cut));
    expect(advised('running', 0.1)).toEqual([{ kind: 'runs' }]);
    expect(advised('loose', 0.32, wide)[0]).toMatchObject({ kind: 'deepen' });
    expect(advised('running', 0.08 + loss + 0.01, setup)).toEqual([{ kind: 'runs' }]);
  });

  test('that is tight now is cut until it runs in the worst air', () => {
    const cut = 0.05 * Math.ceil((0.08 + loss - 0.04) / 0.1);
    expect(advised('tight', 0.2, setup)[0]).toEqual(deeper('male', cut));
  });
});

test.each([
  ['seized', 'ease'],
  ['tight', 'ease'],
  ['running', 'runs'],
  ['loose', 'leave'],
] as const)('a plain lid held by 0.05 mm that is %s: %s', (verdict, kind) => {
  const held = { ...byHand, fit: 'plain', wanted: mm(-0.05) } as const;
  for (const computed of [-0.4, -0.05, 0.3])
    expect(advised(verdict, computed + LIMIT, held).map((one) => one.kind)).toEqual([kind]);
});

test('a plain lid is eased until it runs', () => {
  expect(advised('tight', null, { ...byHand, fit: 'plain' })).toEqual([{ kind: 'ease', by: 0.08 }]);
});

describe('threads chased by hand whose depth nobody measured', () => {
  const chasedByHand: Setup = { ...byHand, byHand: true };
  test.each([
    ['running', [{ kind: 'runs' }]],
    ['loose', [{ kind: 'leave' }]],
    ['tight', [{ kind: 'chase' }, { kind: 'relieve-crests', part: 'male' }]],
    ['seized', [{ kind: 'chase' }, { kind: 'relieve-crests', part: 'male' }]],
  ] as const)('go by the verdict alone: %s', (verdict, advice) => {
    expect(advised(verdict, 0.15, chasedByHand)).toEqual(advice);
  });

  test('whose crests were relieved are chased on', () => {
    const relieved = { kind: 'crests-relieved', part: 'male' } as const;
    expect(advised('tight', 0.15, chasedByHand, relieved)).toEqual([{ kind: 'chase' }]);
  });

  test('whose depth a flat showed are cut deeper by as many strokes as the ones before it make likely', () => {
    const chase = (part: 'male' | 'female'): readonly Fact[] => [
      ...Array.from({ length: 20 }, () => ({ kind: 'stroke', part }) as const),
      {
        kind: 'thread-chased',
        part,
        strokes: 20,
        how: 'flat',
        depth: mm(1),
        within: mm(0.02),
        flat: mm(0.4),
      },
    ];
    const diameter = mm(42 + LIMIT + 0.25);
    const facts: readonly Fact[] = [
      { kind: 'job-begun', setup: chasedByHand },
      { kind: 'bore-taken', diameter: mm(42), ...TYPED_BORE },
      { kind: 'spigot-taken', diameter, how: 'typed', fit: 'tight', clearance: mm(0) },
      ...chase('female'),
      ...chase('male'),
      { kind: 'trial-made', verdict: 'seized', clearance: null, standard: null },
    ];
    const job = jobOf(facts.map((fact, at) => ({ id: `e${at}`, job: 'j', at, fact, readings: [] })));
    // 0.2 mm at 20 strokes a millimetre
    expect(job && adviceOn(job).filter(({ kind }) => kind === 'deepen')).toEqual([
      { ...deeper('male', 0.2), strokes: 4 },
      { ...deeper('female', 0.2), strokes: 4 },
    ]);
    expect(cuts('seized', -0.25)[0]).not.toHaveProperty('strokes');
  });
});
