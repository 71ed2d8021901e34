// What a sheet draws: the job as measured, planned or aimed at, and round it the box that a plan would suggest.
import type { Job } from '../core/bench/job.ts';
import { aimOf, expectedOf } from '../core/bench/target.ts';
import { pairOf } from '../core/bench/threads.ts';
import { planBox } from '../core/plan/box.ts';
import { planRefusalText } from '../core/plan/refusal.ts';
import { suggestedOutside, suggestPlan } from '../core/plan/suggestion.ts';
import { grooveWidth } from '../core/thread/form.ts';
import type { Pair } from '../core/thread/pair.ts';
import { type Length, type LengthUnit, mm } from '../core/units.ts';

export interface Subject {
  /** With a bore and a spigot in it. */
  readonly job: Job & { readonly bore: object; readonly spigot: object };
  readonly bore: 'bore' | 'bore planned';
  readonly spigot: 'spigot' | 'spigot target';
}

type NoSubject = { readonly why: string };

/** With the planned bore where none is measured. */
function bored(job: Job): Job {
  const { plannedBore } = job.setup;
  if (job.bore || plannedBore === undefined) return job;
  const unknown = { standard: null, degreesOfFreedom: null, tops: 0, agreeing: 0, spread: null } as const;
  return { ...job, bore: { kind: 'bore-taken', diameter: plannedBore, how: 'typed', ...unknown } };
}

/** With the target as its spigot where none is turned. */
function turned(job: Job): Job {
  const aim = aimOf(job);
  if (job.spigot || aim.kind !== 'aim') return job;
  const expected = expectedOf(job, aim.target);
  if (expected.kind !== 'expected') return job;
  const { clearance, word } = expected;
  return {
    ...job,
    spigot: { kind: 'spigot-taken', diameter: aim.target, how: 'typed', fit: word, clearance },
  };
}

function reason(job: Job): string {
  const aim = aimOf(job);
  return aim.kind === 'no-fit' ? aim.why : 'no bore is measured or planned yet';
}

/** The subject, or why there is nothing to draw. */
export function subjectOf(job: Job): Subject | NoSubject {
  const whole = turned(bored(job));
  const { bore, spigot } = whole;
  const refused = bore && spigot ? expectedOf(whole, spigot.diameter) : null;
  if (!bore || !spigot || refused?.kind === 'no-fit')
    return { why: refused?.kind === 'no-fit' ? refused.why : reason(whole) };
  return {
    job: { ...whole, bore, spigot },
    bore: job.bore ? 'bore' : 'bore planned',
    spigot: job.spigot ? 'spigot' : 'spigot target',
  };
}

/** All lengths in millimetres; radial ones say so. */
export interface BoxShape {
  readonly kind: 'shape';
  readonly bore: Length;
  readonly spigot: Length;
  /** Null for a plain lid. */
  readonly thread: ShapeThread | null;
  readonly outside: Length;
  readonly wall: Length;
  readonly engaged: Length;
  readonly spigotLength: Length;
  readonly boreDepth: Length;
  /** Diameter of the hollow through the spigot; null where the spigot is too small for one. */
  readonly hollow: Length | null;
  /** Radial, of each part's end. */
  readonly chamfer: { readonly female: Length; readonly male: Length };
}

export interface ShapeThread {
  readonly pair: Pair;
  readonly runout: { readonly width: Length; readonly female: Length; readonly male: Length };
}

type NoShape = { readonly kind: 'no-shape'; readonly why: string };

/** Of a plain lid: overlap as a share of its bore with a least, play under the spigot's end, chamfer; our own choices. */
const PLAIN = { share: 0.12, least: mm(4), under: mm(1), chamfer: mm(0.4) };
/** A hollow of less than this share of the spigot is not drawn; our own choice. */
const LEAST_HOLLOW = 0.3;

function hollowIn(spigot: Length, root: Length, wall: Length): Length | null {
  const across = mm(root - 2 * wall);
  return across > LEAST_HOLLOW * spigot ? across : null;
}

function plainShape({ job }: Subject): BoxShape {
  const { diameter: bore } = job.bore;
  const { diameter: spigot } = job.spigot;
  const outside = suggestedOutside(mm(Math.max(bore, spigot)), mm(0));
  const engaged = job.setup.engagedLength ?? mm(Math.max(PLAIN.least, PLAIN.share * bore));
  const wall = mm((outside - bore) / 2);
  return {
    kind: 'shape',
    ...{ bore, spigot, outside, wall, engaged, thread: null },
    spigotLength: engaged,
    boreDepth: mm(engaged + PLAIN.under),
    hollow: hollowIn(spigot, spigot, wall),
    chamfer: { female: PLAIN.chamfer, male: PLAIN.chamfer },
  };
}

/** Both grooves' figures for a plan; the wider groove asks for the wider runout. */
function planOf({ job }: Subject, pair: Pair, unit: LengthUnit) {
  const { setup } = job;
  const depth = { female: pair.female.depth, male: pair.male.depth };
  const bore = job.bore.diameter;
  const spigot = job.spigot.diameter;
  const outside = mm(Math.max(suggestedOutside(bore, depth.female), suggestedOutside(spigot, mm(0))));
  const suggested = suggestPlan(outside, {
    ...{ pitch: setup.pitch, starts: setup.starts, bore, depth: depth.female },
    ...(setup.engagedLength === undefined ? {} : { engaged: setup.engagedLength }),
  });
  if (suggested.kind !== 'suggestion') return planRefusalText(suggested, unit);
  const widths = [pair.female, pair.male].map((groove) => grooveWidth(groove.depth, groove.tip, pair.angle));
  const { engaged, leastWall } = suggested;
  const box = planBox({
    ...{ outside, bore, spigot, depth, engaged, leastWall },
    ...{ pitch: setup.pitch.length, starts: setup.starts, grooveWidth: mm(Math.max(...widths)) },
  });
  return box.kind === 'box' ? { box, outside } : planRefusalText(box, unit);
}

function threadedShape(subject: Subject, unit: LengthUnit): BoxShape | NoShape {
  const bore = subject.job.bore.diameter;
  const spigot = subject.job.spigot.diameter;
  const pair = pairOf(subject.job, bore);
  const plan = planOf(subject, pair, unit);
  if (typeof plan === 'string') return { kind: 'no-shape', why: plan };
  const { box, outside } = plan;
  return {
    kind: 'shape',
    ...{ bore, spigot, outside },
    thread: { pair, runout: box.runout },
    wall: box.boredWall,
    engaged: box.engaged,
    spigotLength: box.spigotLength,
    boreDepth: box.leastBoreDepth,
    hollow: hollowIn(spigot, mm(spigot - 2 * box.runout.male), box.boredWall),
    chamfer: { female: pair.female.depth, male: pair.male.depth },
  };
}

/** The shape, or why no box can be planned around this joint. */
export const shapeOf = (subject: Subject, unit: LengthUnit): BoxShape | NoShape =>
  subject.job.setup.fit === 'plain' ? plainShape(subject) : threadedShape(subject, unit);
