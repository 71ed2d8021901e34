// Why a count of the feed can no longer be believed, in words.
import type { VoidReason } from '../core/thread/feed.ts';

export function voidWords(why: VoidReason): string {
  switch (why) {
    case 'restart':
      return 'the board restarted and counts anew';
    case 'overrun':
      return 'the feed turned too fast to be counted';
    case 'other-board':
      return 'another board is plugged in now';
    case 'set-aside':
      return 'the feed may have moved while set aside';
    default:
      return why satisfies never;
  }
}
