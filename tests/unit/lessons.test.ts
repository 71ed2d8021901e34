// What earlier jobs teach a new one: which jobs count, which trials, and the reasons in words.
import { describe, expect, test } from 'vitest';
import type { Job, TrialMade } from '../../src/core/bench/job.ts';
import { learnedFrom, setupKey, trialsOf } from '../../src/core/bench/lessons.ts';
import type { Setup } from '../../src/core/bench/setup.ts';
import { degrees, mm } from '../../src/core/units.ts';
import { played, threaded } from '../support/bench.ts';

/** A job with its bore and spigot kept and one trial made: 1 is seized, 4 loose. */
const tried = (word: number, spigot = 43.4): Job =>
  played(`=42.30 keep next 45x4 ${spigot}x4 keep keep @trial =${word}`).job;
const withTrial = (job: Job, change: Partial<TrialMade>): Job => ({
  ...job,
  trials: job.trials.map((trial) => ({ ...trial, ...change })),
});
const reasonsOf = (job: Job, setup: Setup = threaded) => learnedFrom(setup, [job])?.reasons.join();

describe('which jobs teach', () => {
  const { feed: _, ...byHand } = threaded;
  const other = (change: Partial<Setup>) => ({ ...threaded, ...change });

  test('those of the same pitch, starts, form, cutter, feed and wood; not of the name or the depth', () => {
    const same = other({ name: 'other', depth: { female: mm(0.8), male: mm(0.8) } });
    expect(setupKey(same)).toBe(setupKey(threaded));
    const keys = [
      threaded,
      byHand,
      other({ fit: 'plain' }),
      other({ starts: 2 }),
      other({ pitch: { ...threaded.pitch, length: mm(2) } }),
      other({ wood: 'beech, european' }),
      other({ cutter: { ...threaded.cutter, angle: degrees(55) } }),
      other({ cutter: { ...threaded.cutter, tip: { kind: 'radius', radius: mm(0.1) } } }),
    ].map(setupKey);
    expect(new Set(keys).size).toBe(keys.length);
  });

  test.each([
    ['maple, sugar', 'maple, silver', true],
    ['maple, sugar', 'beech, european', false],
    ['Moonwood', 'moonwood', true],
  ])('woods of one genus are one group, in any capitals: %s and %s: %j', (one, two, same) => {
    expect(setupKey(other({ wood: one })) === setupKey(other({ wood: two }))).toBe(same);
  });

  test('a trial without a computed clearance teaches nothing', () => {
    const job = tried(2, 43.5);
    expect(trialsOf(job)).toMatchObject([{ label: 'pear box', verdict: 'tight', bounds: threaded.bounds }]);
    for (const lacking of [{ clearance: null }, { standard: null }, { standard: mm(0) }])
      expect(trialsOf(withTrial(job, lacking))).toEqual([]);
  });

  test('nothing is learned from no trial, from another setup, or from a job that was removed', () => {
    const job = tried(4, 43.5);
    expect(learnedFrom({ ...threaded, starts: 2 }, [job])).toBeNull();
    for (const jobs of [[], [{ ...job, removed: true }], [{ ...job, trials: [] }]])
      expect(learnedFrom(threaded, jobs)).toBeNull();
  });
});

test('lids that came out loose shift the next one tighter, each with its reason', () => {
  const job = tried(4);
  const once = learnedFrom(threaded, [job]);
  const often = learnedFrom(
    threaded,
    [...'abcdef'].map((id) => ({ ...job, id })),
  );
  if (!once || !often) throw new Error('nothing learned');
  expect(often.shift).toBeGreaterThan(0.02);
  expect(often.mean).toBeGreaterThan(often.shift);
  expect(often.spread).toBeLessThan(once.spread);
  expect(often.reasons).toHaveLength(6);
});

test.each<[string, Job, Setup, RegExp]>([
  ['loose', tried(4), threaded, /^pear box: computed 0\.15 mm, loose; moved the bias \+0\.\d{3} mm$/],
  ['seized', tried(1), threaded, /seized; moved the bias -0\.\d{3} mm$/],
  // Kept in the unit of the job it is kept with.
  [
    'in inches',
    tried(4),
    { ...threaded, unit: 'in' },
    /^pear box: computed 0\.0059 in, loose; moved the bias \+0\.\d{4} in$/,
  ],
])('the reason of one that was %s is said', (_, job, setup, words) =>
  expect(reasonsOf(job, setup)).toMatch(words),
);

test('a verdict that no bias explains is listed and ignored', () => {
  const strange = withTrial(tried(1), { clearance: mm(3), standard: mm(0.02) });
  expect(reasonsOf(strange)).toBe(
    'pear box: computed 3.00 mm, seized; no bias explains that, so it is ignored',
  );
  expect(learnedFrom(threaded, [strange])?.shift).toBe(0);
});
