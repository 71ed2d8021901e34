// The words of a spigot: its zone, what fit it gives, and what to do next.
import type { Job, Spigot } from '../../core/bench/job.ts';
import { asksAcross, fitsLike, ovalityIn, spigotAlong } from '../../core/bench/out-of-true.ts';
import type { WithJob } from '../../core/bench/stages/rules.ts';
import { isOnSize } from '../../core/bench/stages/spigot.ts';
import type { Aim, expectedOf, Zone } from '../../core/bench/target.ts';
import { asKnown, lengthFigure } from '../../core/figures.ts';
import type { FitWord } from '../../core/thread/fit.ts';
import { taperOf } from '../../core/thread/taper-and-oval.ts';
import { type Length, type LengthUnit, mm } from '../../core/units.ts';
import { MARKS, type Standing } from '../scene.ts';
import { safe } from '../text.ts';
import { FIT_WORDS, fitName, looseness } from '../words.ts';
import { aimFor, halfOf, isReceiving, signed, standingLine } from './scene-parts.ts';

/** What a spigot of a size gives; null where none is to be told yet. */
export type Gives = ReturnType<typeof expectedOf> | null;

/** Of threads chased by hand, which nobody has measured yet. */
const BY_DEPTH = 'how deep you chase decides the fit';

export function waiting({ job, unit }: WithJob, aim: Aim): Standing {
  if (job.spigot) return kept(job, job.spigot, unit);
  const about =
    aim.shift === 0
      ? 'nothing measured yet'
      : `trials moved it by ${signed(mm(aim.shift), unit)} ${unit}: ? says why`;
  return standingLine(MARKS.open, 'TURN TO THIS', about, 'quiet');
}

/** The spigot as kept, by its shape where it is out of true; its fit is the one at the tightest place and turn. */
function kept(job: Job, spigot: Spigot, unit: LengthUnit): Standing {
  const { diameter, fit, clearance, asPlanned } = spigot;
  const gives = asPlanned ? BY_DEPTH : fitWords(job, fit, clearance, unit);
  const [oval, along] = [ovalityIn(spigot), spigotAlong(spigot)];
  const taper = along && taperOf(along);
  const ovalBy = oval && !oval.round ? oval.difference : null;
  const taperBy = taper && taper.by > 0 ? taper.by : null;
  const word = ovalBy !== null ? 'OVAL' : taperBy !== null ? 'TAPERED' : 'KEPT';
  const measured = [
    ...(word === 'KEPT' ? [lengthFigure(diameter, unit)] : []),
    ...(ovalBy === null ? [] : [lengthFigure(ovalBy, unit)]),
    ...(taperBy === null ? [] : [`${ovalBy === null ? '' : 'taper '}${lengthFigure(taperBy, unit)}`]),
  ];
  const isTrue = word === 'KEPT';
  const style = fit !== 'running' ? 'past' : isTrue ? 'good' : 'near';
  const mark = fit === 'running' && isTrue ? MARKS.full : MARKS.alert;
  return standingLine(mark, word, `${measured.join(', ')}: ${gives}`, style);
}

export function zoneStanding(zone: Zone, job: Job, gives: Gives, unit: LengthUnit): Standing {
  const fit = fitAbout(job, gives, unit);
  const past = `past what ${job.setup.fit === 'plain' ? 'fits' : 'runs'}: ${fit}`;
  const tooSmall = gives?.kind === 'unmeasured' ? 'too small for threads of the planned depth' : past;
  const standings: { readonly [zone in Zone]: Standing } = {
    far: standingLine(MARKS.open, 'TURN DOWN', 'more than a light cut left', 'plain'),
    near: standingLine(MARKS.half, 'NEAR', 'light cuts now; measure after each one', 'near'),
    at: standingLine(MARKS.full, 'AT SIZE', `stop here: ${fit}`, 'at'),
    under: standingLine(MARKS.under, 'UNDER', `below target; ${fit}`, 'past'),
    past: standingLine(MARKS.cross, 'PAST', tooSmall, 'past'),
  };
  return standings[zone];
}

function fitWords(job: Job, word: FitWord, clearance: Length, unit: LengthUnit): string {
  const { name, value } = looseness(job.setup, clearance);
  return `${fitName(job.setup, word)}, ${name} ${asKnown(value, halfOf(job), unit)}`;
}

function fitAbout(job: Job, gives: Gives, unit: LengthUnit): string {
  if (gives?.kind === 'unmeasured') return BY_DEPTH;
  if (gives?.kind !== 'expected') return gives?.kind === 'no-fit' ? safe(gives.why) : 'the fit is not known';
  return fitWords(job, gives.word, gives.clearance, unit);
}

export function nextStep(bench: WithJob, zone: Zone | null, gives: Gives): string {
  const { job } = bench;
  const isPlain = job.setup.fit === 'plain';
  if (zone === null && job.spigot) return keptStep(job, isPlain ? 'the trial' : 'its thread');
  if (zone === null)
    return isReceiving(bench)
      ? 'Turn the spigot oversize, stop the lathe and measure it.'
      : 'Turn it, stop, measure. Type the diameter and press Enter.';
  const steps: { readonly [zone in Zone]: string } = {
    far: 'Turn it down, stop the lathe and measure again.',
    near: "Take a light cut, stop, measure again. Half of what's left comes off each side.",
    at: 'Hold the jaws still and press Enter to keep this spigot.',
    under:
      gives?.kind === 'unmeasured'
        ? 'Press Enter to keep it and chase its thread a little shallower. Take nothing more off.'
        : `It still ${isPlain ? 'fits' : 'runs'}. Press Enter to keep it. Take nothing more off.`,
    past: pastStep(job, gives),
  };
  return steps[zone];
}

/** A spigot off its size never says to carry on. */
function keptStep(job: Job, after: string): string {
  const aim = aimFor(job);
  const { spigot, setup } = job;
  const onSize = spigot && aim.kind === 'aim' && isOnSize(aim, fitsLike(job, spigot), setup.caliper.step);
  if (spigot?.fit === 'running' || onSize)
    return spigot && asksAcross(job, 'male') && spigot.across === undefined
      ? `Press n for ${after}. This wood may be oval: press a and measure a quarter turn round.`
      : `Press n for ${after}. Measure again to replace it; u takes it back.`;
  if (spigot?.asPlanned)
    return `Press n for its thread: this spigot wants it ${spigot.fit === 'loose' ? 'shallower' : 'deeper'} than planned. Measure again to replace it.`;
  const larger = spigot?.fit === 'tight' || spigot?.fit === 'seized';
  const wideEnd = spigot?.end !== undefined && spigot.end > spigot.diameter;
  const cure = larger
    ? `Turn ${wideEnd ? 'its end' : 'it'} down and measure it again`
    : 'Turn a new one and measure that';
  return `Kept ${larger ? 'oversize' : 'undersize'}: ${setup.fit === 'plain' || spigot === null ? 'not as wanted' : `it ${FIT_WORDS[spigot.fit]}`}. ${cure}, or press n to go on as it is.`;
}

function pastStep({ setup }: Job, gives: Gives): string {
  if (gives?.kind === 'unmeasured')
    return 'Press Enter to keep it and chase its thread shallower, or turn a new spigot.';
  const known = gives?.kind === 'expected' ? gives.word : null;
  const fit =
    known === null
      ? 'No fit'
      : `It ${setup.fit === 'plain' ? `is ${fitName(setup, known)}` : FIT_WORDS[known]}`;
  return `${fit}: part it off and turn a new spigot, or press Enter to keep it as it is.`;
}
