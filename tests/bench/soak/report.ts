// Eight simulated hours at 25 readings a second: node --expose-gc --import tsx tests/bench/soak/report.ts [hours]
import { pathToFileURL } from 'node:url';
import { bundled } from '../../support/bundled.ts';
import { chanceFrom } from '../../support/chance.ts';
import { freshFolder } from '../../support/fresh-folder.ts';
import type { Sample } from './soak.ts';

const { outfile } = await bundled('tests/bench/soak/soak.ts');
const { slopeAnHour, soak }: typeof import('./soak.ts') = await import(pathToFileURL(outfile).href);

const WARM = 60;
const hours = Number(process.argv[2] ?? 8);
console.log(
  '| minute | heap MB | whole MB | listeners | jobs | log | median ms | 99th ms | cost ms | frames |',
);
console.log('| ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |');
const draw = chanceFrom(11).uniform;
const samples = await soak(hours, draw, freshFolder(), (s) =>
  console.log(
    `| ${s.minute} | ${s.heap.toFixed(2)} | ${s.whole.toFixed(2)} | ${s.listeners} | ${s.jobs} | ${s.entries} | ${s.median.toFixed(3)} | ${s.late.toFixed(3)} | ${s.cost.toFixed(3)} | ${s.frames} |`,
  ),
);
const warm = samples.filter(({ minute }) => minute >= WARM);
const hour = (from: number, value: (sample: Sample) => number): number => {
  const of = samples.filter(({ minute }) => minute > from && minute <= from + 60).map(value);
  return of.reduce((sum, each) => sum + each, 0) / of.length;
};
const lastOverSecond = (value: (sample: Sample) => number): string =>
  (hour(hours * 60 - 60, value) / hour(WARM, value)).toFixed(2);
const last = samples.at(-1);
console.log(
  `\nheap ${slopeAnHour(warm, ({ heap }) => heap).toFixed(3)} MB an hour after the first, whole ${slopeAnHour(warm, ({ whole }) => whole).toFixed(3)}`,
);
console.log(
  `the last hour over the second: latency ${lastOverSecond(({ median }) => median)}, processor time for each reading ${lastOverSecond(({ cost }) => cost)}`,
);
console.log(
  `listeners ${warm[0]?.listeners} to ${last?.listeners}, frames late by ${last?.drift} simulated ms at most, ${last?.jobs} jobs, ${((last?.bytes ?? 0) / (last?.frames ?? 1)).toFixed(0)} bytes a frame`,
);
