// A calibrated feed saved into the kit, from the bench or the command line: a new item, or the one of that name changed.
import type { FeedFound } from '../core/bench/calibration/model.ts';
import { pitchText } from '../core/bench/typed-quantity.ts';
import { pathForScreen } from '../core/safe-text.ts';
import type { FactTexts } from '../kit/equipment.ts';
import { addedItem, changedItem, itemsOf, type KitRead, sameName } from '../kit/kit.ts';
import { itemsIn } from '../kit/quantities.ts';
import { kitTroubleText } from '../kit/trouble.ts';
import { type Home, writePrivately } from '../records/home.ts';

/** Where the feed was saved, or why it was not, as a sentence without a full stop. */
export type FeedSaved = { readonly path: string } | { readonly trouble: string };

const exact = (value: number, figures: number): string => `${Number(value.toPrecision(figures))}mm`;

/** The list of proven detents with this one added, in place of an older one at the same pitch. */
function provenText(before = '', { pitch, detents }: NonNullable<FeedFound['proven']>): string {
  const at = ` at ${pitchText(pitch)}`;
  const others = itemsIn(before).filter((each) => !each.endsWith(at));
  return [...others, `${detents}${at}`].join(', ');
}

/** Rounded down, since nothing is known better than it is; endless is written as a thousand, which is as good. */
const freedomText = (freedom: number): string =>
  String(Math.min(1000, Math.max(1, Math.floor(freedom * 10) / 10)));

export function saveFeed(home: Home, read: KitRead, feed: FeedFound): FeedSaved {
  const there = itemsOf(read).find(({ facts }) => sameName(facts.name, feed.name));
  if (there && there.kind !== 'feed')
    return { trouble: `"${there.facts.name}" is already a ${there.kind}. Give the feed another name` };
  const facts: FactTexts = {
    'per-detent': exact(feed.perDetent, 9),
    'per-detent-standard': exact(feed.standard, 3),
    'per-detent-freedom': freedomText(feed.freedom),
    ...(feed.proven ? { proven: provenText(there?.texts.proven, feed.proven) } : {}),
  };
  const edited = there ? changedItem(home, there, facts) : addedItem(home, 'feed', feed.name, facts);
  if (!edited.ok) return { trouble: edited.troubles.map(kitTroubleText).join(' ').replace(/\.$/, '') };
  const trouble = writeTrouble(edited.path, edited.text);
  return trouble === null ? { path: edited.path } : { trouble };
}

/** Writes a file of the turner's; null, or why it could not be written, without a full stop. */
export function writeTrouble(path: string, text: string): string | null {
  try {
    writePrivately(path, text);
    return null;
  } catch (error) {
    const why = error instanceof Error && 'code' in error ? String(error.code) : String(error);
    return `can't write ${pathForScreen(path)} (${why}). What was there before is unchanged. Check the folder's permissions and the disk's free space`;
  }
}
