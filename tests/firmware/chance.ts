// Seeded random numbers for the waveforms: the same seed gives the same run on every machine.

export interface Chance {
  /** A number from `least` up to, but not including, `most`. */
  between(least: number, most: number): number;
  /** A whole number from 0 up to, but not including, `count`. */
  below(count: number): number;
  /** One of the list, which must not be empty. */
  pick<T>(list: readonly T[]): T;
}

/** A 32-bit xorshift generator. Source: Marsaglia, "Xorshift RNGs", 2003, triple 13, 17, 5 (from memory). */
export function chanceOf(seed: number): Chance {
  let state = Math.imul(seed + 1, 0x9e3779b1) >>> 0 || 1; // spreads small seeds apart
  const share = (): number => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) / 2 ** 32;
  };
  const below = (count: number): number => Math.floor(share() * count);
  return {
    between: (least, most) => least + share() * (most - least),
    below,
    pick(list) {
      const picked = list[below(list.length)];
      if (picked === undefined) throw new RangeError('nothing to pick from');
      return picked;
    },
  };
}
