// Reads a drawing back from its markup: words with the room they take, lines, outlines and dimensions.
import { TYPE } from '../../src/sheet/svg.ts';
import { widthOf } from '../../src/sheet/words.ts';

interface Box {
  readonly what: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

interface Marks {
  readonly width: number;
  readonly height: number;
  readonly texts: readonly Box[];
  readonly lines: readonly Box[];
  /** Boxes round the outlines of parts. */
  readonly parts: readonly Box[];
  readonly dimensions: readonly { readonly words: string; readonly long: number }[];
}

const ENTITIES: { readonly [name: string]: string } = { amp: '&', lt: '<', gt: '>', quot: '"', '#39': "'" };
export const unescaped = (text: string): string =>
  text.replace(/&(amp|lt|gt|quot|#39);/g, (_, name: string) => ENTITIES[name] ?? '');

const number = (attributes: string, name: string): number =>
  Number(new RegExp(` ${name}="(-?[\\d.]+)"`).exec(attributes)?.[1] ?? Number.NaN);

const every = (markup: string, pattern: RegExp): readonly string[][] =>
  [...markup.matchAll(pattern)].map((match) => match.slice(1).map(String));

/** Above the baseline stand capitals, under it the tails of letters. */
const [RISE, FALL] = [0.76 * TYPE, 0.22 * TYPE];

function textBox([attributes = '', content = '']: readonly string[]): Box {
  const what = unescaped(content);
  const wide = widthOf(what, TYPE);
  const x = number(attributes, 'x') - (attributes.includes('text-anchor="middle"') ? wide / 2 : 0);
  const y = number(attributes, 'y');
  return { what, left: x, right: x + wide, top: y - RISE, bottom: y + FALL };
}

type Spot = readonly [x: number, y: number];

function around(what: string, spots: readonly Spot[]): Box {
  const [xs, ys] = [spots.map(([x]) => x), spots.map(([, y]) => y)];
  return {
    ...{ what, left: Math.min(...xs), right: Math.max(...xs) },
    ...{ top: Math.min(...ys), bottom: Math.max(...ys) },
  };
}

const lineBox = ([attributes = '']: readonly string[]): Box =>
  around('line', [
    [number(attributes, 'x1'), number(attributes, 'y1')],
    [number(attributes, 'x2'), number(attributes, 'y2')],
  ]);

export const outlineOf = (points: string): readonly Spot[] =>
  points.split(' ').map((spot) => {
    const [x = Number.NaN, y = Number.NaN] = spot.split(',').map(Number);
    return [x, y];
  });

/** The first line of a dimension is the one between its ends. */
function dimensionIn([content = '']: readonly string[]): { words: string; long: number } {
  const [first] = every(content, /<line([^>]*)\/>/g).map(lineBox);
  const words = unescaped(/<text[^>]*>([^<]*)</.exec(content)?.[1] ?? '');
  return { words, long: first ? Math.max(first.right - first.left, first.bottom - first.top) : Number.NaN };
}

/** Of one `<svg>` element. */
export function marksOf(svg: string): Marks {
  const [, width = '', height = ''] = /viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg) ?? [];
  return {
    ...{ width: Number(width), height: Number(height) },
    texts: every(svg, /<text([^>]*)>([^<]*)<\/text>/g).map(textBox),
    lines: every(svg, /<line([^>]*)\/>/g).map(lineBox),
    parts: every(svg, /<polygon points="([^"]*)"/g).map(([points = '']) => around('part', outlineOf(points))),
    dimensions: every(svg, /<g class="dim">(.*?)<\/g>/g).map(dimensionIn),
  };
}

/** The drawings of a page, in order. */
export const svgsIn = (page: string): readonly string[] =>
  every(page, /(<svg class="drawing".*?<\/svg>)/gs).flatMap(([svg]) => svg ?? []);

/** Touching within a tenth of a millimetre is not overlapping. */
const TOUCH = 0.1;
const overlap = (a: Box, b: Box): boolean =>
  a.left < b.right - TOUCH &&
  b.left < a.right - TOUCH &&
  a.top < b.bottom - TOUCH &&
  b.top < a.bottom - TOUCH;

/** A line has no area: it crosses a box when it goes through its inside. */
const through = (line: Box, box: Box): boolean =>
  line.left < box.right - TOUCH &&
  line.right > box.left + TOUCH &&
  line.top < box.bottom - TOUCH &&
  line.bottom > box.top + TOUCH;

const within = (box: Box, { width, height }: Marks): boolean =>
  box.left >= 0 && box.top >= 0 && box.right <= width && box.bottom <= height;

/** Everything that makes a drawing hard to read, each as a sentence. */
export function clashesIn(marks: Marks): readonly string[] {
  const { texts, lines, parts } = marks;
  const pairs = texts.flatMap((a, at) => texts.slice(at + 1).map((b) => [a, b] as const));
  const outside = [...texts, ...lines, ...parts].filter((box) => !within(box, marks));
  const crossed = texts.flatMap((text) => [
    ...lines.filter((line) => through(line, text)).map(() => `a line crosses "${text.what}"`),
    ...parts.filter((part) => overlap(part, text)).map(() => `a part lies under "${text.what}"`),
  ]);
  return [
    ...outside.map(({ what }) => `"${what}" leaves the drawing`),
    ...pairs.filter(([a, b]) => overlap(a, b)).map(([a, b]) => `"${a.what}" and "${b.what}" overlap`),
    ...crossed,
  ];
}
