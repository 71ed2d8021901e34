// The huge number: the largest face that fits, as rows of text. A dot is as wide as a column and half as tall as a row, so that
// dots come out square. The faces are our own drawing, glyphs side by side so that they can be compared.
import { canvas, type Glyphs } from './glyphs.ts';

interface DigitFace {
  /** Dots. */
  readonly height: number;
  readonly glyphs: ReadonlyMap<string, readonly string[]>;
}

/** A face from sheets of glyphs: the characters, and below each other the rows of all of them, a blank between two. */
function faceOf(...sheets: readonly (readonly [characters: string, drawing: string])[]): DigitFace {
  const glyphs = sheets.flatMap(([characters, drawing]) => {
    const rows = drawing
      .trim()
      .split('\n')
      .map((line) => line.split(' '));
    return [...characters].map((character, at) => [character, rows.map((row) => row[at] ?? '')] as const);
  });
  return { height: glyphs[0]?.[1].length ?? 0, glyphs: new Map(glyphs) };
}

/** For numbers alone: fourteen dots tall, seven rows of text. */
const large = faceOf(
  [
    '0123456789',
    `
..######.. ....###... ..######.. ########.. ......#### ########## ..######.. ########## ..######.. ..######..
.########. ..#####... .########. #########. .....##### ########## .#######.. ########## .########. .########.
####..#### .######... ####..#### #########. ....###### ########## ####...... ########## ####..#### ####..####
###....### .######... ###....### .......### ...###.### ###....... ###....... .......### ###....### ###....###
###....### ....###... .......### .......### ..###..### ###....... ###....... ......###. ###....### ###....###
###....### ....###... .......### ...######. .###...### ########.. ########.. ......###. .###..###. ####..####
###....### ....###... .....##### ...#####.. ###....### #########. #########. .....###.. ..######.. .#########
###....### ....###... ...#####.. ...######. ###....### ########## ####..#### .....###.. .########. ..########
###....### ....###... .#####.... .......### ########## .......### ###....### ....###... ####..#### .......###
###....### ....###... ####...... .......### ########## .......### ###....### ....###... ###....### .......###
###....### ....###... ###....... .......### ########## .......### ###....### ...###.... ###....### .......###
####..#### .######### ########## #########. .......### #########. ####..#### ...###.... ####..#### ......####
.########. .######### ########## #########. .......### #########. .########. ...###.... .########. ..#######.
..######.. .######### ########## ########.. .......### ########.. ..######.. ...###.... ..######.. ..######..`,
  ],
  [
    '.',
    `
...
...
...
...
...
...
...
...
...
...
...
###
###
###`,
  ],
  [
    '-+ ',
    `
....... .......... ...
....... .......... ...
....... .......... ...
....... ...####... ...
....... ...####... ...
....... ...####... ...
####### ########## ...
####### ########## ...
....... ...####... ...
....... ...####... ...
....... ...####... ...
....... .......... ...
....... .......... ...
....... .......... ...`,
  ],
);

/** Ten dots tall, five rows of text; with the letters of the words of trial and record. */
const medium = faceOf(
  [
    '0123456789.-+',
    `
.######. ...##... .######. .######. .....### ######## .######. ######## .######. .######. ... ...... ........
######## .####... ######## ######## ....#### ######## #######. ######## ######## ######## ... ...... ........
##....## .####... ##....## ......## ...##.## ##...... ##...... ......## ##....## ##....## ... ...... ...##...
##....## ...##... ......## ......## ..##..## ##...... ##...... .....##. ##....## ##....## ... ...... ...##...
##....## ...##... ....#### ..#####. .##...## #######. #######. .....##. .######. ######## ... ###### ########
##....## ...##... ..####.. ..#####. ##....## ######## ######## ....##.. .######. .####### ... ###### ########
##....## ...##... ####.... ......## ######## ......## ##....## ....##.. ##....## ......## ... ...... ...##...
##....## ...##... ##...... ......## ######## ......## ##....## ...##... ##....## ......## ... ...... ...##...
######## .######. ######## ######## ......## ######## ######## ...##... ######## .####### ##. ...... ........
.######. .######. ######## .######. ......## .######. .######. ...##... .######. .######. ##. ...... ........`,
  ],
  [
    '/x" CDEFGHIKL',
    `
.....## ........ ##..## ... .######. ######.. ######## ######## .####### ##....## #### ##....## ##......
.....## ........ ##..## ... ######## #######. ######## ######## ######## ##....## #### ##...### ##......
....##. ##....## ##..## ... ##....## ##...### ##...... ##...... ##...... ##....## .##. ##..###. ##......
....##. .##..##. ##..## ... ##...... ##....## ##...... ##...... ##...... ##....## .##. ##.###.. ##......
...##.. ..####.. ...... ... ##...... ##....## ######.. ######.. ##..#### ######## .##. #####... ##......
...##.. ...##... ...... ... ##...... ##....## ######.. ######.. ##..#### ######## .##. #####... ##......
..##... ..####.. ...... ... ##...... ##....## ##...... ##...... ##....## ##....## .##. ##.###.. ##......
..##... .##..##. ...... ... ##....## ##...### ##...... ##...... ##....## ##....## .##. ##..###. ##......
.##.... ##....## ...... ... ######## #######. ######## ##...... ######## ##....## #### ##...### ########
.##.... ........ ...... ... .######. ######.. ######## ##...... .######. ##....## #### ##....## ########`,
  ],
  [
    'NOPRSTUVWZ',
    `
##....## .######. #######. #######. .####### ######## ##....## ##....## ##....## ########
###...## ######## ######## ######## ######## ######## ##....## ##....## ##....## ########
###...## ##....## ##....## ##....## ##...... ...##... ##....## ##....## ##....## .....###
####..## ##....## ##....## ##....## ##...... ...##... ##....## ##....## ##....## ....###.
##.##.## ##....## ######## ######## #######. ...##... ##....## ##....## ##.##.## ...###..
##.##.## ##....## #######. #######. .####### ...##... ##....## .##..##. ##.##.## ..###...
##..#### ##....## ##...... ##..##.. ......## ...##... ##....## .##..##. ######## .###....
##...### ##....## ##...... ##..###. ......## ...##... ##....## ..####.. ###..### ###.....
##...### ######## ##...... ##...### ######## ...##... ######## ..####.. ##....## ########
##....## .######. ##...... ##....## #######. ...##... .######. ...##... ##....## ########`,
  ],
);

/** Six dots tall, three rows of text; with the letters of every word for a state. */
const small = faceOf(
  [
    '0123456789.-+/x" ',
    `
.####. ..##.. .####. #####. ..#### ###### .####. ###### .####. .####. .. .... ...... ...## ...... ##.## ...
##..## .###.. ##..## ....## .##.## ##.... ##.... ....## ##..## ##..## .. .... ..##.. ...## ##..## ##.## ...
##..## ..##.. ...##. ..###. ##..## #####. #####. ...##. .####. .##### .. #### ###### ..##. .####. ..... ...
##..## ..##.. ..##.. ....## ###### ....## ##..## ..##.. ##..## ....## .. #### ###### ..##. ..##.. ..... ...
##..## ..##.. .##... ....## ....## ....## ##..## ..##.. ##..## ....## ## .... ..##.. .##.. .####. ..... ...
.####. .####. ###### #####. ....## #####. .####. ..##.. .####. .####. ## .... ...... .##.. ##..## ..... ...`,
  ],
  [
    'CDEFGHIKLNOPRSTU',
    `
.####. #####. ###### ###### .##### ##..## #### ##..## ##.... ##..## .####. #####. #####. .##### ###### ##..##
##..## ##..## ##.... ##.... ##.... ##..## .##. ##.##. ##.... ###.## ##..## ##..## ##..## ##.... ..##.. ##..##
##.... ##..## #####. #####. ##.... ###### .##. ####.. ##.... ###### ##..## ##..## ##..## .####. ..##.. ##..##
##.... ##..## ##.... ##.... ##.### ##..## .##. ####.. ##.... ##.### ##..## #####. #####. ....## ..##.. ##..##
##..## ##..## ##.... ##.... ##..## ##..## .##. ##.##. ##.... ##..## ##..## ##.... ##.##. ....## ..##.. ##..##
.####. #####. ###### ##.... .##### ##..## #### ##..## ###### ##..## .####. ##.... ##..## #####. ..##.. .####.`,
  ],
  [
    'VWZABMY?',
    `
##..## ##..## ###### .####. #####. ##..## ##..## .####.
##..## ##..## ...##. ##..## ##..## ###### ##..## ##..##
##..## ##..## ..##.. ##..## #####. ###### .####. ...##.
##..## ###### .##... ###### ##..## ##..## ..##.. ..##..
.####. ###### ##.... ##..## ##..## ##..## ..##.. ......
..##.. ##..## ###### ##..## #####. ##..## ..##.. ..##..`,
  ],
);

/** From large to small; each with the dots between its characters. */
export const FACES: readonly { readonly face: DigitFace; readonly gap: number }[] = [
  { face: enlarged(large, 2), gap: 4 },
  { face: enlarged(medium, 2), gap: 3 },
  { face: large, gap: 2 },
  { face: medium, gap: 1 },
  { face: small, gap: 1 },
];

/** Drawn texts, kept: a bench shows the same few thousand numbers again and again. */
const drawn = new Map<string, readonly string[]>();
const KEPT_AT_MOST = 500;

/**
 * The text drawn as large as fits into `columns` by `rows`, all rows equally wide, and where it can be so that `usual` would fit.
 * Where nothing fits, or a character has no glyph, the text itself, on one row.
 */
export function bigText(
  text: string,
  columns: number,
  rows: number,
  glyphs: Glyphs,
  usual = '',
): readonly string[] {
  const key = `${text}|${columns}|${rows}|${glyphs}|${usual}`;
  const known = drawn.get(key);
  if (known) return known;
  if (drawn.size >= KEPT_AT_MOST) drawn.clear();
  const made = draw(text, columns, rows, glyphs, usual);
  drawn.set(key, made);
  return made;
}

function draw(text: string, columns: number, rows: number, glyphs: Glyphs, usual: string): readonly string[] {
  for (const { face, gap } of FACES) {
    if (face.height > 2 * rows) continue;
    const [dots, room] = [text, usual].map((each) => dotsOf(face, each, gap));
    // Of the small face each half of a row counts, also in ASCII.
    if (dots && [dots, room].every((each) => (each?.[0]?.length ?? 0) <= columns))
      return rowsOf(dots, face === small ? 'blocks' : glyphs);
  }
  return usual === '' ? [text] : draw(text, columns, rows, glyphs, '');
}

/** Columns that a text takes at the least where it is drawn. */
export const leastWidth = (text: string): number => dotsOf(small, text, 1)?.[0]?.length ?? 0;

/** A word in capitals, three rows tall and narrow, to be read from across the shop; no rows where it cannot be drawn. */
export function drawnWord(text: string, glyphs: Glyphs): readonly string[] {
  const dots = glyphs === 'all' ? dotsOf(small, text, 1) : undefined;
  if (!dots) return [];
  return canvas(Math.ceil((dots[0]?.length ?? 0) / 2), dots.length / 2, 'quarters', (x, y) =>
    isSet(dots, x, y),
  );
}

const isSet = (dots: readonly string[], x: number, y: number): boolean => dots[y]?.[x] === '#';

function rowsOf(dots: readonly string[], glyphs: Glyphs): readonly string[] {
  const [columns, rows] = [dots[0]?.length ?? 0, dots.length / 2];
  return glyphs === 'ascii'
    ? canvas(columns, rows, glyphs, (x, y) => isSet(dots, x, 2 * y) || isSet(dots, x, 2 * y + 1))
    : canvas(columns, rows, 'blocks', (x, y) => isSet(dots, x, y));
}

/** The same face with every dot `by` times as large. */
function enlarged(from: DigitFace, by: number): DigitFace {
  const wider = (row: string): string => [...row].map((dot) => dot.repeat(by)).join('');
  const glyphs = [...from.glyphs].map(([character, rows]): [string, readonly string[]] => [
    character,
    rows.flatMap((row) => Array.from({ length: by }, () => wider(row))),
  ]);
  return { height: from.height * by, glyphs: new Map(glyphs) };
}

/** A text's dots, row by row, with `gap` dots between characters; undefined when a character has no glyph. */
function dotsOf(of: DigitFace, text: string, gap: number): readonly string[] | undefined {
  const drawn: (readonly string[])[] = [];
  for (const character of text) {
    const glyph = of.glyphs.get(character);
    if (!glyph) return undefined;
    drawn.push(glyph);
  }
  const between = '.'.repeat(gap);
  return Array.from({ length: of.height }, (_, row) => drawn.map((glyph) => glyph[row] ?? '').join(between));
}
