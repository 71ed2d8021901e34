// Sizes that can hardly be meant: a slip of the keys is asked about before it becomes a bore or a spigot.
import { type Length, mm } from '../units.ts';
import type { KeepQuestion } from './state.ts';

/** Diameters of threaded boxes, and of what an ordinary 150 mm caliper measures; our own choice. */
const ORDINARY = { from: mm(8), to: mm(150) };
/** Further from what is expected than this, or a tenth of it, is odd; our own choice. */
const FAR = mm(3);

const oddSize = (isOdd: boolean, found: Length, expected: Length | null): KeepQuestion | null =>
  isOdd ? { kind: 'odd-size', found, expected } : null;

/** What to ask of a bore; `expected` is the planned one, null where nothing is known. */
export const oddBore = (value: Length, expected: Length | null): KeepQuestion | null => {
  const isFar = expected !== null && Math.abs(value - expected) > Math.max(FAR, expected / 10);
  return oddSize(value < ORDINARY.from || value > ORDINARY.to || isFar, value, expected);
};

/** Ovality and taper of a round part are below this, or below a fiftieth of its size; our own choice. */
export const oddShape = (found: Length, known: Length): KeepQuestion | null =>
  Math.abs(found - known) > Math.max(mm(1), known / 50) ? { kind: 'odd-shape', found, known } : null;

/** A spigot may be as large as its blank, but never much smaller than its target. */
export const oddSpigot = (value: Length, target: Length | null): KeepQuestion | null => {
  const isSmall = target !== null && target - value > Math.max(FAR, target / 10);
  return oddSize(value > ORDINARY.to || isSmall, value, target);
};
