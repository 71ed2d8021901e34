// A feed calibrated at the bench, written into the turner's kit; every reason against it comes back as a sentence.
import type { FeedFound } from '../../core/bench/calibration/model.ts';
import { pathForScreen } from '../../core/safe-text.ts';
import { keptFeed } from '../../kit/kept-feed.ts';
import type { KitRead } from '../../kit/kit.ts';
import { kitTroubleText } from '../../kit/trouble.ts';
import { type Home, writePrivately } from '../../records/home.ts';

export type FeedKept = { readonly path: string } | { readonly trouble: string };

export function keepFeedIn(home: Home, read: KitRead, feed: FeedFound): FeedKept {
  const edited = keptFeed(home, read, feed);
  if (edited.ok === 'taken')
    return { trouble: `"${edited.by.facts.name}" is a ${edited.by.kind}; give the feed another name` };
  if (!edited.ok) return { trouble: edited.troubles.map(kitTroubleText).join(' ') };
  try {
    writePrivately(edited.path, edited.text);
    return { path: edited.path };
  } catch (error) {
    const why = error instanceof Error && 'code' in error ? String(error.code) : String(error);
    return {
      trouble: `${pathForScreen(edited.path)} cannot be written (${why}); see to its folder and the disk's space`,
    };
  }
}
