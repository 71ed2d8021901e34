// Pictures for terminals without Unicode: each character of our own drawing as its nearest in ASCII.
import { type Picture, pictureOf, type Row } from './picture.ts';

const NEAREST: ReadonlyMap<string, string> = new Map([
  ['●', '*'],
  ['○', 'o'],
  ['◐', '%'],
  ['◆', '@'],
  ['◇', '~'],
  ['▲', '!'],
  ['▼', 'v'],
  ['▽', ','],
  ['▸', '>'],
  ['‹', '<'],
  ['›', '>'],
  ['×', 'x'],
  ['·', '.'],
  ['─', '-'],
  ['–', '-'],
  ['┤', ']'],
  ['…', '.'],
  ['±', '+/-'],
  ['°', ' deg'],
  ['↑', '^'],
  ['↓', 'v'],
  ['█', '#'],
  ['▓', '%'],
  ['▒', '='],
  ['░', ':'],
]);

const OTHERS = /[^\x20-\x7e]/gu;

const plain = (text: string): string => text.replace(OTHERS, (character) => NEAREST.get(character) ?? '?');

const plainRow = (of: Row): Row => of.map(({ text, style }) => ({ text: plain(text), style }));

/** The same picture in ASCII alone; a row that gets longer loses its end. */
export const inAscii = (picture: Picture): Picture =>
  pictureOf(picture.rows.map(plainRow), picture.width, picture.height, picture.cursor);
