// The body of a screen: the huge number with its label and state, the facts and the panel around it.
import { Box } from 'ink';
import type { ReactNode } from 'react';
import type { Glyphs } from './glyphs.ts';
import { barRows } from './panels/bar.ts';
import { formRows, jobRows, tableRows } from './panels/lists.ts';
import {
  drawnStanding,
  factColumn,
  factLines,
  leastNumber,
  numberRows,
  standingRows,
  USUAL_COUNTS,
  WORD_ROWS,
} from './panels/number.ts';
import { paragraphRows } from './panels/paragraphs.ts';
import { sectionRows } from './panels/section.ts';
import { traceRows } from './panels/trace.ts';
import { Rows, useLook } from './rows.tsx';
import type { Big, Figure, Panel, Scene } from './scene.ts';
import { type Block, centred, emptyRow, margin, type PanelRoom } from './text.ts';
import { byKind } from './words.ts';

/** Rows that the body has now, and those it usually has: so drawings keep their place when the sentences below grow. */
interface Space {
  readonly rows: number;
  readonly usual: number;
}
type BodyProps = Space & { readonly scene: Scene; readonly gap: number };
type NumberProps = BodyProps & { readonly big: Big };

/** From this many columns on, the figures are beside the number instead of under it. */
const WIDE = 110;
const FACTS_WIDTH = 32;

/** Rows of a body below which it has no blank rows within it, and from which on it stands clear of the head. */
const isSnug = ({ usual }: Space): boolean => usual < 13;
const isTall = ({ usual }: Space): boolean => usual >= 28;

/** Rows of a body from which on the word for its state is drawn large, legible from across the shop; without a panel fewer will do. */
const ROOM_FOR_A_WORD = 15;

export function Body(props: BodyProps): ReactNode {
  const { columns } = useLook();
  const { scene, rows } = props;
  const { big, panel } = scene;
  const parts = !big ? (
    panel && <PanelOf panel={panel} columns={columns} rows={rows} shown={rows} gap={0} />
  ) : panel?.kind === 'section' ? (
    <BesidePanel {...props} big={big} panel={panel} />
  ) : columns >= WIDE ? (
    <Wide {...props} big={big} />
  ) : (
    <Narrow {...props} big={big} />
  );
  return (
    <Box flexDirection="column" width={columns} height={rows} marginTop={props.gap} flexShrink={0}>
      {parts}
    </Box>
  );
}

/** Number, standing, facts, panel, from above to bottom. */
function Narrow({ scene, big, ...space }: NumberProps): ReactNode {
  const { columns, glyphs } = useLook();
  const snug = isSnug(space);
  const stood = standingAndFacts(scene, scene.facts, columns, space, glyphs);
  const most = space.usual - (snug ? 1 : 2) - stood.usual - wantedRows(scene, space);
  const number = [...numberRows(big, columns, most, glyphs), ...(snug ? [] : [emptyRow])];
  const upper = [...number, ...stood.rows].slice(0, space.rows);
  return (
    <>
      <Rows rows={upper} />
      <PanelBelow
        panel={scene.panel}
        {...space}
        usualAbove={number.length + stood.usual}
        above={upper.length}
      />
    </>
  );
}

/** The same with the facts in a column at the right. */
function Wide({ scene, big, ...space }: NumberProps): ReactNode {
  const { columns, glyphs } = useLook();
  const width = scene.facts.length > 0 ? columns - FACTS_WIDTH - 1 : columns;
  const [head, gap, foot] = isTall(space) ? [2, 2, 1] : [0, 1, 0];
  const stood = standingAndFacts(scene, [], width, space, glyphs);
  const most = space.usual - 2 - stood.usual - wantedRows(scene, space);
  const before = [...blankRows(head), ...numberRows(big, width, most, glyphs), ...blankRows(gap)];
  const above = before.length + stood.rows.length + foot;
  const facts = factColumn(scene.facts, FACTS_WIDTH, above);
  return (
    <>
      <Box width={columns} height={above} flexShrink={0}>
        <Box width={width + 1} flexShrink={0}>
          <Rows rows={[...before, ...stood.rows]} />
        </Box>
        <Rows rows={facts} gap={margin(above, facts.length)} />
      </Box>
      <PanelBelow
        panel={scene.panel}
        {...space}
        usualAbove={before.length + stood.usual + foot}
        above={above}
      />
    </>
  );
}

/** A panel under what ends at `above`. It starts and ends where it usually does, so it doesn't move when its neighbours change. */
function PanelBelow({
  panel,
  rows,
  usual,
  above,
  usualAbove,
}: Space & { readonly panel: Panel | null; readonly above: number; readonly usualAbove: number }): ReactNode {
  const { columns } = useLook();
  if (!panel) return null;
  const roomy = usual - usualAbove > 3 && usual >= 13;
  const start = Math.max(above, usualAbove + (roomy ? 1 : 0));
  const height = (panel.kind === 'bar' || panel.kind === 'trace' ? usual + 1 : rows) - start;
  if (rows <= start || height <= 0) return null;
  return <PanelOf panel={panel} columns={columns} rows={height} shown={rows - start} gap={start - above} />;
}

/** Columns for a number beside a panel: a length needs more than a count, and both must be legible from across the shop. */
const numberWidth = (big: Big, columns: number): number =>
  Math.max(
    leastNumber(big),
    big.text.length > 2
      ? Math.min(58, Math.floor(columns * 0.5))
      : Math.max(28, Math.min(48, Math.floor(columns * 0.38))),
  );

/** A number of a digit or two leaves room for the panel at its side. */
function BesidePanel({ scene, big, panel, ...space }: NumberProps & { readonly panel: Panel }): ReactNode {
  const { columns, glyphs } = useLook();
  const snug = isSnug(space);
  const [head, gap] = isTall(space) ? [2, 1] : [0, snug ? 0 : 1];
  const width = numberWidth(big, columns);
  const stood = standingAndFacts(scene, scene.facts, columns, space, glyphs);
  const number = numberRows(big, width, space.usual - 2 - stood.usual - gap, glyphs, USUAL_COUNTS);
  const height = Math.max(number.length, space.rows - head - gap - stood.rows.length);
  const usual = space.usual - head - gap - stood.usual - (snug ? 0 : 1);
  return (
    <>
      <Box width={columns} height={height} marginTop={head} columnGap={1} flexShrink={0}>
        <Box width={width} flexShrink={0}>
          <Rows rows={number} />
        </Box>
        <PanelOf panel={panel} columns={columns - width - 1} rows={usual} shown={height} gap={0} />
      </Box>
      <Rows rows={stood.rows.slice(0, Math.max(0, space.rows - head - gap - height))} gap={gap} />
    </>
  );
}

const blankRows = (count: number): Block => Array.from({ length: count }, () => emptyRow);

const wantedRows = ({ panel }: Scene, { usual }: Space): number => (panel ? panelHeight(panel, usual) : 0);

/** The state with its figures, and the rows that these usually take. */
function standingAndFacts(
  scene: Scene,
  facts: readonly Figure[],
  columns: number,
  space: Space,
  glyphs: Glyphs,
): { readonly rows: Block; readonly usual: number } {
  const { standing, panel } = scene;
  const snug = isSnug(space);
  const isRoomy = space.usual >= ROOM_FOR_A_WORD || (!panel && space.rows >= space.usual);
  const word = isRoomy ? drawnStanding(scene, facts, columns, glyphs) : [];
  const drawn = snug && word.length > WORD_ROWS ? [] : word;
  // A bar has many figures, and it keeps its place while they come and go.
  const many = facts.length > 0 && panel?.kind === 'bar' && !snug;
  if (drawn.length > 0) return { rows: drawn, usual: WORD_ROWS + (many ? 2 : 0) };
  const rows = [
    ...(standing ? standingRows(standing, columns, snug && panel ? 1 : 4) : [emptyRow]),
    ...factLines(facts, columns - 2, snug ? 1 : 2).lines,
  ];
  return { rows: rows.map((of) => centred(of, columns)), usual: many ? 3 : facts.length > 0 ? 2 : 1 };
}

type PanelProps = Omit<PanelRoom, 'glyphs'> & { readonly panel: Panel; readonly gap: number };

function PanelOf({ panel, gap, ...room }: PanelProps): ReactNode {
  const { glyphs } = useLook();
  return <Rows gap={gap} rows={panelRows(panel, { ...room, glyphs }).slice(0, Math.max(0, room.shown))} />;
}

const panelRows = byKind<Panel, Block, [room: PanelRoom]>({
  trace: traceRows,
  bar: barRows,
  section: sectionRows,
  table: tableRows,
  paragraphs: paragraphRows,
  form: formRows,
  jobs: jobRows,
});

/** The rows that are kept for a panel beside the huge number, out of those for both. */
function panelHeight(panel: Panel, rows: number): number {
  const small = rows < 13;
  const share = Math.max(4, Math.floor((rows - 5) * 0.4));
  if (panel.kind === 'bar') return small ? 1 : rows >= 20 ? 4 : 2;
  if (panel.kind === 'trace') return small ? 1 : share;
  if (panel.kind === 'table') return small ? 3 : Math.max(share, Math.min(6, panel.rows.length));
  return rows;
}
