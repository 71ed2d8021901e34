// Zero: jaws closed, the error shown and held as a correction if agreed, for a day; a ring of known size for the jaw land if wanted.

import { startCapture } from '../../measure/capture.ts';
import { defaultSettings } from '../../measure/capture-settings.ts';
import { CLOSED_AT_MOST, checkZero, jawLandFrom, type ZeroCheck } from '../../measure/corrections.ts';
import { verdictOf } from '../../measure/verdict.ts';
import { type Length, mm } from '../../units.ts';
import type { KeptReading } from '../entry.ts';
import type { Job } from '../job.ts';
import { badNumber, becomes, keep, type Outcome, refuse, unchanged } from '../outcome.ts';
import type { Bench } from '../state.ts';
import { captured, correctReading, heldStill, rememberReading, whyNotKept, withTyped } from './readings.ts';
import { resetLive, type StageRules, type WithJob } from './rules.ts';

/** A larger typed number is the size of a ring. */
const RING_AT_LEAST = 3;

const isOpen = (shown: Length): boolean => Math.abs(shown) > CLOSED_AT_MOST;

/** The state of the closed-jaws check: `kept` if nothing was read since one was kept. */
export type ZeroState =
  | { readonly kind: 'open' }
  | { readonly kind: 'kept' }
  | (Extract<ZeroCheck, { kind: 'steady' }> & { readonly isKept: boolean })
  | Exclude<ZeroCheck, { kind: 'steady' }>;

export function zeroState({ readings, job }: WithJob): ZeroState {
  const last = readings.at(-1);
  if (!last && job.zero) return { kind: 'kept' };
  if (last && isOpen(last.value)) return { kind: 'open' };
  const check = checkZero(readings);
  return check.kind === 'steady' ? { ...check, isKept: check.error === job.zero?.error } : check;
}

/** Whether the check that was kept still holds: made and fresh, made too long ago, or before the board last restarted. */
type ZeroAge = 'unchecked' | 'fresh' | 'old' | 'restarted';

/** A zero check holds for a day: jaws gather dust, batteries go; our own choice. */
const HOLDS_MS = 24 * 60 * 60 * 1000;

export function zeroAge(bench: Bench, job: Job): ZeroAge {
  if (!job.zero) return 'unchecked';
  if (bench.zeroDoubted) return 'restarted';
  return Math.abs(bench.wall - job.zero.at) > HOLDS_MS ? 'old' : 'fresh';
}

function keepZero(bench: WithJob): Outcome {
  const why = whyNotKept(bench);
  if (why) return refuse(bench, why);
  const check = checkZero(bench.readings);
  const board = bench.line.board?.board;
  switch (check.kind) {
    case 'too-few':
      return refuse(bench, { kind: 'no-reading' });
    case 'wandering':
      return refuse(bench, { kind: 'zero-wanders', spread: check.spread, allowed: check.allowed });
    case 'steady': {
      const { error, standard } = check;
      if (isOpen(error)) return refuse(bench, { kind: 'jaws-open', shown: error, most: CLOSED_AT_MOST });
      const by = board === undefined ? {} : { board };
      const fact = { kind: 'zero-taken', error, standard, applied: true, ...by } as const;
      return keep({ ...bench, readings: [] }, fact, bench.readings);
    }
    default:
      return check satisfies never;
  }
}

/** The ring as measured: the rocked maximum where it agreed, else a typed or held value. */
function keepRing(bench: WithJob, ring: number): Outcome {
  const verdict = bench.capture && verdictOf(bench.capture);
  const measured = verdict?.state === 'steady' ? { value: verdict.diameter } : heldStill(bench);
  if ('kind' in measured) return refuse(bench, measured);
  const zeroed = correctReading(bench.job, measured.value, 'outside');
  const land = jawLandFrom(mm(ring), zeroed);
  if (land.kind !== 'land') return refuse(bench, land);
  const fact = { kind: 'ring-taken', known: mm(ring), measured: zeroed, land: land.width } as const;
  return keep(resetLive(bench), fact, bench.readings);
}

const ACCEPTED = 'what the closed jaws read (under 1 mm), or the size of a ring (3 mm or more)';

const typed = (bench: WithJob, text: string): Outcome =>
  withTyped(bench, text, (reading) => {
    const ring = reading.value;
    if (bench.ring !== null || !isOpen(ring)) return rememberReading({ ...bench, typed: '' }, reading);
    if (ring < RING_AT_LEAST) return badNumber(bench, text, ACCEPTED);
    return becomes(bench, { ring, readings: [], capture: startCapture(defaultSettings('bore')), typed: '' });
  });

function heard(bench: WithJob, reading: KeptReading): Outcome {
  const next = rememberReading(bench, reading);
  if (bench.ring === null || !bench.capture) return next;
  return becomes(next.bench, { capture: captured(bench.capture, reading) });
}

export const zeroRules: StageRules = {
  entered: resetLive,
  onReading: heard,
  keep: (bench) => (bench.ring === null ? keepZero(bench) : keepRing(bench, bench.ring)),
  again: (bench) => unchanged(resetLive(bench)),
  typed,
};
