// From a capture's evidence to its answer: waiting, rocking, agreed or doubtful, and why.
import { type Length, mm } from '../units.ts';
import type { Agreement } from './rocking-agreement.ts';
import type { Capture } from './rocking-capture.ts';
import { driftOf } from './rocking-drift.ts';
import type { CaptureSettings } from './rocking-settings.ts';
import type { Advice, Agreed, Doubt, Verdict } from './rocking-verdict.ts';
import { itemAt } from './series.ts';
import { type Contribution, combine, rectangular } from './uncertainty.ts';

/** When a capture that goes on is called doubtful before it is ended; our own figures, kept as data. */
export const PATIENCE = {
  /** Share of readings thrown out that is too many, once there are so many readings. */
  bad: { share: 0.25, of: 24 },
  /** Tops near one another without agreement. */
  tops: 12,
  /** Readings on one course, for so long, without a top. */
  still: { readings: 40, millis: 10_000 },
} as const;

/** The answer so far; after `finishCapture` either agreed or doubtful. Constant cost. */
export function verdictOf(capture: Capture): Verdict {
  const doubt = doubtOf(capture);
  if (doubt) return doubtful(capture, doubt);
  const { agreement, settings } = capture;
  if (agreement?.closed) return agreed(agreement, settings);
  const last = itemAt(capture.believed, capture.believed.length - 1);
  if (!last || (capture.tops.length === 0 && capture.turns?.phase === 'level')) return { state: 'waiting' };
  return {
    state: 'rocking',
    live: mm(last.value),
    tops: agreement?.nearby.length ?? 0,
    agreeing: agreement?.agreeing.length ?? 0,
    spread: agreement?.spread ?? null,
  };
}

/**
 * The diameter, its tilt taken off, and its standard uncertainty as this caliper shows it. The caliper's own limit of
 * error is given beside it and is NOT within `standardUncertainty`: it is the same for bore and spigot
 * measured with one caliper, so the budget of the fit takes it once, and the capture answers for what rocking can answer for.
 */
function agreed(agreement: Agreement, settings: CaptureSettings): Agreed {
  const tilt = tiltOf(agreement.value, settings);
  const contributions = contributionsOf(agreement, tilt.standard);
  const combined = combine(contributions);
  return {
    state: 'agreed',
    diameter: mm(agreement.value - tilt.mean),
    standardUncertainty: mm(combined.standard),
    degreesOfFreedom: combined.degreesOfFreedom,
    contributions,
    caliper: { name: 'caliper', standard: rectangular(settings.limitOfError), ...EXACT },
    tops: agreement.nearby.length,
    agreeing: agreement.agreeing.length,
    spread: agreement.spread,
    tiltTakenOff: tilt.mean,
  };
}

const EXACT = { sensitivity: 1, degreesOfFreedom: Number.POSITIVE_INFINITY } as const;

/** D (1/cos T - 1) for T uniform within the half-range: mean D T^2/6, standard deviation D T^2 / sqrt(45) = 0.149 D T^2. */
function tiltOf(diameter: Length, { tiltHalfRange }: CaptureSettings): { mean: Length; standard: number } {
  const square = diameter * tiltHalfRange ** 2;
  return { mean: mm(square / 6), standard: square / Math.sqrt(45) };
}

function contributionsOf(agreement: Agreement, tilt: number): readonly Contribution[] {
  const { agreement: standard, degreesOfFreedom, sharedRounding } = agreement;
  return [
    { name: 'agreement', standard, sensitivity: 1, degreesOfFreedom },
    { name: 'resolution', standard: sharedRounding, ...EXACT },
    { name: 'tilt', standard: tilt, ...EXACT },
  ];
}

function doubtful(capture: Capture, reason: Doubt): Verdict {
  const { agreement } = capture;
  return {
    state: 'doubtful',
    reason,
    advice: adviceFor(reason),
    tops: agreement?.nearby.length ?? 0,
    agreeing: agreement?.agreeing.length ?? 0,
    spread: agreement?.spread ?? null,
  };
}

function doubtOf(capture: Capture): Doubt | null {
  const { agreement } = capture;
  const bad = badReadings(capture);
  if (bad) return bad;
  const change = agreement && driftOf(agreement.nearby, capture.settings);
  if (change) return change;
  if (agreement?.closed) return null;
  if (capture.changed) return { kind: 'unit-changed', ...capture.changed };
  if (capture.finished || (agreement?.nearby.length ?? 0) >= PATIENCE.tops) return unclosed(capture);
  return capture.tops.length === 0 && still(capture)
    ? { kind: 'not-rocked', readings: capture.believed.length - capture.course }
    : null;
}

function badReadings({ readings, thrown }: Capture): Doubt | null {
  const { share, of } = PATIENCE.bad;
  const many = readings.length >= of && thrown.length > share * readings.length;
  return many ? { kind: 'too-many-bad-readings', bad: thrown.length, of: readings.length } : null;
}

/** Why a capture did not close. */
function unclosed({ readings, believed, agreement, settings }: Capture): Doubt {
  if (readings.length === 0) return { kind: 'no-readings' };
  if (!agreement) return { kind: 'not-rocked', readings: believed.length };
  const { nearby, agreeing, beyond, spread } = agreement;
  const needed = settings.leastTops;
  if (nearby.length < needed) return { kind: 'too-few-tops', found: nearby.length, needed };
  const leader = agreeing[0];
  if (agreeing.length >= needed && beyond[0] && leader) {
    const farthest = Math.max(...beyond.map((top) => Math.abs(top.value - leader.value)));
    return { kind: 'top-beyond', agreeing: agreeing.length, beyond: mm(farthest) };
  }
  return { kind: 'tops-disagree', agreeing: agreeing.length, needed, spread };
}

function still({ believed, course }: Capture): boolean {
  const first = itemAt(believed, course);
  const last = itemAt(believed, believed.length - 1);
  const { readings, millis } = PATIENCE.still;
  return first && last ? believed.length - course > readings && last.at - first.at > millis : false;
}

function adviceFor(reason: Doubt): Advice {
  switch (reason.kind) {
    case 'no-readings':
      return 'connect';
    case 'not-rocked':
      return 'rock';
    case 'too-few-tops':
      return 'rock-more';
    case 'tops-disagree':
      return 'rock-slower';
    case 'top-beyond':
      return 'seat-and-rock-again';
    case 'drifting':
      return 'let-settle';
    case 'unit-changed':
      return 'keep-unit';
    case 'too-many-bad-readings':
      return 'check-cable';
    default:
      return reason satisfies never;
  }
}
