// The trace of a rocking capture: a row of marks over its peaks, the line below, the heights of its edges at the right.
import { canvas, dotsPerCell, type Glyphs } from '../glyphs.ts';
import { type Block, emptyRow, type PanelRoom, row, run, type StyledRow } from '../text.ts';

interface TracePeak {
  /** Place of the peak among the readings shown, from 0. */
  readonly place: number;
  readonly agrees: boolean;
}

export interface Trace {
  /** How many readings came before the first one here. */
  readonly before: number;
  /** Heights of the readings shown, oldest first: millimetres, upwards is towards the true diameter. */
  readonly heights: readonly number[];
  readonly peaks: readonly TracePeak[];
  /** Places of readings that no hand could have made. */
  readonly out: readonly number[];
  /** The heights at the drawing's lower and upper edge, in words. */
  readonly lowest: string;
  readonly highest: string;
  readonly range: { readonly from: number; readonly to: number };
}

const SCALE_WIDTH = 9;
const MARK = { agrees: '▼', apart: '▽', out: '×' } as const;

export function traceRows(trace: Trace, { columns, rows, glyphs }: PanelRoom): Block {
  // One reading per character.
  const width = Math.max(0, columns - SCALE_WIDTH);
  const height = Math.max(1, rows - 1);
  // One row of dots shows no line.
  if (height * dotsPerCell[glyphs].down < 2) return [marks(trace, width)];
  const lines = canvas(width, height, glyphs, painter(trace, width, height, glyphs));
  return [
    marks(trace, width),
    ...lines.map((line, at) => row(run(line, 'trace'), run(edge(trace, at, height), 'quiet'))),
  ].slice(0, Math.max(rows, 0));
}

const edge = ({ heights, highest, lowest }: Trace, at: number, height: number): string =>
  heights.length === 0 ? '' : at === 0 ? ` ${highest}` : at === height - 1 ? ` ${lowest}` : '';

/** For each column of dots the reach of its line, then only comparisons: this runs for every reading. */
function painter(trace: Trace, width: number, height: number, glyphs: Glyphs) {
  const per = dotsPerCell[glyphs];
  const levels = height * per.down;
  const { from, to } = trace.range;
  const skipped = leftOff(trace, width);
  const out = new Set(trace.out);
  const upper = new Int16Array(width * per.across).fill(1);
  const lower = new Int16Array(width * per.across);
  let before: number | undefined;
  for (let place = 0; place < width && place + skipped < trace.heights.length; place += 1) {
    if (out.has(place + skipped)) continue;
    const share = (to - (trace.heights[place + skipped] ?? from)) / (to - from);
    const here = Math.max(0, Math.min(levels - 1, Math.round(share * (levels - 1))));
    const reach =
      before === undefined
        ? here
        : here + Math.sign(before - here) * Math.max(0, Math.abs(before - here) - 1);
    for (let x = place * per.across; x < (place + 1) * per.across; x += 1) {
      const joined = x === place * per.across ? reach : here;
      upper[x] = Math.min(here, joined);
      lower[x] = Math.max(here, joined);
    }
    before = here;
  }
  return (x: number, y: number): boolean => y >= (upper[x] ?? 1) && y <= (lower[x] ?? 0);
}

/** The trace shows no more below the highest peak than this, so that the peaks can be told apart. */
const WINDOW = 0.6;
const MARGIN = 0.03;
/** Before any peak the last readings say where the jaws are. */
const RECENT = 24;

/**
 * The heights that the trace reaches over: from a little above the highest peak (or, before one, the highest of the
 * last readings) to no more than a window below it. What lies outside is drawn at the edge.
 */
export function rangeOf(heights: readonly number[], peaks: readonly number[]): { from: number; to: number } {
  const recent = heights.slice(-RECENT);
  const highest = Math.max(...(peaks.length > 0 ? peaks : recent));
  if (!Number.isFinite(highest)) return { from: 0, to: 1 };
  const lowest = Math.min(...heights.slice(-2 * RECENT));
  const from = Math.max(lowest, highest - WINDOW);
  return { from: Math.min(from, highest - 4 * MARGIN), to: highest + MARGIN };
}

/** The marks of peaks and of rejected readings, each over its place; a peak wins where both fall on one. */
function marks(trace: Trace, width: number): StyledRow {
  const skipped = leftOff(trace, width);
  const at = new Map<number, keyof typeof MARK>();
  for (const place of trace.out) at.set(place - skipped, 'out');
  for (const { place, agrees } of trace.peaks) at.set(place - skipped, agrees ? 'agrees' : 'apart');
  const places = [...at.keys()].filter((place) => place >= 0 && place < width).sort((a, b) => a - b);
  if (places.length === 0) return emptyRow;
  let column = 0;
  return row(
    ...places.flatMap((place) => {
      const kind = at.get(place) ?? 'apart';
      const gap = ' '.repeat(place - column);
      column = place + 1;
      return [run(gap), run(MARK[kind], kind === 'agrees' ? 'peak' : kind === 'out' ? 'out' : 'quiet')];
    }),
  );
}

/**
 * How many of the readings here are left off at the front, where there is room for this many: none while they fit; then
 * a third of the room at a time, so that the line grows rightwards and does not creep along with every reading.
 */
function leftOff({ before, heights }: Trace, room: number): number {
  const all = before + heights.length;
  if (all <= room) return 0;
  const stride = Math.max(1, Math.floor(room / 3));
  return Math.max(0, Math.ceil((all - room) / stride) * stride - before);
}
