// What `lidwright plan` is asked, and every figure worked out for it, or why such a box isn't possible.
import { type BoxPlan, planBox, type Suggestion, suggestedPitch, suggestPlan } from '../../core/plan/box.ts';
import { type PlanRefusal, planRefusalText } from '../../core/plan/refusal.ts';
import {
  cutterTooLarge,
  overTopSpeed,
  ROD_MATERIALS,
  type Rod,
  rodWhirls,
  surfaceSpeed,
  type TurnsPerMinute,
  turnsPerMinute,
  whirlOf,
} from '../../core/plan/speeds.ts';
import type { Pitch } from '../../core/quantity.ts';
import { SHALLOW, type Target, targetSpigot } from '../../core/thread/fit.ts';
import { basicHeight, grooveWidth, tipLoss } from '../../core/thread/form.ts';
import { fitRefusalText } from '../../core/thread/pair.ts';
import { type Passes, passesRefusalText, planPasses, wantedDepth } from '../../core/thread/passes.ts';
import { degrees, type Length, mm } from '../../core/units.ts';
import {
  decimalOf,
  itemsIn,
  lengthAboveZero,
  type Quantity,
  quantity,
  threadPitch,
} from '../../kit/quantities.ts';
import { neededOption, type OptionReader, option } from '../options.ts';
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

/** The whole question; undefined where there are errors. */
export function readPlan(options: OptionReader, harden: boolean) {
  const settings = options.settings(['unit', 'wanted']);
  const asked = options.read(SIZES);
  const { starts = 1, angle = degrees(60), tipFlat, tipRadius } = asked;
  const rest = {
    unit: options.unitFor(settings, 'outside'),
    starts,
    angle,
    tip: tipOf(options, '--tip', tipFlat, tipRadius) ?? ({ kind: 'sharp' } as const),
    clearance: options.clearance(settings, threadClearance),
    harden,
  };
  if (options.isTyped('engaged') && options.isTyped('turns'))
    options.addError('Give --engaged or --turns, not both.');
  return options.isWhole(asked) ? { ...asked, ...rest } : undefined;
}

export type PlanQuestion = NonNullable<ReturnType<typeof readPlan>>;

/** Why such a box isn't possible, with the nearest that is, in words. */
const impossible = (why: string) => ({ kind: 'impossible', why }) as const;

const pitchOf = (question: PlanQuestion): Pitch =>
  question.pitch ?? suggestedPitch(question.outside, question.bore);

/** A tip so large that nothing of the profile is left to cut. */
function tipTooLarge(question: PlanQuestion) {
  const { angle, tip } = question;
  const depth = wantedDepth({ pitch: pitchOf(question).length, angle, tip, profile: 'deepest' });
  const loss = tipLoss(tip, angle);
  if (depth > 0) return undefined;
  return impossible(passesRefusalText({ kind: 'tip-too-large', loss, most: mm(loss + depth) }));
}

function passesFor(question: PlanQuestion) {
  const { feed, starts, angle, tip, harden } = question;
  if (feed === undefined) return undefined;
  const pitch = pitchOf(question).length;
  const passes = planPasses({ pitch, starts, angle, tip, harden, feedPerDetent: feed, profile: 'deepest' });
  return passes.kind === 'passes' ? passes : impossible(passesRefusalText(passes));
}

/** Given things stay as given; only what is left open is suggested. */
function suggestionFor(question: PlanQuestion, passes: Passes | undefined): Suggestion | PlanRefusal {
  const { outside, pitch, bore, wall: leastWall, starts, angle, tip, turns } = question;
  const turned = turns === undefined ? undefined : mm(turns * starts * pitchOf(question).length);
  const { engaged = turned } = question;
  return suggestPlan(outside, { pitch, starts, angle, tip, leastWall, bore, engaged, depth: passes?.depth });
}

function speedsOf(question: PlanQuestion, bore: Length): PlanRefusal | undefined {
  const { cutter, speed, topSpeed, rod } = question;
  if (cutter !== undefined && cutter >= bore) return cutterTooLarge(cutter, bore);
  const over = speed && topSpeed && overTopSpeed(speed, topSpeed);
  if (over) return over;
  const whirls = speed && rod && rodWhirls(rod, speed);
  return whirls && (whirls.kind !== 'rod-whirls' || whirls.asked >= whirls.whirl) ? whirls : undefined;
}

/** What is possible but not wise, in words. */
function warningsOf(
  { cutter, speed, topSpeed, rod, unit }: PlanQuestion,
  { bore, pitch, angle }: Suggestion,
  { allowance }: Target,
): readonly string[] {
  const unwise = [cutter && cutterTooLarge(cutter, bore), rod && speed && rodWhirls(rod, speed)];
  const warnings = unwise.flatMap((why) => (why ? [planRefusalText(why, unit)] : []));
  // Clearance comes off the overlap of the threads: much of it on a shallow thread leaves little to hold.
  const engaged = allowance / (2 * basicHeight(pitch.length, angle));
  if (engaged < SHALLOW)
    warnings.push(
      `with this clearance the threads engage only ${Math.round(100 * engaged)} % of the basic height, so the lid may jump. Cut deeper, take a coarser pitch or less clearance`,
    );
  if (speed && !topSpeed)
    warnings.push(
      "the cutter maker's top speed is not known. Give --top-speed, and never run faster than it or the lathe maker's",
    );
  return warnings;
}

function targetFor(suggestion: Suggestion, clearance: Length) {
  const { pitch, starts, angle, tip, depth, bore } = suggestion;
  const groove = { depth, tip };
  const pair = { pitch: pitch.length, starts, angle, female: groove, male: groove };
  const target = targetSpigot(pair, bore, clearance);
  return target.kind === 'target' ? target : impossible(fitRefusalText(target));
}

function boxFor(question: PlanQuestion, suggestion: Suggestion, spigot: Length): BoxPlan | PlanRefusal {
  const { pitch, angle, tip, depth } = suggestion;
  const { outside, hollow, boreDepth } = question;
  return planBox({
    ...suggestion,
    pitch: pitch.length,
    depth: { female: depth, male: depth },
    grooveWidth: grooveWidth(depth, tip, angle),
    outside,
    spigot,
    hollow,
    boreDepth,
  });
}

/** The whole plan, or the first thing that makes it impossible. */
export function answerPlan(question: PlanQuestion) {
  const refused = (why: PlanRefusal) => impossible(planRefusalText(why, question.unit));
  const tip = tipTooLarge(question);
  if (tip) return tip;
  const passes = passesFor(question);
  if (passes?.kind === 'impossible') return passes;
  const suggestion = suggestionFor(question, passes);
  if (suggestion.kind !== 'suggestion') return refused(suggestion);
  const target = targetFor(suggestion, question.clearance);
  if (target.kind !== 'target') return target;
  const box = boxFor(question, suggestion, target.spigot);
  if (box.kind !== 'box') return refused(box);
  const wrong = speedsOf(question, suggestion.bore);
  if (wrong) return refused(wrong);
  const whirl = question.rod && whirlOf(question.rod);
  if (whirl && whirl.kind !== 'whirl') return refused(whirl);
  const edge = question.cutter && question.speed && surfaceSpeed(question.cutter, question.speed);
  const warnings = warningsOf(question, suggestion, target);
  return { kind: 'answer', suggestion, target, box, passes, edge, whirl, warnings } as const;
}

export type PlanAnswer = Extract<ReturnType<typeof answerPlan>, { readonly kind: 'answer' }>;
