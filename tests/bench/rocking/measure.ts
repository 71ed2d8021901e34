// Many simulated rockings measured, and what came of them.
import { addReading, type Capture, finishCapture, startCapture } from '../../../src/core/measure/capture.ts';
import { defaultSettings, type Side } from '../../../src/core/measure/capture-settings.ts';
import { verdictOf } from '../../../src/core/measure/verdict.ts';
import { degrees } from '../../../src/core/units.ts';
import { type Rock, type RockOptions, simulateRock } from './simulate.ts';

export interface Outcomes {
  readonly traces: number;
  readonly steady: number;
  readonly doubtful: Readonly<Record<string, number>>;
  /** Root mean square error of the steady, and their mean error, in mm. */
  readonly rms: number;
  readonly bias: number;
  /** Seeds of the steady ones that are more than 0.05 mm out, and of those that are so for every bore that shows the same line. */
  readonly farOut: readonly number[];
  readonly told: readonly number[];
  /** Share of the steady within two standard uncertainties of the bore, or of the other that shows the same line. */
  readonly covered: number;
  readonly meanStandard: number;
}

/** One trace through a capture, reading by reading. */
export function captured(rock: Rock, side: Side, tiltDegrees: number): Capture {
  const settings = { ...defaultSettings(side), tiltHalfRange: degrees(tiltDegrees) };
  return finishCapture(rock.readings.reduce(addReading, startCapture(settings)));
}

/** In mm: an answer this far out is wrong. */
export const FAR = 0.05;

export type Conditions = Omit<RockOptions, 'rate'> & { readonly rate: number | 'any' };

/** Readings a second of the trace of this seed. */
export const rateOf = ({ rate }: Conditions, seed: number): number =>
  rate === 'any' ? ([5, 8, 10, 16, 25][seed % 5] ?? 8) : rate;

/** `traces` seeds from `from` on, measured with the tilt half-range that the options simulate. */
export function measure(traces: number, from: number, options: Conditions): Outcomes {
  const errors: number[] = [];
  const farOut: number[] = [];
  const told: number[] = [];
  const doubtful: Record<string, number> = {};
  let [covered, standards] = [0, 0];
  for (let seed = from; seed < from + traces; seed++) {
    const rock = simulateRock(seed, { ...options, rate: rateOf(options, seed) });
    const verdict = verdictOf(captured(rock, options.side, options.tiltDegrees));
    if (verdict.state === 'doubtful')
      doubtful[verdict.reason.kind] = (doubtful[verdict.reason.kind] ?? 0) + 1;
    if (verdict.state !== 'steady') continue;
    const error = verdict.diameter - rock.truth;
    errors.push(error);
    const least = Math.min(Math.abs(error), Math.abs(verdict.diameter - (rock.other ?? rock.truth)));
    if (Math.abs(error) > FAR) farOut.push(seed);
    if (least > FAR) told.push(seed);
    if (least <= 2 * verdict.standardUncertainty) covered++;
    standards += verdict.standardUncertainty;
  }
  const of = Math.max(1, errors.length);
  return {
    traces,
    steady: errors.length,
    doubtful,
    rms: Math.sqrt(errors.reduce((sum, error) => sum + error ** 2, 0) / of),
    bias: errors.reduce((sum, error) => sum + error, 0) / of,
    farOut,
    told,
    covered: covered / of,
    meanStandard: standards / of,
  };
}
