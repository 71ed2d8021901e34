// What `lidwright plan` is asked: its options, and the quantities that only a plan has.
import { ROD_MATERIALS, type Rod, type TurnsPerMinute, turnsPerMinute } from '../../core/plan/speeds.ts';
import type { Tip } from '../../core/thread/form.ts';
import { type Angle, degrees, type Length, type LengthUnit } from '../../core/units.ts';
import {
  decimalOf,
  itemsIn,
  lengthAboveZero,
  type Quantity,
  quantity,
  threadPitch,
} from '../../kit/quantities.ts';
import type { Typed } from '../command.ts';
import {
  type AnswersTo,
  clearanceFor,
  neededOption,
  type OptionReader,
  option,
  settingsBeside,
  unitFor,
  unitTyped,
} from '../options.ts';
import { CLEARANCE, FORM, threadClearance, tipOf } from '../thread-options.ts';

const SMALLEST = 1e-9;
const lidTurns = decimalOf('number', SMALLEST, 100, 'a number of turns above zero, such as 2 or 1.5');
const rate = decimalOf('turns', SMALLEST, 1e6, 'turns a minute above zero, such as 3000 or 3000rpm');

/** `3000` or `3000rpm`. */
const speed: Quantity<TurnsPerMinute> = {
  placeholder: rate.placeholder,
  parse: (text) => {
    const parsed = rate.parse(text.trim().replace(/\s*(rpm|\/min)$/i, ''));
    return parsed.ok ? { ok: true, value: turnsPerMinute(parsed.value) } : { ...parsed, found: text };
  },
};

/** `8mm,150mm` or `8mm,150mm,brass`: diameter, length sticking out, and material (steel). */
const rod = quantity<Rod>(
  'diameter,length,material',
  (text) => {
    const [thick = '', long = '', of = 'steel', ...rest] = itemsIn(text);
    const [diameter, length] = [lengthAboveZero.parse(thick), lengthAboveZero.parse(long)];
    const material = Object.entries(ROD_MATERIALS).find(([name]) => name === of.toLowerCase())?.[1];
    return diameter.ok && length.ok && material && rest.length === 0
      ? { diameter: diameter.value, length: length.value, material }
      : undefined;
  },
  `its diameter, the length sticking out and its material (${Object.keys(ROD_MATERIALS).join(', ')}), such as 8mm,150mm,steel`,
);

const SIZES = {
  outside: neededOption(
    lengthAboveZero,
    'outside diameter of the bored part, where its thread is',
    'the outside diameter of the bored part, such as 60mm',
  ),
  bore: option(lengthAboveZero, 'bore over the crests (suggested)'),
  pitch: option(threadPitch, 'pitch of the thread: 16tpi or 1.5mm (suggested)'),
  ...FORM,
  engaged: option(lengthAboveZero, 'length of thread that engages (suggested)'),
  turns: option(lidTurns, 'turns of the lid from first engagement to closed, instead of --engaged'),
  wall: option(lengthAboveZero, 'minimum wall outside the bored thread and inside the spigot'),
  hollow: option(lengthAboveZero, 'diameter of the hollow through the spigot'),
  boreDepth: option(lengthAboveZero, 'depth of the bore'),
  feed: option(lengthAboveZero, 'radial feed of one detent; plans the passes'),
  cutter: option(lengthAboveZero, 'diameter of the cutter'),
  speed: option(speed, 'speed you mean to use, in turns a minute'),
  topSpeed: option(speed, "the cutter maker's top speed, in turns a minute"),
  rod: option(rod, 'rod that sticks out of the spindle and turns with it: 8mm,150mm,steel'),
};
export const PLAN_OPTIONS = { ...SIZES, ...CLEARANCE };

export interface PlanQuestion extends AnswersTo<typeof SIZES> {
  /** The unit for people: as set, else what the outside was typed in. */
  readonly unit: LengthUnit;
  readonly starts: number;
  readonly angle: Angle;
  readonly tip: Tip;
  readonly clearance: Length;
  readonly harden: boolean;
}

/** The whole question; undefined where there are errors. */
export function readPlan(options: OptionReader, typed: Typed): PlanQuestion | undefined {
  const settings = settingsBeside(options, typed, ['unit', 'wanted']);
  const asked = options.read(SIZES);
  const rest = {
    unit: unitFor(settings, unitTyped(typed, 'outside')),
    starts: asked.starts ?? 1,
    angle: asked.angle ?? degrees(60),
    tip: tipOf(options, '--tip', asked.tipFlat, asked.tipRadius) ?? ({ kind: 'sharp' } as const),
    clearance: clearanceFor(options, settings, threadClearance),
    harden: typed.options.harden === true,
  };
  if (options.isTyped('engaged') && options.isTyped('turns'))
    options.addError('Give --engaged or --turns, not both.');
  return options.isWhole(asked) ? { ...asked, ...rest } : undefined;
}
