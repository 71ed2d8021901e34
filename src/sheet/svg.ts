// Drawings whose units are millimetres on paper: lines, words, hatched parts, and how a drawing stands alone or among others.
import { type Attributes, at, element, empty, saying } from './markup.ts';

export type Spot = readonly [x: number, y: number];

/** A drawing before it is placed. */
export interface Drawing {
  readonly width: number;
  readonly height: number;
  /** What it is, in a few words. */
  readonly title: string;
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

/** Hatches lean apart, so that the parts are told apart on a printer without colour; overlaps show as a grid. */
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

/** Drawings one under the other as a file of their own, to the same scale. */
export function standing(drawings: readonly Drawing[], title: string): string {
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
