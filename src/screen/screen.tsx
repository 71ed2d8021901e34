// The whole screen as Ink draws it: a head of two rows, the body, and the foot.
import { Box } from 'ink';
import type { ReactNode } from 'react';
import type { Bench } from '../core/bench/state.ts';
import { Body } from './body.tsx';
import { footRows, headRows } from './head-and-foot.ts';
import { type Look, LookContext, Rows } from './rows.tsx';
import { MARKS, type Scene } from './scene.ts';
import { sceneOf } from './scenes/scene-of.ts';
import { type Block, clipped, row, run, type Style, wrapped } from './text.ts';

/** Below this the screen says what is too small, and shows the number and what to do. */
const LEAST = { columns: 60, rows: 16 } as const;
/** Rows from which on a blank one follows the head. */
const ROOMY = 22;
/** Rows that the foot usually takes: notice, next step, caution, keys, and one spare for a second line. */
const USUAL_FOOT = 5;

export interface ScreenProps {
  readonly bench: Bench;
  readonly look: Look;
}

export function Screen({ bench, look }: ScreenProps): ReactNode {
  const { columns, rows } = look;
  const small = columns < LEAST.columns || rows < LEAST.rows;
  return (
    <LookContext value={look}>
      <Box flexDirection="column" width={columns} height={rows}>
        {small ? <TooSmall scene={sceneOf(bench)} {...look} /> : <Parts bench={bench} {...look} />}
      </Box>
    </LookContext>
  );
}

function Parts({ bench, columns, rows }: Look & { readonly bench: Bench }): ReactNode {
  const scene = sceneOf(bench);
  const roomy = rows >= ROOMY;
  const head = roomy ? 3 : 2;
  const foot = footRows(bench, scene, columns, roomy);
  return (
    <>
      <Rows rows={headRows(bench, scene, columns)} />
      <Body
        scene={scene}
        rows={rows - head - foot.length}
        usual={rows - head - USUAL_FOOT}
        gap={roomy ? 1 : 0}
      />
      <Rows rows={foot} />
    </>
  );
}

/** The number, the state and what to do, in the few rows there are; the last one says what is too small. */
function TooSmall({ scene, columns, rows }: Look & { readonly scene: Scene }): ReactNode {
  const { big, standing, next, caution, title } = scene;
  const said = (text: string, style: Style): Block =>
    wrapped(text, columns).map((line) => row(run(line, style)));
  const lines: Block = [
    row(run(title, 'title')),
    ...(big ? [row(run(`${big.text} ${big.unit}`.trim(), big.style), run(` ${big.label}`, 'quiet'))] : []),
    ...(standing ? [row(run(`${standing.mark} ${standing.word}`, standing.style))] : []),
    ...said(next, 'next'),
    ...(caution ? said(`${MARKS.alert} ${caution}`, 'caution') : []),
  ];
  const shown = lines.slice(0, rows - 1).map((line) => clipped(line, columns));
  const complaint = `${columns}x${rows} is too small: ${LEAST.columns}x${LEAST.rows} shows all`;
  return (
    <>
      <Rows rows={shown} />
      <Rows rows={[clipped(row(run(complaint, 'bad')), columns)]} gap={rows - 1 - shown.length} />
    </>
  );
}
