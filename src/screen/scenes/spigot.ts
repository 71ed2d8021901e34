// Spigot: what remains to the target, which side of it the work stands on, and what fit that gives.
import { corrected } from '../../core/bench/corrected.ts';
import type { Job } from '../../core/bench/job.ts';
import { settledOf } from '../../core/bench/settled.ts';
import type { Bench } from '../../core/bench/state.ts';
import { type Aim, expectedOf, type NoAim, type Zone, zoneOf } from '../../core/bench/target.ts';
import { mm } from '../../core/units.ts';
import { cautionAt } from '../cautions.ts';
import { lengthFigure } from '../figures.ts';
import { stageKeys } from '../keywords.ts';
import type { Style } from '../picture.ts';
import { type Big, MARKS, type Scene } from '../scene.ts';
import { safe } from '../text.ts';
import { aimFor } from './known.ts';
import { bigLength, bigNothing, bigReading, liveStyle, staleness, standing } from './parts.ts';
import { aimFacts, barOf, fitFacts, liveFacts, type Reading } from './spigot-facts.ts';
import { nextStep, waiting, zoneStanding } from './spigot-words.ts';

export function spigotScene(bench: Bench, job: Job): Scene {
  const aim = aimFor(job);
  return aim.kind === 'aim' ? aimed(bench, job, aim) : unaimed(bench, job, aim);
}

function unaimed(bench: Bench, job: Job, aim: NoAim): Scene {
  const missing = aim.kind === 'missing';
  const why = aim.kind === 'no-fit' ? safe(aim.why) : 'the bore decides the spigot';
  return {
    ...frame,
    big: bigNothing(bench.unit, 'target spigot'),
    standing: standing(
      missing ? MARKS.open : MARKS.cross,
      missing ? 'NO BORE YET' : 'NO FIT',
      why,
      missing ? 'quiet' : 'bad',
    ),
    facts: job.bore ? [{ name: 'bore', value: lengthFigure(job.bore.diameter, bench.unit) }] : [],
    panel: null,
    next: missing
      ? 'Type the bore and Enter, or b back to bore size.'
      : 'b back to measure the bore again, or w for a job with another pitch, cutter or depth.',
  };
}

const frame = {
  title: 'spigot',
  caution: cautionAt.spigot,
  keys: stageKeys('take'),
  typing: null,
} as const;

function aimed(bench: Bench, job: Job, aim: Aim): Scene {
  const now = readingNow(bench, job);
  const reached = now && zoneOf(aim, now.value, now.step);
  const moving = reached !== null && STOPPING.has(reached) && !settledOf(bench.heard);
  const zone = moving ? 'near' : reached;
  const expected = now && zone && zone !== 'far' ? expectedOf(job, now.value) : null;
  const stale = now ? staleness(bench, bench.heard.at(-1)) : null;
  const taken = isTaken(job, now);
  return {
    ...frame,
    big:
      now && zone
        ? remaining(bench, now, aim, zone)
        : bigLength(aim.target, bench.unit, 'target spigot, on the diameter', 'value'),
    standing:
      stale ??
      (taken || !zone
        ? waiting(bench, job, aim)
        : moving
          ? MOVING
          : zoneStanding(zone, expected, bench.unit)),
    facts: [
      ...liveFacts(now, aim, bench.unit),
      ...aimFacts(job, aim, expected, bench.unit),
      ...fitFacts(job, expected),
    ],
    panel: { kind: 'bar', bar: barOf(now, aim, zone, bench.unit) },
    next:
      moving && !taken
        ? 'Hold the jaws still on the spigot.'
        : nextStep(bench, job, taken ? null : zone, expected),
  };
}

/** Steps of the caliper by which a spigot must measure smaller than it was taken, to have been cut again. */
const CUT_AGAIN_STEPS = 2;

/** A spigot that runs was taken, and nothing was cut from it since: a jaw leaned or opened reads larger, never smaller. */
function isTaken({ spigot }: Job, now: Reading | null): boolean {
  if (spigot?.fit !== 'running') return false;
  return now === null || now.value > spigot.diameter - CUT_AGAIN_STEPS * now.step;
}

/** The newest diameter: read or typed since the last take, as corrected. */
function readingNow(bench: Bench, job: Job): Reading | null {
  const last = bench.heard.at(-1);
  return last ? { value: corrected(job, last.value, 'outside'), step: last.step } : null;
}

/** Zones that tell the turner to stop cutting: said of a diameter that was held still, never of one reading alone. */
const STOPPING: ReadonlySet<Zone> = new Set(['at', 'under', 'past']);
const MOVING = standing(MARKS.half, 'MOVING', 'at the target or past it: hold the jaws still', 'near');

const ZONE_STYLES: { readonly [zone in Zone]: Style } = {
  far: 'value',
  near: 'near',
  at: 'at',
  under: 'past',
  past: 'past',
};

function remaining(bench: Bench, now: Reading, aim: Aim, zone: Zone): Big {
  const over = mm(now.value - aim.target);
  const label = over < 0 ? 'under the target, on the diameter' : 'still to come off the diameter';
  return bigReading(
    over,
    now.step,
    bench.unit,
    label,
    liveStyle(bench, bench.heard.at(-1), ZONE_STYLES[zone]),
  );
}
