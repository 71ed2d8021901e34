// Leaving the bench while it still looks for a port: what is found afterwards is not opened.
import { expect, test } from 'vitest';
import { ON_A_LINE, openBench } from '../../src/commands/bench/open.ts';
import type { BenchEvent } from '../../src/core/bench/event.ts';
import { millis } from '../../src/core/units.ts';
import type { Link } from '../../src/link/link.ts';
import { kit } from '../support/bench.ts';
import { freshHome, opened } from '../support/records-home.ts';

/** A port that says what was done to it. */
function portThatTells(): { readonly link: Link; readonly done: string[] } {
  const done: string[] = [];
  const link: Link = {
    name: 'a port',
    open: () => void done.push('opened'),
    ask: () => void done.push('asked'),
    close: async () => void done.push('closed'),
  };
  return { link, done };
}

async function leftWhileLooking(found: Link): Promise<void> {
  let tell: (link: Link) => void = () => undefined;
  const looking = new Promise<Link>((resolve) => {
    tell = resolve;
  });
  let asked: () => void = () => undefined;
  const began = new Promise<void>((resolve) => {
    asked = resolve;
  });
  let dispatch: (event: BenchEvent) => void = () => undefined;
  const ended = openBench({
    records: opened(freshHome()),
    unit: 'mm',
    devices: { bareUnit: 'mm', deeper: 'up' },
    now: () => millis(performance.now()),
    findLink: () => {
      asked();
      return looking;
    },
    seekLink: async () => null,
    ...ON_A_LINE,
    kit: () => kit,
    rescue: () => undefined,
    writeSheet: async () => ({ trouble: 'not asked for' }),
    keepFeed: () => ({ trouble: 'not asked for' }),
    display: (to) => {
      dispatch = to;
      return { show: () => undefined, sound: () => undefined, close: () => undefined };
    },
  });
  await began;
  dispatch({ kind: 'quit-asked' });
  expect(await ended).toBe(0);
  tell(found);
  await looking;
  await Promise.resolve();
}

test('a port found after the turner left is not opened', async () => {
  const { link, done } = portThatTells();
  await leftWhileLooking(link);
  expect(done).toEqual([]);
});
