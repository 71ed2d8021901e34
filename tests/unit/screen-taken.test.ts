// What the screen says once a measurement is kept: where to go on, though the caliper still sends readings.
import { expect, test } from 'vitest';
import { millis } from '../../src/core/units.ts';
import { sceneOf } from '../../src/screen/scenes/scene-of.ts';
import { Table, threaded } from '../support/bench.ts';
import { rock } from '../support/moments/begun.ts';

function atSpigot(): Table {
  const table = new Table(threaded).board();
  table.do({ kind: 'link-opened', port: '/dev/ttyUSB0', heardAt: millis(0) });
  return rock(table.to('bore size'), 42.3, 6).act('take').to('spigot');
}

/** A spigot right on its target, taken. */
function taken(): { readonly table: Table; readonly target: number } {
  const table = atSpigot();
  const target =
    Math.round(
      (table.bench.log.flatMap(({ fact }) => (fact.kind === 'target-set' ? [fact.target] : [])).at(-1) ?? 0) *
        100,
    ) / 100;
  return { table: table.turns(target, 6).act('take'), target };
}

test('a spigot taken stays taken while the jaws lean or open, and says where to go on', () => {
  const { table, target } = taken();
  for (const over of [0, 0.06, 0.3, 20]) {
    const scene = sceneOf(table.reads(target + over, 2).bench);
    expect(scene.standing?.word).toBe('KEPT');
    expect(scene.next).toMatch(/^Press n for its thread\./);
  }
});

test('a spigot cut again after it was kept is measured against the target again', () => {
  const { table, target } = taken();
  const scene = sceneOf(table.reads(target - 0.05, 6).bench);
  expect(scene.standing?.word).toBe('UNDER');
  expect(scene.next).toMatch(/Press Enter to keep it/);
});

test('a spigot kept past its limit is called PAST until another is measured', () => {
  const { table, target } = taken();
  table.reads(target - 1, 6).act('take', 'take');
  expect(sceneOf(table.reads(target - 1, 6).bench).standing?.word).toBe('PAST');
  expect(sceneOf(table.reads(target + 2, 6).bench).standing?.word).toBe('TURN DOWN');
});

test('a thread taken says where to go on, and a deeper one may be taken in its place', () => {
  const table = atSpigot().to('bore thread').act('take');
  for (let at = 1; at <= 5; at++) table.feed(at);
  expect(sceneOf(table.bench).next).toMatch(/Enter to keep the depth/);
  expect(sceneOf(table.act('take').bench).next).toMatch(/^Press n for the bore size\./);
  expect(sceneOf(table.feed(6).bench).next).toMatch(/instead of the last one/);
});
