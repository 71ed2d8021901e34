// Damaged frames: a caliper's frame holds no check, so a flipped bit is a reading; alone and in bursts, plausible and wild.
import type { Chance } from './random.ts';

/**
 * The counts shown (value over step), some of them damaged: about `share` of all frames, half of those alone and half in bursts
 * of 2 to 4. A damaged frame is one flipped bit of 0 to 19 of the count (half), a plausible one up to 60 steps off (a quarter),
 * or anything up to 15 000 (a quarter). Returns the counts and how many were damaged.
 */
export function damaged(
  chance: Chance,
  counts: readonly number[],
  share: number,
): { readonly counts: readonly number[]; readonly bad: number } {
  const result = [...counts];
  let bad = 0;
  let place = 0;
  while (place < counts.length) {
    const alone = chance.happens(share / 2);
    const burst = !alone && chance.happens(share / 6) ? chance.whole(2, 4) : 0;
    const many = alone ? 1 : burst;
    for (let i = 0; i < many && place + i < counts.length; i++, bad++)
      result[place + i] = wrong(chance, counts[place + i] ?? 0);
    place += Math.max(1, many);
  }
  return { counts: result, bad };
}

function wrong(chance: Chance, count: number): number {
  if (chance.happens(0.5)) return Math.sign(count || 1) * (Math.abs(count) ^ (1 << chance.whole(0, 19)));
  return chance.happens(0.5)
    ? count + (chance.whole(0, 1) * 2 - 1) * chance.whole(1, 60)
    : chance.whole(0, 15000);
}
