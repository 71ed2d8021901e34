// The depth a new job is planned at: what is proven on this feed, else the deepest ordinary profile in whole detents.
import type { Pitch } from '../quantity.ts';
import { crestLeft } from '../thread/form.ts';
import { planPasses, wantedDepth } from '../thread/passes.ts';
import { type Length, mm } from '../units.ts';
import type { Cutter, KitFeed, Setup } from './setup.ts';

/** No groove of a thread is deeper, radially, than two of its pitches; our own choice, well beyond any crest. */
export const deepestGroove = ({ pitch }: Setup): Length => mm(2 * pitch.length);

/** Pitches are the same that differ by less than anybody can set. */
const SAME = 1e-6;

/** What detents proven at this pitch cut; undefined where none are, or where this cutter would leave no crest so deep. */
function provenDepth(pitch: Pitch, cutter: Cutter, { perDetent, proven = [] }: KitFeed): Length | undefined {
  const known = proven.find((one) => Math.abs(one.pitch.length - pitch.length) < SAME);
  const depth = known && mm(known.detents * perDetent);
  return depth && crestLeft(pitch.length, depth, cutter.tip, cutter.angle) > 0 ? depth : undefined;
}

export function planDepth(pitch: Pitch, cutter: Cutter, feed: KitFeed | undefined): Length {
  const of = { pitch: pitch.length, angle: cutter.angle, tip: cutter.tip, profile: 'deepest' } as const;
  if (!feed) return wantedDepth(of);
  const proven = provenDepth(pitch, cutter, feed);
  if (proven !== undefined) return proven;
  const passes = planPasses({ ...of, starts: 1, feedPerDetent: feed.perDetent, harden: false });
  return passes.kind === 'passes' ? passes.depth : wantedDepth(of);
}
