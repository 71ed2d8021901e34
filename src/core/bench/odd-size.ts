// Sizes that can hardly be meant: a slip of the keys is asked about before it becomes a bore or a spigot.
import { type Length, mm } from '../units.ts';

/** Diameters of threaded boxes, and of what an ordinary 150 mm caliper measures; our own choice. */
const ORDINARY = { from: mm(8), to: mm(150) };
/** Further from what is expected than this, or a tenth of it, is odd; our own choice. */
const FAR = mm(3);

/** `expected` is the planned bore or the target, null where nothing is known. */
export const isOddBore = (value: Length, expected: Length | null): boolean =>
  value < ORDINARY.from ||
  value > ORDINARY.to ||
  (expected !== null && Math.abs(value - expected) > Math.max(FAR, expected / 10));

/** Ovality and taper of a round part are below this, or below a fiftieth of its size; our own choice. */
export const isOddShape = (value: Length, known: Length): boolean =>
  Math.abs(value - known) > Math.max(mm(1), known / 50);

/** A spigot may be as large as its blank, but never much smaller than its target. */
export const isOddSpigot = (value: Length, target: Length | null): boolean =>
  value > ORDINARY.to || (target !== null && target - value > Math.max(FAR, target / 10));
