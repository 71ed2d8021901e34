// Which port to use when none was named: the only one that can be a board's, or none, with a sentence that says why.
import { forScreen } from '../core/safe-text.ts';
import { type FoundPort, isLikely } from '../link/ports.ts';

export type PortChoice =
  | { readonly kind: 'chosen'; readonly path: string }
  | { readonly kind: 'none'; readonly why: string };

/** The one USB port among those found, or the only port at all where none is on USB. Pure. */
export function choosePort(found: readonly FoundPort[]): PortChoice {
  const likely = found.filter(isLikely);
  const candidates = likely.length > 0 ? likely : found;
  const [only, second] = candidates;
  if (only && !second) return { kind: 'chosen', path: only.stable ?? only.path };
  if (!only)
    return {
      kind: 'none',
      why: 'No serial ports found. Plug the board in, name its port with --port, or use --virtual for a simulated bench.',
    };
  const names = candidates.map((port) => forScreen(port.path)).join(', ');
  return { kind: 'none', why: `More than one port found (${names}). Choose one with --port.` };
}
