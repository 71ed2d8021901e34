// Sizes that can hardly be meant: a slip of the keys is asked about before it becomes a bore or a spigot.
import { type Length, mm } from '../units.ts';

/** What threaded boxes and an ordinary 150 mm caliper come to, on the diameter; our own choice. */
const ORDINARY = { from: mm(8), to: mm(150) };
/** Further from what is expected than this, or a tenth of it, is odd; our own choice. */
const FAR = mm(3);

/** `expected` is the planned bore or the target, null where nothing is known. */
export const isOddBore = (value: Length, expected: Length | null): boolean =>
  value < ORDINARY.from ||
  value > ORDINARY.to ||
  (expected !== null && Math.abs(value - expected) > Math.max(FAR, expected / 10));

/** Ovality and taper of a round part come to less than this, or a fiftieth of it; our own choice. */
export const isOddShape = (value: Length, known: Length): boolean =>
  Math.abs(value - known) > Math.max(mm(1), known / 50);

/** A spigot may be as large as its blank, but never much smaller than its target. */
export const isOddSpigot = (value: Length, target: Length | null): boolean =>
  value > ORDINARY.to || (target !== null && target - value > Math.max(FAR, target / 10));
