// The trace of a rocking capture: which readings to show, between which heights, and where its tops stand.

export interface TraceTop {
  /** Place of the top among the readings shown, from 0. */
  readonly place: number;
  readonly agrees: boolean;
}

export interface Trace {
  /** How many readings came before the first one here. */
  readonly before: number;
  /** Heights of the readings shown, oldest first: millimetres, upwards is towards the true diameter. */
  readonly heights: readonly number[];
  readonly tops: readonly TraceTop[];
  /** Places of readings that no hand could have made. */
  readonly out: readonly number[];
  /** The heights at the drawing's lower and upper edge, in words. */
  readonly lowest: string;
  readonly highest: string;
  readonly range: { readonly from: number; readonly to: number };
}

/** The drawing shows no more below the highest top than this, so that the tops can be told apart. */
const WINDOW = 0.6;
const MARGIN = 0.03;
/** Before any top the last readings say where the jaws are. */
const RECENT = 24;

/**
 * The heights that the drawing reaches over: from a little above the highest top (or, before one, the highest of the
 * last readings) to no more than a window below it. What lies outside is drawn at the edge.
 */
export function rangeOf(heights: readonly number[], tops: readonly number[]): { from: number; to: number } {
  const recent = heights.slice(-RECENT);
  const highest = Math.max(...(tops.length > 0 ? tops : recent));
  if (!Number.isFinite(highest)) return { from: 0, to: 1 };
  const lowest = Math.min(...heights.slice(-2 * RECENT));
  const from = Math.max(lowest, highest - WINDOW);
  return { from: Math.min(from, highest - 4 * MARGIN), to: highest + MARGIN };
}

/**
 * How many of the readings here are left off at the front, where there is room for so many: none while they fit; then
 * a third of the room at a time, so that the line grows rightwards and does not creep along with every reading.
 */
export function leftOff({ before, heights }: Trace, room: number): number {
  const all = before + heights.length;
  if (all <= room) return 0;
  const stride = Math.max(1, Math.floor(room / 3));
  return Math.max(0, Math.ceil((all - room) / stride) * stride - before);
}
