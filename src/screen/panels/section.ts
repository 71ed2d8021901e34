// A section of the threads being cut, as lines of text to scale: the bored part solid, the spigot grey, wood still to be cut
// sparse, the clearance empty. `lidwright fit` draws it as well.
import type { Groove, Pair } from '../../core/thread/pair.ts';
import { depthAt } from '../../core/thread/section.ts';
import { type Length, mm } from '../../core/units.ts';
import { canvas, dotsPerCell, type Glyphs } from '../glyphs.ts';
import { type Block, type PanelRoom, row, run, type Style, wrapped } from '../text.ts';

export interface SectionModel {
  /** Both grooves as planned. */
  readonly planned: Pair;
  /** The depth of the groove being cut, so far. */
  readonly cut: Length;
  readonly cutting: 'female' | 'male';
  /** Spigot less bore; null draws the female part alone. */
  readonly allowance: Length | null;
  readonly notes: readonly string[];
}

/** Heights above the bore's surface, into the female part, over one place along the axis; millimetres. */
interface Heights {
  /** Where the female part begins, as cut so far and as planned. */
  readonly female: number;
  readonly femalePlanned: number;
  /** Where the male part ends; null where it is not drawn. */
  readonly male: number | null;
  readonly malePlanned: number | null;
}

/** Axial distance from the middle of the nearest groove; the first is at `first`, the others a pitch apart. */
const fromGroove = (along: number, first: number, pitch: number): number => {
  const turns = (along - first) / pitch;
  return (turns - Math.round(turns)) * pitch;
};

const cutTo = (groove: Groove, depth: Length): Groove => ({ ...groove, depth });

/** The lid is in the middle of its axial play: its grooves are over the spigot's crests. */
function heightsAt(model: SectionModel, along: number): Heights {
  const { planned, cut, cutting, allowance } = model;
  const { female, male, pitch, angle } = planned;
  const inFemale = fromGroove(along, pitch / 2, pitch);
  const inMale = fromGroove(along, 0, pitch);
  const step = allowance === null ? null : allowance / 2;
  const deep = (groove: Groove, at: number): Length => depthAt(groove, angle, at);
  const femalePlanned = deep(female, inFemale);
  const malePlanned = step === null ? null : step - deep(male, inMale);
  return {
    femalePlanned,
    female: cutting === 'female' ? deep(cutTo(female, cut), inFemale) : femalePlanned,
    malePlanned,
    male: step === null || cutting === 'female' ? malePlanned : step - deep(cutTo(male, cut), inMale),
  };
}

const MARGIN = 0.25;

/** The heights that the drawing reaches over, in millimetres. */
function reachOf({ planned, cut, allowance }: SectionModel): {
  readonly from: number;
  readonly to: number;
} {
  const { female, male, pitch } = planned;
  const margin = MARGIN * pitch;
  const upper = Math.max(female.depth, cut, allowance === null ? 0 : allowance / 2);
  const bottom = allowance === null ? 0 : Math.min(0, allowance / 2 - Math.max(male.depth, cut));
  return { from: bottom - (allowance === null ? margin / 5 : margin), to: mm(upper + margin) };
}

const PITCHES = 2;
/** A character counts as twice as tall as it is wide. */
const TALL_CELL = 2;

/** Dots at one scale both ways, as large as the room allows. */
export function sectionLines(
  model: SectionModel,
  columns: number,
  rows: number,
  glyphs: Glyphs,
): readonly string[] {
  const per = dotsPerCell[glyphs];
  const aspect = (TALL_CELL * per.across) / per.down;
  const { from, to } = reachOf(model);
  const length = PITCHES * model.planned.pitch;
  const dot = Math.max((to - from) / (rows * per.down) / aspect, length / (columns * per.across));
  const across = Math.max(1, Math.floor(length / dot / per.across));
  const heights = Array.from({ length: across * per.across }, (_, x) => heightsAt(model, (x + 0.5) * dot));
  const down = Math.min(rows, Math.ceil((to - from) / (dot * aspect) / per.down));
  return canvas(across, down, glyphs, (x, y) => {
    const here = heights[x];
    return here ? paints(here, to - (y + 0.5) * dot * aspect, x, y) : false;
  });
}

function paints(here: Heights, out: number, x: number, y: number): boolean {
  if (out > here.femalePlanned) return true;
  if (out > here.female) return sparse(x, y);
  if (here.malePlanned !== null && out < here.malePlanned) return grey(x, y);
  return here.male !== null && out < here.male && sparse(x, y);
}

/** Half the dots, and a ninth of them. */
const grey = (x: number, y: number): boolean => (x + y) % 2 === 0;
const sparse = (x: number, y: number): boolean => x % 3 === 0 && y % 3 === 0;

/** The drawing made for `rows`, of which this many are shown, over a line on what its parts are. */
export function sectionRows(section: SectionModel, { columns, rows, shown, glyphs }: PanelRoom): Block {
  if (rows < 3 || shown < 2) return [];
  const notes = wrapped(section.notes.join(', '), columns - 1);
  const lines = sectionLines(section, columns - 2, rows - notes.length, glyphs);
  const styled = (text: readonly string[], style: Style): Block => text.map((line) => row(run(line, style)));
  return [...styled(lines.slice(0, shown - notes.length), 'trace'), ...styled(notes, 'quiet')];
}
