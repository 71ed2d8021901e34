// The seasons of a job's pair: in what humidity it runs, and how much of the clearance a range of humidity takes.
import { celsius, humidityPercent, type Length, mm } from '../units.ts';
import { MOISTURE_EQUATIONS, type MoistureEquation } from '../wood/moisture.ts';
import { type Ring, ringOf } from '../wood/movement.ts';
import { type HumidityRange, leastGapOver, type Season, type SeasonPair, seasonOf } from '../wood/season.ts';
import { findWood } from '../wood/woods.ts';
import type { Part, Setup } from './setup.ts';

/** The air a pair is made and tried in where nobody said otherwise; whoever shows a season says so. */
export const MADE = { kind: 'air', temperature: celsius(20), humidity: humidityPercent(45) } as const;

/** What one equation and one source of the woods' figures say. */
export interface JobSeason {
  readonly by: MoistureEquation;
  /** Whose figures, where sources differ about a wood; null where there is one. */
  readonly source: string | null;
  readonly season: Season;
}

export type Woods = Pick<Setup, 'wood' | 'lidWood' | 'bored'>;

interface Sourced {
  readonly ring: Ring;
  readonly source: string;
}

/** Turned rings of the wood, axis along the grain, one for each source; none for a wood in no table, or without figures. */
function ringsIn(typed: string | undefined): readonly Sourced[] {
  const found = typed === undefined ? null : findWood(typed);
  const figures = found?.kind === 'found' ? found.wood.figures : [];
  return figures.map((of) => ({ ring: ringOf(of, 'end'), source: of.source }));
}

/** The wood that bore or spigot is of. */
export const woodOf = ({ wood, lidWood, bored }: Woods, part: Part): string | undefined =>
  (bored === 'lid') === (part === 'female') ? (lidWood ?? wood) : wood;

/** How much its widest and narrowest differ for each percent of moisture, by the source that says most; null without figures. */
export function ovalPerPercent(wood: string | undefined, diameter: Length): Length | null {
  const changes = ringsIn(wood).map(({ ring: { first, second } }) =>
    Math.abs(diameter * (first.coefficient - second.coefficient)),
  );
  return changes.length === 0 ? null : mm(Math.max(...changes));
}

interface SourcedPair {
  readonly pair: SeasonPair;
  readonly source: string;
}

/** The pair by each source; parts of one wood go by the same one. */
function pairsIn(woods: Woods, diameter: Length, clearance: Length): readonly SourcedPair[] {
  const bodies = ringsIn(woods.wood);
  const lids = ringsIn(woods.lidWood ?? woods.wood);
  const oneWood = woods.lidWood === undefined || woods.lidWood === woods.wood;
  return bodies.flatMap((body, at) =>
    lids
      .filter((_, other) => !oneWood || other === at)
      .map((lid) => {
        const [bore, spigot] = woods.bored === 'lid' ? [lid, body] : [body, lid];
        const source = [...new Set([body.source, lid.source])].join('; ');
        const made = { made: MADE };
        return {
          source,
          pair: {
            diameter,
            clearance,
            bore: { ring: bore.ring, ...made },
            spigot: { ring: spigot.ring, ...made },
          },
        };
      }),
  );
}

/** An ordinary year, to compare sources by: a house's range, from memory. */
const YEAR = { from: humidityPercent(30), to: humidityPercent(65) };
/** Sources whose losses differ by less than this share say the same; our own choice. */
const SAME = 0.2;

function lossesOf(pair: SeasonPair, range: HumidityRange): readonly number[] {
  return MOISTURE_EQUATIONS.flatMap((by) => {
    const least = leastGapOver(pair, { by, temperature: MADE.temperature }, range);
    return least.kind === 'least' ? [pair.clearance - least.gap] : [];
  });
}

/** The source known best; where sources differ about the wood, the two that take least and most. */
function ends(pairs: readonly SourcedPair[]): readonly SourcedPair[] {
  const ordered = pairs
    .map((one) => ({ one, loss: Math.max(...lossesOf(one.pair, YEAR)) }))
    .toSorted((a, b) => a.loss - b.loss);
  const [least, most] = [ordered[0], ordered.at(-1)];
  if (!least || !most) return [];
  return least.loss >= (1 - SAME) * most.loss ? pairs.slice(0, 1) : [least.one, most.one];
}

/**
 * In what humidity a lid of this clearance runs, with at least `running` left, in a room of 20 degrees: by both equations
 * and, where sources differ about a wood, by both ends of them; null where a wood has no figures.
 */
export function seasonsOf(
  woods: Woods,
  diameter: Length,
  clearance: Length,
  running: Length,
): readonly JobSeason[] | null {
  const pairs = ends(pairsIn(woods, diameter, clearance));
  if (pairs.length === 0) return null;
  return MOISTURE_EQUATIONS.flatMap((by) =>
    pairs.map(({ pair, source }) => ({
      by,
      source: pairs.length > 1 ? source : null,
      season: seasonOf(pair, { by, temperature: MADE.temperature }, running),
    })),
  );
}

/**
 * What a range of humidity takes off the clearance at its worst, by the equation and the source that take most; 0 where the
 * air it is made in is the worst. Null where a wood has no figures.
 */
export function seasonLoss(woods: Woods, diameter: Length, range: HumidityRange): Length | null {
  const losses = pairsIn(woods, diameter, mm(0)).flatMap(({ pair }) => lossesOf(pair, range));
  return losses.length === 0 ? null : mm(Math.max(0, ...losses));
}
