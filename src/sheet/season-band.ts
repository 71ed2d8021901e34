// The humidity in which the pair runs, as a band from 0 to 100 %: both equations, since a forecast is a range and not a point.
import { type JobSeason, MADE } from '../core/bench/seasons.ts';
import { inPercent } from '../core/units.ts';
import { drawing, element, line, text } from './svg.ts';

const WIDTH = 182;
const [LEFT, RIGHT, TOP] = [10, 172, 7];
const NAMES = { handbook: 'Wood Handbook equation', newer: 'newer equation' } as const;

const x = (percent: number): number => LEFT + ((RIGHT - LEFT) * percent) / 100;

export function seasonDrawing(seasons: readonly JobSeason[]): string {
  const bands = seasons.map(({ by, season }, at) => {
    const y = TOP + at * 6;
    if (season.kind !== 'runs') return text(LEFT, y + 3, `${NAMES[by]}: no humidity in which it surely runs`);
    const [from, to] = [inPercent(season.from.humidity), inPercent(season.to.humidity)];
    const bar = element('rect', {
      x: x(from),
      y,
      width: x(to) - x(from),
      height: 4,
      fill: '#c9d6cf',
      stroke: '#222',
      'stroke-width': 0.2,
    });
    return (
      bar +
      text((x(from) + x(to)) / 2, y + 3, `${NAMES[by]}: ${from.toFixed(0)} to ${to.toFixed(0)} %`, {
        'text-anchor': 'middle',
      })
    );
  });
  const foot = TOP + seasons.length * 6 + 2;
  const ticks = [0, 20, 40, 60, 80, 100].map(
    (percent) =>
      line(x(percent), foot, x(percent), foot + 1.5) +
      text(x(percent), foot + 5, `${percent} %`, { 'text-anchor': 'middle' }),
  );
  const made = inPercent(MADE.humidity);
  const mark =
    line(x(made), TOP - 2, x(made), foot, { 'stroke-dasharray': '1 1' }) +
    text(x(made) + 1, TOP - 2, `made at ${made.toFixed(0)} % (taken)`);
  return drawing(
    WIDTH,
    foot + 7,
    'Humidity in which the lid runs',
    line(LEFT, foot, RIGHT, foot) + ticks.join('') + bands.join('') + mark,
  );
}
