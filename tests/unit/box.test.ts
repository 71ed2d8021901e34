// The plan of a box: a layout worked by hand, every refusal with its nearest plan, speeds and rods, and the command.
import { tmpdir } from 'node:os';
import { expect, test } from 'vitest';
import { type BoxWanted, planBox, suggestedPitch, suggestPlan } from '../../src/core/plan/box.ts';
import { planRefusalText } from '../../src/core/plan/refusal.ts';
import {
  cutterTooLarge,
  overTopSpeed,
  ROD_MATERIALS,
  type Rod,
  rodWhirls,
  turnsPerMinute,
  whirlOf,
} from '../../src/core/plan/speeds.ts';
import { mm } from '../../src/core/units.ts';
import { runLine } from '../support/command-run.ts';
import { ofKind } from '../support/of-kind.ts';

const wish: BoxWanted = {
  outside: mm(60),
  bore: mm(46),
  spigot: mm(47.2),
  pitch: mm(1.5),
  starts: 2,
  depth: { female: mm(1), male: mm(1) },
  grooveWidth: mm(1.2),
  engaged: mm(6),
  leastWall: mm(3),
  hollow: mm(38),
};

test('a layout worked by hand, each part by its own depth', () => {
  const close = (value: number) => expect.closeTo(value, 12);
  expect(planBox({ ...wish, depth: { female: mm(0.9), male: mm(0.7) } })).toEqual({
    kind: 'box',
    boredWall: close((60 - 47.8) / 2),
    spigotWall: close((47.2 - 1.4 - 38) / 2),
    wallAtRunout: { female: close(6.1 - 0.2), male: close(3.9 - 0.2) },
    lead: 3,
    engaged: 6,
    turns: 2,
    runout: { width: close(1.5 + 0.6), female: close(1.1), male: close(0.9) },
    spigotLength: close(6 + 2.1),
    leastBoreDepth: close(6 + 2 * 2.1),
    chamfer: { bore: close(46 + 1.8), spigot: close(47.2 - 1.4) },
  });
});

const BORED = "the bored part's wall at its runout groove would be";
const TURNED = "the spigot's wall at its runout groove would be";
const NEEDED = 'of depth and the thread with its grooves needs 10.2 mm. Deepen it, or';
const ABOVE_ZERO = 'and has to be a number above zero';

test.each<[Partial<BoxWanted>, string]>([
  [{ outside: mm(7) }, `${BORED} -20.7 mm (minimum 3.0 mm). Leave at least 54.4 mm outside`],
  [
    { bore: mm(55) },
    `${BORED} 1.3 mm (minimum 3.0 mm). Bore at most 51.6 mm, or leave at least 63.4 mm outside`,
  ],
  [{ hollow: mm(42) }, `${TURNED} 1.4 mm (minimum 3.0 mm). Hollow the spigot to at most 38.8 mm`],
  [{ spigot: mm(7), hollow: mm(1) }, `${TURNED} 1.8 mm (minimum 3.0 mm). This spigot can't be hollow at all`],
  [{ engaged: mm(1) }, '1.0 mm engaged is less than one whole thread. Engage at least 1.5 mm'],
  [{ boreDepth: mm(9) }, `the bore gives 9.0 mm ${NEEDED} engage at most 4.8 mm`],
  [{ boreDepth: mm(5) }, `the bore gives 5.0 mm ${NEEDED} take a finer pitch`],
  [{ grooveWidth: mm(0) }, `the groove width is 0, ${ABOVE_ZERO}`],
  [{ boreDepth: mm(0) }, `the depth of the bore is 0, ${ABOVE_ZERO}`],
  [{ pitch: mm(0) }, `the pitch is 0, ${ABOVE_ZERO}`],
  [{ hollow: mm(-1) }, `the hollow of the spigot is -1, ${ABOVE_ZERO}`],
  [{ starts: 13 }, 'the number of starts is 13, and has to be a whole number from 1 to 12'],
  [{ starts: 0.5 }, 'the number of starts is 0.5, and has to be a whole number from 1 to 12'],
])('%j is refused with the nearest that is possible', (but, said) => {
  const plan = planBox({ ...wish, ...but });
  expect(plan.kind === 'box' ? 'a box' : planRefusalText(plan)).toBe(said);
});

test('finer threads are suggested for smaller boxes, by the bore where there is one', () => {
  const threads = (outside: number, bore?: number) =>
    suggestedPitch(mm(outside), bore === undefined ? bore : mm(bore)).given;
  const tpi = (count: number) => ({ kind: 'tpi', threads: count });
  expect([20, 45, 100, 150].map((outside) => threads(outside))).toEqual([20, 16, 12, 10].map(tpi));
  expect([28, 28.1, 65, 65.1, 100, 100.1].map((bore) => threads(200, bore))).toEqual(
    [20, 16, 16, 12, 12, 10].map(tpi),
  );
});

test('each suggestion says what it follows, and that it is common practice; what is known is kept', () => {
  const because = (bore?: number) =>
    ofKind('suggestion', suggestPlan(mm(60), { bore: bore === undefined ? bore : mm(bore) })).because;
  expect(because().filter((reason) => reason.endsWith(' (common practice, no source)'))).toHaveLength(4);
  expect(because()[0]).toContain('16 TPI for 60 mm outside');
  expect(because()[2]).toContain('at least 9 % of the outside');
  expect(because(25)[0]).toContain('20 TPI for a bore of 25 mm');
  const { pitch } = ofKind('suggestion', suggestPlan(mm(60)));
  const known = { pitch, leastWall: mm(3), bore: mm(40), engaged: mm(5) };
  expect(suggestPlan(mm(60), known)).toMatchObject({ ...known, because: [] });
});

test('a given bore is used as it is; one too small to suggest is refused with the wall it would leave', () => {
  expect(suggestPlan(mm(60), { bore: mm(5) })).toMatchObject({ kind: 'suggestion', bore: 5 });
  // six pitches of 20 TPI are 7.62 mm; each groove is 17/24 of 0.866 pitches deep
  const depth = (17 / 24) * (Math.sqrt(3) / 2) * 1.27;
  expect(suggestPlan(mm(8))).toMatchObject({
    kind: 'wall-too-thin',
    wall: expect.closeTo((8 - 7.62) / 2 - depth, 9),
  });
});

test('one turn over the top speed is refused, the top speed itself is not', () => {
  expect(overTopSpeed(turnsPerMinute(6000), turnsPerMinute(6000))).toBeUndefined();
  const over = overTopSpeed(turnsPerMinute(6001), turnsPerMinute(6000));
  expect(over && planRefusalText(over)).toBe(
    "6001 turns a minute is above the maker's top speed of 6000. Never run it faster than 6000",
  );
});

test('a cutter over two thirds of the bore is refused with the largest that is not', () => {
  expect(cutterTooLarge(mm(20), mm(30))).toBeUndefined();
  const large = cutterTooLarge(mm(25), mm(30));
  expect(large && planRefusalText(large)).toBe(
    'a cutter of 25.0 mm is too large for a bore of 30.0 mm. Take one of at most 20.0 mm, two thirds of the bore',
  );
});

const rod: Rod = { diameter: mm(8), length: mm(500), material: ROD_MATERIALS.steel };

const whirl = (of: Rod): number => ofKind('whirl', whirlOf(of)).at;

test('half a metre of 8 mm steel, worked by hand', () => {
  // 1.8751^2 / (2 pi) x (d/4) sqrt(E / rho) / L^2, in turns a minute
  const byHand = ((60 * 1.8751 ** 2) / (2 * Math.PI)) * 0.002 * (Math.sqrt(210e9 / 7850) / 0.25);
  expect(whirl(rod) / byHand).toBeCloseTo(1, 4);
  expect(whirl(rod)).toBeCloseTo(1389, 0);
});

test('a tube whirls faster than the rod it was bored from, by sqrt(1 + (hole/diameter)^2)', () => {
  expect(whirl({ ...rod, hole: mm(6) }) / whirl(rod)).toBeCloseTo(Math.sqrt(1 + 0.75 ** 2), 9);
});

test('past a quarter of the whirl it is warned of, with the length and speed that may be', () => {
  expect(rodWhirls(rod, turnsPerMinute(347))).toBeUndefined();
  const warned = rodWhirls(rod, turnsPerMinute(1389));
  expect(warned && planRefusalText(warned)).toBe(
    'a rod that sticks out this far starts to whirl at 1389 turns a minute. At 1389 let it stick out at most 250.0 mm, or turn at most 347, a quarter of the speed at which it whirls',
  );
});

test.each<[Partial<Rod>, object]>([
  [{ diameter: mm(0) }, { what: 'rod diameter' }],
  [{ length: mm(Number.NaN) }, { what: 'length of rod standing out' }],
  [{ hole: mm(8) }, { what: 'wall of the rod', found: 0 }],
  [{ hole: mm(10) }, { what: 'wall of the rod', found: -1 }],
  [{ hole: mm(-1) }, { what: 'hole through the rod' }],
  [{ length: mm(1e200) }, { what: 'whirling speed', found: 0 }],
])('a rod with %j has no whirl, and no speed to be refused', (but, refused) => {
  expect(whirlOf({ ...rod, ...but })).toMatchObject({ kind: 'not-positive', ...refused });
  expect(rodWhirls({ ...rod, ...but }, turnsPerMinute(1000))).toEqual(whirlOf({ ...rod, ...but }));
});

test('speed and cutter of nothing are refused by name', () => {
  expect(rodWhirls(rod, turnsPerMinute(0))).toMatchObject({ kind: 'not-positive', what: 'speed', found: 0 });
  expect(overTopSpeed(turnsPerMinute(0), turnsPerMinute(6000))).toMatchObject({ what: 'speed' });
  expect(cutterTooLarge(mm(0), mm(30))).toMatchObject({ kind: 'not-positive', what: 'cutter' });
});

const run = (line: string) => runLine(tmpdir(), `plan ${line}`);

test('a whole plan from the outside alone', async () => {
  const { code, data } = await run('--outside 60mm --json');
  const plan = JSON.parse(data.join());
  expect(code).toBe(0);
  expect(plan.boredWallMm).toBeCloseTo((60 - plan.boreMm) / 2 - plan.depthMm, 9);
  expect(plan.turns).toBeCloseTo(3, 9);
  expect(plan.spigotMm).toBeGreaterThan(plan.boreMm);
  expect(plan).toMatchObject({ possible: true, passes: null, whirlPerMin: null, starts: 1 });
});

test('an outside in inches is answered in inches, and its refusal too', async () => {
  const { data } = await run('--outside 2.5in --bore 2in');
  expect(data[1]).toMatch(/^Bore 2\.0000 in over the crests\. Spigot 2\.0\d{3} in before its thread/);
  const refused = await run('--outside 2.5in --bore 2.4in');
  expect(refused.said.join()).toContain('Bore at most 2.21 in, or leave at least 2.69 in outside');
});

test('passes, speeds and a rod, in words', async () => {
  const { code, data } = await run(
    '--outside 60mm --feed 0.05mm --harden --cutter 20mm --speed 3000 --top-speed 6000 --rod 8mm,150mm',
  );
  const said = data.join('\n');
  expect(code).toBe(0);
  expect(said).toContain('rough to 5, 10, 15, 18, harden at 18, finish at 19');
  expect(said).toContain("At 3000 turns a minute the cutter's edge moves at 188 m a minute");
  expect(said).toMatch(/starts to whirl at about 15[0-9]00 turns a minute/);
  expect(said).toContain("Never run faster than the cutter's or the lathe's maker allows");
  expect(said).not.toContain('Caution');
});

test('unwise figures get a caution, impossible ones the answer no', async () => {
  const large = await run('--outside 60mm --bore 40mm --cutter 30mm --speed 2000');
  expect(large.code).toBe(0);
  expect(large.data.join('\n')).toContain('Caution: a cutter of 30.0 mm is too large for a bore of 40.0 mm.');
  expect(large.data.join('\n')).toContain("Caution: the cutter maker's top speed is not known");
  const rod = await run('--outside 60mm --rod 8mm,250mm --speed 3000 --top-speed 4000');
  expect(rod.data.join('\n')).toContain('Caution: a rod that sticks out this far starts to whirl at');
  // 17/24 H of 16 TPI is 0.97 mm: the limit is 1.15 mm, and 0.6 mm of clearance leave 0.55 of 1.72 mm
  const shallow = await run('--outside 60mm --clearance 0.6mm');
  expect(shallow.data.join('\n')).toContain('Caution: with this clearance the threads engage only');
  for (const [line, said] of [
    ['--outside 60mm --bore 56mm', 'Bore at most 52.6 mm, or leave at least 63.4 mm outside'],
    ['--outside 8mm', 'Leave at least 16.7 mm outside'],
    ['--outside 60mm --bore 40mm --cutter 41mm', 'Take one of at most 26.6 mm'],
    ['--outside 60mm --speed 7000 --top-speed 6000', "above the maker's top speed of 6000"],
    ['--outside 60mm --rod 8mm,800mm --speed 3000 --top-speed 4000', 'let it stick out at most'],
    ['--outside 60mm --pitch 16tpi --feed 0.8mm', 'too coarse'],
    ['--outside 60mm --clearance 3mm', 'the threads would not engage'],
    ['--outside 60mm --tip-flat 1.5mm', 'Take a sharper cutter or a coarser pitch'],
  ] as const) {
    const told = await run(`${line} --json`);
    expect([line, told.code]).toEqual([line, 1]);
    expect(JSON.parse(told.data.join())).toMatchObject({
      possible: false,
      why: expect.stringContaining(said),
    });
    expect(told.said.join()).toContain('Not possible');
  }
});

test.each([
  ['', '--outside is missing'],
  ['--outside -3mm', '--outside: "-3mm" isn\'t accepted'],
  ['--outside 60mm --pitch 0tpi', '--pitch: "0tpi" isn\'t accepted'],
  ['--outside 60mm --angle 5deg', '--angle: "5deg" isn\'t accepted'],
  ['--outside 60mm --turns 0', '--turns: "0" isn\'t accepted'],
  ['--outside 60mm --turns 2 --engaged 5mm', 'Give --engaged or --turns, not both'],
  ['--outside 60mm --tip-flat 0.1mm --tip-radius 0.1mm', 'a tip is either flat or round'],
  ['--outside 60mm --speed fast', '--speed: "fast" isn\'t accepted'],
  ['--outside 60mm --rod 8mm,150mm,glass', 'its material (steel, brass, beech)'],
  ['--outside 60mm --starts 99', '--starts: "99" isn\'t accepted'],
  ['--outside 2ft', '--outside: "2ft" isn\'t accepted'],
])('`plan %s` is refused: %s', async (line, said) => {
  const told = await run(line);
  expect(told).toMatchObject({ code: 2, data: [] });
  expect(told.said.join('\n')).toContain(said);
});
