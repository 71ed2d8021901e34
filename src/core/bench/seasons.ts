// The seasons of a job's pair: in what humidity it runs, and what clearance a stated range of humidity asks for.
import { celsius, type Humidity, humidityPercent, type Length, mm } from '../units.ts';
import { MOISTURE_EQUATIONS, type MoistureEquation } from '../wood/moisture.ts';
import { type Ring, ringOf } from '../wood/movement.ts';
import { clearanceNeeded, leastGapOver, type Season, type SeasonPair, seasonOf } from '../wood/season.ts';
import { findWood } from '../wood/woods.ts';
import type { Job } from './job.ts';
import type { Setup } from './setup.ts';
import { expectedOf } from './target.ts';

/** The air a pair is taken to be made in where nobody said otherwise; whoever shows a season says so. */
export const MADE = { kind: 'air', temperature: celsius(20), humidity: humidityPercent(45) } as const;

export interface JobSeason {
  readonly by: MoistureEquation;
  readonly season: Season;
}

type Woods = Pick<Setup, 'wood' | 'lidWood' | 'bored'>;

/** A turned ring of the wood with its axis along the grain; null for a wood in no table, or without figures. */
function ringIn(typed: string | undefined): Ring | null {
  const found = typed === undefined ? null : findWood(typed);
  const figures = found?.kind === 'found' ? found.wood.figures[0] : undefined;
  return figures ? ringOf(figures, 'end') : null;
}

function pairIn(woods: Woods, diameter: Length, clearance: Length): SeasonPair | null {
  const body = ringIn(woods.wood);
  const lid = ringIn(woods.lidWood ?? woods.wood);
  if (!body || !lid) return null;
  const [bore, spigot] = woods.bored === 'lid' ? [lid, body] : [body, lid];
  return { diameter, clearance, bore: { ring: bore, made: MADE }, spigot: { ring: spigot, made: MADE } };
}

/** By both equations, in a room of 20 degrees; null where a wood has no figures, or there is no fit yet. */
export function seasonsOf(job: Job): readonly JobSeason[] | null {
  const expected = job.spigot ? expectedOf(job, job.spigot.diameter) : null;
  if (!job.bore || expected?.kind !== 'expected') return null;
  const pair = pairIn(job.setup, job.bore.diameter, expected.clearance);
  return (
    pair &&
    MOISTURE_EQUATIONS.map((by) => ({ by, season: seasonOf(pair, { by, temperature: MADE.temperature }) }))
  );
}

/**
 * Clearance at making that keeps a lid running over a range of humidity, by the equation that asks for more,
 * and at least where running begins; null where a wood has no figures.
 */
export function clearanceForSeason(
  woods: Woods,
  diameter: Length,
  range: { readonly from: Humidity; readonly to: Humidity },
  running: Length,
): Length | null {
  const pair = pairIn(woods, diameter, running);
  if (!pair) return null;
  const needed = MOISTURE_EQUATIONS.flatMap((by) => {
    const least = leastGapOver(pair, { by, temperature: MADE.temperature }, range);
    return least.kind === 'least' ? [clearanceNeeded(pair, least)] : [];
  });
  return needed.length === 0 ? null : mm(Math.max(running, ...needed));
}
