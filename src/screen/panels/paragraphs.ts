// Paragraphs, wrapped to the width: the welcome, the help.
import {
  type Block,
  emptyRow,
  type PanelRoom,
  row,
  rowWidth,
  run,
  type StyledRow,
  wrapped,
} from '../text.ts';

export interface Paragraphs {
  readonly paragraphs: readonly Paragraph[];
}

export interface Paragraph {
  readonly kind: 'title' | 'text' | 'key' | 'caution';
  /** The key's name, for a key. */
  readonly key?: string;
  readonly text: string;
  /** The same in a word or two, where there is little room; for keys. */
  readonly short?: string;
}

const INDENT = 2;
const KEY_WIDTH = 10;
/** Longer lines are hard to read from a bench. */
const WIDEST = 92;

/** Everything where it fits; else the keys in lines; else no blank rows either; else the cautions give way last to first. */
export function paragraphRows({ paragraphs }: Paragraphs, { columns, rows }: PanelRoom): Block {
  const width = Math.min(WIDEST, columns - 2 * INDENT);
  const groups = groupsOf(paragraphs);
  const whole = groups.map((group) => group.flatMap((paragraph) => drawn(paragraph, width)));
  const brief = groups.map((group) =>
    group[0]?.kind === 'key' ? keysInLines(group, width) : group.flatMap((one) => drawn(one, width)),
  );
  const ways = [parted(whole), parted(brief), brief.flat()];
  const lines = ways.find((block) => block.length <= rows) ?? squeezed(groups, width, rows);
  return lines.slice(0, rows).map((line) => (line.length === 0 ? line : [run(' '.repeat(INDENT)), ...line]));
}

/** Neighbours of one kind are a group; a title belongs to what follows it. */
function groupsOf(paragraphs: readonly Paragraph[]): readonly (readonly Paragraph[])[] {
  const groups: Paragraph[][] = [];
  for (const [at, paragraph] of paragraphs.entries()) {
    const last = groups.at(-1);
    if (last && !startsGroup(paragraphs, at)) last.push(paragraph);
    else groups.push([paragraph]);
  }
  return groups;
}

const parted = (blocks: readonly Block[]): Block =>
  blocks.flatMap((block, at) => (at > 0 ? [emptyRow, ...block] : block));

/** Text and keys whole, and as many of the cautions as there are rows left for. */
function squeezed(groups: readonly (readonly Paragraph[])[], width: number, rows: number): Block {
  const all = groups.flat();
  const text = all
    .filter(({ kind }) => kind === 'title' || kind === 'text')
    .flatMap((of) => drawn(of, width));
  const keys = keysInLines(all, width);
  const cautions: StyledRow[] = [];
  for (const paragraph of all.filter(({ kind }) => kind === 'caution')) {
    const lines = drawn(paragraph, width);
    if (text.length + cautions.length + lines.length + keys.length > rows) break;
    cautions.push(...lines);
  }
  return [...text, ...cautions, ...keys];
}

function keysInLines(paragraphs: readonly Paragraph[], width: number): Block {
  const keys = paragraphs.filter(({ kind }) => kind === 'key');
  const lines: StyledRow[] = [];
  let line: StyledRow = [];
  for (const { key = '', short, text } of keys) {
    const part = row(run(key, 'key'), run(` ${short ?? text}`));
    const longer = line.length > 0 ? [...line, run('   '), ...part] : part;
    if (rowWidth(longer) > width && line.length > 0) lines.push(line);
    line = rowWidth(longer) > width ? part : longer;
  }
  return line.length > 0 ? [...lines, line] : lines;
}

const startsGroup = (all: readonly Paragraph[], at: number): boolean =>
  at > 0 && all[at]?.kind !== all[at - 1]?.kind && all[at - 1]?.kind !== 'title';

/** Behind its key or its mark, where it has one. */
function drawn({ kind, key = '', text }: Paragraph, width: number): StyledRow[] {
  if (kind === 'title') return [row(run(text, 'title'))];
  const lead = kind === 'key' ? key.padEnd(KEY_WIDTH) : kind === 'caution' ? '▲ ' : '';
  const style = kind === 'caution' ? 'caution' : 'plain';
  return wrapped(text, width - lead.length).map((line, at) =>
    row(run(at === 0 ? lead : ' '.repeat(lead.length), kind === 'key' ? 'key' : style), run(line, style)),
  );
}
