// Which port is meant when none was named: the only one that can be, or none, with a sentence that says why.

import { forScreen } from '../../core/safe-text.ts';
import { type FoundPort, isLikely } from '../../link/ports.ts';

export type Choice =
  | { readonly kind: 'chosen'; readonly path: string }
  | { readonly kind: 'none'; readonly why: string };

/** The one USB port among those found; where there is none of that kind, the only port there is. Pure. */
export function chosenPort(found: readonly FoundPort[]): Choice {
  const likely = found.filter(isLikely);
  const candidates = likely.length > 0 ? likely : found;
  const [only, second] = candidates;
  if (only && !second) return { kind: 'chosen', path: only.stable ?? only.path };
  if (!only)
    return {
      kind: 'none',
      why: 'no port is there: plug the board in, or name its port with --port, or use --virtual for a simulated bench',
    };
  const names = candidates.map((port) => forScreen(port.path)).join(', ');
  return { kind: 'none', why: `several ports are there (${names}): name one with --port` };
}
