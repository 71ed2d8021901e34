// What earlier jobs on the same setup teach the next one: their trials, the bias they speak for, and the reasons in words.
import { learn, priorSpread, shiftFor, type Trial } from '../learn/bias.ts';
import { inInches, type Length, type LengthUnit } from '../units.ts';
import { findWood } from '../wood/woods.ts';
import type { Job } from './job.ts';
import type { Lessons, Setup } from './setup.ts';
import { boundsNow, wordBounds } from './target.ts';

/** Woods of one genus count as one group; a wood without a botanical name is its own. */
function woodGroup(wood: string | undefined): string {
  if (wood === undefined) return '';
  const found = findWood(wood);
  const botanical = found.kind === 'found' ? found.wood.botanical : null;
  return (botanical?.split(' ')[0] ?? wood).toLowerCase();
}

/** Jobs with the same key teach each other: pitch, starts, form, cutter, feed or hand, wood group. */
export const setupKey = (setup: Setup): string =>
  JSON.stringify([
    setup.fit,
    setup.pitch.length.toFixed(5),
    setup.starts,
    setup.cutter.name,
    setup.cutter.angle.toFixed(5),
    setup.cutter.tip,
    setup.feed?.name ?? (setup.byHand ? 'by hand' : ''),
    woodGroup(setup.wood),
  ]);

/** A trial without a computed clearance (typed without a bore) teaches nothing. */
export const trialsOf = (job: Job): readonly Trial[] =>
  job.trials.flatMap(({ verdict, clearance, standard }) =>
    clearance === null || standard === null || standard <= 0
      ? []
      : [
          {
            pair: job.id,
            label: job.name,
            computedClearance: clearance,
            standardUncertainty: standard,
            verdict,
            bounds: boundsNow(job),
          },
        ],
  );

/**
 * What these jobs (oldest first) teach a new one of this setup; null where none of them made a trial on it.
 * The shift is what is worth correcting, the mean what is believed of the bias, the spread what is left in doubt of it.
 */
export function learnedFrom(setup: Setup, jobs: readonly Job[]): Lessons | null {
  const key = setupKey(setup);
  const trials = jobs.filter((job) => !job.removed && setupKey(job.setup) === key).flatMap(trialsOf);
  const last = trials.at(-1);
  if (!last) return null;
  const learned = learn(trials, priorSpread(setup.fit));
  const wanted = setup.season?.remains ?? setup.wanted;
  const shift = shiftFor(wanted, last.standardUncertainty, wordBounds(setup, wanted), learned);
  const reasons = learned.reasons.map(({ trial, moved, explained }) => {
    const computed = `${trial.label}: computed ${inWords(trial.computedClearance, 2, setup.unit)}, ${trial.verdict}`;
    return explained
      ? `${computed}; moved the bias ${moved >= 0 ? '+' : ''}${inWords(moved, 3, setup.unit)}`
      : `${computed}; no bias explains that, so it is ignored`;
  });
  return { shift, mean: learned.mean, spread: learned.spread, reasons };
}

/** A reason is kept as words, in the unit of the job that it is kept with. */
const inWords = (value: Length, decimals: number, unit: LengthUnit): string =>
  unit === 'mm' ? `${value.toFixed(decimals)} mm` : `${inInches(value).toFixed(4)} in`;
