// The job sheet: one printed page as HTML, with the drawings to scale, what was aimed at and what was reached.

import { CAUTIONS } from '../core/bench/cautions.ts';
import { clearanceInDoubt } from '../core/bench/doubt.ts';
import type { Job } from '../core/bench/job.ts';
import { seasonsOf } from '../core/bench/seasons.ts';
import type { Part } from '../core/bench/setup.ts';
import { aimOf, expectedOf } from '../core/bench/target.ts';
import { pitchText } from '../core/bench/texts.ts';
import { inDegrees, type LengthUnit, mm } from '../core/units.ts';
import { withUnit } from './figures.ts';
import { jointDrawing } from './joint.ts';
import { profileDrawing } from './profile.ts';
import { seasonDrawing } from './season-band.ts';
import { element, escaped } from './svg.ts';

type Line = readonly [what: string, figure: string];

const STYLE = `@page{size:A4;margin:14mm}
*{box-sizing:border-box}body{font:10pt/1.35 sans-serif;color:#222;max-width:182mm;margin:0 auto}
h1{font-size:16pt;margin:0 0 1mm}h2{font-size:11pt;margin:4mm 0 1mm;border-bottom:.3mm solid #888}
p{margin:0 0 1mm}.two{display:grid;grid-template-columns:1fr 1fr;gap:6mm}
table{width:100%;border-collapse:collapse}th{text-align:left;font-weight:normal}td{text-align:right;font-weight:bold}
th,td{padding:.4mm 0;border-bottom:.1mm solid #ccc;vertical-align:top}svg{max-width:100%;height:auto}
ul{margin:0;padding-left:5mm}.notes{white-space:pre-wrap;overflow-wrap:anywhere}h1{overflow-wrap:anywhere}`;

function table(title: string, lines: readonly Line[]): string {
  if (lines.length === 0) return '';
  const rows = lines.map(
    ([what, figure]) => `<tr><th scope="row">${escaped(what)}</th><td>${escaped(figure)}</td></tr>`,
  );
  return `<section><h2>${escaped(title)}</h2><table><tbody>${rows.join('')}</tbody></table></section>`;
}

function setupLines({ setup }: Job, unit: LengthUnit): readonly Line[] {
  const threaded: readonly Line[] = [
    ['pitch', `${pitchText(setup.pitch)}${setup.starts > 1 ? `, ${setup.starts} starts` : ''}`],
    ['cutter', `${setup.cutter.name}, ${inDegrees(setup.cutter.angle).toFixed(0)}°`],
    [
      'feed',
      setup.feed ? `${setup.feed.name}, ${setup.feed.perDetent.toFixed(3)} mm a detent` : 'not counted',
    ],
  ];
  return [
    ['wood', setup.wood ?? 'not said'],
    ...(setup.lidWood === undefined ? [] : [['wood of the lid', setup.lidWood] as const]),
    ['fit', setup.fit === 'plain' ? 'plain, no thread' : 'threaded'],
    ['bored part', setup.bored],
    ...(setup.fit === 'plain' ? [] : threaded),
    ['wanted clearance', withUnit(setup.wanted, unit)],
    ...(setup.learned ? [['learned from trials', withUnit(setup.learned.shift, unit)] as const] : []),
  ];
}

function depthLine(job: Job, part: Part, unit: LengthUnit): readonly Line[] {
  const name = part === 'female' ? 'bore thread depth' : 'spigot thread depth';
  const { cut } = job.threads[part];
  if (!cut) return [[name, `${withUnit(job.setup.depth[part], unit)} planned`]];
  const counted = cut.detents === null ? '' : `, ${cut.detents} detents`;
  return [[name, `${withUnit(cut.depth, unit)}${counted}${cut.proven ? '' : ', not proven'}`]];
}

function figureLines(job: Job, unit: LengthUnit): readonly Line[] {
  const aim = aimOf(job);
  const { bore, spigot, zero } = job;
  const threads =
    job.setup.fit === 'plain' ? [] : [...depthLine(job, 'female', unit), ...depthLine(job, 'male', unit)];
  return [
    ...(zero ? [['zero error taken off', withUnit(zero.error, unit)] as const] : []),
    ...(bore ? [['bore', `${withUnit(bore.diameter, unit)}, ${bore.how}`] as const] : []),
    ...(aim.kind === 'aim'
      ? ([
          ['spigot target', withUnit(aim.target, unit)],
          ['runs between', `${withUnit(mm(aim.low), unit)} and ${withUnit(mm(aim.high), unit)}`],
        ] as const)
      : []),
    ...(spigot ? [['spigot reached', withUnit(spigot.diameter, unit)] as const] : []),
    ...threads,
  ];
}

function fitLines(job: Job, unit: LengthUnit): readonly Line[] {
  const expected = job.spigot ? expectedOf(job, job.spigot.diameter) : null;
  const doubt = clearanceInDoubt(job);
  if (expected?.kind !== 'expected') return [];
  const give = doubt ? ` ± ${withUnit(mm(doubt.expanded95), unit)} at 95 %` : '';
  return [
    ['expected clearance', `${withUnit(expected.clearance, unit)}${give}`],
    ['expected fit', expected.word],
    ...(expected.fit ? [['engagement', `${(100 * expected.fit.engagement).toFixed(0)} %`] as const] : []),
    ...(doubt ? [['most of the doubt from', doubt.largest.name] as const] : []),
  ];
}

const trialLines = (job: Job): readonly Line[] =>
  job.trials.map(({ verdict, relieved }, at) => [
    `trial ${at + 1}`,
    `${verdict}${relieved ? ', then crests relieved' : ''}`,
  ]);

function grainLines({ grain }: Job, unit: LengthUnit): readonly Line[] {
  if (!grain) return [];
  return [
    [
      'grain',
      `${inDegrees(grain.angle).toFixed(0)}° to go: take ${withUnit(grain.trim, unit)} off the shoulder`,
    ],
  ];
}

/** The whole page. `made` is the day it was made on, for people. Every text from a person is escaped. */
export function sheetPage(job: Job, unit: LengthUnit, made: string): string {
  const seasons = seasonsOf(job);
  const drawings = [jointDrawing(job, unit), profileDrawing(job, unit)].flatMap((svg) =>
    svg ? [`<div>${svg}</div>`] : [],
  );
  const notes =
    job.notes.length === 0
      ? ''
      : `<section><h2>Notes</h2><p class="notes">${escaped(job.notes.join(' · ').slice(0, 900))}</p></section>`;
  const state = job.closed ? `closed: ${job.closed.how}` : `open at ${job.stage}`;
  const body = [
    `<h1>${escaped(job.name)}</h1><p>job sheet of ${escaped(made)}, ${escaped(state)}</p>`,
    `<div class="two">${table('Job', setupLines(job, unit))}${table('Diameters and depths', figureLines(job, unit))}</div>`,
    drawings.length === 0 ? '' : `<div class="two">${drawings.join('')}</div>`,
    `<div class="two">${table('Fit', [...fitLines(job, unit), ...grainLines(job, unit)])}${table('Trials', trialLines(job))}</div>`,
    seasons
      ? `<section><h2>Room humidity in which the lid runs, at 20 °C</h2>${seasonDrawing(seasons)}</section>`
      : '',
    notes,
    `<section><h2>Cautions</h2><ul>${Object.values(CAUTIONS)
      .map((caution) => `<li>${escaped(caution)}</li>`)
      .join('')}</ul></section>`,
  ];
  const head = `<meta charset="utf-8"><title>${escaped(job.name)}: job sheet</title><style>${STYLE}</style>`;
  return `<!DOCTYPE html>\n<html lang="en"><head>${head}</head><body><main>${body.join('\n')}</main></body></html>\n`;
}

/** The drawings alone, one under the other, as one SVG; null where there is nothing to draw yet. */
export function sheetDrawing(job: Job, unit: LengthUnit): string | null {
  const parts = [jointDrawing(job, unit), profileDrawing(job, unit)].flatMap((svg) => svg ?? []);
  if (parts.length === 0) return null;
  const sizes = parts.map((svg) => Number(/height="([\d.]+)mm"/.exec(svg)?.[1] ?? 0));
  const placed = parts.map((svg, at) => {
    const y = sizes.slice(0, at).reduce((sum, size) => sum + size + 4, 0);
    return element('g', { transform: `translate(0 ${y})` }, svg);
  });
  const height = sizes.reduce((sum, size) => sum + size + 4, 0);
  return element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      viewBox: `0 0 92 ${height}`,
      width: '92mm',
      height: `${height}mm`,
    },
    placed.join(''),
  );
}
