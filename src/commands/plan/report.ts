// The answer of `lidwright plan`: every figure worked out or refused, in sentences and as JSON.
import { lengthFigure, pitchFigure } from '../../core/figures.ts';
import {
  BELOW_THREAD,
  type BoxPlan,
  planBox,
  type Suggestion,
  suggestedPitch,
  suggestPlan,
} from '../../core/plan/box.ts';
import { type PlanRefusal, planRefusalText } from '../../core/plan/refusal.ts';
import {
  cutterTooLarge,
  overTopSpeed,
  rodWhirls,
  type SurfaceSpeed,
  surfaceSpeed,
  type Whirl,
  whirlOf,
} from '../../core/plan/speeds.ts';
import type { Pitch } from '../../core/quantity.ts';
import { SHALLOW, type Target, targetSpigot } from '../../core/thread/fit.ts';
import { basicHeight, grooveWidth, tipLoss } from '../../core/thread/form.ts';
import { fitRefusalText } from '../../core/thread/pair.ts';
import { type Passes, passesRefusalText, planPasses, wantedDepth } from '../../core/thread/passes.ts';
import { inUnit, type Length, type LengthUnit, mm } from '../../core/units.ts';
import type { PlanQuestion } from './options.ts';

interface PlanAnswer {
  readonly kind: 'answer';
  /** Everything that was given or suggested. */
  readonly suggestion: Suggestion;
  readonly target: Target;
  readonly box: BoxPlan;
  readonly passes: Passes | undefined;
  readonly edge: SurfaceSpeed | undefined;
  readonly whirl: Whirl | undefined;
  /** What is possible but not wise, in words. */
  readonly warnings: readonly string[];
}

/** Why such a box isn't possible, with the nearest that is, in words. */
interface Impossible {
  readonly kind: 'impossible';
  readonly why: string;
}

const impossible = (why: string): Impossible => ({ kind: 'impossible', why });
const refused = (why: PlanRefusal, unit: LengthUnit): Impossible => impossible(planRefusalText(why, unit));

const pitchOf = (question: PlanQuestion): Pitch =>
  question.pitch ?? suggestedPitch(question.outside, question.bore);

/** A tip so large that nothing of the profile is left to cut. */
function tipTooLarge(question: PlanQuestion): Impossible | undefined {
  const { angle, tip } = question;
  const depth = wantedDepth({ pitch: pitchOf(question).length, angle, tip, profile: 'deepest' });
  const loss = tipLoss(tip, angle);
  return depth > 0
    ? undefined
    : impossible(passesRefusalText({ kind: 'tip-too-large', loss, most: mm(loss + depth) }));
}

function passesFor(question: PlanQuestion): Passes | Impossible | undefined {
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

/** Clearance comes off the overlap of the threads: much of it on a shallow thread leaves little to hold. */
function shallowWarning({ pitch, angle }: Suggestion, { allowance }: Target): readonly string[] {
  const engaged = allowance / (2 * basicHeight(pitch.length, angle));
  if (engaged >= SHALLOW) return [];
  return [
    `with this clearance the threads engage only ${Math.round(100 * engaged)} % of the basic height, so the lid may jump. Cut deeper, take a coarser pitch or less clearance`,
  ];
}

function warningsOf(question: PlanQuestion, suggestion: Suggestion, target: Target): readonly string[] {
  const { cutter, speed, topSpeed, rod } = question;
  const { bore } = suggestion;
  const large = cutter === undefined ? undefined : cutterTooLarge(cutter, bore);
  const whirls = rod && speed && rodWhirls(rod, speed);
  return [
    ...[large, whirls].flatMap((why) => (why ? [planRefusalText(why, question.unit)] : [])),
    ...shallowWarning(suggestion, target),
    ...(speed && !topSpeed
      ? [
          "the cutter maker's top speed is not known. Give --top-speed, and never run faster than it or the lathe maker's",
        ]
      : []),
  ];
}

function targetFor(suggestion: Suggestion, clearance: Length): Target | Impossible {
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
export function answerPlan(question: PlanQuestion): PlanAnswer | Impossible {
  const tip = tipTooLarge(question);
  if (tip) return tip;
  const passes = passesFor(question);
  if (passes?.kind === 'impossible') return passes;
  const suggestion = suggestionFor(question, passes);
  if (suggestion.kind !== 'suggestion') return refused(suggestion, question.unit);
  const target = targetFor(suggestion, question.clearance);
  if (target.kind !== 'target') return target;
  const box = boxFor(question, suggestion, target.spigot);
  if (box.kind !== 'box') return refused(box, question.unit);
  const wrong = speedsOf(question, suggestion.bore);
  if (wrong) return refused(wrong, question.unit);
  const whirl = question.rod && whirlOf(question.rod);
  if (whirl && whirl.kind !== 'whirl') return refused(whirl, question.unit);
  const edge = question.cutter && question.speed && surfaceSpeed(question.cutter, question.speed);
  const warnings = warningsOf(question, suggestion, target);
  return { kind: 'answer', suggestion, target, box, passes, edge, whirl, warnings };
}

interface Sizes {
  readonly fine: (length: Length) => string;
  readonly coarse: (length: Length) => string;
  /** A minimum is rounded up. */
  readonly atLeast: (length: Length) => string;
}

/** Sizes to be turned to as a caliper shows them, the others in tenths of a millimetre or hundredths of an inch. */
function sizesIn(unit: LengthUnit): Sizes {
  const decimals = unit === 'mm' ? 1 : 2;
  const tenth = 10 ** decimals;
  const text = (value: number): string => `${value.toFixed(decimals)} ${unit}`;
  return {
    fine: (length) => lengthFigure(length, unit),
    coarse: (length) => text(inUnit(length, unit)),
    atLeast: (length) => text(Math.ceil(inUnit(length, unit) * tenth - 1e-9) / tenth),
  };
}

function threadLine({ starts }: PlanQuestion, { suggestion, box }: PlanAnswer, { fine }: Sizes): string {
  const many = starts === 1 ? 'one start' : `${starts} starts`;
  return `Thread: ${pitchFigure(suggestion.pitch)}, ${many}, lead ${fine(box.lead)}, both grooves ${fine(suggestion.depth)} deep.`;
}

const sizeLine = (question: PlanQuestion, { suggestion, target }: PlanAnswer, { fine }: Sizes): string =>
  `Bore ${fine(suggestion.bore)} over the crests. Spigot ${fine(target.spigot)} before its thread, for ${fine(question.clearance)} of clearance. Measure the real bore before you turn the spigot.`;

function wallLine(question: PlanQuestion, { box, suggestion }: PlanAnswer, { coarse }: Sizes): string {
  const inside =
    question.hollow === undefined
      ? `${coarse(mm(2 * box.spigotWall))} of solid wood inside the spigot's thread`
      : `${coarse(box.spigotWall)} inside the spigot's thread, ${coarse(box.wallAtRunout.male)} at its runout groove`;
  return `Walls: ${coarse(box.boredWall)} beside the bored thread, ${coarse(box.wallAtRunout.female)} at its runout groove, ${inside} (minimum ${coarse(suggestion.leastWall)}).`;
}

const lengthLines = ({ box }: PlanAnswer, { fine, coarse, atLeast }: Sizes): readonly string[] => [
  `Engaged length ${coarse(box.engaged)}, ${box.turns.toFixed(1)} turns of the lid.`,
  `Spigot ${coarse(box.spigotLength)} long from the shoulder. Bore at least ${atLeast(box.leastBoreDepth)} deep.`,
  `Runout grooves at least ${atLeast(box.runout.width)} wide, ${fine(box.runout.female)} deep in the bore and ${fine(box.runout.male)} on the spigot (${fine(BELOW_THREAD)} below the thread: common practice, no source).`,
  `Chamfer the bore out to ${coarse(box.chamfer.bore)} and the spigot's end down to ${coarse(box.chamfer.spigot)}.`,
];

function passLine({ passes }: PlanAnswer, { fine }: Sizes): readonly string[] {
  if (!passes) return [];
  const rough = passes.rough.map((pass) => pass.detents).join(', ');
  const harden = passes.hardenAt ? ` harden at ${passes.hardenAt.detents},` : '';
  return [
    `Passes, in detents from touch-off: rough to ${rough},${harden} finish at ${passes.finish.detents}, which is ${fine(passes.depth)} deep.`,
  ];
}

const speedLine = (question: PlanQuestion, { edge }: PlanAnswer): readonly string[] =>
  edge === undefined
    ? []
    : [
        `At ${question.speed?.toFixed(0)} turns a minute the cutter's edge moves at ${edge.toFixed(0)} m a minute.`,
      ];

const rodLine = ({ whirl }: PlanAnswer): readonly string[] =>
  whirl === undefined
    ? []
    : [
        `The rod starts to whirl at about ${(Math.floor(whirl.at / 100) * 100).toFixed(0)} turns a minute, or earlier. Stay below ${Math.floor(whirl.mostSpeed)}, a quarter of that.`,
      ];

/** Every line of the plan. */
export function planLines(question: PlanQuestion, answer: PlanAnswer): readonly string[] {
  const sizes = sizesIn(question.unit);
  return [
    threadLine(question, answer, sizes),
    sizeLine(question, answer, sizes),
    wallLine(question, answer, sizes),
    ...lengthLines(answer, sizes),
    ...passLine(answer, sizes),
    ...speedLine(question, answer),
    ...rodLine(answer),
    ...answer.warnings.map((warning) => `Caution: ${warning}.`),
    ...answer.suggestion.because.map((reason) => `Suggested: ${reason}.`),
    "Never run faster than the cutter's or the lathe's maker allows. Keep hands, sleeves and cloth away from a turning cutter.",
  ];
}

const runoutJson = ({ box }: PlanAnswer) => ({
  runoutWidthMm: box.runout.width,
  runoutBoreDepthMm: box.runout.female,
  runoutSpigotDepthMm: box.runout.male,
});

const passesJson = ({ passes }: PlanAnswer) =>
  passes === undefined
    ? null
    : {
        roughDetents: passes.rough.map((pass) => pass.detents),
        hardenAtDetents: passes.hardenAt?.detents ?? null,
        finishDetents: passes.finish.detents,
        depthMm: passes.depth,
      };

/** Lengths in mm, speeds in turns or metres a minute; null where nothing was question. */
export function planJson(question: PlanQuestion, answer: PlanAnswer) {
  const { suggestion, target, box, edge, whirl } = answer;
  return {
    possible: true,
    outsideMm: question.outside,
    boreMm: suggestion.bore,
    spigotMm: target.spigot,
    clearanceMm: question.clearance,
    pitchMm: suggestion.pitch.length,
    starts: question.starts,
    leadMm: box.lead,
    depthMm: suggestion.depth,
    boredWallMm: box.boredWall,
    wallAtRunoutMm: box.wallAtRunout.female,
    spigotWallMm: box.spigotWall,
    spigotWallAtRunoutMm: box.wallAtRunout.male,
    leastWallMm: suggestion.leastWall,
    engagedMm: box.engaged,
    turns: box.turns,
    spigotLengthMm: box.spigotLength,
    leastBoreDepthMm: box.leastBoreDepth,
    ...runoutJson(answer),
    chamferBoreMm: box.chamfer.bore,
    chamferSpigotMm: box.chamfer.spigot,
    passes: passesJson(answer),
    surfaceSpeedMPerMin: edge ?? null,
    whirlPerMin: whirl?.at ?? null,
    mostRodSpeedPerMin: whirl?.mostSpeed ?? null,
    warnings: answer.warnings,
    suggested: suggestion.because,
  };
}
