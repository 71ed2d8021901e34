// Zero: jaws closed, the error shown and held as a correction if agreed; a ring of known size for the jaw land if wanted.

import { addReading, startCapture } from '../../measure/capture.ts';
import { defaultSettings } from '../../measure/capture-settings.ts';
import { CLOSED_AT_MOST, checkZero, jawLandFrom, type ZeroCheck } from '../../measure/corrections.ts';
import { verdictOf } from '../../measure/verdict.ts';
import { type Length, mm } from '../../units.ts';
import { correctReading } from '../correct-reading.ts';
import type { KeptReading } from '../entry.ts';
import { keep, type Outcome, refuse, unchanged } from '../outcome.ts';
import { TRAIL_AT_MOST } from '../state.ts';
import { steadyOf } from '../steady.ts';
import { typedReading } from '../typed-reading.ts';
import { badNumber, rememberReading, resetLive, type StageRules, type WithJob, whyNotKept } from './rules.ts';

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
      if (isOpen(check.error))
        return refuse(bench, { kind: 'jaws-open', shown: check.error, most: CLOSED_AT_MOST });
      const fact = {
        kind: 'zero-taken',
        error: check.error,
        standard: check.standard,
        applied: true,
      } as const;
      return keep(
        { ...bench, readings: [] },
        board === undefined ? fact : { ...fact, board },
        bench.readings,
      );
    }
    default:
      return check satisfies never;
  }
}

/** The ring as measured: the rocked maximum where it agreed, else a typed or held value. */
function ringMeasured(bench: WithJob): Length | undefined {
  const verdict = bench.capture && verdictOf(bench.capture);
  if (verdict?.state === 'steady') return verdict.diameter;
  return whyNotKept(bench) ? undefined : steadyOf(bench.readings)?.value;
}

function keepRing(bench: WithJob, ring: number): Outcome {
  const measured = ringMeasured(bench);
  if (measured === undefined) return refuse(bench, whyNotKept(bench) ?? { kind: 'moving' });
  const zeroed = correctReading(bench.job, measured, 'outside');
  const land = jawLandFrom(mm(ring), zeroed);
  if (land.kind !== 'land') return refuse(bench, land);
  return keep(
    resetLive(bench),
    { kind: 'ring-taken', known: mm(ring), measured: zeroed, land: land.width },
    bench.readings,
  );
}

function typed(bench: WithJob, text: string): Outcome {
  const parsed = typedReading(bench, text);
  if (!parsed.ok) return badNumber(bench, parsed.found, parsed.accepted);
  const reading = parsed.value;
  if (bench.ring !== null || !isOpen(reading.value)) return rememberReading({ ...bench, typed: '' }, reading);
  if (reading.value >= RING_AT_LEAST)
    return unchanged({
      ...bench,
      ring: reading.value,
      readings: [],
      capture: startCapture(defaultSettings('bore')),
      typed: '',
    });
  return badNumber(
    bench,
    text,
    'what the closed jaws read (under 1 mm), or the size of a ring (3 mm or more)',
  );
}

function heard(bench: WithJob, reading: KeptReading): Outcome {
  const next = rememberReading(bench, reading);
  if (bench.ring === null || !bench.capture) return next;
  const full = bench.capture.readings.length >= TRAIL_AT_MOST;
  const capture = full ? startCapture(bench.capture.settings) : bench.capture;
  return { ...next, bench: { ...next.bench, capture: addReading(capture, reading) } };
}

export const zeroRules: StageRules = {
  entered: resetLive,
  onReading: heard,
  keep: (bench) => (bench.ring === null ? keepZero(bench) : keepRing(bench, bench.ring)),
  again: (bench) => unchanged(resetLive(bench)),
  typed,
};
