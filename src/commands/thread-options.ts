// Options about a thread that several commands share: clearance, pitch, starts, form and tip; and those that calibrating a feed asks for.
import { MOST_STARTS } from '../core/plan/refusal.ts';
import type { Tip } from '../core/thread/form.ts';
import type { Length } from '../core/units.ts';
import {
  countOf,
  formAngle,
  lengthAboveZero,
  lengthFromZero,
  oneOf,
  only,
  signedLength,
  threadPitch,
} from '../kit/quantities.ts';
import { neededOption, type OptionReader, option } from './options.ts';

/** A wanted clearance of a thread. */
export const threadClearance = only(
  signedLength,
  (length) => length >= 0,
  'zero or more, such as 0.15mm, since only a plain lid can have less than zero',
);

export const CLEARANCE = { clearance: option(signedLength, 'clearance wanted, on the diameter (0.15mm)') };

export const PITCH = {
  pitch: neededOption(
    threadPitch,
    'pitch of the thread: 16tpi or 1.5mm',
    'the pitch of the thread, such as --pitch 16tpi',
  ),
};

/** Which of the two parts has the bore. */
export const BORED = {
  bored: option(
    oneOf('part', ['lid', 'body']),
    'which part is bored, lid or body; the other has the spigot (lid)',
  ),
};

export const STARTS = { starts: option(countOf('count', 1, MOST_STARTS), 'starts of the thread (1)') };

export const FORM = {
  ...STARTS,
  angle: option(formAngle, 'included angle of the form, 20 to 90 (60)'),
  tipFlat: option(lengthFromZero, "width of the cutter's flat tip (sharp)"),
  tipRadius: option(lengthFromZero, "radius of the cutter's round nose"),
};

/** A tip by its flat or its nose radius, of which zero is a sharp tip; undefined where neither was typed. */
export function tipOf(
  options: OptionReader,
  name: '--tip' | '--spigot-tip',
  width: Length | undefined,
  radius: Length | undefined,
): Tip | undefined {
  if (width !== undefined && radius !== undefined)
    options.addError(`Give ${name}-flat or ${name}-radius, not both: a tip is either flat or round.`);
  if (width === undefined && radius === undefined) return undefined;
  if (width) return { kind: 'flat', width };
  return radius ? { kind: 'radius', radius } : { kind: 'sharp' };
}

const detentCount = countOf('count', 1, 100_000);
const fed = "detents fed for each travel, or to the depth of the bore's thread";

export const BY_TRAVEL = {
  detents: neededOption(detentCount, fed, 'the detents fed for each travel, such as 20'),
  gaugeWithin: option(lengthFromZero, 'accuracy of the gauge, plus or minus (0.01mm)'),
};

export const BY_PAIR = {
  detents: neededOption(detentCount, fed, 'how many deep the bore was cut, such as 14'),
  ...PITCH,
  ...STARTS,
  bore: neededOption(
    lengthAboveZero,
    'bore of a pair that runs, over the crests, after its thread was cut',
    'the bore over the crests, such as 42.10mm',
  ),
  spigot: neededOption(
    lengthAboveZero,
    'spigot of that pair, before its thread was cut',
    'the spigot before its thread, such as 43.50mm',
  ),
  spigotDetents: option(detentCount, "detents fed for the depth of the spigot's thread (same as the bore)"),
  play: neededOption(
    lengthFromZero,
    'how far the closed lid moves along its axis',
    'how far the closed lid moves along its axis, such as 0.1mm',
  ),
  playWithin: option(lengthFromZero, 'accuracy of the play, plus or minus (0.05mm)'),
  touchOffWithin: option(lengthFromZero, 'accuracy of each touch-off, plus or minus (0.05mm)'),
};
