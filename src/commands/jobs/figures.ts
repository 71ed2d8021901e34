// How each figure of a job came to be: its formula by name, what went into it, and how far it may be out.
import { clearanceInDoubt } from '../../core/bench/doubt.ts';
import type { Job } from '../../core/bench/job.ts';
import { outOfTrue } from '../../core/bench/out-of-true.ts';
import { aimOf, expectedOf } from '../../core/bench/target.ts';
import { cutDepth, pairOf } from '../../core/bench/threads.ts';
import { rectangular } from '../../core/measure/uncertainty.ts';
import { type Limits, limitsOf } from '../../core/thread/fit.ts';
import { sharpHeight, tipLoss } from '../../core/thread/form.ts';
import { inPart, PARTS, type Part } from '../../core/thread/pair.ts';
import { inDegrees, type Length } from '../../core/units.ts';

/** One figure with its inputs; keys of lengths end in Mm, of angles in Deg. */
export interface JobFigure {
  readonly figure: string;
  readonly valueMm: Length;
  /** Standard uncertainty; null where nothing is known of it. */
  readonly standardMm: number | null;
  readonly formula: string;
  readonly inputs: Readonly<Record<string, number | string | boolean | null>>;
}

const figure = (
  name: string,
  valueMm: Length,
  standardMm: number | null,
  formula: string,
  inputs: JobFigure['inputs'],
): JobFigure => ({ figure: name, valueMm, standardMm, formula, inputs });

function zeroFigure({ zero }: Job): readonly JobFigure[] {
  if (!zero) return [];
  const { error, standard, applied } = zero;
  const formula = 'mean of the readings with closed jaws';
  return [figure('zero error', error, standard, formula, { subtracted: applied })];
}

function landFigure({ ring }: Job): readonly JobFigure[] {
  if (!ring) return [];
  const inputs = { knownMm: ring.known, measuredMm: ring.measured };
  const formula = 'w = sqrt(known^2 - measured^2), the chord that the jaws stand on';
  return [figure('jaw land', ring.land, null, formula, inputs)];
}

const BORE_FORMULAS = {
  rocked: 'highest reading of each rock, agreed between rocks; mean tilt subtracted',
  read: 'one reading',
  typed: 'as typed',
} as const;

function boreFigure({ bore, zero, setup }: Job): readonly JobFigure[] {
  if (!bore) return [];
  const { diameter, standard, tops, agreeing, spread, degreesOfFreedom, how } = bore;
  const inputs = {
    peaks: tops,
    agreeing,
    spreadMm: spread,
    degreesOfFreedom: Number.isFinite(degreesOfFreedom ?? Number.NaN) ? degreesOfFreedom : null,
    zeroSubtractedMm: zero?.applied ? zero.error : 0,
    jawLandMm: setup.caliper.jawLand ?? null,
  };
  return [figure('bore', diameter, standard, BORE_FORMULAS[how], inputs)];
}

const CHASED_FORMULAS = {
  flat: 'h = (P - w) / (2 t) - a, w being the flat left on the crest',
  strokes: 'h = h1 n / n1, from the flat seen after n1 strokes',
  trial: 'as planned: by trial, nobody measured it',
} as const;

function depthFigure(job: Job, part: Part): JobFigure {
  const { cut, chased } = job.threads[part];
  const found = (standard: number | null, formula: string, inputs: JobFigure['inputs']): JobFigure =>
    figure(`depth ${inPart(part)}`, cutDepth(job, part), standard, formula, inputs);
  if (job.setup.byHand && chased) {
    const { within, how, strokes, flat = null } = chased;
    return found(within === null ? null : rectangular(within), CHASED_FORMULAS[how], {
      strokes,
      flatMm: flat,
    });
  }
  if (job.setup.byHand || !cut) return found(null, 'as planned', {});
  const { detents, proven } = cut;
  if (detents === null) return found(null, 'as typed', {});
  return found(null, 'h = k x detents', { detents, perDetentMm: job.setup.feed?.perDetent ?? null, proven });
}

function limitFigures(job: Job, limits: Limits): readonly JobFigure[] {
  const { setup } = job;
  const form = {
    pitchMm: setup.pitch.length,
    angleDeg: inDegrees(setup.cutter.angle),
    sharpHeightMm: sharpHeight(setup.pitch.length, setup.cutter.angle),
    tipMm: tipLoss(setup.cutter.tip, setup.cutter.angle),
  };
  const depths = { boreDepthMm: cutDepth(job, 'female'), spigotDepthMm: cutDepth(job, 'male') };
  return [
    figure('flank limit', limits.flank, null, 'L = 2 (hf + af + hm + am) - 2 H', { ...form, ...depths }),
    figure('root limit', limits.root, null, 'L = 2 min(hf, hm)', depths),
    figure('limit', limits.limit, null, 'the smaller limit', { limitedBy: limits.limitedBy }),
  ];
}

function targetFigure(job: Job): readonly JobFigure[] {
  const aim = aimOf(job);
  if (aim.kind !== 'aim') return [];
  const inputs = {
    boreMm: aim.bore,
    limitMm: aim.limit,
    wantedMm: job.setup.wanted,
    learnedMm: aim.shift,
    lowMm: aim.low,
    highMm: aim.high,
  };
  const formula = 'S = B + limit - (wanted clearance - what trials taught)';
  return [figure('target spigot', aim.target, job.bore?.standard ?? null, formula, inputs)];
}

function clearanceFigures(job: Job): readonly JobFigure[] {
  const { spigot, bore } = job;
  if (!spigot) return [];
  const { limitOfError: limitOfErrorMm, step: stepMm } = job.setup.caliper;
  const how = spigot.how === 'typed' ? 'as typed' : 'smallest reading over the part';
  const kept = figure('spigot', spigot.diameter, null, how, { limitOfErrorMm, stepMm });
  const expected = expectedOf(job, spigot);
  if (!bore || expected.kind !== 'expected') return [kept];
  const doubt = clearanceInDoubt(job);
  const inputs = {
    boreMm: bore.diameter,
    spigotMm: spigot.diameter,
    learnedMm: job.setup.learned?.shift ?? 0,
    outOfTrueMm: outOfTrue(job).loss,
    fit: expected.word,
    ...(doubt && { plusMinus95Mm: doubt.expanded95, largestDoubt: doubt.largest.name }),
  };
  const formula = 'c = limit - (S - B) - what parts out of true take + what trials taught';
  return [kept, figure('clearance', expected.clearance, doubt?.standard ?? null, formula, inputs)];
}

/** Every figure of a job that there is ground for, in the order of the work. */
export function figuresOf(job: Job): readonly JobFigure[] {
  const before = [...zeroFigure(job), ...landFigure(job), ...boreFigure(job)];
  const threaded = job.setup.fit === 'threaded';
  const depths = threaded ? PARTS.map((part) => depthFigure(job, part)) : [];
  const limits = threaded && job.bore ? limitsOf(pairOf(job, job.bore.diameter)) : undefined;
  const limited = limits?.kind === 'limits' ? limitFigures(job, limits) : [];
  return [...before, ...depths, ...limited, ...targetFigure(job), ...clearanceFigures(job)];
}
