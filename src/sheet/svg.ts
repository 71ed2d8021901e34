// Markup of the page, with one escape for every text, and drawings in millimetres on paper: lines, words, hatches, dimensions, scales.
import { forMarkup } from '../core/safe-text.ts';
import { type LengthUnit, MM_PER_INCH } from '../core/units.ts';

import { widthOf } from './words.ts';

/** A coordinate in millimetres, to a micrometre; without a minus before a zero. */
export const at = (value: number): string => String(Number(value.toFixed(3)) + 0);

export type Attributes = Readonly<Record<string, string | number>>;

const attribute = ([name, value]: readonly [string, string | number]): string =>
  ` ${name}="${typeof value === 'number' ? at(value) : forMarkup(value)}"`;

/** An element with content that is markup already made safe. */
export const element = (name: string, attributes: Attributes, content = ''): string =>
  `<${name}${Object.entries(attributes).map(attribute).join('')}>${content}</${name}>`;

/** An element of SVG that holds nothing. */
export const empty = (name: string, attributes: Attributes): string =>
  `<${name}${Object.entries(attributes).map(attribute).join('')}/>`;

/** An element of HTML that never ends. */
export const endless = (name: string, attributes: Attributes): string =>
  `<${name}${Object.entries(attributes).map(attribute).join('')}>`;

/** An element with words in it. */
export const saying = (name: string, words: string, attributes: Attributes = {}): string =>
  element(name, attributes, forMarkup(words));

export type Spot = readonly [x: number, y: number];

/** A drawing before it is placed. */
export interface Drawing {
  readonly width: number;
  readonly height: number;
  /** What it shows, for who cannot see it. */
  readonly alt: string;
  readonly content: string;
}

/** By this a sheet knows a sheet, as page and as drawing. */
export const MARK = 'lidwright job sheet';

/** The one size of all words in drawings. */
export const TYPE = 2.8;

export const text = (x: number, y: number, words: string, attributes: Attributes = {}): string =>
  saying('text', words, { x, y, ...attributes });

export const middled = (x: number, y: number, words: string): string =>
  text(x, y, words, { 'text-anchor': 'middle' });

export const line = (x1: number, y1: number, x2: number, y2: number, attributes: Attributes = {}): string =>
  empty('line', { x1, y1, x2, y2, ...attributes });

const spots = (points: readonly Spot[]): string => points.map(([x, y]) => `${at(x)},${at(y)}`).join(' ');

export const polygon = (points: readonly Spot[], attributes: Attributes): string =>
  empty('polygon', { points: spots(points), ...attributes });

export const rectangle = (x: number, y: number, width: number, height: number, fill: string): string =>
  empty('rect', { x, y, width, height, class: fill });

/** Hatches lean apart, so that the parts differ on a printer without colour; overlaps show as a grid. */
export const HATCHES =
  '<defs>' +
  hatch('bored', 'M-.5 .5L.5-.5M-.5 2.3L2.3-.5M1.3 2.3L2.3 1.3', '#a5662b', '#f3e3cf') +
  hatch('turned', 'M-.5 1.3L.5 2.3M-.5-.5L2.3 2.3M1.3-.5L2.3 .5', '#35608a', '#d9e6f2') +
  '</defs>';

function hatch(id: string, path: string, stroke: string, tint: string): string {
  const size = { width: 1.8, height: 1.8 };
  const wash = empty('rect', { ...size, fill: tint, 'fill-opacity': 0.7 });
  const lines = empty('path', { d: path, stroke, 'stroke-width': 0.12, fill: 'none' });
  return element('pattern', { id: `hatch-${id}`, ...size, patternUnits: 'userSpaceOnUse' }, wash + lines);
}

/** One style for all drawings of a page. */
export const DRAWING_STYLE =
  `.drawing text{font:${TYPE}px 'DejaVu Sans',Verdana,sans-serif;fill:#111;stroke:none}` +
  '.drawing line,.drawing polygon,.drawing rect{stroke:#111;stroke-width:.18;fill:none}' +
  '.drawing polygon{stroke-width:.3;stroke-linejoin:round}' +
  '.drawing .bored{fill:url(#hatch-bored)}.drawing .turned{fill:url(#hatch-turned)}' +
  '.drawing .runs{fill:#cfd8c4}.drawing .made{stroke-dasharray:1 .8}.drawing .axis{stroke-width:.13;stroke-dasharray:4 1 .6 1}.drawing .dim line{stroke-width:.13}' +
  '.drawing .dim .tick{stroke-width:.3}.drawing .dot{fill:#111}';

const frame = ({ width, height }: Pick<Drawing, 'width' | 'height'>): Attributes => ({
  class: 'drawing',
  viewBox: `0 0 ${at(width)} ${at(height)}`,
  width: `${at(width)}mm`,
  height: `${at(height)}mm`,
  role: 'img',
});

/** A drawing inside an HTML page that holds the style and the hatches. */
export const inPage = (drawing: Drawing): string =>
  element('svg', { ...frame(drawing), 'aria-label': drawing.alt }, drawing.content);

/** A file with drawings one under the other, to the same scale. */
export function svgFile(drawings: readonly Drawing[], title: string): string {
  const gap = 4;
  const tops = drawings.map((_, at) =>
    drawings.slice(0, at).reduce((sum, { height }) => sum + height + gap, 0),
  );
  const height = drawings.reduce((sum, drawing) => sum + drawing.height + gap, -gap);
  const width = Math.max(...drawings.map((drawing) => drawing.width));
  const parts = drawings.map(({ content }, at) =>
    element('g', { transform: `translate(0 ${(tops[at] ?? 0).toFixed(3)})` }, content),
  );
  const alt = drawings.map((drawing) => drawing.alt).join(' ');
  const head =
    saying('title', title) +
    saying('metadata', MARK) +
    saying('desc', alt) +
    element('style', {}, DRAWING_STYLE) +
    HATCHES;
  const attributes = { xmlns: 'http://www.w3.org/2000/svg', ...frame({ width, height }), 'aria-label': alt };
  return `${element('svg', attributes, head + parts.join(''))}\n`;
}

/** Between the work and its witness line, and past the dimension line. */
const CLEAR = 0.8;
const PAST = 1;
const TICK = 0.8;

const stroke = (x: number, y: number): string =>
  line(x - TICK, y + TICK, x + TICK, y - TICK, { class: 'tick' });

/** From the work at `from` toward the dimension line at `to`, and past it. */
function witness(from: number, to: number): readonly [number, number] {
  const way = Math.sign(to - from);
  return [from + way * CLEAR, to + way * PAST];
}

/** Across: between two places on a level. Words above the line, or beside its right end where they are wider. */
export function across(x1: number, x2: number, from: number, y: number, words: string): string {
  const fits = widthOf(words, TYPE) < x2 - x1 - 2;
  const [start, end] = witness(from, y);
  const ends = [x1, x2].map((x) => line(x, start, x, end) + stroke(x, y)).join('');
  const label = fits ? middled((x1 + x2) / 2, y - CLEAR, words) : text(x2 + 2, y + 1, words);
  return element('g', { class: 'dim' }, line(x1, y, x2, y) + ends + label);
}

/** A level, and where on it the work ends. */
export interface Level {
  readonly y: number;
  readonly from: number;
}

/** Up and down: between two levels, with the words to the right of its middle. */
export function upright(a: Level, b: Level, x: number, words: string): string {
  const ends = [a, b].map(({ y, from }) => {
    const [start, end] = witness(from, x);
    return line(start, y, end, y) + stroke(x, y);
  });
  const label = text(x + 1.8, (a.y + b.y) / 2 + 1, words);
  return element('g', { class: 'dim' }, line(x, a.y, x, b.y) + ends.join('') + label);
}

/** Enlargements, full size and reductions of ISO 5455 (from memory), the largest first. */
const SCALES = [20, 10, 5, 2, 1, 1 / 2, 1 / 5, 1 / 10, 1 / 20, 1 / 50] as const;

/** The largest scale at which a width and a height fit; undefined for what is larger than any of them allows. */
export const scaleFor = (width: number, height: number, room: Room): number | undefined =>
  SCALES.find((scale) => width * scale <= room.width && height * scale <= room.height);

export interface Room {
  readonly width: number;
  readonly height: number;
}

export const scaleWords = (scale: number): string =>
  scale >= 1 ? `${scale}:1` : `1:${Math.round(1 / scale)}`;

/** A bar of a round length, to lay a rule on. */
export function scaleBar(unit: LengthUnit): Drawing {
  const [length, words] = unit === 'mm' ? [50, '50 mm'] : [2 * MM_PER_INCH, '2 in'];
  const [left, y] = [1, 2];
  const steps = unit === 'mm' ? 5 : 4;
  const ticks = Array.from({ length: steps + 1 }, (_, at) => left + (length * at) / steps).map((x) =>
    line(x, y - 1, x, y + 1),
  );
  const content = line(left, y, left + length, y) + ticks.join('') + text(left + length + 2, y + 1, words);
  const alt = `A bar that measures ${words} if the sheet was printed at full size.`;
  return { width: length + 18, height: 4, alt, content };
}
