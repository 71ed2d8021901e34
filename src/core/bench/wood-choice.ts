// The wood that a turner names: one wood, the usual kind of a common name, or several to pick from.
import type { LengthUnit } from '../units.ts';
import { findWood, WOODS, type Wood } from '../wood/woods.ts';

/**
 * What is usually meant by a common name where nothing more is said, by the unit of the bench: common practice, no source.
 * It is only offered; every other kind can be picked.
 */
const USUAL: { readonly [name: string]: { readonly [unit in LengthUnit]: string } } = {
  oak: { mm: 'oak-european', in: 'oak-white' },
  ash: { mm: 'ash-european', in: 'ash-white' },
  cherry: { mm: 'cherry-european', in: 'cherry-black' },
  maple: { mm: 'maple-european', in: 'maple-sugar' },
  sycamore: { mm: 'sycamore-european', in: 'sycamore-american' },
  beech: { mm: 'beech-european', in: 'beech-american' },
  walnut: { mm: 'walnut-european', in: 'walnut-black' },
  elm: { mm: 'elm-european', in: 'elm-american' },
};

const woodWithId = (id: string | undefined): Wood | undefined => WOODS.find((wood) => wood.id === id);

/** English and European are the same tree to a turner. */
const asListed = (typed: string): string => typed.trim().replace(/\benglish\b/i, 'European');

/** Every wood that the letters fit, the usual kind first. */
export function woodsFor(typed: string, unit: LengthUnit): readonly Wood[] {
  const found = findWood(asListed(typed));
  if (found.kind === 'unknown') return [];
  if (found.kind === 'found') return [found.wood];
  const usual = woodWithId(USUAL[typed.trim().toLowerCase()]?.[unit]);
  return usual ? [usual, ...found.candidates.filter((wood) => wood !== usual)] : found.candidates;
}

/** The wood meant: the only one that fits, or the usual kind; undefined where there are several, or none. */
export function woodMeant(typed: string, unit: LengthUnit): Wood | undefined {
  const [first, second] = woodsFor(typed, unit);
  const common = typed.trim().toLowerCase() in USUAL;
  return second === undefined || common ? first : undefined;
}

/** A wood as a turner says it: "European oak" for the table's "Oak, European"; what is in no table, as it was typed. */
export function spokenWood(wood: string): string {
  const trade = woodWithId(wood)?.trade;
  if (trade === undefined) return wood;
  const [name = '', kind, ...more] = trade.split(', ');
  if (kind === undefined) return trade.toLowerCase();
  return more.length > 0 ? trade : `${kind} ${name.toLowerCase()}`;
}
