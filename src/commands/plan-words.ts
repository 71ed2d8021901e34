// The plan in plain sentences and as JSON.

import { lengthFigure, pitchFigure } from '../core/figures.ts';
import { BELOW_THREAD } from '../core/plan/box.ts';
import { inUnit, type Length, type LengthUnit, mm } from '../core/units.ts';
import type { PlanAnswer, PlanAsked } from './plan-answer.ts';

interface Sizes {
  readonly fine: (length: Length) => string;
  readonly coarse: (length: Length) => string;
  /** What must at least be is rounded up. */
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

function threadLine({ starts }: PlanAsked, { suggestion, box }: PlanAnswer, { fine }: Sizes): string {
  const many = starts === 1 ? 'one start' : `${starts} starts`;
  return `Thread: ${pitchFigure(suggestion.pitch)}, ${many}, lead ${fine(box.lead)}, both grooves ${fine(suggestion.depth)} deep.`;
}

const sizeLine = (asked: PlanAsked, { suggestion, target }: PlanAnswer, { fine }: Sizes): string =>
  `Bore ${fine(suggestion.bore)} over the crests; spigot ${fine(target.spigot)} before its thread, for ${fine(asked.clearance)} of clearance. Measure the real bore before turning the spigot.`;

function wallLine(asked: PlanAsked, { box, suggestion }: PlanAnswer, { coarse }: Sizes): string {
  const inside =
    asked.hollow === undefined
      ? `the spigot keeps ${coarse(mm(2 * box.spigotWall))} of solid wood inside its thread`
      : `${coarse(box.spigotWall)} inside the spigot's thread`;
  return `Walls: ${coarse(box.boredWall)} beside the bored thread, ${coarse(box.wallAtRunout)} at its runout groove; ${inside}; the least wanted is ${coarse(suggestion.leastWall)}.`;
}

const lengthLines = ({ box }: PlanAnswer, { fine, coarse, atLeast }: Sizes): readonly string[] => [
  `Engaged: ${coarse(box.engaged)}, ${box.turns.toFixed(1)} turns of the lid.`,
  `Spigot ${coarse(box.spigotLength)} long from the shoulder; bore at least ${atLeast(box.leastBoreDepth)} deep.`,
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

const speedLine = (asked: PlanAsked, { edge }: PlanAnswer): readonly string[] =>
  edge === undefined
    ? []
    : [
        `The cutter's edge goes at ${edge.toFixed(0)} m a minute at ${asked.speed?.toFixed(0)} turns a minute.`,
      ];

const rodLine = ({ whirl }: PlanAnswer): readonly string[] =>
  whirl === undefined
    ? []
    : [
        `The rod first whirls at about ${(Math.floor(whirl.at / 100) * 100).toFixed(0)} turns a minute at best; stay under ${Math.floor(whirl.mostSpeed)}, a quarter of it.`,
      ];

/** Every line of the plan. */
export function planLines(asked: PlanAsked, answer: PlanAnswer): readonly string[] {
  const sizes = sizesIn(asked.unit);
  return [
    threadLine(asked, answer, sizes),
    sizeLine(asked, answer, sizes),
    wallLine(asked, answer, sizes),
    ...lengthLines(answer, sizes),
    ...passLine(answer, sizes),
    ...speedLine(asked, answer),
    ...rodLine(answer),
    ...answer.warnings.map((warning) => `Caution: ${warning}.`),
    ...answer.suggestion.because.map((reason) => `Suggested: ${reason}.`),
    "Never above the cutter's or the lathe maker's speed; hands, sleeves and tissue clear of a turning cutter.",
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

/** Lengths in mm, speeds in turns or metres a minute; null where nothing was asked. */
export function planJson(asked: PlanAsked, answer: PlanAnswer) {
  const { suggestion, target, box, edge, whirl } = answer;
  return {
    possible: true,
    outsideMm: asked.outside,
    boreMm: suggestion.bore,
    spigotMm: target.spigot,
    clearanceMm: asked.clearance,
    pitchMm: suggestion.pitch.length,
    starts: asked.starts,
    leadMm: box.lead,
    depthMm: suggestion.depth,
    boredWallMm: box.boredWall,
    wallAtRunoutMm: box.wallAtRunout,
    spigotWallMm: box.spigotWall,
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
