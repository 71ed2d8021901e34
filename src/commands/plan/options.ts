// What `lidwright plan` is asked: its options, and the parsers that only a plan needs.
import { MOST_STARTS } from '../../core/plan/refusal.ts';
import { ROD_MATERIALS, type Rod, type TurnsPerMinute, turnsPerMinute } from '../../core/plan/speeds.ts';
import {
  notAccepted,
  type Parsed,
  type Pitch,
  parseCount,
  parsePitch,
  parsePositiveLength,
} from '../../core/quantity.ts';
import type { Tip } from '../../core/thread/form.ts';
import type { Angle, Length, LengthUnit } from '../../core/units.ts';
import type { Typed } from '../command.ts';
import { clearanceFor, settingsBeside, unitFor } from '../command-settings.ts';
import { type OptionReader, parseNumber, unitTyped } from '../options.ts';
import { parseClearance, readAngle, readTip } from '../thread-options.ts';

export interface PlanQuestion {
  /** The unit for people: as set, else what the outside was typed in. */
  readonly unit: LengthUnit;
  readonly outside: Length;
  readonly bore: Length | undefined;
  readonly pitch: Pitch | undefined;
  readonly starts: number;
  readonly angle: Angle;
  readonly tip: Tip;
  readonly engaged: Length | undefined;
  readonly turns: number | undefined;
  readonly leastWall: Length | undefined;
  readonly hollow: Length | undefined;
  readonly boreDepth: Length | undefined;
  readonly clearance: Length;
  readonly feed: Length | undefined;
  readonly harden: boolean;
  readonly cutter: Length | undefined;
  readonly speed: TurnsPerMinute | undefined;
  readonly topSpeed: TurnsPerMinute | undefined;
  readonly rod: Rod | undefined;
}

const MOST_SPEED = 1e6;
const MOST_TURNS = 100;
const parseRate = parseNumber(MOST_SPEED, 'turns a minute above zero, such as 3000 or 3000rpm');
const parseTurns = parseNumber(MOST_TURNS, 'a number of turns above zero, such as 2 or 1.5');

/** `3000` or `3000rpm`. */
function parseSpeed(text: string): Parsed<TurnsPerMinute> {
  const parsed = parseRate(text.trim().replace(/\s*(rpm|\/min)$/i, ''));
  return parsed.ok ? { ok: true, value: turnsPerMinute(parsed.value) } : { ...parsed, found: text };
}

/** `8mm,150mm` or `8mm,150mm,brass`: diameter, length sticking out, and material (steel). */
function parseRod(text: string): Parsed<Rod> {
  const [thick = '', long = '', of = 'steel', ...rest] = text.split(',').map((part) => part.trim());
  const [diameter, length] = [parsePositiveLength(thick), parsePositiveLength(long)];
  const material = Object.entries(ROD_MATERIALS).find(([name]) => name === of.toLowerCase())?.[1];
  if (!diameter.ok || !length.ok || !material || rest.length > 0) {
    const materials = Object.keys(ROD_MATERIALS).join(', ');
    return notAccepted(
      text,
      `its diameter, the length sticking out and its material (${materials}), such as 8mm,150mm,steel`,
    );
  }
  return { ok: true, value: { diameter: diameter.value, length: length.value, material } };
}

/** The whole question; undefined where there are errors. */
export function readPlan(options: OptionReader, typed: Typed): PlanQuestion | undefined {
  const settings = settingsBeside(options, typed, ['unit', 'wanted']);
  const lengthOf = (flag: string): Length | undefined => options.optional(flag, parsePositiveLength);
  const outside = options.required(
    '--outside',
    parsePositiveLength,
    'the outside diameter of the bored part, such as 60mm',
  );
  const question = {
    unit: unitFor(settings, unitTyped(typed, '--outside')),
    bore: lengthOf('--bore'),
    pitch: options.optional('--pitch', parsePitch),
    starts: options.optional('--starts', (text) => parseCount(text, 1, MOST_STARTS)) ?? 1,
    angle: readAngle(options),
    tip: readTip(options, '--tip') ?? ({ kind: 'sharp' } as const),
    engaged: lengthOf('--engaged'),
    turns: options.optional('--turns', parseTurns),
    leastWall: lengthOf('--wall'),
    hollow: lengthOf('--hollow'),
    boreDepth: lengthOf('--bore-depth'),
    clearance: clearanceFor(options, settings, parseClearance),
    feed: lengthOf('--feed'),
    harden: typed.options.harden === true,
    cutter: lengthOf('--cutter'),
    speed: options.optional('--speed', parseSpeed),
    topSpeed: options.optional('--top-speed', parseSpeed),
    rod: options.optional('--rod', parseRod),
  };
  if (options.isTyped('--engaged') && options.isTyped('--turns'))
    options.addError('Give --engaged or --turns, not both.');
  return options.errors.length > 0 || outside === undefined ? undefined : { outside, ...question };
}
