// The joint in section, to scale: lid above, body below, drawn apart to leave room for every dimension.

import { figure, roughFigure, UNIT_WORDS } from '../core/figures.ts';
import { type Length, type LengthUnit, mm } from '../core/units.ts';
import { type DrawnPart, partsOf, showsTeeth, type Turning } from './outline.ts';
import type { BoxShape, Subject } from './shape.ts';
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
  upright,
} from './svg.ts';

const WIDTH = 108;
/** Left of the work stand the parts' names, right of it the length of the spigot. */
const ROOM: Room = { width: 76, height: 30 };
const MIDDLE = 46;
const TOP = 11.6;
const APART = 14.4;
const NOTE = 3.5;
/** How far the axis stands out of a part. */
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

/** What is only suggested stands in brackets, as ISO 129-1 has auxiliary dimensions (from memory). */
function notesOf({ engaged, boreDepth, wall }: BoxShape, unit: LengthUnit): readonly string[] {
  return [
    `(engaged ${roughFigure(engaged, unit)}, bore ${roughFigure(boreDepth, unit)} deep, wall ${roughFigure(wall, unit)})`,
    'in brackets: suggested, common practice, not of this job',
  ];
}

function altOf({ job, bore, spigot }: Subject, shape: BoxShape, scale: number, unit: LengthUnit): string {
  const [female, male] = job.setup.bored === 'lid' ? ['lid', 'body'] : ['body', 'lid'];
  const joint = `${shape.thread ? 'Threaded' : 'Plain'} joint in section, ${scaleWords(scale)}`;
  return `${joint}: the ${female} with its ${bore} of ${figure(shape.bore, unit)} ${unit}, the ${male} with its ${spigot} of ${figure(shape.spigot, unit)} ${unit}, outside ${roughFigure(shape.outside, unit)} ${unit} as a suggestion.`;
}

function drawn(subject: Subject, shape: BoxShape, scale: number, unit: LengthUnit): Drawing {
  const { bored } = subject.job.setup;
  const [lid, body] = partsOf(shape, bored, scale);
  const above: Lie = { part: lid, scale, end: TOP + lid.tall * scale, way: -1 };
  const below: Lie = { part: body, scale, end: above.end + APART, way: 1 };
  const foot = below.end + body.tall * scale;
  const hollow = bored === 'lid' ? shape.hollow : null;
  const under = foot + (hollow === null ? 4.6 : 9.6);
  const notes = notesOf(shape, unit);
  const content = [
    text(1, 3, `joint ${scaleWords(scale)}, figures in ${UNIT_WORDS[unit]}`),
    level(shape.outside, TOP, TOP - 3, scale, `(outside ${roughFigure(shape.outside, unit)})`),
    partDrawn(subject, shape, above, unit),
    partDrawn(subject, shape, below, unit),
    spigotLength(shape, bored === 'lid' ? below : above, unit),
    hollow === null ? '' : level(hollow, foot, foot + 5, scale, `(hollow ${roughFigure(hollow, unit)})`),
    ...notes.map((words, at) => text(1, under + at * NOTE, words)),
  ];
  const height = under + (notes.length - 1) * NOTE + 1;
  const alt = altOf(subject, shape, scale, unit);
  return { width: WIDTH, height, title: 'section of the joint', alt, content: content.join('') };
}

/** The drawing, or why it cannot be drawn on a page. */
export function jointDrawing(
  subject: Subject,
  shape: BoxShape,
  unit: LengthUnit,
): Drawing | { readonly why: string } {
  const tall = mm(shape.boreDepth + shape.spigotLength + shape.wall);
  const scale = scaleFor(shape.outside, tall, ROOM);
  return scale === undefined
    ? { why: 'the box is larger than a page can show at any usual scale' }
    : drawn(subject, shape, scale, unit);
}
