// The humidity range as a band from 0 to 100 %, with marks for the air the pair was made in and the room's.
import { type Humidity, inPercent } from '../core/units.ts';
import type { Season } from '../core/wood/season.ts';

export interface Mark {
  readonly word: string;
  readonly at: Humidity;
}

const WIDEST = 66;
const NARROWEST = 20;
const INDENT = '  ';

const runsAt = (season: Season, at: number): boolean =>
  season.kind === 'runs' && at >= season.from.humidity && at <= season.to.humidity;

/** Full where the lid runs by every equation, half where one of them says so, a dot where none does. */
function cell(seasons: readonly Season[], at: number): string {
  const agreeing = seasons.filter((season) => runsAt(season, at)).length;
  if (agreeing === 0) return '·';
  return agreeing === seasons.length ? '█' : '▒';
}

const columnOf = (share: number, width: number): number => Math.min(width - 1, Math.floor(share * width));

function markLine({ word, at }: Mark, width: number): string {
  const column = columnOf(at, width);
  const text = `${word} ${inPercent(at).toFixed(0)} %`;
  const left = column + 2 + text.length > width;
  return INDENT + (left ? `${`${text} `.padStart(column)}^` : `${' '.repeat(column)}^ ${text}`);
}

/** The band, its scale and its marks, no wider than the columns there are. */
export function bandLines(
  seasons: readonly Season[],
  marks: readonly Mark[],
  columns: number,
): readonly string[] {
  const width = Math.max(NARROWEST, Math.min(WIDEST, columns - 2 * INDENT.length));
  const band = Array.from({ length: width }, (_, at) => cell(seasons, (at + 0.5) / width)).join('');
  const scale = `0 %${'50 %'.padStart(Math.round(width / 2) - 1)}`.padEnd(width - 5);
  return [
    `${INDENT}${scale}100 %`,
    INDENT + band,
    ...marks.map((mark) => markLine(mark, width)),
    `${INDENT}█ runs by both equations  ▒ by one of them  · binds`,
  ];
}
