// Grain alignment: the trim of a lid that stops short or goes past, with one start and with several, and the command.
import { tmpdir } from 'node:os';
import { expect, test } from 'vitest';
import { trimFor } from '../../src/core/plan/alignment.ts';
import { planRefusalText } from '../../src/core/plan/refusal.ts';
import { degrees, inDegrees, mm, tpi } from '../../src/core/units.ts';
import { runLine } from '../support/command-run.ts';
import { ofKind } from '../support/of-kind.ts';

function trim(pitch: number, starts: number, toGo: number) {
  const found = ofKind('trim', trimFor({ pitch: mm(pitch), starts, toGo: degrees(toGo) }));
  return { off: found.amount, on: inDegrees(found.turnsOn), ring: found.ring };
}

test.each([
  { pitch: 2, starts: 1, toGo: 90, off: 0.5, on: 90, ring: 1.5 },
  { pitch: 2, starts: 1, toGo: -90, off: 1.5, on: 270, ring: 0.5 },
  { pitch: 2, starts: 2, toGo: 270, off: 1, on: 90, ring: 1 },
  { pitch: 3, starts: 3, toGo: -30, off: 2.25, on: 90, ring: 0.75 },
  { pitch: 3.6, starts: 1, toGo: 2, off: 0.02, on: 2, ring: 3.58 },
])('pitch $pitch, $starts starts, $toGo degrees to go: $off off, or a ring of $ring', (row) => {
  const found = trim(row.pitch, row.starts, row.toGo);
  expect(found.off).toBeCloseTo(row.off, 12);
  expect(found.on).toBeCloseTo(row.on, 9);
  expect(found.ring).toBeCloseTo(row.ring, 12);
});

test.each([
  [1, [0, 1e-8, -1e-8, 360 + 1e-8, -1, 359, 1.5]],
  [3, [120 - 1e-8, 240 + 1e-8, -240, 119]],
])('a degree or so from a closing is that closing, of %d starts at %j degrees to go', (starts, turns) => {
  for (const toGo of turns) expect(trim(2, starts, toGo)).toEqual({ off: 0, on: 0, ring: 0 });
});

test('nonsense is refused by name', () => {
  const ask = (pitch: number, starts: number, toGo: number) => {
    const found = trimFor({ pitch: mm(pitch), starts, toGo: degrees(toGo) });
    return found.kind === 'trim' ? 'trim' : planRefusalText(found);
  };
  expect(ask(0, 1, 90)).toBe('the pitch is 0, and has to be a number above zero');
  expect(ask(2, 1.5, 90)).toBe('the number of starts is 1.5, and has to be a whole number from 1 to 12');
  expect(ask(2, 1, 400)).toContain("a turn of 400 degrees isn't possible");
  expect(ask(2, 1, Number.NaN)).toContain("isn't possible");
});

const run = (line: string) => runLine(tmpdir(), `align ${line}`);

test('as typed: a quarter turn of 16 TPI is a quarter of the lead', async () => {
  const told = await run('--pitch 16tpi --turn 90deg --json');
  expect(told.code).toBe(0);
  expect(JSON.parse(told.data.join())).toMatchObject({ trimMm: 0.396875, trimFrom: 'body', starts: 1 });
  const two = JSON.parse((await run('--pitch 16tpi --turn 90deg --starts 2 --json')).data.join());
  expect(two.trimMm).toBeCloseTo(tpi(16) / 2, 12);
});

test('in words: which part, how much, which way', async () => {
  const { data } = await run('--pitch 16tpi --turn 90deg');
  expect(data[0]).toBe(
    'Take 0.40 mm (0.016 in) off the shoulder of the body (the part with the spigot), or the same off the rim of the lid.',
  );
  expect(data[1]).toContain('turns 90 degrees further, as from 12 to 3 on a clock');
  expect((await run('--pitch 2mm --turn -90deg --bored body')).data[0]).toContain(
    'Take 1.50 mm (0.059 in) off the shoulder of the lid',
  );
  expect((await run('--pitch 2mm --turn 180deg --starts 2')).data[0]).toContain('Take nothing off');
});

test('shows the unit that is set, and both units where none is set', async () => {
  expect((await run('--pitch 16tpi --turn 90deg --unit inch')).data[0]).toContain('Take 0.016 in off');
  expect((await run('--pitch 16tpi --turn 90deg --unit mm')).data[0]).toContain('Take 0.40 mm off');
});

test.each([
  ['--turn 90deg', '--pitch is missing'],
  ['--pitch 16tpi', '--turn is missing'],
  ['--pitch 0tpi --turn 90deg', '--pitch: "0tpi" isn\'t accepted'],
  ['--pitch 16 --turn 90deg', '--pitch: "16" isn\'t accepted'],
  ['--pitch 16tpi --turn quarter', '--turn: "quarter" isn\'t accepted'],
  ['--pitch 16tpi --turn 400deg', '-360deg to 360deg'],
  ['--pitch 16tpi --turn 90deg --starts 0', '--starts: "0" isn\'t accepted'],
])('`align %s` is refused: %s', async (line, said) => {
  const told = await run(line);
  expect(told).toMatchObject({ code: 2, data: [] });
  expect(told.said.join('\n')).toContain(said);
});
