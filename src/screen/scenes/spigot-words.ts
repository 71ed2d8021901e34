// The words of a spigot: the zone it stands in, what fit it gives, and what to do next.
import type { Job } from '../../core/bench/job.ts';
import type { Bench } from '../../core/bench/state.ts';
import type { Aim, Expected, NoAim, Zone } from '../../core/bench/target.ts';
import { type LengthUnit, mm } from '../../core/units.ts';
import { lengthFigure } from '../figures.ts';
import { MARKS, type Standing } from '../scene.ts';
import { safe } from '../text.ts';
import { FIT_WORDS } from '../words.ts';
import { standing } from './parts.ts';
import { signed } from './spigot-facts.ts';

export function waiting(bench: Bench, job: Job, aim: Aim): Standing {
  if (job.spigot) {
    const { diameter, fit, clearance } = job.spigot;
    const about = `${lengthFigure(diameter, bench.unit)}: ${fit}, clearance ${lengthFigure(clearance, bench.unit)}`;
    return standing(MARKS.full, 'TAKEN', about, fit === 'running' ? 'good' : 'past');
  }
  return standing(
    MARKS.open,
    'TURN TO THIS',
    aim.shift === 0
      ? 'nothing measured yet'
      : `earlier trials moved it by ${signed(mm(aim.shift), bench.unit)} ${bench.unit}: ? says why`,
    'quiet',
  );
}

export function zoneStanding(zone: Zone, expected: Expected | NoAim | null, unit: LengthUnit): Standing {
  const fit = fitAbout(expected, unit);
  switch (zone) {
    case 'far':
      return standing(MARKS.open, 'TURN DOWN', 'more than a light cut to go', 'plain');
    case 'near':
      return standing(MARKS.half, 'NEAR', 'light cuts now, and measure after each', 'near');
    case 'at':
      return standing(MARKS.full, 'AT SIZE', `stop here; ${fit}`, 'at');
    case 'under':
      return standing(MARKS.under, 'UNDER', `under the target, but ${fit}`, 'past');
    case 'past':
      return standing(MARKS.cross, 'PAST', `past what runs: ${fit}`, 'past');
    default:
      return zone satisfies never;
  }
}

function fitAbout(expected: Expected | NoAim | null, unit: LengthUnit): string {
  if (expected?.kind !== 'expected')
    return expected?.kind === 'no-fit' ? safe(expected.why) : 'the fit is not known';
  return `${expected.word}, clearance ${lengthFigure(expected.clearance, unit)}`;
}

export function nextStep(
  bench: Bench,
  job: Job,
  zone: Zone | null,
  expected: Expected | NoAim | null,
): string {
  const after = job.setup.fit === 'plain' ? 'the trial' : 'its thread';
  switch (zone) {
    case null:
      if (job.spigot) return `n goes on to ${after}. Measured again, Enter replaces it; u takes it back.`;
      return bench.line.open
        ? 'Turn the spigot oversize, stop the lathe, close the jaws on it.'
        : 'Turn, stop, measure; type the diameter and Enter.';
    case 'far':
      return 'Turn it down, stop the lathe, and measure again.';
    case 'near':
      return 'A light cut, stop, measure again; half of what remains comes off each side.';
    case 'at':
      return 'Hold the jaws still; Enter takes this spigot.';
    case 'under':
      return 'It still runs: Enter takes it. Take nothing more off.';
    case 'past':
      return pastStep(expected);
    default:
      return zone satisfies never;
  }
}

function pastStep(expected: Expected | NoAim | null): string {
  const fit = expected?.kind === 'expected' ? `It ${FIT_WORDS[expected.word]}` : 'No fit';
  return `${fit}: part it off and turn a new spigot, or Enter takes it as it is.`;
}
