// The plan in plain sentences and as JSON.
import { type Length, mm } from '../core/units.ts';
import type { PlanAnswer, PlanAsked } from './plan-answer.ts';

const shown = (length: Length): string => `${length.toFixed(2)} mm`;
const coarse = (length: Length): string => `${length.toFixed(1)} mm`;
/** What must at least be is rounded up. */
const atLeast = (length: Length): string => `${(Math.ceil(length * 10 - 1e-9) / 10).toFixed(1)} mm`;

function threadLine({ starts }: PlanAsked, { suggestion, box }: PlanAnswer): string {
  const { pitch } = suggestion;
  const named =
    pitch.given.kind === 'tpi'
      ? `${pitch.given.threads} TPI (${pitch.length.toFixed(4)} mm)`
      : shown(pitch.length);
  return `Thread: ${named}, ${starts === 1 ? 'one start' : `${starts} starts`}, lead ${shown(box.lead)}, both grooves ${shown(suggestion.depth)} deep.`;
}

const sizeLine = (asked: PlanAsked, { suggestion, target }: PlanAnswer): string =>
  `Bore ${shown(suggestion.bore)} over the crests; spigot ${shown(target.spigot)} before its thread, for ${shown(asked.clearance)} of clearance. Measure the real bore before turning the spigot.`;

function wallLine(asked: PlanAsked, { box, suggestion }: PlanAnswer): string {
  const inside =
    asked.hollow === undefined
      ? `the spigot keeps ${coarse(mm(2 * box.spigotWall))} of solid wood inside its thread`
      : `${coarse(box.spigotWall)} inside the spigot's thread`;
  return `Walls: ${coarse(box.boredWall)} beside the bored thread, ${coarse(box.wallAtRunout)} at its runout groove; ${inside}; the least wanted is ${coarse(suggestion.leastWall)}.`;
}

const lengthLines = ({ box }: PlanAnswer): readonly string[] => [
  `Engaged: ${coarse(box.engaged)}, ${box.turns.toFixed(1)} turns of the lid.`,
  `Spigot ${coarse(box.spigotLength)} long from the shoulder; bore at least ${atLeast(box.leastBoreDepth)} deep.`,
  `Runout grooves at least ${atLeast(box.runout.width)} wide, ${shown(box.runout.female)} deep in the bore and ${shown(box.runout.male)} on the spigot (0.2 mm below the thread: common practice, no source).`,
  `Chamfer the bore out to ${coarse(box.chamfer.bore)} and the spigot's end down to ${coarse(box.chamfer.spigot)}.`,
];

function passLine({ passes }: PlanAnswer): readonly string[] {
  if (!passes) return [];
  const rough = passes.rough.map((pass) => pass.detents).join(', ');
  const harden = passes.hardenAt ? ` harden at ${passes.hardenAt.detents},` : '';
  return [
    `Passes, in detents from touch-off: rough to ${rough},${harden} finish at ${passes.finish.detents}, which is ${shown(passes.depth)} deep.`,
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
  return [
    threadLine(asked, answer),
    sizeLine(asked, answer),
    wallLine(asked, answer),
    ...lengthLines(answer),
    ...passLine(answer),
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
