// The four figures a turner looks for first: bore, spigot to turn to, spigot reached, and the fit.
import type { Job } from '../core/bench/job.ts';
import { aimOf, expectedOf } from '../core/bench/target.ts';
import { band, lengthFigure, withDoubt } from '../core/figures.ts';
import { type LengthUnit, mm } from '../core/units.ts';
import { clearanceHalf, diameterHalf } from './doubts.ts';
import { element } from './markup.ts';
import { large } from './table.ts';

type Shown = readonly [figure: string | null, under: string];

function boreFigure(job: Job, unit: LengthUnit): Shown {
  const { bore, setup } = job;
  if (!bore)
    return [null, setup.plannedBore === undefined ? '' : `planned ${lengthFigure(setup.plannedBore, unit)}`];
  const how = bore.how === 'rocked' ? `rocked, ${bore.agreeing} of ${bore.tops} tops agree` : bore.how;
  return [withDoubt(bore.diameter, diameterHalf(job, 'bore') ?? mm(0), unit), how];
}

/** `whole` is the job with its planned bore where none is taken. */
function targetFigure(job: Job, whole: Job, unit: LengthUnit): Shown {
  const aim = aimOf(whole);
  if (aim.kind !== 'aim') return [null, ''];
  const from = job.bore ? '' : ', by the planned bore';
  return [lengthFigure(aim.target, unit), `runs from ${band(aim.low, aim.high, unit)}${from}`];
}

function spigotFigure(job: Job, unit: LengthUnit): Shown {
  const { spigot } = job;
  if (!spigot) return [null, ''];
  const aim = aimOf(job);
  const over = aim.kind === 'aim' ? mm(spigot.diameter - aim.target) : null;
  const off =
    over === null
      ? ''
      : `${lengthFigure(mm(Math.abs(over)), unit)} ${over < 0 ? 'under' : 'over'} the target`;
  return [withDoubt(spigot.diameter, diameterHalf(job, 'spigot') ?? mm(0), unit), off];
}

function fitFigure(job: Job, unit: LengthUnit): Shown {
  const last = job.trials.at(-1);
  const expected = job.spigot ? expectedOf(job, job.spigot.diameter) : null;
  const half = clearanceHalf(job)?.half;
  const clearance =
    expected?.kind === 'expected' && half !== undefined
      ? `clearance ${withDoubt(expected.clearance, half, unit)} expected`
      : '';
  if (last) return [last.verdict, `trial ${job.trials.length}; ${clearance}`.replace(/; $/, '')];
  return expected?.kind === 'expected' ? [`${expected.word}, expected`, clearance] : [null, ''];
}

/** The strip under the name. */
export function keyFigures(job: Job, whole: Job, unit: LengthUnit): string {
  const cells: readonly (readonly [string, Shown])[] = [
    ['bore', boreFigure(job, unit)],
    ['spigot target', targetFigure(job, whole, unit)],
    ['spigot', spigotFigure(job, unit)],
    [job.trials.length > 0 ? 'fit on trial' : 'fit', fitFigure(job, unit)],
  ];
  return element('dl', {}, cells.map(([what, [figure, under]]) => large(what, figure, under)).join(''));
}
