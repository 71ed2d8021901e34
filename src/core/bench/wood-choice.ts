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

/** The names of several woods, up to so many, and what is said of the rest. */
const someOf = (kinds: readonly Wood[], most: number, rest: (more: number) => string): string =>
  kinds
    .slice(0, most)
    .map(({ trade }) => trade)
    .join('; ') + (kinds.length > most ? `; ${rest(kinds.length - most)}` : '');

/** Letters that fit several woods, none of them the usual one, are refused with some of them; a wood in no table is kept as typed. */
export function woodError(text: string, unit: LengthUnit): string | null {
  const kinds = woodsFor(text, unit);
  return kinds.length === 0 || woodMeant(text, unit)
    ? null
    : `which one: ${someOf(kinds, 4, () => '…')}? Press the down arrow to pick.`;
}

/** What the letters typed so far mean, or the kind picked of them; nothing before any letter. */
export function woodHint(
  text: string,
  pick: { readonly typed: string; readonly at: number } | null,
  unit: LengthUnit,
): string | null {
  if (text.trim() === '') return null;
  const kinds = woodsFor(pick?.typed ?? text, unit);
  if (kinds.length === 0) return 'saved as typed; no seasonal forecast for this wood';
  if (pick) return `${pick.at + 1} of ${kinds.length} kinds: down for the next, Enter to use this one`;
  const meant = woodMeant(text, unit);
  if (meant)
    return kinds.length === 1 ? `this is ${meant.trade}` : `${meant.trade}; press down for another kind`;
  return `could be ${someOf(kinds, 5, (more) => `${more} more`)}. Press down to pick one`;
}
