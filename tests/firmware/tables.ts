// Measures the kept images in the simulator, as the tables of firmware-notes/figures.md.
import { type Chance, fastChanceFrom } from '../support/chance.ts';
import { button, type Cause, CYCLES_PER_US, type SimulatedBoard, started } from './board.ts';
import { faultsIn, faultsOf, messagesFrom, readingsIn, totalsOf } from './messages.ts';
import { NoisyLeads } from './noise.ts';
import type { Pin } from './planned-board.ts';
import { CaliperWriter, CLOCK_PIN, DATA_PIN, fieldsOf, LONGEST, NPN, type Shown } from './waveform.ts';
import { QuadratureWheel, StepWheel } from './wheel.ts';

const BUTTONS = [1, 2, 3, 4].map(button);

/** A table of the notes: its heading row, then one row for each thing measured. */
export type Table = readonly (readonly string[])[];

const grouped = (value: number): string => value.toLocaleString('en-US');

const anyValue = (chance: Chance): Shown => ({
  steps: 1 + chance.below(LONGEST.inch - 1),
  negative: chance.below(3) === 0,
  inch: chance.below(4) === 0,
});

/** What became of frames shown at even times: reported as shown, not reported, or reported as something else. */
function tallyOf(shown: readonly Shown[], board: SimulatedBoard, fromUs: number, periodUs: number) {
  const readings = readingsIn(messagesFrom(board.lines)).filter((reading) => reading.fromUs >= fromUs);
  const frameOf = (us: number): Shown | undefined => shown[Math.floor((us - fromUs) / periodUs)];
  const right = readings.filter(
    ({ fields, fromUs: us }) => fields === fieldsOf(frameOf(us) ?? { steps: -1 }),
  );
  return {
    right: right.length,
    dropped: shown.length - right.length,
    wrong: readings.length - right.length,
  };
}

type Noise = (leads: NoisyLeads, forUs: number) => void;

const spikes =
  (pins: readonly Pin[], widthUs: number, perSecond: number, even = true): Noise =>
  (leads, forUs) =>
    leads.spike({ pins, widthUs, perSecond, even }, forUs);

const burst: Noise = (leads) => leads.burst(CLOCK_PIN, 5_000, 2, 500);

const CLOCK = [CLOCK_PIN];
const DATA = [DATA_PIN];

const NOISES: readonly (readonly [string, Noise])[] = [
  ['none', () => {}],
  ['clock, 0.3 us, 8,000 a second, even', spikes(CLOCK, 0.3, 8_000)],
  ['clock, 3 us, 8,000 a second, even', spikes(CLOCK, 3, 8_000)],
  ['clock, 3 us, 20,000 a second, even', spikes(CLOCK, 3, 20_000)],
  ['clock, 3 us, 100 a second, random', spikes(CLOCK, 3, 100, false)],
  ['clock, 12 us, 1,000 a second, random', spikes(CLOCK, 12, 1_000, false)],
  ['clock, one bounce of 0.8 us at each edge', (leads) => leads.chatterOn({ pin: CLOCK_PIN, backUs: 0.8 })],
  ['clock, one bounce of 15 us at each edge', (leads) => leads.chatterOn({ pin: CLOCK_PIN, backUs: 15 })],
  ['clock, bursts of 5 ms, 10 a second', burst],
  ['data, 1 us, 8,000 a second, even', spikes(DATA, 1, 8_000)],
  ['data, 3 us, 8,000 a second, even', spikes(DATA, 3, 8_000)],
  ['data, 3 us, 8,000 a second, random', spikes(DATA, 3, 8_000, false)],
  ['data, 10 us, 2,000 a second, random', spikes(DATA, 10, 2_000, false)],
  ['data, 30 us, 500 a second, random', spikes(DATA, 30, 500, false)],
  ['data, 60 us, 100 a second, random', spikes(DATA, 60, 100, false)],
  ['data, 100 us, 100 a second, random', spikes(DATA, 100, 100, false)],
  ['both leads at once, 3 us, 8,000 a second, even', spikes([...CLOCK, ...DATA], 3, 8_000)],
];

const LONG_PULSES: readonly (readonly [string, Noise])[] = [150, 200, 300].map((widthUs) => [
  `data, ${widthUs} us, 50 a second, random`,
  spikes(DATA, widthUs, 50, false),
]);

const NOISE_FRAMES = 100;
const FRAME_US = 20_000;
/** The noise is planned again for each five frames. */
const STRETCH = 5;

function noiseRow([name, noise]: readonly [string, Noise]): readonly string[] {
  const chance = fastChanceFrom(7);
  const board = started('bench-01');
  const leads = new NoisyLeads(board, chance);
  const caliper = new CaliperWriter(leads, NPN, chance);
  board.run(20_000);
  const fromUs = board.us;
  const shown = Array.from({ length: NOISE_FRAMES }, () => anyValue(chance));
  for (const [n, value] of shown.entries()) {
    if (n % STRETCH === 0) noise(leads, STRETCH * FRAME_US);
    caliper.show(value, board.us + 100);
    board.run(FRAME_US);
  }
  const { right, dropped, wrong } = tallyOf(shown, board, fromUs, FRAME_US);
  return [name, right, dropped, wrong].map(String);
}

const NOISE_HEADING = ['spikes on', 'right', 'dropped', 'wrong'];

/** One row for each kind of noise: 50 frames a second with that noise on the leads all the time. */
const noiseTable = (): Table => [NOISE_HEADING, ...NOISES.map(noiseRow)];

/** The limit of what a board can tell: pulses that hold the data lead for most of a bit of 370 us. */
const longPulseTable = (): Table => [NOISE_HEADING, ...LONG_PULSES.map(noiseRow)];

const lastTotal = (board: SimulatedBoard): number | undefined => totalsOf(board).at(-1);
const overran = (board: SimulatedBoard): boolean => faultsOf(board).includes('feed-overrun');

/** One row for each way of rocking a wheel of one pulse a detent ten times to and fro. */
function rockTable(): Table {
  const ways = [
    ['the edge that counts', -0.5, 0.5],
    ['the other edge', 0.25, 0.75],
    ['both edges of one pulse', -0.5, 0.75],
    ['three detents', -0.5, 2.75],
  ] as const;
  const rows = ways.map(([name, from, to]) => {
    const board = started('bench-02');
    const wheel = new StepWheel(board);
    const turnTo = (place: number): void => board.run(wheel.moveTo(place, board.us) - board.us + 20_000);
    turnTo(from);
    for (let n = 0; n < 10; n++) {
      turnTo(to);
      turnTo(from);
    }
    board.run(1_000_000);
    return [name, wheel.detents, lastTotal(board), overran(board) ? 'yes' : 'no'].map(String);
  });
  return [['rocked ten times over', 'true', 'reported', 'overrun'], ...rows];
}

interface Speeds {
  readonly name: string;
  readonly facts: string;
  readonly wheelOn: (board: SimulatedBoard) => QuadratureWheel | StepWheel;
  readonly detentUs: readonly number[];
}
const SPEEDS: readonly Speeds[] = [
  {
    ...{ name: 'quadrature', facts: 'bench-01', detentUs: [100_000, 10_000, 1_000, 500, 440, 400, 380] },
    wheelOn: (board) => new QuadratureWheel(board, fastChanceFrom(1)),
  },
  {
    ...{ name: 'pulse and direction', facts: 'bench-02', detentUs: [100_000, 10_000, 2_500, 2_200, 1_900] },
    wheelOn: (board) => new StepWheel(board),
  },
];

/** One row for each speed: fifty detents deeper. */
function speedTable(): Table {
  const rows = SPEEDS.flatMap(({ name, facts, wheelOn, detentUs }) =>
    detentUs.map((us) => {
      const board = started(facts);
      wheelOn(board).turned(50, us);
      const exact = !overran(board) && lastTotal(board) === 50;
      const verdict = exact ? 'exact' : overran(board) ? 'feed-overrun' : 'WRONG';
      return [name, grouped(Math.round(1e6 / us)), verdict];
    }),
  );
  return [['feed', 'detents a second', '50 detents are'], ...rows];
}

const CAUSES: readonly Cause[] = ['power', 'reset pin', 'brown-out', 'watchdog'];
const RESTARTS = 15;

/** One row for each cause: restarts at random moments, most of them inside a frame, and what became of the frames. */
function restartTable(): Table {
  const rows = CAUSES.map((cause) => {
    const chance = fastChanceFrom(3);
    const board = started('bench-01');
    const caliper = new CaliperWriter(board, NPN, chance);
    board.run(20_000);
    const tally = { right: 0, wrong: 0, hello: 0 };
    let sent = messagesFrom(board.lines);
    for (let restart = 0; restart < RESTARTS; restart++) {
      const shown = [anyValue(chance), anyValue(chance)] as const;
      const before = board.lines.length;
      caliper.show(shown[0], board.us + 100);
      board.run(chance.between(200, 11_000));
      const cut = messagesFrom(board.lines.slice(before));
      const atRestart = board.lines.length;
      board.reset(cause);
      board.run(25_000);
      caliper.show(shown[1], board.us + 100);
      board.run(25_000);
      sent = messagesFrom(board.lines.slice(atRestart));
      for (const { fields } of readingsIn([...cut, ...sent])) {
        if (shown.some((value) => fieldsOf(value) === fields)) tally.right++;
        else tally.wrong++;
      }
      if (sent[0]?.message.kind === 'hello') tally.hello++;
    }
    const { right, wrong, hello } = tally;
    const fault = faultsIn(sent).find((code) => !code.startsWith('caliper-')) ?? 'none';
    return [cause, RESTARTS, hello, right, 2 * RESTARTS - right, wrong, fault].map(String);
  });
  return [['restart', 'times', '`HI` first', 'frames right', 'cut off', 'wrong', 'fault'], ...rows];
}

/** A cell and what it holds, and what the level stage takes from it; see the notes for the sources. */
const CELLS = [
  ['LR44, 1.5 V', 110],
  ['SR44, 1.55 V', 150],
  ['AA in a holder, 1.5 V', 2_000],
] as const;
const STAGES = [
  ['one transistor, one lead rests high', 39],
  ['one transistor, both leads rest high', 77],
  ['comparator', 4],
] as const;

/** Derived, not measured: hours until the level stage alone has emptied a cell. */
function cellTable(): Table {
  const rows = STAGES.map(([name, microamps]) => [
    name,
    `${microamps} uA`,
    ...CELLS.map(([, mAh]) => grouped(Math.round((mAh * 1000) / microamps / 10) * 10)),
  ]);
  return [['level stage', 'takes', ...CELLS.map(([name, mAh]) => `${name}, ${grouped(mAh)} mAh`)], ...rows];
}

interface Run {
  readonly board: SimulatedBoard;
  /** Board time of each frame's last sampling edge. */
  readonly lastEdges: readonly number[];
}

/** Forty frames a second; `beside` plans whatever else goes on during each. */
function runOf(frames: number, beside: (n: number, beginUs: number, board: SimulatedBoard) => void): Run {
  const board = started('bench-01');
  const caliper = new CaliperWriter(board, NPN, fastChanceFrom(8));
  board.run(20_000);
  const lastEdges: number[] = [];
  for (let n = 0; n < frames; n++) {
    const beginUs = Math.ceil(board.us);
    lastEdges.push(caliper.show({ steps: LONGEST.inch - n, negative: true, inch: true }, beginUs));
    beside(n, beginUs, board);
    board.run(24_900 + (n % 5) * 50);
  }
  return { board, lastEdges };
}

/** The feed turning, buttons pressed, and the program asking at every frame. */
function busyRun(): Run {
  const chance = fastChanceFrom(40);
  let wheel: QuadratureWheel | undefined;
  return runOf(200, (n, beginUs, board) => {
    wheel ??= new QuadratureWheel(board, chance);
    wheel.turn(n % 2 === 0 ? 2 : -2, beginUs + chance.between(0, 2_000), 8_000, 2);
    board.at(beginUs + chance.between(8_000, 16_000), () => board.feedText('?\n'));
    board.at(beginUs + chance.between(0, 20_000), () => board.drive(chance.pick(BUTTONS), n % 2 === 0));
  });
}

/** The longest time from a frame's last sampling edge to the first byte of its line, in milliseconds. */
function latencyMs({ board, lastEdges }: Run): string {
  const readings = readingsIn(messagesFrom(board.lines));
  if (readings.length !== lastEdges.length)
    throw new Error(`${lastEdges.length - readings.length} frames were lost`);
  const worstUs = Math.max(...readings.map(({ fromUs }, n) => fromUs - (lastEdges[n] ?? Number.NaN)));
  return `${(worstUs / 1000).toFixed(1)} ms`;
}

/** What the image of bench-01 costs. */
function costTable(): Table {
  const busy = busyRun();
  const interrupt = Math.max(...busy.board.chip.worst.values());
  return [
    ['figure', 'value'],
    ['flash', `${grouped(busy.board.image.bytes)} of 32,768 bytes`],
    ['memory, with the deepest stack', `${grouped(busy.board.chip.memoryUsed())} of 2,048 bytes`],
    ['longest interrupt', `${interrupt} cycles, ${(interrupt / CYCLES_PER_US).toFixed(0)} us`],
    ['last bit to first byte, caliper alone', latencyMs(runOf(60, () => {}))],
    ['last bit to first byte, everything at once', latencyMs(busy)],
  ];
}

/** A table as the notes show it. */
export function markdownOf(table: Table): string {
  const widths = (table[0] ?? []).map((_, column) =>
    Math.max(...table.map((row) => [...(row[column] ?? '')].length)),
  );
  const rowOf = (row: readonly string[]): string =>
    `| ${row.map((cell, column) => cell.padEnd(widths[column] ?? 0)).join(' | ')} |`;
  const [heading = [], ...rows] = table;
  return [rowOf(heading), rowOf(widths.map((width) => '-'.repeat(width))), ...rows.map(rowOf)].join('\n');
}

export const TABLES = {
  noise: noiseTable,
  'long-pulses': longPulseTable,
  rocked: rockTable,
  speeds: speedTable,
  restarts: restartTable,
  cell: cellTable,
  cost: costTable,
} as const;
