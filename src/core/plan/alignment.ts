// How much to take off so that the grain of lid and body lines up when the lid is closed.
import { lead } from '../thread/form.ts';
import { notPositive } from '../thread/pair.ts';
import { type Angle, degrees, type Length, mm, radians } from '../units.ts';
import { type PlanRefusal, wrongStarts } from './refusal.ts';

interface AlignmentWanted {
  readonly pitch: Length;
  readonly starts: number;
  /** How far the lid has still to turn, in the closing direction, to line up; negative when it has gone past its mark. */
  readonly toGo: Angle;
}

/**
 * Taking wood off the shoulder of the spigot, or off the rim of the bore, lets the lid go further and so turn on; nothing
 * taken off turns it back. Both cuts do the same, and both bring the spigot's end that much nearer the bottom of the bore.
 */
export interface Trim {
  readonly kind: 'trim';
  /** What to take off, under one pitch: zero where the grain lines up already, within `LINED_UP_WITHIN`. */
  readonly amount: Length;
  /** How far the lid turns on when that is off; with n starts under 1/n of a turn, entered at the start that is nearest. */
  readonly turnsOn: Angle;
  /** The other way: a ring this thick on the shoulder lets the lid close one line-up earlier; a pitch less the amount. */
  readonly ring: Length;
  /** How far a tenth of a millimetre turns the lid. */
  readonly perTenth: Angle;
}

const TURN = 2 * Math.PI;
/** A lid this close to its mark, short of it or past it, is lined up: 0.7 mm on a box of 50 mm; our own choice. */
export const LINED_UP_WITHIN = degrees(1.5);
/** What the last bit of an angle may lose. */
const LAST_BIT = 1e-9;

/**
 * The trim for a lid that stops short of its mark, lead x turn / 360 (derived): a lid with n starts closes at n places,
 * 360/n apart, so that only the rest of the turn past those has to be taken off.
 */
export function trimFor(wanted: AlignmentWanted): Trim | PlanRefusal {
  const { pitch, starts, toGo } = wanted;
  const wrong = notPositive({ pitch }) ?? wrongStarts(starts);
  if (wrong) return wrong;
  if (!(Math.abs(toGo) <= TURN + LINED_UP_WITHIN)) return { kind: 'beyond-a-turn', found: toGo };
  const between = TURN / starts;
  const rest = ((toGo % between) + between) % between;
  const within = LINED_UP_WITHIN + LAST_BIT;
  const turnsOn = rest <= within || between - rest <= within ? 0 : rest;
  const advance = lead(pitch, starts) / TURN;
  return {
    kind: 'trim',
    amount: mm(advance * turnsOn),
    turnsOn: radians(turnsOn),
    ring: mm(turnsOn === 0 ? 0 : advance * (between - turnsOn)),
    perTenth: radians(0.1 / advance),
  };
}
