// Lid and body as outlines: the threaded side, the wood behind it, closed where a lid is, torn off where a body goes on.
import { boreSide, showsTeeth, spigotSide, type Turning } from './outline.ts';
import type { Shape } from './shape.ts';

export interface Part {
  readonly name: 'lid' | 'body';
  readonly which: 'female' | 'male';
  /** Height along the axis, millimetres of wood. */
  readonly tall: number;
  /** Whether both sides meet on the axis. */
  readonly closed: boolean;
  /** From the axis or the hollow outwards and back; the far side's thread stands half a lead on. */
  readonly side: (far: boolean) => readonly Turning[];
}

/** Wood shown behind a joint before the drawing breaks off, and how far a torn edge waves; on paper. */
const STUMP = 4;
const WAVE = 0.5;
const WAVE_LENGTH = 3;

/** A torn edge from one radius to another, as the freehand line of a broken view. */
function torn(from: number, to: number, away: number, scale: number): readonly Turning[] {
  const waves = Math.max(1, Math.round((Math.abs(to - from) * scale) / WAVE_LENGTH));
  return Array.from({ length: 8 * waves + 1 }, (_, at): Turning => {
    const share = at / (8 * waves);
    return [from + (to - from) * share, away + (WAVE / scale) * Math.sin(2 * Math.PI * waves * share)];
  });
}

const teethOf = ({ thread }: Shape, scale: number): boolean =>
  !thread || showsTeeth(thread.pair.pitch, scale);

function boredLid(shape: Shape, scale: number): Part {
  const { boreDepth } = shape;
  const tall = boreDepth + shape.wall;
  const outer = shape.outside / 2;
  const side = (far: boolean): readonly Turning[] => [
    [0, boreDepth],
    ...boreSide(shape, teethOf(shape, scale), far).toReversed(),
    ...([
      [outer, 0],
      [outer, tall],
      [0, tall],
    ] as const),
  ];
  return { name: 'lid', which: 'female', tall, closed: true, side };
}

function boredBody(shape: Shape, scale: number): Part {
  const [outer, inner] = [shape.outside / 2, shape.bore / 2];
  const tall = shape.boreDepth + STUMP / scale;
  const side = (far: boolean): readonly Turning[] => [
    [inner, tall],
    [inner, shape.boreDepth],
    ...boreSide(shape, teethOf(shape, scale), far).toReversed(),
    [outer, 0],
    ...torn(outer, inner, tall, scale),
  ];
  return { name: 'body', which: 'female', tall, closed: false, side };
}

function turnedLid(shape: Shape, scale: number): Part {
  const tall = shape.spigotLength + shape.wall;
  const outer = shape.outside / 2;
  const side = (far: boolean): readonly Turning[] => [
    [0, 0],
    ...spigotSide(shape, teethOf(shape, scale), far),
    ...([
      [outer, shape.spigotLength],
      [outer, tall],
      [0, tall],
    ] as const),
  ];
  return { name: 'lid', which: 'male', tall, closed: true, side };
}

function turnedBody(shape: Shape, scale: number): Part {
  const [outer, inner] = [shape.outside / 2, (shape.hollow ?? 0) / 2];
  const tall = shape.spigotLength + STUMP / scale;
  const side = (far: boolean): readonly Turning[] => [
    [inner, 0],
    ...spigotSide(shape, teethOf(shape, scale), far),
    [outer, shape.spigotLength],
    ...torn(outer, inner, tall, scale),
  ];
  return { name: 'body', which: 'male', tall, closed: shape.hollow === null, side };
}

/** Lid first, body second. */
export const partsOf = (shape: Shape, bored: 'lid' | 'body', scale: number): readonly [Part, Part] =>
  bored === 'lid'
    ? [boredLid(shape, scale), turnedBody(shape, scale)]
    : [turnedLid(shape, scale), boredBody(shape, scale)];
