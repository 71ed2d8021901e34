// Finds where a continuous function crosses zero between two points, after Brent (1973): never leaves its bracket.
// Own code because it is forty lines of arithmetic, and a failure has to come back as a value with its evidence.

type Root =
  | { readonly ok: true; readonly at: number }
  | { readonly ok: false; readonly kind: 'no-sign-change'; readonly ends: readonly [number, number] }
  | { readonly ok: false; readonly kind: 'not-finite'; readonly where: number };

interface Point {
  readonly x: number;
  readonly y: number;
}

const MOST_STEPS = 200;
const opposite = (p: Point, q: Point): boolean => Math.sign(p.y) !== Math.sign(q.y);

/** How far to go from `best`: inverse quadratic through three points, a secant where two of them are one. */
function interpolated(best: Point, last: Point, other: Point): number {
  const s = best.y / last.y;
  if (last.x === other.x) return ((last.x - best.x) * s) / (s - 1);
  const q = last.y / other.y;
  const r = best.y / other.y;
  const over = (q - 1) * (r - 1) * (s - 1);
  return (s * (q * (r - q) * (other.x - best.x) - (r - 1) * (last.x - best.x))) / over;
}

/**
 * The point between `low` and `high` where `f` crosses zero, to within `tolerance` (in the units of its argument).
 * `f` must be finite on the bracket and of opposite signs, or zero, at its ends; otherwise the answer says what it found.
 */
export function rootBetween(f: (x: number) => number, low: number, high: number, tolerance = 1e-12): Root {
  let last: Point = { x: low, y: f(low) };
  let best: Point = { x: high, y: f(high) };
  for (const end of [last, best]) if (!Number.isFinite(end.y)) return notFinite(end);
  if (best.y !== 0 && !opposite(last, best))
    return { ok: false, kind: 'no-sign-change', ends: [last.y, best.y] };

  // `best` and `other` always enclose the crossing; `best` is the nearer to zero, `last` the one before it.
  let other = last;
  let step = best.x - last.x;
  let stepBefore = step;
  for (let steps = 0; steps < MOST_STEPS; steps++) {
    if (!opposite(best, other)) {
      other = last;
      step = stepBefore = best.x - last.x;
    }
    if (Math.abs(other.y) < Math.abs(best.y)) [last, best, other] = [best, other, best];
    const half = (other.x - best.x) / 2;
    const least = tolerance / 2 + 2 * Number.EPSILON * Math.abs(best.x);
    if (best.y === 0 || Math.abs(half) <= least) return { ok: true, at: best.x };
    const guess = interpolated(best, last, other);
    const trusted = Math.abs(guess) < Math.abs(stepBefore) / 2 && guess / half > 0 && guess / half < 1.5;
    stepBefore = trusted ? step : half;
    step = trusted ? guess : half;
    last = best;
    const x = best.x + (Math.abs(step) > least ? step : Math.sign(half) * least);
    best = { x, y: f(x) };
    if (!Number.isFinite(best.y)) return notFinite(best);
  }
  return { ok: true, at: best.x };
}

const notFinite = (at: Point): Root => ({ ok: false, kind: 'not-finite', where: at.x });
