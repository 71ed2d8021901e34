// What a job is, in the words of the sheet: woods, cutter, feed, state.
import type { Job } from '../core/bench/job.ts';
import type { Cutter, Setup } from '../core/bench/setup.ts';
import { figure, fineFigure, pitchFigure, pitchLength } from '../core/figures.ts';
import { abbreviated, forPaper } from '../core/safe-text.ts';
import { lead, type Tip } from '../core/thread/form.ts';
import { inDegrees, type LengthUnit } from '../core/units.ts';
import { findWood } from '../core/wood/woods.ts';
import { cutTo, USUAL } from './type.ts';

/** The longest name that is printed whole; the form takes no longer one. */
const LONGEST = 80;
/** Room for a figure in a column of the page, millimetres. */
const COLUMN = 46;

/** A text of at most `most` characters, with an ellipsis for the rest. */
export const upTo = (text: string, most: number = LONGEST): string =>
  abbreviated(forPaper(text).trim(), most);

/** A name out of the kit, on one line of a column. */
export const equipment = (name: string): string => cutTo(forPaper(name).trim(), COLUMN, USUAL);

function woodName(typed: string): string {
  const found = findWood(typed);
  if (found.kind !== 'found') return upTo(typed);
  const { trade, botanical } = found.wood;
  return botanical === null ? trade : `${trade} (${botanical})`;
}

export function woodWords({ wood, lidWood }: Setup): string {
  if (wood === undefined && lidWood === undefined) return 'wood not said';
  const body = wood === undefined ? 'not said' : woodName(wood);
  return lidWood === undefined || lidWood === wood ? body : `body ${body}; lid ${woodName(lidWood)}`;
}

function tipWords(tip: Tip, unit: LengthUnit): string {
  switch (tip.kind) {
    case 'sharp':
      return 'sharp';
    case 'flat':
      return `flat of ${figure(tip.width, unit)} ${unit}`;
    case 'radius':
      return `nose of ${figure(tip.radius, unit)} ${unit}`;
    default:
      return tip satisfies never;
  }
}

export const cutterWords = (cutter: Cutter, unit: LengthUnit): string =>
  `${equipment(cutter.name)}: ${inDegrees(cutter.angle).toFixed(0)}°, ${tipWords(cutter.tip, unit)}`;

export const feedWords = ({ feed }: Setup, unit: LengthUnit): string =>
  feed ? `${equipment(feed.name)}: ${fineFigure(feed.perDetent, unit)} a detent` : 'not counted';

export function threadWords({ pitch, starts }: Setup, unit: LengthUnit): string {
  const metric = pitch.given.kind === 'tpi' ? ` (${pitchLength(pitch.length, unit)} ${unit})` : '';
  const many =
    starts > 1 ? `, ${starts} starts, lead ${pitchLength(lead(pitch.length, starts), unit)} ${unit}` : '';
  return `${pitchFigure(pitch)}${metric}${many}`;
}

const CLOSED = { runs: 'closed: it runs', 'given-up': 'given up', untried: 'closed untried' } as const;

export const stateWords = ({ closed, stage, removed }: Job): string =>
  removed ? 'removed' : closed ? CLOSED[closed.how] : `open at ${stage}`;
