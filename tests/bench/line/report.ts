// Prints the line's throughput as ratios to the library alone, in one run.
import { cpus } from 'node:os';
import { measureThroughput } from './throughput.ts';

const found = await measureThroughput();
const row = (name: string, rate: number): string =>
  `${name.padEnd(34)} ${Math.round(rate).toLocaleString('en').padStart(10)} lines/s  ${(rate / found.library).toFixed(2)}x`;
console.log(
  `${found.lines} lines, median of ${found.rounds} rounds, Node ${process.version}, ${cpus().length} cores`,
);
console.log(row('SerialPort + ReadlineParser', found.library));
console.log(row('our port, framing, wire', found.wire));
console.log(row('the same and a rocking capture', found.wireAndCapture));
