// Why a count of the feed can no longer be believed, in words.
import type { VoidReason } from '../core/thread/feed.ts';

export function voidWords(why: VoidReason): string {
  switch (why) {
    case 'restart':
      return 'the board restarted, and its count began again';
    case 'overrun':
      return 'the feed was turned faster than the board can count';
    case 'other-board':
      return 'another board is plugged in than the one that was counting';
    case 'set-aside':
      return 'the part was set aside while the feed may have moved';
    default:
      return why satisfies never;
  }
}
