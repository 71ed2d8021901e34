// Prints the line's throughput beside that of the library alone, in one run: npx tsx tests/bench/line/report.ts [lines] [rounds]
import { machine } from '../../support/processor.ts';
import { measureThroughput, type Rate } from './throughput.ts';

const [lines = 200_000, rounds = 5] = process.argv.slice(2).map(Number);
const found = await measureThroughput(lines, rounds);
const row = (name: string, { linesPerSecond, cpuPerLine }: Rate): string =>
  [
    name.padEnd(34),
    `${Math.round(linesPerSecond).toLocaleString('en').padStart(10)} lines/s`,
    `${(linesPerSecond / found.library.linesPerSecond).toFixed(2)}x`,
    `${cpuPerLine.toFixed(2).padStart(6)} us of processor a line`,
    `${(found.library.cpuPerLine / cpuPerLine).toFixed(2)}x`,
  ].join('  ');
console.log(`${lines} lines, median of ${rounds} rounds in turns, ${machine()}`);
console.log(row('SerialPort + ReadlineParser', found.library));
console.log(row('our link: cap, parser, reconnect', found.link));
console.log(row('the same and the wire', found.wire));
console.log(row('the same and a rocking capture', found.wireAndCapture));
