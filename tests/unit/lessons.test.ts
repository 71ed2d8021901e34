// What earlier jobs teach a new one: which jobs count, which trials, and the reasons in words.
import { describe, expect, test } from 'vitest';
import type { Job, TrialMade } from '../../src/core/bench/job.ts';
import { learnedFrom, setupKey, trialsOf } from '../../src/core/bench/lessons.ts';
import { degrees, mm } from '../../src/core/units.ts';
import { Table, threaded } from '../support/bench.ts';

type Setup = typeof threaded;

/** A job with its bore and spigot taken and one trial made. */
function tried(word: '1' | '2' | '3' | '4', spigot = 43.5, setup: Setup = threaded): Job {
  const { job } = new Table(setup)
    .measured('42.30', spigot)
    .act('keep')
    .to('trial')
    .type(word)
    .act('keep').bench;
  if (!job) throw new Error('no job');
  return job;
}

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

  test('woods of one genus are one group; a wood in no table is its own, in any capitals', () => {
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
