// Seeded chance for tests and simulations: the same seed gives the same run on every machine.

export interface Chance {
  /** From 0 up to, not including, 1. */
  readonly uniform: () => number;
  /** Mean 0, standard deviation 1. */
  readonly normal: () => number;
  /** A number from `least` up to, but not including, `most`. */
  readonly between: (least: number, most: number) => number;
  /** A whole number from 0 up to, but not including, `count`. */
  readonly below: (count: number) => number;
  /** One of the list, which must not be empty. */
  readonly pick: <T>(list: readonly T[]) => T;
}

/** A linear congruential generator of 48 bits (the constants of POSIX drand48; from memory): for simulated jobs. */
export function chanceFrom(seed: number): Chance {
  let state = (BigInt(seed) << 16n) | 0x330en;
  return chanceBy(() => {
    state = (state * 0x5deece66dn + 0xbn) & 0xffffffffffffn;
    return Number(state) / 2 ** 48;
  });
}

/** A 32-bit xorshift generator, for millions of draws. Source: Marsaglia, "Xorshift RNGs", 2003, triple 13, 17, 5 (from memory). */
export function fastChanceFrom(seed: number): Chance {
  let state = Math.imul(seed + 1, 0x9e3779b1) >>> 0 || 1; // spreads small seeds apart
  return chanceBy(() => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) / 2 ** 32;
  });
}

function chanceBy(uniform: () => number): Chance {
  const below = (count: number): number => Math.floor(uniform() * count);
  return {
    uniform,
    normal: () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform()),
    between: (least, most) => least + uniform() * (most - least),
    below,
    pick(list) {
      const picked = list[below(list.length)];
      if (picked === undefined) throw new RangeError('nothing to pick from');
      return picked;
    },
  };
}
