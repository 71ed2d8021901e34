// The depth a new job is planned at: the deepest ordinary profile in whole detents, or as near as the feed comes to it.
import type { Pitch } from '../quantity.ts';
import { planPasses, wantedDepth } from '../thread/passes.ts';
import type { Length } from '../units.ts';
import type { Cutter, FeedFacts } from './setup.ts';

export function planDepth(pitch: Pitch, cutter: Cutter, feed: FeedFacts | undefined): Length {
  const of = { pitch: pitch.length, angle: cutter.angle, tip: cutter.tip, profile: 'deepest' } as const;
  if (!feed) return wantedDepth(of);
  const passes = planPasses({ ...of, starts: 1, feedPerDetent: feed.perDetent, harden: false });
  return passes.kind === 'passes' ? passes.depth : wantedDepth(of);
}
