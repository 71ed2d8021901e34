// The axial section of a closed pair: outlines of both parts over a few pitches, for drawings of any kind.
import { type Angle, type Length, mm } from '../units.ts';
import { flankSlope, grooveWidth, tipLoss } from './form.ts';
import type { Groove, Pair } from './pair.ts';

/** A point of a section: `along` the axis from its left end, `out` from the bore's surface, positive into the female part. */
export interface Point {
  readonly along: Length;
  readonly out: Length;
}

/** Both outlines in millimetres, with the lid standing in the middle of its axial play. */
export interface Section {
  readonly length: Length;
  /** How far the drawing reaches into the male part (negative) and into the female part. */
  readonly from: Length;
  readonly to: Length;
  /** Closed outlines, the last point joined to the first. */
  readonly female: readonly Point[];
  readonly male: readonly Point[];
}

/** Points of a round bottom, each side of its middle. */
const ARC = 8;

/** Depth of a groove at an axial distance from its middle; 0 beside it, and everywhere while nothing is cut. */
export function depthAt(groove: Groove, angle: Angle, offset: number): Length {
  const { depth, tip, widening = mm(0) } = groove;
  if (depth <= 0 || Math.abs(offset) >= grooveWidth(depth, tip, angle) / 2 + widening) return mm(0);
  const from = Math.max(Math.abs(offset) - widening, 0);
  if (tip.kind === 'radius' && from < tip.radius * Math.cos(angle / 2))
    return mm(depth - tip.radius + Math.sqrt(tip.radius ** 2 - from ** 2));
  return mm(Math.min(depth, depth + tipLoss(tip, angle) - from / flankSlope(angle)));
}

/** Axial distances from a groove's middle where its outline turns, from left to right. */
function corners(groove: Groove, angle: Angle): readonly number[] {
  const { depth, tip, widening = mm(0) } = groove;
  if (depth <= 0) return [];
  const mouth = grooveWidth(depth, tip, angle) / 2 + widening;
  const half = bottomHalf(groove, angle, mouth).toReversed();
  return [-mouth, ...half.map((at) => -at), ...half.toReversed(), mouth];
}

/** From the middle of the bottom to where it meets the flank. */
function bottomHalf({ tip, widening = mm(0) }: Groove, angle: Angle, mouth: number): readonly number[] {
  switch (tip.kind) {
    case 'sharp':
      return [widening];
    case 'flat':
      return [tip.width / 2 + widening];
    case 'radius': {
      const tangent = Math.min(tip.radius * Math.cos(angle / 2), mouth - widening);
      return Array.from({ length: ARC + 1 }, (_, at) => widening + (tangent * at) / ARC);
    }
    default:
      return tip satisfies never;
  }
}

/** One part's surface over some pitches: depths below it, grooves at `first`, `first` + P and so on. */
function surface(groove: Groove, pair: Pair, first: number, length: number): readonly [number, number][] {
  const middles = Array.from(
    { length: Math.ceil(length / pair.pitch) + 2 },
    (_, at) => first + at * pair.pitch,
  );
  const turns = middles.flatMap((middle) =>
    corners(groove, pair.angle).map((offset): [number, number] => [
      middle + offset,
      depthAt(groove, pair.angle, offset),
    ]),
  );
  const at = (along: number): [number, number] => {
    const near = middles.toSorted((a, b) => Math.abs(a - along) - Math.abs(b - along))[0] ?? 0;
    return [along, depthAt(groove, pair.angle, along - near)];
  };
  return [at(0), ...turns.filter(([along]) => along > 0 && along < length), at(length)];
}

/** The section of a pair at an allowance; depths of zero draw a part not yet cut. */
export function sectionOf(pair: Pair, allowance: Length, pitches: number): Section {
  const length = mm(pair.pitch * pitches);
  const step = allowance / 2;
  const margin = 0.25 * pair.pitch;
  const to = mm(Math.max(pair.female.depth, step) + margin);
  const from = mm(Math.min(0, step - pair.male.depth) - margin);
  const point = (along: number, out: number): Point => ({ along: mm(along), out: mm(out) });
  const female = surface(pair.female, pair, -pair.pitch / 2, length).map(([x, deep]) => point(x, deep));
  const male = surface(pair.male, pair, -pair.pitch, length).map(([x, deep]) => point(x, step - deep));
  return {
    length,
    from,
    to,
    female: [...female, point(length, to), point(0, to)],
    male: [...male, point(length, from), point(0, from)],
  };
}
