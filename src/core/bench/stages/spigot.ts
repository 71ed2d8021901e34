// Spigot: the live diameter on its way down to the target; near, at, under and past are told as they come.
import type { Length } from '../../units.ts';
import { correctReading } from '../correct-reading.ts';
import type { KeptReading } from '../entry.ts';
import { andThen, keep, type Outcome, refuse, sounding, unchanged } from '../outcome.ts';
import type { Cue } from '../state.ts';
import { steadyOf } from '../steady.ts';
import { aimOf, expectedOf, type Zone, zoneOf } from '../target.ts';
import { typedReading } from '../typed-reading.ts';
import { badNumber, rememberReading, resetLive, type StageRules, type WithJob, whyNotKept } from './rules.ts';

/** The held diameter with the zone it lies in; undefined while the jaws move or there is no target. */
export function spigotNow(bench: WithJob): { readonly diameter: Length; readonly zone: Zone } | undefined {
  const settled = steadyOf(bench.readings);
  const aim = aimOf(bench.job);
  const last = bench.readings.at(-1);
  if (!settled || !last || aim.kind !== 'aim') return undefined;
  const diameter = correctReading(bench.job, settled.value, 'outside');
  return { diameter, zone: zoneOf(aim, diameter, last.step) };
}

const CUES: { readonly [zone in Zone]: Cue | null } = {
  far: null,
  near: 'near',
  at: 'at',
  under: 'past',
  past: 'past',
};

/** The last zone that was held, so that a cue sounds once on entering a zone and not at every reading. */
function heard(bench: WithJob, reading: KeptReading): Outcome {
  const next = rememberReading(bench, reading);
  const now = spigotNow(next.bench as WithJob)?.zone;
  if (!now || now === bench.zone) return next;
  const cue = CUES[now];
  const moved: Outcome = { ...next, bench: { ...next.bench, zone: now } };
  return cue ? andThen(moved, (at) => sounding(at, cue)) : moved;
}

function take(bench: WithJob): Outcome {
  if (!bench.job.bore) return refuse(bench, { kind: 'missing', what: 'bore' });
  const why = whyNotKept(bench);
  if (why) return refuse(bench, why);
  const settled = steadyOf(bench.readings);
  if (!settled) return refuse(bench, { kind: 'moving' });
  const diameter = correctReading(bench.job, settled.value, 'outside');
  const expected = expectedOf(bench.job, diameter);
  if (expected.kind !== 'expected') return refuse(bench, expected);
  const how = settled.readings[0]?.raw === '' ? 'typed' : 'read';
  const fact = {
    kind: 'spigot-taken',
    diameter,
    how,
    fit: expected.word,
    clearance: expected.clearance,
  } as const;
  return keep({ ...bench, readings: [] }, fact, bench.readings);
}

/** Without a bore the typed number is the bore that is missing; with one it is a reading. */
function typed(bench: WithJob, text: string): Outcome {
  const parsed = typedReading(bench, text);
  if (!parsed.ok) return badNumber(bench, parsed.found, parsed.accepted);
  if (parsed.value.value <= 0) return badNumber(bench, text, 'a diameter above zero');
  if (bench.job.bore) return heard({ ...bench, typed: '' }, parsed.value);
  const diameter = correctReading(bench.job, parsed.value.value, 'bore');
  const none = { standard: null, degreesOfFreedom: null, tops: 1, agreeing: 1, spread: null };
  return keep(bench, { kind: 'bore-taken', diameter, ...none, how: 'typed' }, [parsed.value]);
}

export const spigotRules: StageRules = {
  entered: (bench) => ({ ...resetLive(bench), zone: null }),
  onReading: heard,
  take,
  again: (bench) => unchanged({ ...resetLive(bench), zone: null }),
  typed,
};
