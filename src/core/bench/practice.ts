// Practice in rocking: each measurement is scored against a size that is known. There is no job, and nothing is kept.
import { finishCapture, startCapture } from '../measure/capture.ts';
import { verdictOf } from '../measure/verdict.ts';
import { meanOf } from '../statistics.ts';
import { defaultBounds } from '../thread/fit.ts';
import { type Length, mm } from '../units.ts';
import type { HandEvent } from './event.ts';
import { becomes, type Outcome, refuse, unchanged, unitSwitched } from './outcome.ts';
import { boreSettings, captured } from './stages/readings.ts';
import type { Bench, Practice, PracticeResult } from './state.ts';
import { TYPED_AT_MOST, typedSize } from './typed-quantity.ts';

export const missOf = ({ measured, real }: PracticeResult): Length => mm(measured - real);

/**
 * A miss in the bore changes the clearance by as much. Up to the first figure, what peaks may differ by and still agree
 * (capture-settings.ts), nobody can tell it from the caliper's own error. Up to the second, the clearance that the bench
 * offers at first less that from which a lid runs (fit.ts), the lid still runs.
 */
const MISS = { good: mm(0.03), runs: mm(0.15 - defaultBounds.runningFrom) } as const;
/** Peaks wider apart than two steps of a caliper were rocked in haste, and five strokes tell more than three: our own choice. */
const STEADY_SPREAD = mm(0.02);
const ENOUGH_STROKES = 5;
/** A score needs as many measurements; our own choice. */
const SCORED_FROM = 3;
/** The last bit of a difference decides nothing. */
const LAST_BIT = 1e-9;

/** What to do better, the worst first. */
export type PracticeAdvice = 'reads-small' | 'reads-large' | 'hasty' | 'few-strokes' | 'good';

export function practiceAdvice(result: PracticeResult): PracticeAdvice {
  const miss = missOf(result);
  if (Math.abs(miss) > MISS.good + LAST_BIT) return miss < 0 ? 'reads-small' : 'reads-large';
  if (result.spread > STEADY_SPREAD + LAST_BIT) return 'hasty';
  return result.strokes < ENOUGH_STROKES ? 'few-strokes' : 'good';
}

export interface Score {
  /** Of the misses without their sign. */
  readonly mean: Length;
  readonly worst: Length;
  readonly word: 'sure' | 'runs' | 'spoils';
}

/** Null before there are enough measurements. */
export function scoreOf(results: readonly PracticeResult[]): Score | null {
  if (results.length < SCORED_FROM) return null;
  const misses = results.map((result) => Math.abs(missOf(result)));
  const worst = mm(Math.max(...misses));
  const within = (limit: Length): boolean => worst <= limit + LAST_BIT;
  const word = within(MISS.good) ? 'sure' : within(MISS.runs) ? 'runs' : 'spoils';
  return { mean: mm(meanOf(misses)), worst, word };
}

/** What the ring being measured really is; null until that is known. */
export const realSize = ({ teaching }: Bench, { ring }: Practice): Length | null =>
  teaching ? (teaching.truth?.bore ?? null) : ring;

const rocking = (bench: Bench, { measuring }: Practice): Bench => ({
  ...bench,
  capture: startCapture(boreSettings(measuring)),
  typed: '',
  notice: null,
});

const shows = (bench: Bench, practice: Practice): Bench => ({
  ...bench,
  mode: { kind: 'practice', practice },
});

export function openPractice(bench: Bench, measuring: Practice['measuring']): Outcome {
  const practice = { ring: null, results: [], measuring };
  return unchanged(rocking(shows(bench, practice), practice));
}

export const practised = (bench: Bench, { reading }: NonNullable<Bench['live']>): Outcome =>
  bench.capture ? becomes(bench, { capture: captured(bench.capture, reading) }) : unchanged(bench);

/** The size of a ring that a caliper measures inside. */
const RING = { from: mm(5), to: mm(150) } as const;

function ringTyped(bench: Bench, practice: Practice): Outcome {
  const accepted = bench.teaching
    ? "nothing here; this ring's size is told once you have measured it"
    : 'the size marked on the ring, from 5 to 150 mm';
  const parsed = typedSize(bench.typed, bench.unit);
  if (bench.teaching || !parsed.ok || parsed.value < RING.from || parsed.value > RING.to)
    return refuse(bench, { kind: 'bad-number', found: bench.typed, accepted });
  return unchanged(rocking(shows(bench, { ...practice, ring: parsed.value }), practice));
}

/** Ends this measurement with its result; from a result it goes on to the next. */
function measured(bench: Bench, practice: Practice): Outcome {
  const real = realSize(bench, practice);
  if (real === null) return refuse(bench, { kind: 'missing', what: 'ring' });
  if (!bench.capture) return unchanged(rocking(bench, practice));
  const verdict = verdictOf(finishCapture(bench.capture));
  if (bench.capture.readings.length === 0 || verdict.state === 'waiting' || verdict.state === 'rocking')
    return refuse(bench, { kind: 'missing', what: 'rocking' });
  if (verdict.state === 'doubtful') return refuse(bench, { kind: 'not-agreed', reason: verdict.reason.kind });
  const { diameter, spread, peaks } = verdict;
  const result = { measured: diameter, real, spread, strokes: peaks };
  const results = [...practice.results, result];
  return unchanged({ ...shows(bench, { ...practice, results }), capture: null, notice: null });
}

export function stepPractice(bench: Bench, practice: Practice, event: HandEvent): Outcome {
  switch (event.kind) {
    case 'typed': {
      const typed = bench.typed + event.text;
      return typed.length > TYPED_AT_MOST
        ? refuse(bench, { kind: 'bad-number', found: typed, accepted: 'the size of one ring' })
        : becomes(bench, { typed, notice: null });
    }
    case 'erased':
      return becomes(bench, { typed: bench.typed.slice(0, -1), notice: null });
    case 'entered':
      return bench.typed.trim() === '' ? measured(bench, practice) : ringTyped(bench, practice);
    case 'action':
      if (event.action === 'keep') return measured(bench, practice);
      return event.action === 'again' ? unchanged(rocking(bench, practice)) : unchanged(bench);
    case 'escaped':
      return bench.typed === ''
        ? becomes(bench, { mode: { kind: 'welcome' }, capture: null, notice: null })
        : becomes(bench, { typed: '', notice: null });
    case 'unit-switched':
      return unitSwitched(bench);
    case 'virtual-asked':
      return bench.line.open ? unchanged(bench) : becomes(bench, {}, { kind: 'start-virtual' });
    default:
      return unchanged(bench);
  }
}
