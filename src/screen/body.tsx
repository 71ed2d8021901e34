// The body of a screen: the huge number with its label and standing, the facts and the panel around it.
import { Box } from 'ink';
import type { ReactNode } from 'react';
import { factColumn, factLines } from './facts.ts';
import { NumberPanel, numberRows } from './panels/number.tsx';
import { PanelOf, panelHeight } from './panels/panel.tsx';
import { Rows, useLook } from './rows.tsx';
import type { Big, Panel, Scene } from './scene.ts';
import { type Block, centred, emptyRow, margin, row, run } from './styled-text.ts';
import { atMost, shorten, textWidth, wrapped } from './text.ts';

/** Rows that the body has now, and those it usually has: what is drawn keeps its place whatever the sentences below it take. */
interface Space {
  readonly rows: number;
  readonly usual: number;
}
type BodyProps = Space & { readonly scene: Scene; readonly gap: number };
type NumberProps = BodyProps & { readonly big: Big };

/** From this many columns on, the figures stand beside the number instead of under it. */
const WIDE = 110;
const FACTS_WIDTH = 32;

/** Rows of a body below which it has no blank rows within it, and from which on it stands clear of the head. */
const isSnug = ({ usual }: Space): boolean => usual < 13;
const isTall = ({ usual }: Space): boolean => usual >= 28;

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

/** Label, number, standing, facts, panel, from above to bottom. */
function Narrow({ scene, big, ...space }: NumberProps): ReactNode {
  const { columns, glyphs } = useLook();
  const snug = isSnug(space);
  const gap = snug ? 0 : 1;
  const usualFacts = scene.panel?.kind === 'bar' && !snug ? 2 : 1;
  const most = space.usual - 2 - gap - usualFacts - wantedRows(scene, space);
  const digits = numberRows(big, columns, most, glyphs);
  const above = 1 + digits.length + gap;
  const standing = standingRows(scene, columns, snug).slice(0, Math.max(0, space.rows - above));
  const facts = factLines(scene.facts, columns, snug ? 1 : 2).slice(
    0,
    Math.max(0, space.rows - above - standing.length),
  );
  return (
    <>
      <NumberPanel big={big} columns={columns} rows={digits} />
      <Rows rows={standing} gap={gap} />
      <Rows rows={facts} />
      <PanelBelow
        panel={scene.panel}
        {...space}
        usualAbove={above + 1 + usualFacts}
        above={above + standing.length + facts.length}
      />
    </>
  );
}

/** The same with the facts in a column at the right. */
function Wide({ scene, big, ...space }: NumberProps): ReactNode {
  const { columns, glyphs } = useLook();
  const width = scene.facts.length > 0 ? columns - FACTS_WIDTH - 1 : columns;
  const [head, gap, foot] = isTall(space) ? [2, 2, 1] : [0, 1, 0];
  const digits = numberRows(big, width, space.usual - 3 - wantedRows(scene, space), glyphs);
  const standing = standingRows(scene, width, isSnug(space));
  const above = head + 1 + digits.length + gap;
  const facts = factColumn(scene.facts, FACTS_WIDTH, above + standing.length + foot);
  return (
    <>
      <Box width={columns} flexShrink={0}>
        <Box flexDirection="column" width={width} marginTop={head} marginBottom={foot} flexShrink={0}>
          <NumberPanel big={big} columns={width} rows={digits} />
          <Rows rows={standing} gap={gap} />
        </Box>
        <Box marginLeft={1} flexShrink={0}>
          <Rows rows={facts} gap={margin(above + standing.length + foot, facts.length)} />
        </Box>
      </Box>
      <PanelBelow
        panel={scene.panel}
        {...space}
        usualAbove={above + 1 + foot}
        above={above + standing.length + foot}
      />
    </>
  );
}

/** A panel under what ends at `above`. It starts where it usually does, and ends there too, whatever stands around it. */
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

/** Columns for a number beside a panel: a length needs more than a count. */
const numberWidth = ({ text }: Big, columns: number): number =>
  text.length > 2
    ? Math.min(58, Math.floor(columns * 0.5))
    : Math.max(28, Math.min(48, Math.floor(columns * 0.38)));

/** A number of a digit or two leaves room for the panel at its side. */
function BesidePanel({ scene, big, panel, ...space }: NumberProps & { readonly panel: Panel }): ReactNode {
  const { columns, glyphs } = useLook();
  const snug = isSnug(space);
  const [head, gap] = isTall(space) ? [2, 1] : [0, snug ? 0 : 1];
  const width = numberWidth(big, columns);
  const standing = standingRows(scene, columns, snug);
  const digits = numberRows(big, width, space.usual - 4 - (snug ? 0 : 2), glyphs);
  const most = space.rows - head - gap - standing.length;
  const facts = factLines(scene.facts, columns, snug ? 1 : 2).slice(0, Math.max(0, most - digits.length - 1));
  const height = Math.max(0, most - facts.length);
  const usual = space.usual + 1 - head - gap - (snug ? 2 : 3);
  return (
    <>
      <Box width={columns} height={height} marginTop={head} columnGap={1} flexShrink={0}>
        <Box flexDirection="column" width={width} flexShrink={0}>
          <NumberPanel big={big} columns={width} rows={digits.slice(0, Math.max(0, height - 1))} />
        </Box>
        <PanelOf panel={panel} columns={columns - width - 1} rows={usual} shown={height} gap={0} />
      </Box>
      <Rows rows={standing} gap={gap} />
      <Rows rows={facts} />
    </>
  );
}

const wantedRows = ({ panel }: Scene, { usual }: Space): number => (panel ? panelHeight(panel, usual) : 0);

/** The standing on one row; where it is too long for one, on up to four, if no panel wants them. */
function standingRows({ standing, panel }: Scene, columns: number, snug: boolean): Block {
  if (!standing) return [emptyRow];
  const { mark, word, about, style } = standing;
  const room = Math.max(1, columns - textWidth(word) - 6);
  const [first = '', ...more] = snug && panel ? [shorten(about, room)] : wrapped(about, room);
  const rest = more.length > 0 ? atMost(wrapped(more.join(' '), columns - 2), 3, columns - 2) : [];
  const rows = [row(run(`${mark} ${word}`, style), run(`  ${first}`)), ...rest.map((line) => row(line))];
  return rows.map((of) => centred(of, columns));
}
