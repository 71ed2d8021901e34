// Every family of published figures, by name.
import type { Family } from './check.ts';
import { LATHE } from './families/lathe.ts';
import { NUMBERS } from './families/numbers.ts';
import { THREADS } from './families/threads.ts';
import { trade } from './families/trade.ts';
import { WOOD } from './families/wood.ts';

export const families: readonly Family[] = [...LATHE, ...NUMBERS, ...THREADS, ...WOOD, trade].sort((a, b) =>
  a.name < b.name ? -1 : 1,
);
