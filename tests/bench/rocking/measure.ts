// Many simulated rockings measured, and what came of them.
import type { Steady } from '../../../src/core/measure/agreement.ts';
import { addReading, type Capture, finishCapture, startCapture } from '../../../src/core/measure/capture.ts';
import { defaultSettings } from '../../../src/core/measure/capture-settings.ts';
import { type Verdict, verdictOf } from '../../../src/core/measure/verdict.ts';
import { degrees } from '../../../src/core/units.ts';
import { type Rock, type RockOptions, simulateRock } from './simulate.ts';

export interface Outcomes {
  readonly traces: number;
  readonly agreed: number;
  readonly doubtful: Readonly<Record<string, number>>;
  /** Root mean square error of the agreed, in mm. */
  readonly rms: number;
  readonly bias: number;
  /** Steady, yet more than 0.05 mm out. */
  readonly farOut: readonly number[];
  /** Share of agreed within two standard uncertainties. */
  readonly covered: number;
  readonly meanStandard: number;
  /** The naive largest (for an outside: smallest) reading's root mean square error, over every trace. */
  readonly naive: number;
  /** Median absolute error of the same: not moved by single wild readings. */
  readonly naiveMedian: number;
  /** First verdict that said agreed while the trace ran on: root mean square error, and how many were far out. */
  readonly first: { readonly rms: number; readonly farOut: number };
}

export interface Taken {
  readonly capture: Capture;
  readonly final: Verdict;
  readonly first: Steady | null;
}

/** One trace through a capture, reading by reading. */
export function take(rock: Rock, options: RockOptions, tiltHalfRange: number): Taken {
  let capture = startCapture({ ...defaultSettings(options.side), tiltHalfRange: degrees(tiltHalfRange) });
  let first: Steady | null = null;
  for (const reading of rock.readings) {
    capture = addReading(capture, reading);
    const verdict = verdictOf(capture);
    if (!first && verdict.state === 'steady') first = verdict;
  }
  const ended = finishCapture(capture);
  return { capture: ended, final: verdictOf(ended), first };
}

const rmsOf = (errors: readonly number[]): number =>
  Math.sqrt(errors.reduce((sum, x) => sum + x * x, 0) / Math.max(1, errors.length));

/** `traces` seeds from `from` on, measured with the tilt half-range that the options simulate. */
export function measure(
  traces: number,
  from: number,
  options: Omit<RockOptions, 'rate'> & { readonly rate: number | 'any' },
): Outcomes {
  const errors: number[] = [];
  const firstErrors: number[] = [];
  const farOut: number[] = [];
  const naive: number[] = [];
  const doubtful: Record<string, number> = {};
  let covered = 0;
  let standards = 0;
  for (let seed = from; seed < from + traces; seed++) {
    const rate = options.rate === 'any' ? ([5, 8, 10, 16, 25][seed % 5] ?? 8) : options.rate;
    const rock = simulateRock(seed, { ...options, rate });
    const values = rock.readings.map((reading) => reading.value);
    naive.push((options.side === 'bore' ? Math.max(...values) : Math.min(...values)) - rock.truth);
    const { final, first } = take(rock, { ...options, rate }, options.tiltDegrees);
    if (first) firstErrors.push(first.diameter - rock.truth);
    if (final.state === 'doubtful') doubtful[final.reason.kind] = (doubtful[final.reason.kind] ?? 0) + 1;
    if (final.state !== 'steady') continue;
    const error = final.diameter - rock.truth;
    errors.push(error);
    if (Math.abs(error) > 0.05) farOut.push(seed);
    if (Math.abs(error) <= 2 * final.standardUncertainty) covered++;
    standards += final.standardUncertainty;
  }
  return {
    traces,
    agreed: errors.length,
    doubtful,
    rms: rmsOf(errors),
    bias: errors.reduce((sum, x) => sum + x, 0) / errors.length,
    farOut,
    covered: covered / errors.length,
    meanStandard: standards / errors.length,
    naive: rmsOf(naive),
    naiveMedian: naive.map(Math.abs).toSorted((a, b) => a - b)[Math.floor(naive.length / 2)] ?? 0,
    first: { rms: rmsOf(firstErrors), farOut: firstErrors.filter((x) => Math.abs(x) > 0.05).length },
  };
}
