// The turner's equipment: every file of it read, the chosen items first, built-in ones where none was added.
import type { CaliperFacts, Cutter, Kit, KitFeed } from '../core/bench/setup.ts';
import {
  type Caliper,
  caliperKind,
  cutterKind,
  type Feed,
  feedKind,
  type Kind,
  type Named,
} from './equipment.ts';
import {
  type ConfigHome,
  type FolderRead,
  type Item,
  kitFolder,
  plainItems,
  readFolder,
  sameName,
} from './item-files.ts';
import type { GivenSettings, Resolved } from './resolve.ts';
import { readSettings } from './settings-file.ts';
import type { KitTrouble } from './trouble.ts';

export type AnyItem = Item<Caliper> | Item<Cutter> | Item<Feed>;

/** The equipment and the settings that hold, with all that was wrong in their files. */
export interface KitRead {
  /** For the new-job form: the chosen ones come first. */
  readonly kit: Kit;
  readonly calipers: readonly Item<Caliper>[];
  readonly cutters: readonly Item<Cutter>[];
  readonly feeds: readonly Item<Feed>[];
  readonly settings: Resolved;
  readonly troubles: readonly KitTrouble[];
}

/** The chosen item first, the others in their order; a choice that is not there is reported. */
function chosenFirst<T extends Named>(kind: Kind<T>, home: ConfigHome, settings: Resolved): FolderRead<T> {
  const what = kind.word;
  const read = readFolder(kind, kitFolder(home));
  const items = read.items.length > 0 ? read.items : plainItems(kind);
  const name = settings.values[what];
  const chosen = items.find(({ facts }) => sameName(facts.name, name));
  if (chosen) return { items: [chosen, ...items.filter((item) => item !== chosen)], troubles: read.troubles };
  if (name === '') return { items, troubles: read.troubles };
  const names = items.map(({ facts }) => facts.name);
  const missing: KitTrouble = { kind: 'not-in-kit', where: settings.from[what], what, name, names };
  return { items, troubles: [...read.troubles, missing] };
}

/** The facts of a caliper and a feed that a job keeps; the others tell how to read their lines. */
const caliperFacts = ({ unit: _, ...facts }: Caliper): CaliperFacts => facts;
const kitFeed = ({ deeper: _, ...facts }: Feed): KitFeed => facts;

/** The whole kit, from a home's files, the environment and the flags. Never fails: what is wrong is among the troubles. */
export function readKit(home: ConfigHome, given: GivenSettings): KitRead {
  const settings = readSettings(home, given);
  const calipers = chosenFirst(caliperKind, home, settings);
  const cutters = chosenFirst(cutterKind, home, settings);
  const feeds = chosenFirst(feedKind, home, settings);
  const { unit, runningFrom, looseFrom, wanted, tolerance, leastPeaks, tilt } = settings.values;
  return {
    kit: {
      calipers: calipers.items.map(({ facts }) => caliperFacts(facts)),
      cutters: cutters.items.map(({ facts }) => facts),
      feeds: feeds.items.map(({ facts }) => kitFeed(facts)),
      unit,
      bounds: { runningFrom, looseFrom },
      wanted,
      measuring: { tolerance, leastTops: leastPeaks, tilt },
    },
    calipers: calipers.items,
    cutters: cutters.items,
    feeds: feeds.items,
    settings,
    troubles: [...settings.troubles, ...calipers.troubles, ...cutters.troubles, ...feeds.troubles],
  };
}

/** Every item, chosen ones first within their kind. */
export const itemsOf = (read: KitRead): readonly AnyItem[] => [
  ...read.calipers,
  ...read.cutters,
  ...read.feeds,
];
