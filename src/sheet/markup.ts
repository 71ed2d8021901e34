// Small pieces of markup: everything that is text goes through one escape, every number through one rounding.
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
