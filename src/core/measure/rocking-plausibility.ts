// Which readings a hand could have made: jumps that the next readings take back are thrown out, also several in a burst.
import type { Reading } from './reading.ts';

/** What a hand can do; our own figures, kept as data. */
export const PLAUSIBLE = {
  /** A swing of 16 degrees off the diameter takes 4 % off a reading: more from one reading to the next is no rock. */
  jump: 0.04,
  /** After so many readings elsewhere the jaws are elsewhere: no longer a burst of damage. */
  burst: 4,
  /** A rock is not followed across a silence longer than this. */
  gap: 1500,
  /** The largest a 20-bit caliper frame can say is 10 486 mm. */
  most: 11_000,
} as const;

export interface Heard {
  /** Its place in the capture's readings. */
  readonly place: number;
  readonly reading: Reading;
  /** False when it is in another unit than the capture. */
  readonly sameUnit: boolean;
}

/** The reading last believed, and those since that it does not support. */
export interface Screen {
  readonly believed: Heard | null;
  readonly doubted: readonly Heard[];
}

/** What one more reading showed. */
export interface Screened {
  readonly screen: Screen;
  /** Readings believed now, oldest first. */
  readonly believed: readonly Heard[];
  /** Whether they begin a new course, not to be joined with what was before. */
  readonly fresh: boolean;
  readonly thrown: readonly Heard[];
}

export const NONE: readonly Heard[] = [];

export const startScreen: Screen = { believed: null, doubted: NONE };

const possible = (value: number): boolean => Number.isFinite(value) && Math.abs(value) <= PLAUSIBLE.most;

const follows = (a: Heard, b: Heard): boolean =>
  Math.abs(b.reading.value - a.reading.value) <= PLAUSIBLE.jump * Math.abs(a.reading.value) + 0.05 &&
  a.sameUnit === b.sameUnit;

/** The usual case, told without a list: nothing is doubted, and the reading simply follows the one believed last. */
export function continues({ believed, doubted }: Screen, heard: Heard): boolean {
  if (!believed || doubted.length > 0 || !possible(heard.reading.value)) return false;
  const apart = heard.reading.at - believed.reading.at;
  return apart >= 0 && apart <= PLAUSIBLE.gap && follows(believed, heard);
}

/** Judges one more reading. Constant cost: never more than a burst's readings are looked at. */
export function screenReading(screen: Screen, heard: Heard): Screened {
  const last = screen.doubted.at(-1) ?? screen.believed;
  if (!possible(heard.reading.value)) return { screen, believed: NONE, fresh: false, thrown: [heard] };
  const apart = last ? heard.reading.at - last.reading.at : 0;
  if (last && (apart > PLAUSIBLE.gap || apart < 0)) return restarted(settle(screen), heard);
  if (screen.believed && follows(screen.believed, heard))
    return {
      screen: { believed: heard, doubted: NONE },
      believed: [heard],
      fresh: false,
      thrown: screen.doubted,
    };
  if (!screen.believed && heard.sameUnit && screen.doubted.length === 0) return restarted(null, heard);
  const doubted = [...screen.doubted, heard];
  return doubted.length > PLAUSIBLE.burst
    ? moved(doubted)
    : { screen: { ...screen, doubted }, believed: NONE, fresh: false, thrown: NONE };
}

const restarted = (before: Screened | null, heard: Heard): Screened => ({
  screen: heard.sameUnit ? { believed: heard, doubted: NONE } : { believed: null, doubted: [heard] },
  believed: heard.sameUnit ? [heard] : NONE,
  fresh: true,
  thrown: before?.thrown ?? NONE,
});

/** The jaws are elsewhere: believed from where the last readings follow one another. */
function moved(doubted: readonly Heard[]): Screened {
  let start = doubted.length - 1;
  for (let place = start; place > 0; place--) {
    const [a, b] = [doubted[place - 1], doubted[place]];
    if (!a || !b || !follows(a, b)) break;
    start = place - 1;
  }
  const believed = doubted.slice(start).filter((heard) => heard.sameUnit);
  return {
    screen: { believed: believed.at(-1) ?? null, doubted: NONE },
    believed,
    fresh: true,
    thrown: NONE,
  };
}

/** Nothing follows: what was doubted stays so and counts as thrown out only when it is a burst's length at most. */
function settle(screen: Screen): Screened {
  return {
    screen: { believed: screen.believed, doubted: NONE },
    believed: NONE,
    fresh: false,
    thrown: screen.doubted,
  };
}
