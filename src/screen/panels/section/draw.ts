// Draws the section to scale: the bored part solid, the spigot grey, wood still to be cut sparse, the clearance empty.
import { canvas, dotsPerCell } from '../../canvas.ts';
import { type Block, row, run } from '../../picture.ts';
import { shorten } from '../../text.ts';
import type { Glyphs } from '../../theme.ts';
import { type Heights, heightsAt, reachOf, type SectionModel } from './section.ts';

const PITCHES = 2;
/** A character is taken to be twice as tall as it is wide. */
const TALL_CELL = 2;

export function drawSection(model: SectionModel, columns: number, rows: number, glyphs: Glyphs): Block {
  if (rows < 3) return [];
  const drawing = drawn(model, columns - 2, rows - 1, glyphs).map((line) => row(run(line, 'trace')));
  return [...drawing, row(run(shorten(model.notes.join(', '), columns - 1), 'quiet'))];
}

/** Dots at one scale both ways, as large as the room allows. */
function drawn(model: SectionModel, columns: number, rows: number, glyphs: Glyphs): readonly string[] {
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
