// Draws the bar: a fill whose shape changes with the zone, the target's mark, and the reach that still runs beyond it.
import { type Block, type Run, row, run } from '../../picture.ts';
import { type Bar, type BarZone, ZONE_STYLE } from './bar.ts';

const FILL: { readonly [zone in BarZone]: string } = { far: '░', near: '▒', at: '█', under: '▓', past: '×' };
const TRACK = '·';
const RUNS = '─';
const TARGET = '◆';
const LOOSEST = '┤';

export function drawBar(bar: Bar, columns: number, rows: number): Block {
  const width = Math.max(4, columns - 2);
  const at = (share: number): number => Math.round(share * (width - 1));
  const target = at(bar.target);
  const filled = bar.filled === null ? 0 : at(bar.filled) + 1;
  const fill = bar.zone ? FILL[bar.zone] : TRACK;
  const style = bar.stale ? 'stale' : bar.zone ? ZONE_STYLE[bar.zone] : 'quiet';
  const track = Array.from({ length: width }, (_, column) => beyond(bar, column, at)).join('');
  const part = (from: number, to: number): readonly Run[] => {
    const edge = Math.max(from, Math.min(to, filled));
    return [run(fill.repeat(edge - from), style), run(track.slice(edge, to), 'quiet')];
  };
  const line = row(' ', ...part(0, target), run(TARGET, 'at'), ...part(target + 1, width));
  const under = row(
    run(' '.repeat(Math.max(0, 1 + target - Math.floor(bar.targetText.length / 2)))),
    run(bar.targetText, 'quiet'),
  );
  const thick = rows > 4 ? [line, line] : [line];
  return [...thick, under].slice(0, Math.max(0, rows));
}

const beyond = (bar: Bar, column: number, at: (share: number) => number): string => {
  if (column < at(bar.target)) return TRACK;
  if (column === at(bar.loosest)) return LOOSEST;
  return column < at(bar.loosest) ? RUNS : ' ';
};
