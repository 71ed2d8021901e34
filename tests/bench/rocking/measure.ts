// Many simulated rockings measured, and what came of them.
import type { Capture } from '../../../src/core/measure/capture.ts';
import { defaultSettings } from '../../../src/core/measure/capture-settings.ts';
import { verdictOf } from '../../../src/core/measure/verdict.ts';
import { degrees } from '../../../src/core/units.ts';
import { captured } from '../../support/readings.ts';
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

/** The trace of this seed, through a capture set to the tilt that the conditions simulate. */
export function rockedBy(
  conditions: Conditions,
  seed: number,
): { readonly rock: Rock; readonly capture: Capture } {
  const { rate, side, tiltDegrees } = conditions;
  const perSecond = rate === 'any' ? ([5, 8, 10, 16, 25][seed % 5] ?? 8) : rate;
  const rock = simulateRock(seed, { ...conditions, rate: perSecond });
  const settings = { ...defaultSettings(side), tiltHalfRange: degrees(tiltDegrees) };
  return { rock, capture: captured(rock.readings, settings) };
}

/** In mm: an answer this far out is wrong. */
export const FAR = 0.05;

export type Conditions = Omit<RockOptions, 'rate'> & { readonly rate: number | 'any' };

/** `traces` seeds from `from` on. */
export function measure(traces: number, from: number, conditions: Conditions): Outcomes {
  const errors: number[] = [];
  const farOut: number[] = [];
  const told: number[] = [];
  const doubtful: Record<string, number> = {};
  let [covered, standards] = [0, 0];
  for (let seed = from; seed < from + traces; seed++) {
    const { rock, capture } = rockedBy(conditions, seed);
    const verdict = verdictOf(capture);
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
  const steady = errors.length;
  const mean = (sum: number): number => sum / Math.max(1, steady);
  const sumOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0);
  return {
    ...{ traces, steady, doubtful, farOut, told },
    rms: Math.sqrt(mean(sumOf(errors.map((error) => error ** 2)))),
    bias: mean(sumOf(errors)),
    covered: mean(covered),
    meanStandard: mean(standards),
  };
}
