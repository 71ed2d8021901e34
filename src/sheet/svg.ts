// Small pieces of SVG and HTML: everything that is text goes through one escape, every number through one rounding.

const ENTITIES: { readonly [character: string]: string } = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text safe in HTML and SVG, in content and in quoted attributes; control characters become spaces. */
export const escaped = (text: string): string =>
  text.replace(/[\p{Cc}\p{Cs}]/gu, ' ').replace(/[&<>"']/g, (character) => ENTITIES[character] ?? ' ');

/** A coordinate in millimetres, to a micrometre. */
export const at = (value: number): string => String(Number(value.toFixed(3)));

export type Attributes = Readonly<Record<string, string | number>>;

/** An element; `content` is markup already made safe. */
export function element(name: string, attributes: Attributes, content = ''): string {
  const parts = Object.entries(attributes).map(
    ([key, value]) => ` ${key}="${typeof value === 'number' ? at(value) : escaped(value)}"`,
  );
  return content === '' ? `<${name}${parts.join('')}/>` : `<${name}${parts.join('')}>${content}</${name}>`;
}

export const text = (x: number, y: number, words: string, attributes: Attributes = {}): string =>
  element('text', { x, y, ...attributes }, escaped(words));

export const line = (x1: number, y1: number, x2: number, y2: number, attributes: Attributes = {}): string =>
  element('line', { x1, y1, x2, y2, ...attributes });

export const polygon = (points: readonly (readonly [number, number])[], attributes: Attributes): string =>
  element('polygon', { points: points.map(([x, y]) => `${at(x)},${at(y)}`).join(' '), ...attributes });

/** A dimension between two points on a level: witness ends as ticks, its words above the middle. */
export function dimension(x1: number, x2: number, y: number, words: string): string {
  const ticks = [x1, x2].map((x) => line(x, y - 1, x, y + 1)).join('');
  const label = text((x1 + x2) / 2, y - 1, words, { 'text-anchor': 'middle' });
  return element('g', { class: 'dim' }, line(x1, y, x2, y) + ticks + label);
}

/** A drawing whose units are millimetres on paper. */
export const drawing = (width: number, height: number, title: string, content: string): string =>
  element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      viewBox: `0 0 ${at(width)} ${at(height)}`,
      width: `${at(width)}mm`,
      height: `${at(height)}mm`,
      role: 'img',
      'aria-label': title,
    },
    element('title', {}, escaped(title)) + DRAWING_STYLE + content,
  );

/** Hatches tell the parts apart on a printer without colour. */
const DRAWING_STYLE =
  '<style>text{font:3px sans-serif;fill:#222}line,polygon,path{stroke:#222;stroke-width:.25;fill:none}' +
  '.bored{fill:#e8dcc8}.turned{fill:#c9d6cf}.dim line{stroke-width:.15;stroke:#555}.axis{stroke-width:.15;stroke-dasharray:4 1 1 1}</style>';
