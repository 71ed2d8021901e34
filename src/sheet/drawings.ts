// The drawings of a job, to scale: the joint in section with room for every dimension, and the thread profile, enlarged.
import type { Job } from '../core/bench/job.ts';
import { outOfTrue } from '../core/bench/out-of-true.ts';
import { isUnmeasured, pairOf } from '../core/bench/threads.ts';
import {
  figure,
  lengthFigure,
  pitchFigure,
  pitchLength,
  roughFigure,
  UNIT_WORDS,
  withDoubt,
} from '../core/figures.ts';
import { type Fit, fitOf, type Limits, limitsOf } from '../core/thread/fit.ts';
import { flankSlope, tipLoss } from '../core/thread/form.ts';
import type { Pair } from '../core/thread/pair.ts';
import { type Point, type Section, sectionOf } from '../core/thread/section.ts';
import { type Length, type LengthUnit, mm } from '../core/units.ts';
import {
  type BoxShape,
  type DrawnPart,
  partsOf,
  type Subject,
  shapeOf,
  showsTeeth,
  subjectOf,
  type Turning,
} from './outline.ts';
import { clearanceHalf } from './rows.ts';
import {
  across,
  type Drawing,
  empty,
  line,
  polygon,
  type Room,
  type Spot,
  scaleFor,
  scaleWords,
  svgFile,
  text,
  upright,
} from './svg.ts';
import { upTo } from './words.ts';

/** A drawing at a scale: its content under what it is, and notes in lines from `under` on. */
interface Plan {
  readonly what: string;
  readonly width: number;
  readonly content: readonly string[];
  readonly notes: readonly string[];
  readonly under: number;
  readonly alt: string;
}

/** From one line of notes to the next. */
const NOTE = 3.5;

const drawn = (
  { what, width, content, notes, under, alt }: Plan,
  scale: number,
  unit: LengthUnit,
): Drawing => ({
  width,
  height: under + (notes.length - 1) * NOTE + 1,
  alt,
  content: [
    text(1, 3, `${what} ${scaleWords(scale)}, figures in ${UNIT_WORDS[unit]}`),
    ...content,
    ...notes.map((words, at) => text(1, under + at * NOTE, words)),
  ].join(''),
});

const JOINT_WIDTH = 108;
/** The parts' names are left of the work, the length of the spigot is right of it. */
const JOINT_ROOM: Room = { width: 76, height: 30 };
const MIDDLE = 46;
const JOINT_TOP = 11.6;
const APART = 14.4;
/** How far the axis is drawn beyond a part. */
const PAST = 0.9;

/** One part as it lies on paper: where its open end is, and which way the wood goes from there. */
interface Lie {
  readonly part: DrawnPart;
  readonly scale: number;
  readonly end: number;
  readonly way: 1 | -1;
}

const onPaper = ({ scale, end, way }: Lie, side: 1 | -1, [radius, away]: Turning): Spot => [
  MIDDLE + side * radius * scale,
  end + way * away * scale,
];

function outlines(lie: Lie): string {
  const { side, which, closed } = lie.part;
  const hatch = { class: which === 'female' ? 'bored' : 'turned' };
  const near = side(false).map((turning) => onPaper(lie, 1, turning));
  const far = side(true).map((turning) => onPaper(lie, -1, turning));
  return closed ? polygon([...near, ...far.toReversed()], hatch) : polygon(near, hatch) + polygon(far, hatch);
}

/** Where teeth are too small to draw: the roots as thin lines. */
function roots(shape: BoxShape, lie: Lie): string {
  const { thread } = shape;
  if (!thread || showsTeeth(thread.pair.pitch, lie.scale)) return '';
  const female = lie.part.which === 'female';
  const radius = female
    ? shape.bore / 2 + thread.pair.female.depth
    : shape.spigot / 2 - thread.pair.male.depth;
  const long = (female ? shape.boreDepth : shape.spigotLength) - thread.runout.width;
  const sides = [1, -1] as const;
  return sides
    .map((side) => line(...onPaper(lie, side, [radius, 0]), ...onPaper(lie, side, [radius, long])))
    .join('');
}

const level = (diameter: Length, from: number, y: number, scale: number, words: string): string =>
  across(MIDDLE - (diameter / 2) * scale, MIDDLE + (diameter / 2) * scale, from, y, words);

/** The diameter that is turned to, before the open end; its witness lines start at the crests. */
function turnedTo(subject: Subject, shape: BoxShape, lie: Lie, unit: LengthUnit): string {
  const { which } = lie.part;
  const size = which === 'female' ? shape.bore : shape.spigot;
  const words = `${which === 'female' ? subject.bore : subject.spigot} ${figure(size, unit)}`;
  const crest = lie.end + lie.way * shape.chamfer[which] * lie.scale;
  return level(size, crest, lie.end - lie.way * 4.6, lie.scale, words);
}

function spigotLength(shape: BoxShape, lie: Lie, unit: LengthUnit): string {
  const outer = MIDDLE + (shape.outside / 2) * lie.scale;
  const tip = { y: lie.end, from: MIDDLE + (shape.spigot / 2) * lie.scale + 1 };
  const shoulder = { y: lie.end + lie.way * shape.spigotLength * lie.scale, from: outer };
  return upright(tip, shoulder, outer + 5, `(${roughFigure(shape.spigotLength, unit)} long)`);
}

function axis({ end, way, part, scale }: Lie): string {
  const [from, to] = [end - way * PAST, end + way * (part.tall * scale + PAST)];
  return line(MIDDLE, from, MIDDLE, to, { class: 'axis' });
}

const partDrawn = (subject: Subject, shape: BoxShape, lie: Lie, unit: LengthUnit): string =>
  outlines(lie) +
  roots(shape, lie) +
  axis(lie) +
  text(0.5, lie.end + (lie.way * lie.part.tall * lie.scale) / 2 + 1, lie.part.name) +
  turnedTo(subject, shape, lie, unit);

/** Brackets mark what is only suggested, as ISO 129-1 has auxiliary dimensions (from memory). */
function jointNotes({ engaged, boreDepth, wall }: BoxShape, unit: LengthUnit): readonly string[] {
  return [
    `(engaged ${roughFigure(engaged, unit)}, bore ${roughFigure(boreDepth, unit)} deep, wall ${roughFigure(wall, unit)})`,
    'in brackets: suggested by common practice, not measured',
  ];
}

function altOf({ job, bore, spigot }: Subject, shape: BoxShape, scale: number, unit: LengthUnit): string {
  const [female, male] = job.setup.bored === 'lid' ? ['lid', 'body'] : ['body', 'lid'];
  const joint = `${shape.thread ? 'Threaded' : 'Plain'} joint in section, ${scaleWords(scale)}`;
  return `${joint}: the ${female} with its ${bore} of ${figure(shape.bore, unit)} ${unit}, the ${male} with its ${spigot} of ${figure(shape.spigot, unit)} ${unit}, outside ${roughFigure(shape.outside, unit)} ${unit} as a suggestion.`;
}

function jointAt(subject: Subject, shape: BoxShape, scale: number, unit: LengthUnit): Drawing {
  const { bored } = subject.job.setup;
  const [lid, body] = partsOf(shape, bored, scale);
  const above: Lie = { part: lid, scale, end: JOINT_TOP + lid.tall * scale, way: -1 };
  const below: Lie = { part: body, scale, end: above.end + APART, way: 1 };
  const foot = below.end + body.tall * scale;
  const hollow = bored === 'lid' ? shape.hollow : null;
  const outside = `(outside ${roughFigure(shape.outside, unit)})`;
  const content = [
    level(shape.outside, JOINT_TOP, JOINT_TOP - 3, scale, outside),
    partDrawn(subject, shape, above, unit),
    partDrawn(subject, shape, below, unit),
    spigotLength(shape, bored === 'lid' ? below : above, unit),
    hollow === null ? '' : level(hollow, foot, foot + 5, scale, `(hollow ${roughFigure(hollow, unit)})`),
  ];
  const under = foot + (hollow === null ? 4.6 : 9.6);
  const [notes, alt] = [jointNotes(shape, unit), altOf(subject, shape, scale, unit)];
  return drawn({ what: 'joint', width: JOINT_WIDTH, content, notes, under, alt }, scale, unit);
}

/** The drawing, or the reason for leaving it out. */
function jointDrawing(subject: Subject, unit: LengthUnit): Drawing | string {
  const shape = shapeOf(subject, unit);
  if (typeof shape === 'string') return shape;
  const tall = mm(shape.boreDepth + shape.spigotLength + shape.wall);
  const scale = scaleFor(shape.outside, tall, JOINT_ROOM);
  if (scale === undefined) return 'the box is larger than a page can show at any usual scale';
  return jointAt(subject, shape, scale, unit);
}

const PROFILE_WIDTH = 76;
const PROFILE_ROOM: Room = { width: 74, height: 42 };
const PROFILE_TOP = 11;
/** Wood behind the roots, in pitches: what a section has, and what is shown of it. */
const [MARGIN, BEHIND] = [0.25, 0.1];
/** Pitches shown: as many as fit, within these; the scale is the largest that shows the fewest. */
const PITCHES = { least: 2, most: 5 };

interface Meeting {
  readonly pair: Pair;
  readonly limits: Limits;
  readonly fit: Fit;
}

/** The pair where it is tightest. */
function meetingOf({ job }: Subject): Meeting | null {
  const bore = job.bore.diameter;
  const pair = pairOf(job, bore);
  const limits = limitsOf(pair);
  const spigot = mm(job.spigot.diameter + outOfTrue(job).loss);
  const fit = fitOf(pair, bore, spigot, job.setup.bounds);
  return limits.kind === 'limits' && fit.kind === 'fit' ? { pair, limits, fit } : null;
}

/** Where the parts are nearest about a groove of the bore: on a flank halfway up what engages, or under a crest that bottoms. */
function nearest({ pair, limits, fit }: Meeting, groove: number): Point {
  const step = fit.allowance / 2;
  const { depth, tip, widening = 0 } = pair.female;
  if (limits.limitedBy === 'flank') {
    const half = flankSlope(pair.angle) * (depth + tipLoss(tip, pair.angle) - step / 2) + widening;
    return { along: mm(groove - half + fit.play / 4), out: mm(step / 2) };
  }
  return depth <= pair.male.depth
    ? { along: mm(groove), out: mm((depth + step) / 2) }
    : { along: mm(groove - pair.pitch / 2), out: mm((step - pair.male.depth) / 2) };
}

/** A dot where the parts are nearest, and a line from it straight up to the words. */
const pointer = ([x, y]: Spot): string =>
  line(x, 8.8, x, y) + empty('circle', { cx: x, cy: y, r: 0.45, class: 'dot' });

function clearanceWords({ job }: Subject, { fit }: Meeting, unit: LengthUnit): string {
  if (isUnmeasured(job)) return "as planned: one depth isn't measured";
  const half = clearanceHalf(job);
  const size = mm(Math.abs(fit.clearance));
  const shown = half === null ? lengthFigure(size, unit) : withDoubt(size, half, unit);
  const where = outOfTrue(job).loss > 0 ? 'at its tightest' : 'on the diameter';
  return `${fit.clearance < 0 ? 'overlap' : 'clearance'} ${shown} ${where}`;
}

function profileNotes({ job }: Subject, { pair, limits, fit }: Meeting, unit: LengthUnit): readonly string[] {
  const turned = job.setup.bored === 'lid' ? 'body' : 'lid';
  const first = limits.limitedBy === 'flank' ? 'flanks' : 'crests';
  return [
    `${job.setup.bored} above, ${figure(pair.female.depth, unit)} deep; ${turned} below, ${figure(pair.male.depth, unit)} deep`,
    `dot: half the ${fit.clearance < 0 ? 'overlap' : 'clearance'}; the ${first} touch first`,
  ];
}

function profileAt(subject: Subject, meeting: Meeting, scale: number, unit: LengthUnit): Drawing {
  const { pair } = meeting;
  const pitches = Math.min(PITCHES.most, Math.floor(PROFILE_ROOM.width / (pair.pitch * scale)));
  const section = viewOf(meeting, pitches);
  const left = (PROFILE_WIDTH - section.length * scale) / 2;
  const place = ({ along, out }: Point): Spot => [
    left + along * scale,
    PROFILE_TOP + (section.to - out) * scale,
  ];
  const foot = PROFILE_TOP + tallOf(section) * scale;
  const [from, to] = [0.5, 1.5].map((crest) => left + crest * pair.pitch * scale) as [number, number];
  const words = clearanceWords(subject, meeting, unit);
  const notes = profileNotes(subject, meeting, unit);
  const content = [
    text(1, 7.6, words),
    polygon(section.female.map(place), { class: 'bored' }),
    polygon(section.male.map(place), { class: 'turned' }),
    pointer(place(nearest(meeting, 0.5 * pair.pitch))),
    across(from, to, foot, foot + 5, `pitch ${pitchLength(pair.pitch, unit)}`),
  ];
  const alt = `Thread profile of the pair, ${scaleWords(scale)}, pitch ${pitchFigure(subject.job.setup.pitch)}: ${words}. ${notes.join('. ')}.`;
  const under = foot + 9.6;
  return drawn({ what: 'thread profile', width: PROFILE_WIDTH, content, notes, under, alt }, scale, unit);
}

/** A section with less wood behind the roots. */
function trimmed(section: Section, pitch: Length): Section {
  const [from, to] = [section.from + (MARGIN - BEHIND) * pitch, section.to - (MARGIN - BEHIND) * pitch];
  const cut = (point: Point): Point => ({ ...point, out: mm(Math.min(to, Math.max(from, point.out))) });
  return {
    ...section,
    ...{ from: mm(from), to: mm(to), female: section.female.map(cut), male: section.male.map(cut) },
  };
}

const viewOf = ({ pair, fit }: Meeting, pitches: number): Section =>
  trimmed(sectionOf(pair, fit.allowance, pitches), pair.pitch);

const tallOf = (section: Section): Length => mm(section.to - section.from);

/** The drawing, or the reason for leaving it out; null for a plain lid, which has no thread. */
function profileDrawing(subject: Subject, unit: LengthUnit): Drawing | string | null {
  if (subject.job.setup.fit === 'plain') return null;
  const meeting = meetingOf(subject);
  if (!meeting) return 'these two threads have no fit to draw';
  const least = viewOf(meeting, PITCHES.least);
  const scale = scaleFor(least.length, tallOf(least), PROFILE_ROOM);
  if (scale === undefined) return 'the thread is larger than a page can show at any usual scale';
  return profileAt(subject, meeting, scale, unit);
}

/** What is drawn of a job, and of what isn't, why. */
interface Drawings {
  readonly drawings: readonly Drawing[];
  readonly missing: readonly { readonly what: string; readonly why: string }[];
}

/** Section and profile of the job as it is so far. */
export function drawingsOf(job: Job, unit: LengthUnit): Drawings {
  const subject = subjectOf(job);
  if (typeof subject === 'string') return { drawings: [], missing: [{ what: 'drawing', why: subject }] };
  const made = Object.entries({
    'section of the joint': jointDrawing(subject, unit),
    'thread profile': profileDrawing(subject, unit),
  });
  return {
    drawings: made.flatMap(([, drawing]) => (drawing && typeof drawing !== 'string' ? [drawing] : [])),
    missing: made.flatMap(([what, why]) => (typeof why === 'string' ? [{ what, why }] : [])),
  };
}

/** The drawings alone, one under the other, as one SVG; null where there is nothing to draw yet. */
export function sheetDrawing(job: Job, unit: LengthUnit): string | null {
  const { drawings } = drawingsOf(job, unit);
  return drawings.length === 0 ? null : svgFile(drawings, upTo(job.name));
}
