// A face: glyphs drawn as dots, a dot as wide as a column and half as tall as a row, so that dots come out square.

export interface Face {
  /** Dots. */
  readonly height: number;
  readonly glyphs: ReadonlyMap<string, readonly string[]>;
}

/** A face from drawings, `#` for a dot: one drawing per character, its rows on lines of their own. */
export function face(height: number, drawings: { readonly [character: string]: string }): Face {
  const glyphs = Object.entries(drawings).map(([character, drawing]): [string, readonly string[]] => [
    character,
    drawing.trim().split(/\s+/),
  ]);
  return { height, glyphs: new Map(glyphs) };
}

/** The same face with every dot `by` times as large. */
export function enlarged(from: Face, by: number): Face {
  const wider = (row: string): string => [...row].map((dot) => dot.repeat(by)).join('');
  const glyphs = [...from.glyphs].map(([character, rows]): [string, readonly string[]] => [
    character,
    rows.flatMap((row) => Array.from({ length: by }, () => wider(row))),
  ]);
  return { height: from.height * by, glyphs: new Map(glyphs) };
}

/** A text's dots, row by row, with `gap` dots between characters; undefined when a character has no glyph. */
export function dotsOf(of: Face, text: string, gap: number): readonly string[] | undefined {
  const drawn: (readonly string[])[] = [];
  for (const character of text) {
    const glyph = of.glyphs.get(character);
    if (!glyph) return undefined;
    drawn.push(glyph);
  }
  const between = '.'.repeat(gap);
  return Array.from({ length: of.height }, (_, row) => drawn.map((glyph) => glyph[row] ?? '').join(between));
}
