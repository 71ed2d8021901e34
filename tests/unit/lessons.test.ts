// What a trial advises, and what earlier jobs teach a new one: which jobs count, which trials, and the reasons in words.
import { describe, expect, test } from 'vitest';
import { adviceOn, type TrialAdvice } from '../../src/core/bench/advice.ts';
import type { Job, TrialMade } from '../../src/core/bench/job.ts';
import { learnedFrom, setupKey, trialsOf } from '../../src/core/bench/lessons.ts';
import { limitsOf } from '../../src/core/thread/limits.ts';
import { degrees, mm } from '../../src/core/units.ts';
import { Table, threaded } from '../support/bench.ts';

type Setup = typeof threaded;

/** A job with its bore and spigot taken and one trial made. */
function tried(word: '1' | '2' | '3' | '4', spigot = 43.5, setup: Setup = threaded): Job {
  const table = new Table(setup).type('42.30').act('take', 'next').turns(spigot).act('take', 'take');
  const { job } = table.to('trial').type(word).act('take').bench;
  if (!job) throw new Error('no job');
  return job;
}
const ofKind = (advice: readonly TrialAdvice[], kind: TrialAdvice['kind']) =>
  advice.filter((one) => one.kind === kind);

describe('advice', () => {
  test('nothing before a trial; running runs, loose is left', () => {
    expect(adviceOn({ ...tried('2'), trials: [] })).toEqual([]);
    expect(adviceOn(tried('3'))).toEqual([{ kind: 'runs' }]);
    expect(adviceOn(tried('4'))).toEqual([{ kind: 'leave' }]);
    expect(adviceOn({ ...tried('2'), bore: null })).toEqual([{ kind: 'leave' }]);
  });

  test('a tight thread: the fewest detents on either part, the spigot first, and what each buys', () => {
    const advice = adviceOn(tried('2'));
    // each detent of 0.2 mm buys 0.4 mm at the flanks (d limit / d depth = 2, limits.ts)
    const step = { kind: 'deepen', detents: 1, by: 0.2, buys: expect.closeTo(0.4, 9) };
    expect(advice).toEqual([
      { ...step, part: 'male' },
      { ...step, part: 'female' },
    ]);
  });

  test('a seized thread needs as much more as it is under nothing', () => {
    // a spigot of 43.9 mm is computed to 42.3 + 1.25037 - 43.9 = -0.34963 mm; 0.08 mm runs, each 0.1 mm buys 0.2
    const tenths = { ...threaded, feed: { ...threaded.feed, perDetent: mm(0.1) } } as Setup;
    const [first] = ofKind(adviceOn(tried('1', 43.9, tenths)), 'deepen');
    expect(first).toMatchObject({ part: 'male', detents: 3, buys: expect.closeTo(0.6, 9) });
  });

  test('without a feed the depth is told in twentieths, and no detents', () => {
    const { feed: _, ...byHand } = threaded;
    const [first] = ofKind(adviceOn(tried('2', 43.5, byHand as Setup)), 'deepen');
    expect(first).toMatchObject({ detents: null, by: 0.05, buys: expect.closeTo(0.1, 9) });
  });

  test('where one more detent would eat the crest, that part gives no more', () => {
    const deep = { ...threaded, depth: { female: mm(1.2), male: mm(1) } };
    const advice = adviceOn(tried('2', 43.9, deep));
    expect(advice[0]).toMatchObject({ kind: 'deepen', part: 'male' });
    expect(advice.at(-1)).toEqual({ kind: 'no-more', part: 'female' });
  });

  test('more than six detents is another job', () => {
    const fine = { ...threaded, feed: { ...threaded.feed, perDetent: mm(0.01) } } as Setup;
    expect(ofKind(adviceOn(tried('1', 44.1, fine)), 'deepen')).toEqual([]);
  });

  test('a plain lid is eased by what running asks for', () => {
    const plain = { ...threaded, fit: 'plain' as const };
    expect(adviceOn(tried('2', 42.25, plain))).toEqual([{ kind: 'ease', by: 0.08 }]);
  });

  test('crests that touch as soon as the flanks are relieved first, once', () => {
    const blunt = {
      ...threaded,
      cutter: { name: 'blunt', angle: degrees(60), tip: { kind: 'flat', width: mm(0.3) } },
      depth: { female: mm(1), male: mm(1) },
    } as Setup;
    const job = tried('2', 44, blunt);
    const groove = { depth: mm(1), tip: blunt.cutter.tip };
    const limits = limitsOf({
      pitch: blunt.pitch.length,
      starts: 1,
      angle: degrees(60),
      female: groove,
      male: groove,
    });
    expect(limits.kind === 'limits' && limits.root - limits.flank).toBeLessThan(0.1);
    expect(adviceOn(job)[0]).toEqual({ kind: 'relieve-crests', part: 'male' });
    const relieved = { ...job, trials: job.trials.map((trial) => ({ ...trial, relieved: true })) };
    expect(ofKind(adviceOn(relieved), 'relieve-crests')).toEqual([]);
    expect(ofKind(adviceOn(tried('2')), 'relieve-crests')).toEqual([]);
  });

  test('what was reworked since is not advised on again', () => {
    const job = tried('2');
    expect(adviceOn({ ...job, trials: job.trials.map((trial) => ({ ...trial, reworked: true })) })).toEqual(
      [],
    );
  });
});

describe('which jobs teach', () => {
  test('the same pitch, starts, form, cutter, feed and wood; not the name or the depth', () => {
    const key = setupKey(threaded);
    expect(setupKey({ ...threaded, name: 'other', depth: { female: mm(0.8), male: mm(0.8) } })).toBe(key);
    const { feed: _, ...byHand } = threaded;
    const others: readonly Setup[] = [
      { ...threaded, fit: 'plain' as const },
      { ...threaded, starts: 2 },
      { ...threaded, pitch: { ...threaded.pitch, length: mm(2) } },
      { ...threaded, wood: 'beech, european' },
      { ...threaded, cutter: { ...threaded.cutter, angle: degrees(55) } },
      byHand as Setup,
    ];
    for (const other of others) expect(setupKey(other)).not.toBe(key);
    expect(new Set(others.map(setupKey)).size).toBe(others.length);
  });

  test('woods of one genus are one group, a wood in no table is its own, whatever its capitals', () => {
    const keyOf = (wood: string) => setupKey({ ...threaded, wood });
    expect(keyOf('maple, sugar')).toBe(keyOf('maple, silver'));
    expect(keyOf('maple, sugar')).not.toBe(keyOf('beech, european'));
    expect(keyOf('Moonwood')).toBe(keyOf('moonwood'));
  });

  test('a trial without a computed clearance teaches nothing', () => {
    const job = tried('2');
    const [made] = job.trials;
    if (!made) throw new Error('no trial');
    const with_ = (change: Partial<TrialMade>): Job => ({ ...job, trials: [{ ...made, ...change }] });
    expect(trialsOf(job)).toMatchObject([{ label: 'pear box', verdict: 'tight', bounds: threaded.bounds }]);
    expect(trialsOf(with_({ clearance: null }))).toEqual([]);
    expect(trialsOf(with_({ standard: null }))).toEqual([]);
    expect(trialsOf(with_({ standard: mm(0) }))).toEqual([]);
  });

  test('nothing is learned from no trial, from another setup, or from a job that was removed', () => {
    const job = tried('4');
    expect(learnedFrom(threaded, [])).toBeNull();
    expect(learnedFrom({ ...threaded, starts: 2 }, [job])).toBeNull();
    expect(learnedFrom(threaded, [{ ...job, removed: true }])).toBeNull();
    expect(learnedFrom(threaded, [{ ...job, trials: [] }])).toBeNull();
  });

  test('lids that came out loose shift the next one tighter, each with its reason', () => {
    const job = tried('4', 43.4);
    const once = learnedFrom(threaded, [job]);
    const often = learnedFrom(
      threaded,
      ['a', 'b', 'c', 'd', 'e', 'f'].map((id) => ({ ...job, id })),
    );
    if (!once || !often) throw new Error('nothing learned');
    expect(often.shift).toBeGreaterThan(0.02);
    expect(often.spread).toBeLessThan(once.spread);
    expect(once.reasons).toEqual([
      expect.stringMatching(/^pear box: computed 0\.15 mm, loose; moved the bias \+0\.\d{3} mm$/),
    ]);
    expect(often.reasons).toHaveLength(6);
    expect(often.mean).toBeGreaterThan(often.shift);
    const seized = learnedFrom(threaded, [tried('1', 43.4)]);
    expect(seized?.reasons[0]).toMatch(/seized; moved the bias -0\.\d{3} mm$/);
  });

  test('a job in inches keeps its reasons in inches', () => {
    const learned = learnedFrom({ ...threaded, unit: 'in' }, [tried('4', 43.4)]);
    expect(learned?.reasons).toEqual([
      expect.stringMatching(/^pear box: computed 0\.0059 in, loose; moved the bias \+0\.\d{4} in$/),
    ]);
  });

  test('a verdict that no bias explains is listed and ignored', () => {
    const job = tried('1', 43.4);
    const strange = {
      ...job,
      trials: job.trials.map((trial) => ({ ...trial, clearance: mm(3), standard: mm(0.02) })),
    };
    const learned = learnedFrom(threaded, [strange]);
    expect(learned?.reasons).toEqual([
      'pear box: computed 3.00 mm, seized; no bias explains that, so it is ignored',
    ]);
    expect(learned?.shift).toBe(0);
  });
});
