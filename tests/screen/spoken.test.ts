// The bench in sentences: everything that matters is said once, and nothing that only flickers.
import { expect, test } from 'vitest';
import type { Bench } from '../../src/core/bench/state.ts';
import { millis } from '../../src/core/units.ts';
import { SILENT, type Spoken, speak } from '../../src/screen/spoken.ts';
import { Table, threaded } from '../support/bench.ts';
import { GALLERY } from '../support/gallery.tsx';
import { rock } from '../support/moments/begun.ts';

/** A listener who hears every bench in turn. */
class Ear {
  said: Spoken = SILENT;
  readonly heard: string[] = [];

  hear(bench: Bench): string[] {
    const { lines, said } = speak(bench, this.said);
    this.said = said;
    this.heard.push(...lines);
    return [...lines];
  }
}

test.each(Object.keys(GALLERY))('%s is spoken in sentences without drawings, and only once', (moment) => {
  const bench = GALLERY[moment]?.();
  if (!bench) throw new Error(`the gallery has no ${moment}`);
  const ear = new Ear();
  const first = ear.hear(bench);
  expect(first.length).toBeGreaterThan(1);
  expect(first.join('')).not.toMatch(/[█▀▄⠀-⣿░▒▓●○◐◆◇▲▼▸×]/u);
  expect(ear.hear(bench)).toEqual([]);
});

/** A job on a bench whose board speaks. */
const onLine = (): Table =>
  new Table({ ...threaded, name: 'Pear box' })
    .board()
    .do({ kind: 'link-opened', port: '/dev/ttyACM0', heardAt: millis(0) });

test('a whole bore is spoken in a few sentences, its result with its doubt', () => {
  const ear = new Ear();
  const table = onLine().to('bore size');
  ear.hear(table.bench);
  const before = ear.heard.length;
  for (let swing = 0; swing < 5; swing++) {
    rock(table, 42.3, 1);
    ear.hear(table.bench);
  }
  const told = ear.heard.slice(before);
  expect(told.length).toBeLessThan(14);
  expect(told).toContainEqual(
    expect.stringMatching(
      /^Steady: 42\.\d\d ± 0\.0\d mm, 3 peaks within 0\.0\d mm\. Bore, the true diameter: 42\.\d\d mm\./,
    ),
  );
});

test('a spigot coming down is spoken by its words, never reading by reading', () => {
  const ear = new Ear();
  const table = rock(onLine().to('bore size'), 42.3, 6).act('keep').to('spigot');
  ear.hear(table.bench);
  const words: string[] = [];
  for (let over = 150; over >= -40; over -= 2) {
    table.reads(Math.round((43.4 + over / 100) * 100) / 100, 4);
    words.push(
      ...ear
        .hear(table.bench)
        .flatMap((line) => /^(Turn down|Near|At size|Under|Past):/.exec(line)?.[1] ?? []),
    );
  }
  const changes = words.filter((word, at) => word !== words[at - 1]);
  expect(changes).toEqual(['Turn down', 'Near', 'At size', 'Under', 'Past']);
});

test('entering a stage says its name and its caution again', () => {
  const ear = new Ear();
  const table = new Table({ ...threaded, name: 'Pear box' }).to('bore size');
  ear.hear(table.bench);
  table.to('spigot');
  const told = ear.hear(table.bench);
  expect(told[0]).toBe('Pear box: spigot.');
  expect(told).toContain('Caution: Stop the lathe before the jaws touch the work.');
});
