// The threaded part of a box: walls, engaged turns, lengths, runout grooves and chamfers, or why it cannot be.
import { lead } from '../thread/form.ts';
import type { Part } from '../thread/pair.ts';
import { type Length, mm } from '../units.ts';
import { notPositive, type PlanRefusal, under, wrongStarts } from './refusal.ts';

export interface BoxWanted {
  /** Of the bored part, beside its thread. */
  readonly outside: Length;
  /** Over the crests, as it will be measured. */
  readonly bore: Length;
  /** Before its thread is cut. */
  readonly spigot: Length;
  readonly pitch: Length;
  readonly starts: number;
  /** Radial depths of both grooves. */
  readonly depth: { readonly female: Length; readonly male: Length };
  /** Width that the cutter's groove has at the surface, at full depth. */
  readonly grooveWidth: Length;
  readonly engaged: Length;
  /** For both parts, at their runout grooves, where they are thinnest. */
  readonly leastWall: Length;
  /** The hollow that runs through the spigot, where there is one. */
  readonly hollow?: Length | undefined;
  /** Depth of the bore, where it is given. */
  readonly boreDepth?: Length | undefined;
}

/**
 * The layout (derived). From the shoulder outwards the spigot has its runout groove, then its thread, chamfered at the
 * end. From the rim inwards the bore has its chamfer, a thread that covers the spigot's, and its own runout groove.
 */
export interface BoxPlan {
  readonly kind: 'box';
  /** (outside - (bore + 2 depth)) / 2, beside the bored thread. */
  readonly boredWall: Length;
  /** Inside the spigot's thread; all of its radius where it is not hollow. */
  readonly spigotWall: Length;
  /** Both at the runout groove, which goes deeper. */
  readonly wallAtRunout: Readonly<Record<Part, Length>>;
  readonly lead: Length;
  readonly engaged: Length;
  /** Turns from the first thread's hold to closed. */
  readonly turns: number;
  /** Least width, and depth on the radius, of each runout groove. */
  readonly runout: { readonly width: Length; readonly female: Length; readonly male: Length };
  readonly spigotLength: Length;
  readonly leastBoreDepth: Length;
  /** Diameters at the wide end of the bore's chamfer and at the small end of the spigot's. */
  readonly chamfer: { readonly bore: Length; readonly spigot: Length };
}

/** How much deeper than the thread a runout groove goes; common practice, no source. */
export const BELOW_THREAD = mm(0.2);

/** At least one pitch plus the cutter's half width at full depth: the cutter has to leave the thread within one turn (derived). */
const runoutWidth = (wanted: BoxWanted): Length => mm(wanted.pitch + wanted.grooveWidth / 2);

function wrongNumber(wanted: BoxWanted): PlanRefusal | undefined {
  const { outside, bore, spigot, pitch, depth, engaged, grooveWidth, leastWall, hollow, boreDepth } = wanted;
  const { female, male } = depth;
  return (
    notPositive({ outside, bore, spigot, pitch, 'depth in the bore': female, 'depth on the spigot': male }) ??
    notPositive({ 'groove width': grooveWidth, 'engaged length': engaged, 'least wall': leastWall }) ??
    (hollow === undefined ? undefined : notPositive({ 'hollow of the spigot': hollow })) ??
    (boreDepth === undefined ? undefined : notPositive({ 'depth of the bore': boreDepth })) ??
    wrongStarts(wanted.starts)
  );
}

const above = (least: number): Length | undefined => (least > 0 ? mm(least) : undefined);

/** Both walls are thinnest at the runout groove. */
function thinWall(wanted: BoxWanted): PlanRefusal | undefined {
  const { outside, bore, spigot, depth, leastWall, hollow } = wanted;
  const wall = mm((outside - bore) / 2 - depth.female - BELOW_THREAD);
  const round = 2 * (depth.female + BELOW_THREAD + leastWall);
  if (under(wall, leastWall)) {
    const [mostBore, leastOutside] = [above(outside - round), mm(bore + round)];
    return { kind: 'wall-too-thin', wall, leastWall, mostBore, leastOutside };
  }
  const root = spigot - 2 * (depth.male + BELOW_THREAD);
  const inner = mm((root - (hollow ?? 0)) / 2);
  if (!under(inner, leastWall)) return undefined;
  return { kind: 'spigot-too-thin', wall: inner, leastWall, mostHollow: above(root - 2 * leastWall) };
}

function tooShort(wanted: BoxWanted): PlanRefusal | undefined {
  const { pitch, engaged, boreDepth } = wanted;
  if (under(engaged, pitch)) return { kind: 'too-few-threads', engaged, leastEngaged: pitch };
  const leastRoom = mm(engaged + 2 * runoutWidth(wanted));
  if (boreDepth === undefined || !under(boreDepth, leastRoom)) return undefined;
  const most = boreDepth - 2 * runoutWidth(wanted);
  const mostEngaged = !under(most, pitch) ? mm(most) : undefined;
  return { kind: 'bore-too-shallow', room: boreDepth, leastRoom, mostEngaged };
}

/** The plan of the threaded part, or why it isn't possible, with the nearest one that is. */
export function planBox(wanted: BoxWanted): BoxPlan | PlanRefusal {
  const refused = wrongNumber(wanted) ?? thinWall(wanted) ?? tooShort(wanted);
  if (refused) return refused;
  const { outside, bore, spigot, depth, engaged, pitch, starts } = wanted;
  const boredWall = mm((outside - (bore + 2 * depth.female)) / 2);
  const spigotWall = mm((spigot - 2 * depth.male - (wanted.hollow ?? 0)) / 2);
  const width = runoutWidth(wanted);
  return {
    kind: 'box',
    boredWall,
    spigotWall,
    wallAtRunout: { female: mm(boredWall - BELOW_THREAD), male: mm(spigotWall - BELOW_THREAD) },
    lead: lead(pitch, starts),
    engaged,
    turns: engaged / lead(pitch, starts),
    runout: { width, female: mm(depth.female + BELOW_THREAD), male: mm(depth.male + BELOW_THREAD) },
    spigotLength: mm(engaged + width),
    leastBoreDepth: mm(engaged + 2 * width),
    chamfer: { bore: mm(bore + 2 * depth.female), spigot: mm(spigot - 2 * depth.male) },
  };
}
