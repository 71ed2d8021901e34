// What a trial leads to: deeper by whole steps, the spigot first, crests before cuts, and nothing where nothing helps.
import { describe, expect, test } from 'vitest';
import { adviceOn } from '../../src/core/bench/advice.ts';
import type { Fact } from '../../src/core/bench/entry.ts';
import { jobOf } from '../../src/core/bench/job.ts';
import type { Setup } from '../../src/core/bench/setup.ts';
import type { FitWord } from '../../src/core/thread/fit.ts';
import { degrees, mm } from '../../src/core/units.ts';
import { TYPED_BORE, threaded } from '../support/bench.ts';

/** The limit of sharp 60 degree threads of 16 TPI, 1 mm deep each (4 x 1 mm less 2 H); one step deeper adds twice that step. */
const LIMIT = 4 - 2 * (25.4 / 16) * (Math.sqrt(3) / 2);
const { feed: _, ...byHand } = threaded;

function advised(
  verdict: FitWord,
  /** What the pair was computed to have; null for a spigot never taken. */
  computed: number | null,
  setup: Setup = byHand,
  ...further: readonly Fact[]
) {
  const bore = { kind: 'bore-taken', diameter: mm(42), ...TYPED_BORE } as const;
  const diameter = mm(42 + LIMIT - (computed ?? 0));
  const spigot = { kind: 'spigot-taken', diameter, how: 'typed', fit: verdict, clearance: mm(0) } as const;
  const trial = { kind: 'trial-made', verdict, clearance: null, standard: null } as const;
  const facts: readonly Fact[] = [
    { kind: 'job-begun', setup },
    bore,
    ...(computed === null ? [] : [spigot]),
    trial,
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

  test('whose crest would be eaten is told so, after what still helps', () => {
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

test('a pair that runs, rattles, or was cut since its trial gets no cuts', () => {
  expect(advised('running', 0)).toEqual([{ kind: 'runs' }]);
  expect(advised('loose', 0)).toEqual([{ kind: 'leave' }]);
  const cut = { kind: 'thread-cut', part: 'male', detents: 5, depth: mm(1.2), proven: true } as const;
  expect(advised('tight', 0, byHand, cut)).toEqual([]);
});

test('a plain lid is eased by what running wants', () => {
  expect(advised('tight', null, { ...byHand, fit: 'plain' })).toEqual([{ kind: 'ease', by: 0.08 }]);
});
