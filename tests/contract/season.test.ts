// `lidwright season` as typed: its JSON contract, its sentences, its exit codes, and how it refuses nonsense.
import { expect, test } from 'vitest';
import { bandLines } from '../../src/commands/season.ts';
import { humidityPercent, mm, moisture } from '../../src/core/units.ts';
import { coefficientOf } from '../../src/core/wood/movement.ts';
import type { Season } from '../../src/core/wood/season.ts';
import { objectIn, runLine, type Told } from '../support/command-run.ts';
import { freshFolder } from '../support/fresh-folder.ts';

const home = freshFolder();
const run = (line: string, columns?: number): Promise<Told> => runLine(home, `season ${line}`, {}, columns);
const json = async (line: string) => objectIn(await run(`${line} --json`));

const MAPLE = '--wood "maple, sugar" --diameter 52mm --clearance 0.2mm --made 20C,45% --room 20C';

test('the humidity range of a maple box, by both equations, is where the movement eats the clearance', async () => {
  const answer = await json(MAPLE);
  const c = coefficientOf(9.9) - coefficientOf(4.8);
  // a lid runs while 0.08 mm of the 0.2 mm is left
  const dM = (0.2 - 0.08) / (52 * c);
  for (const by of ['handbook', 'newer'] as const) {
    expect(answer.runsToMc[by] - answer.boreMadeMc[by]).toBeCloseTo(dM, 9);
    expect(answer.boreMadeMc[by] - answer.runsFromMc[by]).toBeCloseTo(dM, 9);
  }
  const close = (handbook: number, newer: number) => ({
    ...{ handbook: expect.closeTo(handbook, 0), newer: expect.closeTo(newer, 0) },
  });
  expect(answer).toMatchObject({ runsFromRh: close(36.8, 37.6), runsToRh: close(52.7, 51.9) });
  expect(answer.leastGapMm).toBe(answer.leastGapByEquationMm.newer);
  expect(answer.leastGapMm).toBeCloseTo(0.2 - answer.clearanceNeededMm + 0.15, 12);
  expect(answer.body).toMatchObject({ trade: 'Maple, sugar', botanical: 'Acer saccharum', status: 'read' });
});

test('every key of lengths, humidity and moisture says its unit', async () => {
  const answer = await json(`${MAPLE},60%`);
  const bare = Object.keys(answer).filter((key) => !/(Mm|Rh|Mc|C)$/.test(key));
  expect(bare).toEqual(['coefficientsHold', 'bored', 'body', 'lid']);
  expect(answer.gapInRoomMm.handbook).toBeLessThan(0);
});

test('moisture from air, by both equations', async () => {
  const answer = await json('--emc 70F,50%');
  expect(answer.mc.handbook).toBeCloseTo(9.2, 1);
  expect(answer.mc.newer).toBeCloseTo(9.4, 1);
  expect(answer.humidityRh).toBe(50);
  expect((await run('--emc 70F,50%')).data).toEqual([
    "In air of 21 C and 50 % humidity wood settles at 9.2 % moisture by the Handbook's equation, 9.4 % by its newer one.",
  ]);
});

test('in words: a range and not a point, the clearance for a whole year, the source of the figures', async () => {
  const { code, data } = await run(MAPLE);
  expect(code).toBe(0);
  const said = data.join('\n');
  expect(said).toContain("37 to 53 % by the Handbook's equation, 38 to 52 % by its newer one");
  expect(said).toContain('a range, not a point');
  expect(said).toContain('Make it with 0.54 mm of clearance, of which 0.15 mm remains at the worst');
  expect(said).toContain('a quarter turn from closed');
  expect(said).toContain('within 6 to 14 % moisture');
  expect(said).toMatch(/Shrinkage of Maple, sugar: radial 4.8 %, tangential 9.9 % \(Wood Handbook.*read\)/);
  expect(said).not.toContain('Sources differ');
});

test('outside 6 to 14 % it says so', async () => {
  const { data } = await run('--wood pear --diameter 30mm --made 20C,85% --range 30%,65%');
  expect(data.join('\n')).toContain('outside 6 to 14 % moisture, where the coefficients are not valid');
});

test('sources that differ about one wood show both ends', async () => {
  const line = '--wood pear --diameter 52mm --made 20C,45% --range 30%,65%';
  const neededBy = async (wood: string): Promise<number> =>
    (await json(line.replace('--wood pear', wood))).clearanceNeededMm;
  const both = [await neededBy('--shrinkage 4.6%,9.1%'), await neededBy('--shrinkage 3.9%,11.3%')];
  expect(await json(line)).toMatchObject({
    clearanceNeededMm: both[0],
    clearanceNeededBySourcesMm: both,
  });
  const said = (await run(line)).data.join('\n');
  expect(said).toMatch(
    /Sources differ about this wood: by their figures it needs 0\.\d\d mm to 0\.\d\d mm of clearance/,
  );
  expect(said).toContain('another source: radial 3.9 %, tangential 11.3 %');
});

test('the answer no is exit code 1: it never runs, or it binds in the range that was named', async () => {
  const never =
    '--wood "beech, amer" --lid-wood teak --diameter 50mm --clearance 0.1mm --made 20C,45% --lid-made 20C,55%';
  const told = await run(never);
  expect(told.code).toBe(1);
  expect(told.data.join('\n')).toContain('runs at no humidity');
  expect(await json(never)).toMatchObject({ runsFromRh: { handbook: null, newer: null } });
  expect((await run(`${MAPLE} --range 30%,65%`)).code).toBe(1);
  expect((await run(`${MAPLE} --range 40%,50%`)).code).toBe(0);
});

test('of the clearance it asks for 0.15 mm remains: 0.07 mm less still runs, a little less than that does not', async () => {
  const line = '--wood "cherry, black" --diameter 60mm --made 68F,40% --room 68F --range 25%,70%';
  const { clearanceNeededMm: needed } = await json(line);
  const codeAt = async (clearance: number) =>
    (await run(`${line} --clearance ${clearance.toFixed(6)}mm`)).code;
  expect(await codeAt(needed)).toBe(0);
  expect(await codeAt(needed - 0.07 + 1e-5)).toBe(0);
  expect(await codeAt(needed - 0.07 - 1e-5)).toBe(1);
});

test('inches, a meter instead of air, other grain and figures typed by hand', async () => {
  const metric = await json('--shrinkage 4.8%,9.9% --diameter 50.8mm --clearance 0.254mm --made-mc 8%');
  const line = '--shrinkage 4.8%,9.9% --diameter 2in --clearance 0.01in --made-mc 8%';
  expect(await json(line)).toEqual(metric);
  expect((await json(`${line} --grain flat`)).runsToRh.handbook).toBeLessThan(metric.runsToRh.handbook);
});

test('which part is bored matters once they differ', async () => {
  const line = '--wood "beech, amer" --lid-wood teak --diameter 50mm --clearance 0.3mm --made 20C,45%';
  const [lid, body] = [await json(line), await json(`${line} --bored body`)];
  expect(lid.runsToRh.handbook).toBeLessThan(body.runsToRh.handbook);
  expect(lid.runsFromRh.handbook).toBeLessThan(body.runsFromRh.handbook);
});

/** A question that only lacks a clearance or a range. */
const PEAR = '--wood pear --diameter 52mm --made 20C,45%';
test.each([
  ['', '--diameter is missing'],
  ['--diameter 52mm', '--wood is missing. Give part of its name'],
  ['--wood maple --diameter 52mm --made 20C,45%', '--wood: "maple" could be Maple, bigleaf; Maple, black'],
  ['--wood yew --diameter 52mm --made 20C,45%', 'no shrinkage figures are known for Yew, European'],
  ['--wood nosuch --diameter 52mm --made 20C,45%', '--wood: "nosuch" isn\'t in the table of woods'],
  ['--wood pear --diameter -52mm --made 20C,45%', '--diameter: "-52mm" isn\'t accepted'],
  ['--wood pear --diameter 52mm --made 20C,400%', '--made: "20C,400%" isn\'t accepted'],
  ['--wood pear --diameter 52mm --made 45%', '--made: "45%" isn\'t accepted'],
  ['--wood pear --diameter 52mm --made 20C,100% --range 3%,4%', 'outside'],
  [PEAR, '--clearance is missing'],
  [`${PEAR} --clearance -0.1mm`, 'a length of zero or more'],
  [`${PEAR} --range 30%`, '--range: "30%" isn\'t accepted'],
  [`${PEAR} --range 30%,165%`, '--range: "30%,165%" isn\'t accepted'],
  [`${PEAR} --room 20`, '--room: "20" isn\'t accepted'],
  [`${PEAR} --room 150C --range 3%,4%`, 'A temperature of 150 C is outside'],
  [`${PEAR} --made-mc 8% --range 3%,4%`, 'Give --made or --made-mc, not both'],
  ['--shrinkage 4.8% --diameter 52mm --made-mc 8%', 'radial and tangential shrinkage'],
  ['--shrinkage 0%,9% --diameter 52mm --made-mc 8%', 'each above 0%'],
  ['--emc 70F', '--emc: "70F" isn\'t accepted'],
  ['--emc 20C,100%', 'Give 0 to under 100 %'],
])('`season %s` is refused: %s', async (line, said) => {
  const told = await run(line);
  expect(told).toMatchObject({ code: 2, data: [] });
  expect(told.said.join('\n')).toContain(said);
});

test('every wrong option is reported at once', async () => {
  const { code, said } = await run('--wood maple --diameter 1ft --made wet --clearance x --range y --room z');
  expect(code).toBe(2);
  const flags = ['--diameter', '--clearance', '--range', '--room', '--wood', '--made'];
  expect(said.map((line) => line.split(':')[0]).slice(0, -1)).toEqual(flags);
});

const end = (percent: number) => ({ humidity: humidityPercent(percent), moisture: moisture(8), binds: true });

test('the band is the range, half where the equations part, with its marks below', () => {
  const seasons: readonly Season[] = [
    { kind: 'runs', from: end(20), to: end(60) },
    { kind: 'runs', from: end(30), to: end(70) },
  ];
  const marks = [
    { word: 'made', at: humidityPercent(45) },
    { word: 'room', at: humidityPercent(95) },
  ];
  expect(bandLines(seasons, marks, 44)).toEqual([
    '  0 %               50 %             100 %',
    '  ········▒▒▒▒████████████▒▒▒▒············',
    '                    ^ made 45 %',
    '                              room 95 % ^',
    "  █ runs by both equations  ▒ by one of them  · doesn't",
  ]);
  const never: Season = { kind: 'never', bestGap: mm(-0.1), short: mm(0.1), bestAt: humidityPercent(50) };
  expect(bandLines([never, never], [], 24)[1]).toBe(`  ${'·'.repeat(20)}`);
});

test('the band is drawn on a terminal, and nowhere else', async () => {
  const line = '--wood "sug map" --diameter 2in --clearance 0.008in --made 20C,45%';
  const [plain, drawn] = [(await run(line)).data, (await run(line, 60)).data];
  expect(plain[1]).toBe('A thread of 2.000 in with 0.008 in of clearance, made at 8.5 to 8.6 % moisture.');
  const band = drawn.filter((row) => !plain.includes(row));
  expect(band).toHaveLength(4);
  for (const row of band) expect(row.length).toBeLessThanOrEqual(60);
});
