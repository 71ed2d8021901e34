// Small pieces of markup: everything that is text goes through one escape, every number through one rounding.

const ENTITIES: { readonly [character: string]: string } = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Control, format and lone surrogate characters: nothing on paper needs them, and they can turn or hide the writing. */
const UNSEEN = /[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]+/gu;
/** Marks on one letter beyond the second, which would grow into the lines above and below. */
const PILED = /(\p{M}{2})\p{M}+/gu;

/** Text with nothing unseen in it, on one line. */
export const plain = (text: string): string => text.replace(UNSEEN, ' ').replace(PILED, '$1');

/** Text safe in HTML and SVG, in content and in quoted attributes. */
export const escaped = (text: string): string =>
  plain(text).replace(/[&<>"']/g, (character) => ENTITIES[character] ?? ' ');

/** A coordinate in millimetres, to a micrometre; a minus of nothing is no minus. */
export const at = (value: number): string => String(Number(value.toFixed(3)) + 0);

export type Attributes = Readonly<Record<string, string | number>>;

const attribute = ([name, value]: readonly [string, string | number]): string =>
  ` ${name}="${typeof value === 'number' ? at(value) : escaped(value)}"`;

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
  element(name, attributes, escaped(words));
