// The rocking benchmark: `npx tsx tests/bench/rocking/run.ts [traces] [first seed]` prints the model, a row for each hand, and costs;
// with `--trade-off` what it would cost to refuse the wrong answers that are kept.
import { addReading, startCapture } from '../../../src/core/measure/capture.ts';
import { defaultSettings } from '../../../src/core/measure/capture-settings.ts';
import type { Reading } from '../../../src/core/measure/reading.ts';
import { verdictOf } from '../../../src/core/measure/verdict.ts';
import { processorMs } from '../../support/processor.ts';
import { type Conditions, measure, type Outcomes } from './measure.ts';
import { PLAIN, simulateRock } from './simulate.ts';
import { printTradeOff } from './trade-off.ts';

const MODEL = `The model, every trace from its own seed:
  work      diameters from 18 to 95 mm; a bore shows the chord sqrt(D^2 - 4 e^2), an outside sqrt(D^2 + 4 e^2), over cos(tilt)
  hands     strokes: planned from side to side, 5 to 9 of them, 1.5 to 5 mm and 0.5 to 1.4 s each, between a cosine and a
            minimum-jerk reach, leaning, early or late, resting at the ends and under way, turning back before the diameter
            (1 in 14), badly seated (1 in 15, 0.05 mm at the mean), with tremor of three waves of 6 to 11 Hz
            pulled: a mass on a damped spring whose end is thrown about at chance moments; overshoots, rings, wanders, unseats
  coming    the jaws held elsewhere, slid to the work at 15 to 90 mm/s, away again at the end; sometimes from beyond the size
  caliper   8 readings a second where a row gives no other, uneven by 7 %, flicker 0.002 mm, steps of 0.01 mm
            any rate: 5, 8, 10, 16 or 25 a second
  damage    a share of frames, half alone and half in bursts of 2 to 4: a flipped bit 0 to 19, up to 60 steps off, or anything
  tilt      one uniform draw within plus or minus this many degrees for each trace, and the capture set to that range
  truth     the diameter; where the zero slips or drifts, the diameter as shown at the beginning; walking along a taper or
            round an oval, halfway
  told      wrong, and by more than 0.05 mm as well for the other bore, if any, that shows the very same line under another hand
            (simulate.ts); within 2 u of either. What refusing them costs: --trade-off
  not in it the caliper's own limit of error (the budget of the fit has it), readings averaged inside the caliper, temperature`;

interface Row {
  readonly name: string;
  readonly of: Partial<Conditions>;
  /** Most doubtful captures, in percent, where a turner who rocks well should not have to rock again. */
  readonly doubtful?: number;
}

const ROWS: readonly Row[] = [
  { name: 'clean', of: {}, doubtful: 5 },
  { name: 'clean, 12 strokes', of: { strokes: 12 }, doubtful: 5 },
  { name: '1 % damaged', of: { damage: 0.01 }, doubtful: 10 },
  { name: '3 % damaged', of: { damage: 0.03 }, doubtful: 10 },
  { name: '4 a second', of: { rate: 4 } },
  { name: '20 a second', of: { rate: 20 }, doubtful: 5 },
  { name: 'any rate, 0.0005 in', of: { rate: 'any', unit: 'in' }, doubtful: 10 },
  { name: 'tilt 1 degree', of: { tiltDegrees: 1 }, doubtful: 5 },
  { name: 'tilt 2 degrees', of: { tiltDegrees: 2 }, doubtful: 5 },
  { name: 'noise 0.01 mm', of: { noise: 0.01 } },
  { name: 'tremor three times', of: { tremor: 3 }, doubtful: 5 },
  { name: 'hasty by 1.7', of: { pace: 1.7 } },
  { name: 'pulled', of: { hand: 'pulled' }, doubtful: 5 },
  { name: 'pulled, 1 % damaged', of: { hand: 'pulled', damage: 0.01 }, doubtful: 10 },
  { name: 'pulled, 4 a second', of: { hand: 'pulled', rate: 4 } },
  { name: 'pulled, 20 a second', of: { hand: 'pulled', rate: 20 }, doubtful: 5 },
  { name: 'pulled, any rate, tilt 1', of: { hand: 'pulled', rate: 'any', tiltDegrees: 1 }, doubtful: 5 },
  {
    name: 'the same, 12 throws',
    of: { hand: 'pulled', rate: 'any', tiltDegrees: 1, strokes: 12 },
    doubtful: 5,
  },
  { name: 'outside', of: { side: 'outside' }, doubtful: 5 },
  { name: 'outside, pulled', of: { side: 'outside', hand: 'pulled' }, doubtful: 5 },
  { name: 'outside, 3 % damaged', of: { side: 'outside', damage: 0.03 }, doubtful: 10 },
  { name: 'leaning', of: { how: 'leaning' } },
  { name: 'oval, held one way', of: { trouble: 'oval' } },
  { name: 'walking along a taper', of: { trouble: 'taper' } },
  { name: 'drift', of: { trouble: 'drift' } },
  { name: 'zero slips', of: { trouble: 'slip' } },
  { name: 'zero slips, 10 strokes', of: { trouble: 'slip', strokes: 10 } },
  { name: 'square, no curve', of: { trouble: 'square' } },
  { name: 'one-sided', of: { how: 'one-sided' } },
  { name: 'held off the diameter', of: { how: 'held-off' } },
  { name: 'rocked short of it', of: { how: 'short' } },
  { name: 'clipped below the peak', of: { trouble: 'clipped' } },
];

/** What a row misses: kept and wrong beyond 0.05 mm more than once in 1,000, doubtful too often, or an uncertainty that is not so. */
function missesOf({ doubtful }: Row, of: Outcomes): readonly string[] {
  const refused = 1 - of.steady / of.traces;
  return [
    ...(of.told.length > of.traces / 1000 ? ['wrong'] : []),
    ...(doubtful !== undefined && 100 * refused > doubtful ? [`doubtful over ${doubtful} %`] : []),
    ...(of.steady > 0 && (of.covered < 0.9 || of.covered > 0.98) ? ['within 2 u'] : []),
  ];
}

function printRow(row: Row, traces: number, from: number): boolean {
  const of = measure(traces, from, { ...PLAIN, ...row.of });
  const misses = missesOf(row, of);
  const most = Object.entries(of.doubtful)
    .toSorted((a, b) => b[1] - a[1])
    .slice(0, 3)
    .map(([kind, count]) => `${kind} ${count}`);
  const um = (length: number) => (1000 * length).toFixed(1).padStart(7);
  const share = (part: number) => (100 * part).toFixed(1).padStart(6);
  const found = of.steady > 0 ? `${um(of.rms)} ${um(of.bias)} ${um(of.meanStandard)}` : ' '.repeat(23);
  const within = of.steady > 0 ? share(of.covered) : '      ';
  const note = misses.length > 0 ? `MISSED: ${misses.join(', ')}` : 'met';
  console.log(
    `${row.name.padEnd(25)} ${found} ${String(of.farOut.length).padStart(5)} ${String(of.told.length).padStart(4)} ${share(1 - of.steady / traces)} ${within}  ${note} (${most.join(', ')})`,
  );
  return misses.length === 0;
}

/** Microseconds of processor time for a reading and its verdict: the least of many rounds. */
function costOf(traces: readonly (readonly Reading[])[]): number {
  let least = Number.POSITIVE_INFINITY;
  for (let round = 0; round < 20; round++) {
    const began = processorMs();
    for (const readings of traces) {
      let growing = startCapture(defaultSettings('bore'));
      for (const reading of readings) {
        growing = addReading(growing, reading);
        verdictOf(growing);
      }
    }
    least = Math.min(least, (processorMs() - began) * 1000);
  }
  return least / traces.reduce((sum, readings) => sum + readings.length, 0);
}

function printCosts(): boolean {
  const hands = Array.from({ length: 100 }, (_, i) => simulateRock(i + 1, PLAIN).readings);
  const rocks = simulateRock(7, { ...PLAIN, strokes: 2000 }).readings;
  const rows = [
    { what: 'a reading of simulated hands', figure: costOf(hands), most: 2 },
    { what: 'a reading of 2,000 rocks in one capture', figure: costOf([rocks]), most: 20 },
  ];
  for (const { what, figure, most } of rows)
    console.log(
      `${what.padEnd(45)} ${figure.toFixed(2)} us, at most ${most}: ${figure <= most ? 'met' : 'MISSED'}`,
    );
  return rows.every(({ figure, most }) => figure <= most);
}

function printTable(traces: number, from: number): boolean {
  console.log(
    `${MODEL}\n\n${traces} traces a row from seed ${from}; lengths in micrometres, shares in percent.`,
  );
  console.log(
    `${''.padEnd(25)} ${'rms'.padStart(7)} ${'bias'.padStart(7)} ${'mean u'.padStart(7)} wrong told doubtf  in 2u  (why doubtful)`,
  );
  return [...ROWS.map((row) => printRow(row, traces, from)), printCosts()].every(Boolean);
}

const given = process.argv.slice(2).filter((word) => word !== '--trade-off');
const [traces, from] = [Number(given[0] ?? 2000), Number(given[1] ?? 1)];
if (process.argv.includes('--trade-off')) printTradeOff(traces, from);
else process.exitCode = printTable(traces, from) ? 0 : 1;
