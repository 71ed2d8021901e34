// A picture as cells in flat arrays, so that two pictures are compared without making an object per cell.
import { type Picture, STYLES, type Style } from './picture.ts';
import { clusters, isNarrow } from './text.ts';

/** The cell right of a wide character, which belongs to it. */
export const CONTINUED = 0;
const BLANK = 0x20;
// Clusters of several code points are numbered from here, beyond the last code point.
const FIRST_CLUSTER = 0x110000;

const styleIndex = new Map<Style, number>(STYLES.map((style, index) => [style, index]));
const plain = styleIndex.get('plain') ?? 0;

export interface Grid {
  readonly columns: number;
  readonly rows: number;
  /** A code point, CONTINUED, or the number of a cluster. */
  readonly chars: Uint32Array;
  /** Indices into STYLES. */
  readonly styles: Uint8Array;
  /** 1 for each row that holds a wide character. */
  readonly wide: Uint8Array;
}

export const makeGrid = (columns: number, rows: number): Grid => ({
  columns,
  rows,
  chars: new Uint32Array(columns * rows).fill(BLANK),
  styles: new Uint8Array(columns * rows).fill(plain),
  wide: new Uint8Array(rows),
});

/** Numbers for clusters that are more than one code point, such as a letter with a mark that has no letter of its own. */
export interface ClusterTable {
  readonly numbers: Map<string, number>;
  readonly texts: string[];
}
export const makeClusters = (): ClusterTable => ({ numbers: new Map(), texts: [] });

function codeOf(cluster: string, table: ClusterTable): number {
  const point = cluster.codePointAt(0) ?? BLANK;
  if (String.fromCodePoint(point) === cluster) return point;
  const known = table.numbers.get(cluster);
  if (known !== undefined) return known;
  const made = FIRST_CLUSTER + table.texts.length;
  table.texts.push(cluster);
  table.numbers.set(cluster, made);
  return made;
}

export const textOf = (code: number, table: ClusterTable): string =>
  code >= FIRST_CLUSTER ? (table.texts[code - FIRST_CLUSTER] ?? ' ') : String.fromCodePoint(code);

/** Paints a picture over everything a grid holds. What does not fit into the grid is left off. */
export function paint(grid: Grid, picture: Picture, table: ClusterTable): void {
  grid.chars.fill(BLANK);
  grid.styles.fill(plain);
  grid.wide.fill(0);
  for (let at = 0; at < grid.rows; at += 1) {
    let column = 0;
    for (const { text, style } of picture.rows[at] ?? []) {
      const index = styleIndex.get(style) ?? plain;
      column = isNarrow(text)
        ? paintNarrow(grid, at, column, text, index)
        : paintClusters(grid, at, column, text, index, table);
    }
  }
}

function paintNarrow(grid: Grid, at: number, from: number, text: string, style: number): number {
  const start = at * grid.columns + from;
  const count = Math.min(text.length, grid.columns - from);
  for (let i = 0; i < count; i += 1) {
    grid.chars[start + i] = text.charCodeAt(i);
    grid.styles[start + i] = style;
  }
  return from + count;
}

function paintClusters(
  grid: Grid,
  at: number,
  from: number,
  text: string,
  style: number,
  table: ClusterTable,
): number {
  let column = from;
  for (const cluster of clusters(text)) {
    if (column + cluster.width > grid.columns) return grid.columns;
    const cell = at * grid.columns + column;
    grid.chars[cell] = codeOf(cluster.text, table);
    grid.styles[cell] = style;
    if (cluster.width === 2) {
      grid.chars[cell + 1] = CONTINUED;
      grid.styles[cell + 1] = style;
      grid.wide[at] = 1;
    }
    column += cluster.width;
  }
  return column;
}
