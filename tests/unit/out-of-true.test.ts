// Parts out of true at the bench: which doubt they leave, how a spigot fits, and when a quarter turn is asked for.
import { describe, expect, test } from 'vitest';
import type { Job } from '../../src/core/bench/job.ts';
import { asksAcross, fitsLike, outOfTrue } from '../../src/core/bench/out-of-true.ts';
import { mm } from '../../src/core/units.ts';
import { played } from '../support/bench.ts';

describe('parts out of true', () => {
  const job = { ...played('=42.30 keep').job, mouth: null, depth: null };
  const at = (diameter: number) => ({ diameter: mm(diameter), how: 'typed' }) as const;
  const tapered = { ...job, mouth: at(42.3), depth: at(42.2) };
  const spigot = { diameter: mm(43.4), end: mm(43.6) };
  const names = (of: Job, size: typeof spigot | null) => outOfTrue(of, size).doubts.map(({ name }) => name);

  test('a doubt names which of them is tapered', () => {
    expect(names(tapered, null)).toEqual(['taper of the bore']);
    expect(names(job, spigot)).toEqual(['taper of the spigot']);
    expect(names(tapered, spigot)).toEqual(['taper of the bore and spigot']);
    expect(names(job, null)).toEqual([]);
  });

  test('a spigot fits as a true one that is larger by what its shape takes', () => {
    // 0.1 mm by the bore alone, 0.3 mm by both
    expect(outOfTrue(tapered, spigot).loss).toBeCloseTo(0.3, 9);
    expect(fitsLike(tapered, spigot)).toBeCloseTo(43.4 + 0.2, 9);
    expect(outOfTrue({ ...job, mouth: at(42.2), depth: at(42.3) }, null)).toMatchObject({
      loss: 0,
      spread: expect.closeTo(0.1, 9),
    });
  });

  test('a quarter turn is asked for from 60 mm on where nothing is known of the wood, or where it is wet', () => {
    const asks = (wood: string, diameter: number, hardened = false) => {
      const bore = job.bore && { ...job.bore, diameter: mm(diameter) };
      const female = { ...job.threads.female, hardened };
      return asksAcross(
        { ...job, bore, setup: { ...job.setup, wood }, threads: { ...job.threads, female } },
        'female',
      );
    };
    expect([asks('plastic', 60), asks('plastic', 59.9), asks('green plastic', 20)]).toEqual([
      true,
      false,
      true,
    ]);
    expect([asks('plastic', 60, true), asks('evergreen', 20)]).toEqual([false, false]);
    expect(asksAcross({ ...job, bore: null }, 'female')).toBe(false);
  });
});
