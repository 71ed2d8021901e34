// Every figure the program is held to, measured in one run and printed beside its target; ratios are worked out within the run.
import { machine } from '../support/processor.ts';
import { captureCost, fitCost, seasonCost } from './costs.ts';
import { printCoverage, printLearning } from './coverage-and-learning.ts';
import { measureThroughput, type Rate } from './line/throughput.ts';
import { measureFlood } from './screen/flood.ts';
import { costAt, costsInTurns, latencyAt } from './screen/measure.ts';
import { stageOurs, stagePlain } from './screen/stage.ts';
import { measureStarts } from './screen/start.ts';

const rows: string[] = [];
function row(
  what: string,
  value: number,
  unit: string,
  bound: 'at most' | 'at least',
  target: number,
  decimals = 2,
): void {
  const met = bound === 'at most' ? value <= target : value >= target;
  const figure = `${value.toFixed(decimals)}${unit} (${bound} ${target}${unit})`;
  rows.push(`${met ? 'met   ' : 'MISSED'}  ${what}: ${figure}`);
}

/** Ours and plain Ink in one run: both cold, then both after 1,200 readings, each time in turns; 3,000 readings in all. */
async function screens(): Promise<void> {
  const ours = await stageOurs();
  const plain = await stagePlain();
  const both = [ours, plain] as const;
  await costAt(ours, 0, 10); // the start is not rest
  const rest = await costAt(ours, 0, 20);
  row('processor at rest', rest.cpuPercent, ' % of a core', 'at most', 1);
  const cold = await costsInTurns(both, 10, 5, 4);
  for (const stage of both) await costAt(stage, 50, 24);
  const warm = await costsInTurns(both, 10, 5, 4);
  for (const [how, [mine, theirs], target] of [
    ['cold', cold, 0.7],
    ['warm', warm, 0.6],
  ] as const) {
    const [cpu, beside] = [mine.cpuPercent, theirs.cpuPercent];
    row(`processor at 10/s, ${how}`, cpu, ' % of a core', 'at most', 8);
    const over = `processor at 10/s, ${how}, over plain Ink (${beside.toFixed(1)} %)`;
    row(over, cpu / beside, 'x', 'at most', target);
  }
  const [bytes, besideBytes] = warm.map(({ bytesPerReading }) => bytesPerReading) as [number, number];
  const bytesOver = `bytes a reading (${bytes.toFixed(0)}) over plain Ink (${besideBytes.toFixed(0)})`;
  row(bytesOver, bytes / besideBytes, 'x', 'at most', 0.33);
  const [memory, besideMemory] = (await costsInTurns(both, 100, 7, 2)).map(
    ({ residentMb }) => residentMb,
  ) as [number, number];
  const memoryOver = `memory after 3,000 readings (${memory.toFixed(0)} MB) over plain Ink (${besideMemory.toFixed(0)} MB)`;
  row(memoryOver, memory / besideMemory, 'x', 'at most', 1.3);
  for (const rate of [10, 100]) {
    const { medianMs, p99Ms, readings } = await latencyAt(ours, rate, rate * 12);
    row(`reading to screen at ${rate}/s, median (${readings} readings)`, medianMs, ' ms', 'at most', 20);
    row(`reading to screen at ${rate}/s, 99th`, p99Ms, ' ms', 'at most', 50);
  }
  await ours.close();
  await plain.close();
}

async function starts(): Promise<void> {
  const { nodeMs, bench, version, fit } = await measureStarts(9);
  row(`first painted bench over node -e 0 (${nodeMs.toFixed(0)} ms)`, bench, 'x', 'at most', 3);
  row('--version over node -e 0', version, 'x', 'at most', 1.6);
  row('fit over node -e 0', fit, 'x', 'at most', 1.6);
}

async function lines(): Promise<void> {
  const found = await measureThroughput();
  // Processor time, since another program on the machine changes lines a second, and this hardly.
  const over = ({ cpuPerLine }: Rate): number => found.library.cpuPerLine / cpuPerLine;
  row("a line: the port's library over wire and capture", over(found.wireAndCapture), 'x', 'at least', 0.5);
  row("a line: the port's library over wire alone", over(found.wire), 'x', 'at least', 0.5);
  const flood = await measureFlood(200_000, 20_000);
  const inOrder = `flood: lines recorded in order of 200,000 (${Math.round(flood.linesPerSecond)}/s${flood.inOrder ? '' : ', OUT OF ORDER'})`;
  row(inOrder, flood.recorded, '', 'at least', 200_000, 0);
  const frames = `flood: frames on the screen${flood.lostOnScreen ? ', LINES LOST' : ''}`;
  row(frames, flood.framesPerSecond, '/s', 'at least', 10, 1);
}

function sums(): void {
  const { early, late } = captureCost();
  row('capture, a reading', early, ' us', 'at most', 20);
  row('capture, a reading after 10,000 over one of the first', late / early, 'x', 'at most', 1.5);
  row('a whole fit with uncertainty', fitCost() / 1000, ' ms', 'at most', 1, 4);
  row('a season solved', seasonCost() / 1000, ' ms', 'at most', 5, 3);
}

function coverage(): void {
  const { interval, chance } = printCoverage();
  row('95 % intervals: farthest from 95 % of truths inside', 100 * interval, ' points', 'at most', 2);
  row('chances of each word: farthest from what came', 100 * chance, ' points', 'at most', 3);
}

function learning(): void {
  const { worst, mean } = printLearning();
  row('learning against not learning: the worst of 80 settings', 100 * worst, ' points', 'at least', -0.5);
  row('learning against not learning: the mean of 80 settings', 100 * mean, ' points', 'at least', 0);
}

const asked = process.argv.slice(2);
const parts = { sums, coverage, learning, starts, lines, screens };
console.log(`${machine()} at the start`);
for (const [name, part] of Object.entries(parts))
  if (asked.length === 0 || asked.includes(name)) await part();
for (const each of rows) console.log(each);
