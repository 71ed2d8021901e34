// Markup of the page: one escape for every text, one rounding for every number; elements, tables and sections.
import { forMarkup } from '../core/safe-text.ts';

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

/** One row; a figure that is null is left to be written in by hand. */
export type TableRow = readonly [what: string, figure: string | null];

const blank = saying('span', 'not yet', { class: 'blank' });

const row = ([what, figure]: TableRow): string =>
  element(
    'tr',
    {},
    saying('th', what, { scope: 'row' }) + element('td', {}, figure === null ? blank : forMarkup(figure)),
  );

/** A section with its heading; nothing at all where there is nothing in it. */
export const section = (title: string, content: string, name = ''): string =>
  content === '' ? '' : element('section', name === '' ? {} : { class: name }, saying('h2', title) + content);

export const table = (title: string, rows: readonly TableRow[]): string =>
  rows.length === 0 ? '' : section(title, element('table', {}, element('tbody', {}, rows.map(row).join(''))));

/** One figure large, with a line of small words under it. */
export const keyFigure = (what: string, figure: string | null, under: string): string =>
  element(
    'div',
    {},
    saying('dt', what) +
      element('dd', {}, figure === null ? blank : forMarkup(figure)) +
      (under === '' ? '' : saying('dd', under, { class: 'under' })),
  );
