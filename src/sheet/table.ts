// Tables of the page: what it is, and the figure; a line to write on where there is none yet.
import { forMarkup } from '../core/safe-text.ts';
import { element, saying } from './markup.ts';

/** One row; a figure that is null is left to be written in by hand. */
export type Row = readonly [what: string, figure: string | null];

const blank = saying('span', 'not yet', { class: 'blank' });

const row = ([what, figure]: Row): string =>
  element(
    'tr',
    {},
    saying('th', what, { scope: 'row' }) + element('td', {}, figure === null ? blank : forMarkup(figure)),
  );

/** A section with its heading; nothing at all where there is nothing in it. */
export const section = (title: string, content: string, name = ''): string =>
  content === '' ? '' : element('section', name === '' ? {} : { class: name }, saying('h2', title) + content);

export const table = (title: string, rows: readonly Row[]): string =>
  rows.length === 0 ? '' : section(title, element('table', {}, element('tbody', {}, rows.map(row).join(''))));

/** One figure large, with a line of small words under it. */
export const large = (what: string, figure: string | null, under: string): string =>
  element(
    'div',
    {},
    saying('dt', what) +
      element('dd', {}, figure === null ? blank : forMarkup(figure)) +
      (under === '' ? '' : saying('dd', under, { class: 'under' })),
  );
