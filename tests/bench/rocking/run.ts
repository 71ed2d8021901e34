// The rocking benchmark: `npx tsx tests/bench/rocking/run.ts [traces]` prints the model, each target, and what was measured.
import { addReading, type Capture, startCapture } from '../../../src/core/measure/capture.ts';
import { defaultSettings, type Side } from '../../../src/core/measure/capture-settings.ts';
import { verdictOf } from '../../../src/core/measure/verdict.ts';
import { type Millis, millis } from '../../../src/core/units.ts';
import { measure, type Outcomes } from './measure.ts';
import { type Hand, PLAIN, simulateRock } from './simulate.ts';

const MODEL = `The model, every trace from its own seed:
  work      diameters from 18 to 95 mm; a bore shows the chord sqrt(D^2 - 4 e^2), an outside sqrt(D^2 + 4 e^2), over cos(tilt)
  hands     strokes: planned from side to side, 5 to 9 of them, 1.5 to 5 mm and 0.5 to 1.4 s each, between a cosine and a
            minimum-jerk reach, leaning, early or late, resting at the ends and under way, turning back before the diameter
            (1 in 14), badly seated (1 in 15, 0.05 mm at the mean), with tremor of three waves of 6 to 11 Hz
            pulled: a mass on a damped spring whose end is thrown about at chance moments; overshoots, rings, wanders, unseats
  coming    the jaws held elsewhere, slid to the work at 15 to 90 mm/s, away again at the end; sometimes from beyond the size
  caliper   5, 8, 10, 16 or 25 readings a second, uneven by 7 %, flicker 0.002 mm, steps of 0.01 mm or 0.0005 in
  damage    a share of frames, half alone and half in bursts of 2 to 4: a flipped bit 0 to 19, up to 60 steps off, or anything
  tilt      only in the rows that say so: one uniform draw within plus or minus 1 degree for each trace
  not in it the caliper's own limit of error (the capture's uncertainty leaves it to the budget, see agreement.ts), work
            that is oval, tapered or moves, a reading averaged over time inside the caliper, temperature`;

interface Target {
  readonly what: string;
  readonly figure: number;
  readonly unit: string;
  readonly least?: number;
  readonly most: number;
}

const percent = (share: number): number => 100 * share;
const doubtfulShare = ({ traces, agreed }: Outcomes): number => percent(1 - agreed / traces);
const perThousand = ({ farOut, traces }: Outcomes): number => (1000 * farOut.length) / traces;
const micrometres = (length: number): number => 1000 * length;

/** What the brief asks of one side and hand, on so many traces for each line. */
function targetsOf(side: Side, hand: Hand, traces: number): readonly Target[] {
  const run = (options: Partial<Parameters<typeof measure>[2]>) =>
    measure(traces, 1, { ...PLAIN, side, hand, ...options });
  const clean = run({});
  const bad1 = run({ damage: 0.01 });
  const any = run({ rate: 'any', tiltDegrees: 1 });
  const any1 = run({ rate: 'any', tiltDegrees: 1, damage: 0.01 });
  const any3 = run({ rate: 'any', tiltDegrees: 1, damage: 0.03 });
  const inch = run({ rate: 'any', tiltDegrees: 1, damage: 0.01, unit: 'in' });
  const cover = (of: Outcomes) => ({ figure: percent(of.covered), unit: '%', least: 90, most: 98 });
  return [
    { what: 'error at 8/s, RMS', figure: micrometres(clean.rms), unit: 'um', most: 10 },
    { what: 'error at 8/s, RMS, 1 % damaged', figure: micrometres(bad1.rms), unit: 'um', most: 10 },
    {
      what: '  naive extreme reading, RMS, clean',
      figure: micrometres(clean.naive),
      unit: 'um',
      most: Infinity,
    },
    {
      what: '  naive, median error, clean',
      figure: micrometres(clean.naiveMedian),
      unit: 'um',
      most: Infinity,
    },
    { what: '  naive, RMS, 1 % damaged', figure: micrometres(bad1.naive), unit: 'um', most: Infinity },
    {
      what: 'agreed yet > 0.05 mm out, 1 % damaged, any rate',
      figure: perThousand(any1),
      unit: '/1000',
      most: 1,
    },
    {
      what: 'agreed yet > 0.05 mm out, 3 % damaged, any rate',
      figure: perThousand(any3),
      unit: '/1000',
      most: 3,
    },
    { what: 'doubtful, clean, 8/s', figure: doubtfulShare(clean), unit: '%', most: 5 },
    { what: 'doubtful, clean, any rate', figure: doubtfulShare(any), unit: '%', most: 5 },
    { what: 'doubtful, 1 % damaged, any rate', figure: doubtfulShare(any1), unit: '%', most: 10 },
    { what: 'doubtful, 3 % damaged, any rate', figure: doubtfulShare(any3), unit: '%', most: 10 },
    { what: 'truth within 2 u, any rate, tilt 1 degree', ...cover(any) },
    { what: 'truth within 2 u, the same, 1 % damaged', ...cover(any1) },
    { what: 'truth within 2 u, the same, 0.0005 in steps', ...cover(inch) },
    { what: 'truth within 2 u, 8/s, no tilt and none allowed', ...cover(clean) },
  ];
}

/** How the capture fares where hands are hasty or the caliper slow: it may doubt, and must not be wrong. */
function stressOf(side: Side, hand: Hand, traces: number): readonly Target[] {
  const slow = measure(traces, 1, { ...PLAIN, side, hand, rate: 5, damage: 0.01 });
  const hasty = measure(traces, 1, { ...PLAIN, side, hand, pace: 1.7, damage: 0.01 });
  return [slow, hasty].flatMap((of, i) => {
    const name = i === 0 ? '5/s, 1 % damaged' : 'hasty hand at 8/s, 1 % damaged';
    return [
      { what: `${name}: doubtful`, figure: doubtfulShare(of), unit: '%', most: Infinity },
      { what: `${name}: agreed yet > 0.05 mm out`, figure: perThousand(of), unit: '/1000', most: Infinity },
      { what: `${name}: truth within 2 u`, figure: percent(of.covered), unit: '%', most: Infinity },
    ];
  });
}

/** Microseconds for one reading and its verdict: the least of many batches, so that a busy machine matters little. */
function costOf(capture: Capture, readings: readonly ReturnType<typeof endless>[number][]): number {
  let least = Number.POSITIVE_INFINITY;
  for (let round = 0; round < 60; round++) {
    let growing = capture;
    const began = performance.now();
    for (const reading of readings) {
      growing = addReading(growing, reading);
      verdictOf(growing);
    }
    least = Math.min(least, performance.now() - began);
  }
  return (1000 * least) / readings.length;
}

/** So many readings of rocks across one diameter, without an end. */
function endless(count: number) {
  const readings = [];
  let base: Millis = millis(0);
  for (let seed = 1; readings.length < count; seed++) {
    const { readings: some, truth } = simulateRock(seed, PLAIN);
    for (const reading of some)
      readings.push({
        ...reading,
        value: ((reading.value / truth) * 42) as typeof reading.value,
        at: millis(reading.at + base),
      });
    base = millis((readings.at(-1)?.at ?? 0) + 130);
  }
  return readings.slice(0, count);
}

function costs(): readonly Target[] {
  const readings = endless(10_400);
  const fresh = startCapture(defaultSettings('bore'));
  const grown = readings.slice(0, 10_000).reduce(addReading, fresh);
  const early = costOf(fresh, readings.slice(0, 400));
  const late = costOf(grown, readings.slice(10_000));
  return [
    { what: 'cost of a reading, first 400', figure: early, unit: 'us', most: 20 },
    { what: 'cost of a reading after 10,000', figure: late, unit: 'us', most: 20 },
    { what: 'the second over the first', figure: late / early, unit: 'x', most: 2 },
  ];
}

function print(heading: string, targets: readonly Target[]): boolean {
  console.log(`\n${heading}`);
  let met = true;
  for (const { what, figure, unit, least, most } of targets) {
    const good = figure <= most && figure >= (least ?? Number.NEGATIVE_INFINITY);
    met &&= good;
    const bound = least === undefined ? `at most ${most}` : `${least} to ${most}`;
    const target = most === Number.POSITIVE_INFINITY ? '' : `${bound}  ${good ? 'met' : 'MISSED'}`;
    console.log(`  ${what.padEnd(50)} ${figure.toFixed(2).padStart(9)} ${unit.padEnd(6)} ${target}`);
  }
  return met;
}

const traces = Number(process.argv[2] ?? 2000);
console.log(`${MODEL}\n\n${traces} traces for each line; lengths in micrometres.`);
let met = true;
for (const side of ['bore', 'outside'] as const)
  for (const hand of ['strokes', 'pulled'] as const) {
    met = print(`${side}, ${hand}`, targetsOf(side, hand, traces)) && met;
    print(`${side}, ${hand}: beyond what is asked`, stressOf(side, hand, Math.min(traces, 1000)));
  }
met = print('cost', costs()) && met;
process.exitCode = met ? 0 : 1;
