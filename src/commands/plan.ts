// `lidwright plan`: walls, turns, lengths, grooves, passes and speeds for a threaded box in sentences and as JSON, or why it isn't possible.
import { lengthFigure, pitchFigure } from '../core/figures.ts';
import { BELOW_THREAD } from '../core/plan/box.ts';
import type { Passes } from '../core/thread/passes.ts';
import { inUnit, type Length, type LengthUnit, mm } from '../core/units.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { askOptions, JSON_OPTION, OptionReader, settingOptions } from './options.ts';
import { answer, endWith, wrongUse } from './output.ts';
import { answerPlan, PLAN_OPTIONS, type PlanAnswer, type PlanQuestion, readPlan } from './plan/answer.ts';

/** Sizes to be turned to as a caliper shows them, the others in tenths of a millimetre or hundredths of an inch. */
function sizesIn(unit: LengthUnit) {
  const decimals = unit === 'mm' ? 1 : 2;
  const tenth = 10 ** decimals;
  const text = (value: number): string => `${value.toFixed(decimals)} ${unit}`;
  return {
    fine: (length: Length) => lengthFigure(length, unit),
    coarse: (length: Length) => text(inUnit(length, unit)),
    /** A minimum is rounded up. */
    atLeast: (length: Length) => text(Math.ceil(inUnit(length, unit) * tenth - 1e-9) / tenth),
  };
}

/** Every line of the plan. */
function linesOf(question: PlanQuestion, answer: PlanAnswer): readonly string[] {
  const { suggestion, target, box, passes, edge, whirl, warnings } = answer;
  const { starts, hollow, clearance, speed } = question;
  const { fine, coarse, atLeast } = sizesIn(question.unit);
  const inside =
    hollow === undefined
      ? `${coarse(mm(2 * box.spigotWall))} of solid wood inside the spigot's thread`
      : `${coarse(box.spigotWall)} inside the spigot's thread, ${coarse(box.wallAtRunout.male)} at its runout groove`;
  return [
    `Thread: ${pitchFigure(suggestion.pitch)}, ${starts === 1 ? 'one start' : `${starts} starts`}, lead ${fine(box.lead)}, both grooves ${fine(suggestion.depth)} deep.`,
    `Bore ${fine(suggestion.bore)} over the crests. Spigot ${fine(target.spigot)} before its thread, for ${fine(clearance)} of clearance. Measure the real bore before you turn the spigot.`,
    `Walls: ${coarse(box.boredWall)} beside the bored thread, ${coarse(box.wallAtRunout.female)} at its runout groove, ${inside} (minimum ${coarse(suggestion.leastWall)}).`,
    `Engaged length ${coarse(box.engaged)}, ${box.turns.toFixed(1)} turns of the lid.`,
    `Spigot ${coarse(box.spigotLength)} long from the shoulder. Bore at least ${atLeast(box.leastBoreDepth)} deep.`,
    `Runout grooves at least ${atLeast(box.runout.width)} wide, ${fine(box.runout.female)} deep in the bore and ${fine(box.runout.male)} on the spigot (${fine(BELOW_THREAD)} below the thread: common practice, no source).`,
    `Chamfer the bore out to ${coarse(box.chamfer.bore)} and the spigot's end down to ${coarse(box.chamfer.spigot)}.`,
    passes && passLine(passes, fine),
    edge &&
      `At ${speed?.toFixed(0)} turns a minute the cutter's edge moves at ${edge.toFixed(0)} m a minute.`,
    whirl &&
      `The rod starts to whirl at about ${(Math.floor(whirl.at / 100) * 100).toFixed(0)} turns a minute, or earlier. Stay below ${Math.floor(whirl.mostSpeed)}, a quarter of that.`,
    ...warnings.map((warning) => `Caution: ${warning}.`),
    ...suggestion.because.map((reason) => `Suggested: ${reason}.`),
    "Never run faster than the cutter's or the lathe's maker allows. Keep hands, sleeves and cloth away from a turning cutter.",
  ].filter((line) => typeof line === 'string');
}

function passLine({ rough, hardenAt, finish, depth }: Passes, fine: (length: Length) => string): string {
  const harden = hardenAt ? ` harden at ${hardenAt.detents},` : '';
  return `Passes, in detents from touch-off: rough to ${rough.map((pass) => pass.detents).join(', ')},${harden} finish at ${finish.detents}, which is ${fine(depth)} deep.`;
}

/** Lengths in mm, speeds in turns or metres a minute; null where nothing was asked. */
function jsonOf(question: PlanQuestion, answer: PlanAnswer) {
  const { suggestion, target, box, passes, edge, whirl } = answer;
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
    runoutWidthMm: box.runout.width,
    runoutBoreDepthMm: box.runout.female,
    runoutSpigotDepthMm: box.runout.male,
    chamferBoreMm: box.chamfer.bore,
    chamferSpigotMm: box.chamfer.spigot,
    passes: passes
      ? {
          roughDetents: passes.rough.map((pass) => pass.detents),
          hardenAtDetents: passes.hardenAt?.detents ?? null,
          finishDetents: passes.finish.detents,
          depthMm: passes.depth,
        }
      : null,
    surfaceSpeedMPerMin: edge ?? null,
    whirlPerMin: whirl?.at ?? null,
    mostRodSpeedPerMin: whirl?.mostSpeed ?? null,
    warnings: answer.warnings,
    suggested: suggestion.because,
  };
}

function run(typed: Typed, output: Output): ExitCode {
  const options = new OptionReader(typed);
  const question = readPlan(options, typed.options.harden === true);
  if (!question) return wrongUse('plan', options.errors, output);
  const plan = answerPlan(question);
  if (plan.kind === 'answer') return answer(typed, output, jsonOf(question, plan), linesOf(question, plan));
  answer(typed, output, { possible: false, why: plan.why }, []);
  return endWith(output, 1, `Not possible: ${plan.why}.`);
}

export const planCommand: CommandSpec = {
  name: 'plan',
  summary: 'plan a threaded box: walls, turns, lengths, grooves, passes and speeds',
  options: [
    ...askOptions(PLAN_OPTIONS),
    { flags: '--harden', about: 'harden the wood before the finishing pass' },
    ...settingOptions(['unit']),
    JSON_OPTION,
  ],
  example: {
    line: 'plan --outside 60mm --feed 0.05mm --cutter 20mm --speed 3000 --top-speed 6000',
    shows: 'a 16 TPI thread with its bore, spigot, walls, lengths, passes and cutting speed',
  },
  run,
};
