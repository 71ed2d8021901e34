// What a capture says so far: waiting, rocking, steady or doubtful, and why.
import { type Length, type LengthUnit, mm } from '../units.ts';
import type { Against } from './against.ts';
import type { Steady } from './agreement.ts';
import type { Capture } from './capture.ts';
import { itemAt } from './reading.ts';

/** Why a capture is doubtful, with the evidence. */
export type Doubt =
  | { readonly kind: 'no-readings' }
  | { readonly kind: 'not-rocked'; readonly readings: number }
  | { readonly kind: 'too-few-peaks'; readonly found: number; readonly needed: number }
  | {
      readonly kind: 'peaks-disagree';
      readonly agreeing: number;
      readonly needed: number;
      readonly spread: Length;
    }
  | { readonly kind: 'peak-beyond'; readonly agreeing: number; readonly beyond: Length }
  | Against
  | { readonly kind: 'unit-changed'; readonly from: LengthUnit; readonly to: LengthUnit }
  | { readonly kind: 'too-many-bad-readings'; readonly bad: number; readonly of: number };

/** How many peaks were found near one another, how many agree, and how closely; null before the first. */
interface Count {
  readonly peaks: number;
  readonly agreeing: number;
  readonly spread: Length | null;
}

export interface Doubtful extends Count {
  readonly state: 'doubtful';
  readonly reason: Doubt;
}

export interface Rocking extends Count {
  readonly state: 'rocking';
  readonly live: Length;
}

export type Verdict = { readonly state: 'waiting' } | Rocking | Steady | Doubtful;

/** When a capture that goes on is called doubtful before it is ended; our own figures. */
const PATIENCE = {
  /** Share of readings rejected that is too many, once there are enough readings. */
  bad: { share: 0.25, of: 24 },
  /** Peaks near one another without agreement. */
  peaks: 12,
  /** More readings than this in one run, for longer than this, without a peak. */
  still: { readings: 40, millis: 10_000 },
} as const;

/** The answer so far; after `finishCapture` either steady or doubtful. Constant cost. */
export function verdictOf(capture: Capture): Verdict {
  const { agreement, peaks } = capture.found;
  const reason = doubtOf(capture);
  if (!reason && agreement?.steady) return agreement.steady;
  const count = {
    peaks: agreement?.nearby.length ?? 0,
    agreeing: agreement?.agreeing.length ?? 0,
    spread: agreement?.spread ?? null,
  };
  if (reason) return { state: 'doubtful', reason, ...count };
  const last = lastAccepted(capture);
  if (!last || (peaks.length === 0 && capture.turns?.phase === 'level')) return { state: 'waiting' };
  return { state: 'rocking', live: last.value, ...count };
}

const lastAccepted = ({ accepted }: Capture) => itemAt(accepted, accepted.length - 1)?.reading;

function doubtOf(capture: Capture): Doubt | null {
  const { agreement, peaks } = capture.found;
  const { changed } = capture.units;
  const bad = badReadings(capture);
  if (bad) return bad;
  if (agreement?.against) return agreement.against;
  if (agreement?.steady) return null;
  if (changed) return { kind: 'unit-changed', ...changed };
  if (capture.finished || (agreement?.nearby.length ?? 0) >= PATIENCE.peaks) return unclosed(capture);
  return peaks.length === 0 && isStill(capture)
    ? { kind: 'not-rocked', readings: capture.accepted.length - capture.start }
    : null;
}

function badReadings({ readings, rejected }: Capture): Doubt | null {
  const { share, of } = PATIENCE.bad;
  const many = readings.length >= of && rejected.length > share * readings.length;
  return many ? { kind: 'too-many-bad-readings', bad: rejected.length, of: readings.length } : null;
}

/** Why a capture did not close. */
function unclosed({ readings, accepted, found, settings }: Capture): Doubt {
  const { agreement } = found;
  if (readings.length === 0) return { kind: 'no-readings' };
  if (!agreement) return { kind: 'not-rocked', readings: accepted.length };
  const { nearby, agreeing, beyond, needed, spread } = agreement;
  const least = settings.leastPeaks;
  if (nearby.length < least) return { kind: 'too-few-peaks', found: nearby.length, needed: least };
  if (agreeing.length < least)
    return { kind: 'peaks-disagree', agreeing: agreeing.length, needed: least, spread };
  const leader = agreeing[0];
  if (beyond[0] && leader) {
    const farthest = Math.max(...beyond.map((peak) => Math.abs(peak.value - leader.value)));
    return { kind: 'peak-beyond', agreeing: agreeing.length, beyond: mm(farthest) };
  }
  return agreeing.length < needed
    ? { kind: 'too-few-peaks', found: agreeing.length, needed }
    : { kind: 'peaks-disagree', agreeing: agreeing.length, needed, spread };
}

function isStill(capture: Capture): boolean {
  const { accepted, start } = capture;
  const [first, last] = [itemAt(accepted, start)?.reading, lastAccepted(capture)];
  const { readings, millis } = PATIENCE.still;
  return first && last ? accepted.length - start > readings && last.at - first.at > millis : false;
}
