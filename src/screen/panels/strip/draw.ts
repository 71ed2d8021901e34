// Draws the strip: every stage by name with its bead, or beads alone with one name where it is narrow.
import { type Row, row, rowWidth, run } from '../../picture.ts';
import type { StripStage } from './strip.ts';

const BEAD = { done: '●', here: '◆', ahead: '○' } as const;

export function drawStrip(stages: readonly StripStage[], columns: number): Row {
  for (const gap of ['  ', ' ']) {
    const named = withNames(stages, gap);
    if (rowWidth(named) <= columns) return named;
  }
  return beads(stages);
}

const withNames = (stages: readonly StripStage[], gap: string): Row =>
  row(
    ...stages.flatMap(({ name, state }, at) => [
      run(at === 0 ? ' ' : gap),
      run(BEAD[state], state === 'here' ? 'title' : state),
      run(gap.length > 1 ? ' ' : ''),
      run(name, state),
    ]),
  );

const beads = (stages: readonly StripStage[]): Row =>
  row(
    ' ',
    ...stages.flatMap(({ name, state }, at) => [
      run(at === 0 ? '' : '─', 'quiet'),
      run(BEAD[state], state === 'here' ? 'title' : state),
      ...(state === 'here' ? [run(' '), run(name, 'here'), run(' ')] : []),
    ]),
  );
