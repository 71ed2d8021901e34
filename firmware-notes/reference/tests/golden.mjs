// Turns the golden lines of shared/wire-lines.json into a C table, so that the two can never drift apart.
import { readFileSync } from 'node:fs';

const golden = JSON.parse(readFileSync(process.argv[2], 'utf8'));

const bytes = (text) =>
  `(const uint8_t[]){${[...`${text}\0`].map((c) => c.codePointAt(0)).join(',')}}, ${text.length}`;

const table = (name, rows) =>
  `static const struct golden_${name} golden_${name}[] = {\n${rows.map((row) => `  {${row}},`).join('\n')}\n};\n`;

process.stdout.write(
  [
    '/* Made from shared/wire-lines.json at test time. */',
    table(
      'good',
      golden.good.map((line) => `${bytes(line.body)}, "${line.crc}", ${line.from === 'board'}`),
    ),
    table(
      'refused',
      golden.refused.map((line) => `${bytes(line.line)}, "${line.why}"`),
    ),
    table(
      'asks',
      golden.asks.map((ask) => `${bytes(ask.bytes)}, ${ask.answers}`),
    ),
  ].join('\n'),
);
