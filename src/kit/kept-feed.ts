// A calibrated feed put into the kit: a new item, or the one of that name with its figures changed. Writes nothing itself.
import type { FeedFound } from '../core/bench/calibration/model.ts';
import { pitchText } from '../core/bench/parse-text.ts';
import { addedItem, changedItem } from './item-file.ts';
import type { FactTexts } from './kind.ts';
import { type AnyItem, itemsOf, type KitRead } from './kit.ts';
import { sameName } from './names.ts';
import type { ConfigHome, Edited } from './settings-file.ts';

const exact = (value: number, figures: number): string => `${Number(value.toPrecision(figures))}mm`;

/** The list of proven detents with this one put in, in place of an older one at the same pitch. */
function provenText(
  before: string | undefined,
  { pitch, detents }: NonNullable<FeedFound['proven']>,
): string {
  const others = (before ?? '')
    .split(',')
    .map((each) => each.trim())
    .filter((each) => each !== '');
  const at = ` at ${pitchText(pitch)}`;
  return [...others.filter((each) => !each.endsWith(at)), `${detents}${at}`].join(', ');
}

/** The name is that of another kind of equipment. */
export interface TakenName {
  readonly ok: 'taken';
  readonly by: AnyItem;
}

/** The file that keeps this feed, as it is to be written; refused where the name is another item's. */
export function keptFeed(home: ConfigHome, read: KitRead, feed: FeedFound): Edited | TakenName {
  const there = itemsOf(read).find(({ facts }) => sameName(facts.name, feed.name));
  if (there && there.kind !== 'feed') return { ok: 'taken', by: there };
  const facts: FactTexts = {
    'per-detent': exact(feed.perDetent, 9),
    'per-detent-standard': exact(feed.standard, 3),
    ...(feed.proven ? { proven: provenText(there?.texts.proven, feed.proven) } : {}),
  };
  return there ? changedItem(home, there, facts) : addedItem(home, 'feed', feed.name, facts);
}
