// Prints the tables of firmware-notes/figures.md as measured now: `npm run board`, or `npm run board noise speeds`.
import { markdownOf, TABLES } from './tables.ts';

const names = process.argv.slice(2);
for (const [name, measure] of Object.entries(TABLES)) {
  if (names.length > 0 && !names.includes(name)) continue;
  process.stdout.write(`${name}\n\n${markdownOf(measure())}\n\n`);
}
