// The thread profile of the pair, enlarged to a stated scale: both parts in axial section with the clearance between them.
import { pairOf } from '../core/bench/threads.ts';
import { figure, lengthFigure, pitchFigure, pitchLength, UNIT_WORDS, withDoubt } from '../core/figures.ts';
import { type Fit, fitOf } from '../core/thread/fit.ts';
import { flankSlope, tipLoss } from '../core/thread/form.ts';
import { type Limits, limitsOf } from '../core/thread/limits.ts';
import type { Pair } from '../core/thread/pair.ts';
import { type Point, type Section, sectionOf } from '../core/thread/section.ts';
import { type Length, type LengthUnit, mm } from '../core/units.ts';
import { empty } from './markup.ts';
import { clearanceHalf } from './rows.ts';
import type { Subject } from './shape.ts';
import {
  across,
  type Drawing,
  line,
  polygon,
  type Room,
  type Spot,
  scaleFor,
  scaleWords,
  text,
} from './svg.ts';

const WIDTH = 76;
const ROOM: Room = { width: 74, height: 42 };
const TOP = 11;
/** Wood behind the roots, in pitches: what a section has, and what is shown of it. */
const [MARGIN, BEHIND] = [0.25, 0.1];
const NOTE = 3.5;
/** Pitches shown: as many as fit, within these; the scale is the largest that shows the fewest. */
const PITCHES = { least: 2, most: 5 };

interface Meeting {
  readonly pair: Pair;
  readonly limits: Limits;
  readonly fit: Fit;
}

function meetingOf({ job }: Subject): Meeting | null {
  const bore = job.bore.diameter;
  const pair = pairOf(job, bore);
  const limits = limitsOf(pair);
  const fit = fitOf(pair, bore, job.spigot.diameter, job.setup.bounds);
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
  const doubt = clearanceHalf(job);
  const size = mm(Math.abs(fit.clearance));
  const shown = doubt ? withDoubt(size, doubt.half, unit) : lengthFigure(size, unit);
  return `${fit.clearance < 0 ? 'overlap' : 'clearance'} ${shown} on the diameter`;
}

function notesOf({ job }: Subject, { pair, limits, fit }: Meeting, unit: LengthUnit): readonly string[] {
  const turned = job.setup.bored === 'lid' ? 'body' : 'lid';
  const first = limits.limitedBy === 'flank' ? 'flanks' : 'crests';
  return [
    `${job.setup.bored} above, ${figure(pair.female.depth, unit)} deep; ${turned} below, ${figure(pair.male.depth, unit)} deep`,
    `half the ${fit.clearance < 0 ? 'overlap' : 'clearance'} at the dot; the ${first} touch first`,
  ];
}

function drawn(subject: Subject, meeting: Meeting, scale: number, unit: LengthUnit): Drawing {
  const { pair } = meeting;
  const pitches = Math.min(PITCHES.most, Math.floor(ROOM.width / (pair.pitch * scale)));
  const section = viewOf(meeting, pitches);
  const left = (WIDTH - section.length * scale) / 2;
  const place = ({ along, out }: Point): Spot => [left + along * scale, TOP + (section.to - out) * scale];
  const foot = TOP + tallOf(section) * scale;
  const [from, to] = [0.5, 1.5].map((crest) => left + crest * pair.pitch * scale) as [number, number];
  const words = clearanceWords(subject, meeting, unit);
  const notes = notesOf(subject, meeting, unit);
  const under = foot + 9.6;
  const content = [
    text(1, 3, `thread profile ${scaleWords(scale)}, figures in ${UNIT_WORDS[unit]}`),
    text(1, 7.6, words),
    polygon(section.female.map(place), { class: 'bored' }),
    polygon(section.male.map(place), { class: 'turned' }),
    pointer(place(nearest(meeting, 0.5 * pair.pitch))),
    across(from, to, foot, foot + 5, `pitch ${pitchLength(pair.pitch, unit)}`),
    ...notes.map((note, at) => text(1, under + at * NOTE, note)),
  ];
  const alt = `Thread profile of the pair, ${scaleWords(scale)}, pitch ${pitchFigure(subject.job.setup.pitch)}: ${words}. ${notes.join('. ')}.`;
  const height = under + (notes.length - 1) * NOTE + 1;
  return { width: WIDTH, height, title: 'thread profile', alt, content: content.join('') };
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

/** The profile, or why it cannot be drawn; null for a plain lid, which has no thread. */
export function profileDrawing(
  subject: Subject,
  unit: LengthUnit,
): Drawing | { readonly why: string } | null {
  if (subject.job.setup.fit === 'plain') return null;
  const meeting = meetingOf(subject);
  if (!meeting) return { why: 'these two threads have no fit to draw' };
  const least = viewOf(meeting, PITCHES.least);
  const scale = scaleFor(least.length, tallOf(least), ROOM);
  return scale === undefined
    ? { why: 'the thread is larger than a page can show at any usual scale' }
    : drawn(subject, meeting, scale, unit);
}
