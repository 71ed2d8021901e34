// Ten million wrong lines through the decoder, as a table: npx tsx tests/bench/fuzz/report.ts [lines] [seed]
import { fuzzDecoder } from './decoder.ts';

const [lines = '10000000', seed = '20260'] = process.argv.slice(2);
const { tried, seconds, examples } = fuzzDecoder(Number(lines), Number(seed));
console.log(
  `${lines} lines, seed ${seed}, ${(Number(lines) / seconds / 1000).toFixed(0)} thousand a second\n`,
);
console.log('| made wrong by | lines | discarded | right by its own checksum | a reading that nobody sent |');
console.log('| --- | ---: | ---: | ---: | ---: |');
for (const { name, lines: made, discarded, right, wrong } of tried)
  console.log(`| ${name} | ${made} | ${discarded} | ${right} | ${wrong} |`);
for (const example of examples) console.log(example);
process.exitCode = tried.some(({ wrong, certain, right }) => wrong > 0 || (certain && right > 0)) ? 1 : 0;
