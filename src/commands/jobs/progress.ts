// Says how far a long piece of work is: nothing within the first second, then a line a second.
import type { Output } from '../command.ts';

const EVERY_MS = 1000;

/** To be called with the count so far, as often as one likes. */
export function progressOf(
  output: Output,
  what: (count: number, perSecond: number) => string,
  now: () => number = () => performance.now(),
): (count: number) => void {
  const began = now();
  let said = began;
  return (count) => {
    const at = now();
    if (at - said < EVERY_MS) return;
    said = at;
    output.message(`jobs: ${what(count, Math.round(count / ((at - began) / 1000)))}`);
  };
}
