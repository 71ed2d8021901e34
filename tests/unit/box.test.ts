// The plan of a box: a layout worked by hand, every refusal with its nearest plan, and the command.
import { tmpdir } from 'node:os';
import { expect, test } from 'vitest';
import { planCommand } from '../../src/commands/plan.ts';
import { type BoxWanted, planBox } from '../../src/core/plan/box.ts';
import { planRefusalText } from '../../src/core/plan/refusal.ts';
import { suggestedPitch, suggestPlan } from '../../src/core/plan/suggestion.ts';
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

test('a layout worked by hand', () => {
  const plan = ofKind('box', planBox(wish));
  expect(plan.boredWall).toBeCloseTo((60 - 48) / 2, 12);
  expect(plan.wallAtRunout.female).toBeCloseTo(5.8, 12);
  expect(plan.wallAtRunout.male).toBeCloseTo((47.2 - 2 - 38) / 2 - 0.2, 12);
  expect(plan.spigotWall).toBeCloseTo((47.2 - 2 - 38) / 2, 12);
  expect(plan.lead).toBe(3);
  expect(plan.turns).toBe(2);
  expect(plan.runout.width).toBeCloseTo(1.5 + 0.6, 12);
  expect(plan.runout.female).toBeCloseTo(1.2, 12);
  expect(plan.spigotLength).toBeCloseTo(8.1, 12);
  expect(plan.leastBoreDepth).toBeCloseTo(10.2, 12);
  expect(plan.chamfer.bore).toBe(48);
  expect(plan.chamfer.spigot).toBeCloseTo(45.2, 12);
});

test('each part is laid out by its own depth', () => {
  const plan = ofKind('box', planBox({ ...wish, depth: { female: mm(0.9), male: mm(0.7) } }));
  expect(plan.boredWall).toBeCloseTo((60 - 47.8) / 2, 12);
  expect(plan.spigotWall).toBeCloseTo((47.2 - 1.4 - 38) / 2, 12);
  expect(plan.runout).toMatchObject({ female: expect.closeTo(1.1, 12), male: expect.closeTo(0.9, 12) });
  expect(plan.chamfer).toEqual({ bore: expect.closeTo(47.8, 12), spigot: expect.closeTo(45.8, 12) });
});

test.each<[string, Partial<BoxWanted>, string]>([
  [
    'an outside that leaves nothing to bore',
    { outside: mm(8) },
    "the bored part's wall at its runout groove would be -20.2 mm (minimum 3.0 mm). Leave at least 54.4 mm outside",
  ],
  [
    'a bore too wide',
    { bore: mm(55) },
    "the bored part's wall at its runout groove would be 1.3 mm (minimum 3.0 mm). Bore at most 51.6 mm, or leave at least 63.4 mm outside",
  ],
  [
    'an outside too small for any bore',
    { outside: mm(7) },
    "the bored part's wall at its runout groove would be -20.7 mm (minimum 3.0 mm). Leave at least 54.4 mm outside",
  ],
  [
    'a spigot too thin',
    { hollow: mm(42) },
    "the spigot's wall at its runout groove would be 1.4 mm (minimum 3.0 mm). Hollow the spigot to at most 38.8 mm",
  ],
  [
    'a spigot that cannot be hollow',
    { spigot: mm(7), hollow: mm(1) },
    "the spigot's wall at its runout groove would be 1.8 mm (minimum 3.0 mm). This spigot can't be hollow at all",
  ],
  [
    'less than a thread',
    { engaged: mm(1) },
    '1.0 mm engaged is less than one whole thread. Engage at least 1.5 mm',
  ],
  [
    'a bore too shallow',
    { boreDepth: mm(9) },
    'the bore gives 9.0 mm of depth and the thread with its grooves needs 10.2 mm. Deepen it, or engage at most 4.8 mm',
  ],
  [
    'a bore too shallow for one thread',
    { boreDepth: mm(5) },
    'the bore gives 5.0 mm of depth and the thread with its grooves needs 10.2 mm. Deepen it, or take a finer pitch',
  ],
  ['no groove', { grooveWidth: mm(0) }, 'the groove width is 0, and has to be a number above zero'],
  [
    'a bore of no depth',
    { boreDepth: mm(0) },
    'the depth of the bore is 0, and has to be a number above zero',
  ],
  ['no pitch', { pitch: mm(0) }, 'the pitch is 0, and has to be a number above zero'],
  [
    'a hollow less than nothing',
    { hollow: mm(-1) },
    'the hollow of the spigot is -1, and has to be a number above zero',
  ],
  [
    'too many starts',
    { starts: 13 },
    'the number of starts is 13, and has to be a whole number from 1 to 12',
  ],
  ['half a start', { starts: 0.5 }, 'the number of starts is 0.5, and has to be a whole number from 1 to 12'],
])('%s is refused with the nearest that is possible', (_, but, said) => {
  const plan = planBox({ ...wish, ...but });
  expect(plan.kind === 'box' ? 'a box' : planRefusalText(plan)).toBe(said);
});

test('a wall that is enough beside the thread and not at the runout groove is refused, on either part', () => {
  // 1 mm of thread and 0.2 mm more of groove; 3.1 mm beside the threads are 2.9 mm at the grooves
  expect(planBox({ ...wish, outside: mm(46 + 2 * (1 + 3.1)) })).toMatchObject({
    kind: 'wall-too-thin',
    wall: expect.closeTo(2.9, 12),
  });
  expect(planBox({ ...wish, hollow: mm(47.2 - 2 * (1 + 3.1)) })).toMatchObject({
    kind: 'spigot-too-thin',
    wall: expect.closeTo(2.9, 12),
  });
});

test('finer threads are suggested for smaller boxes, and each suggestion says that it is common practice', () => {
  const threads = [20, 45, 100, 150].map((outside) => suggestedPitch(mm(outside)).given);
  expect(threads).toEqual([20, 16, 12, 10].map((count) => ({ kind: 'tpi', threads: count })));
  const plan = ofKind('suggestion', suggestPlan(mm(60)));
  expect(plan.because).toHaveLength(4);
  for (const reason of plan.because) expect(reason).toContain('common practice, no source');
  const known = suggestPlan(mm(60), { pitch: plan.pitch, leastWall: mm(3), bore: mm(40), engaged: mm(5) });
  expect(known).toMatchObject({ bore: 40, engaged: 5, because: [] });
});

test('the pitch follows the bore where there is one, and each choice says what it follows', () => {
  const threadsFor = (bore: number) => suggestedPitch(mm(200), mm(bore)).given;
  expect([28, 28.1, 65, 65.1, 100, 100.1].map(threadsFor)).toEqual(
    [20, 16, 16, 12, 12, 10].map((count) => ({ kind: 'tpi', threads: count })),
  );
  const because = (known: Parameters<typeof suggestPlan>[1]) => {
    const plan = suggestPlan(mm(60), known);
    return plan.kind === 'suggestion' ? plan.because.join('\n') : planRefusalText(plan);
  };
  expect(because({})).toContain('16 TPI for 60 mm outside');
  expect(because({})).toContain('at least 9 % of the outside');
  expect(because({ bore: mm(25) })).toContain('20 TPI for a bore of 25 mm');
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

const run = (line: string) =>
  runLine(tmpdir(), `plan ${line}`, [{ name: 'plan', load: async () => planCommand }]);

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
  expect(large.data.join('\n')).toContain(
    'Caution: a cutter of 30.0 mm is too large for a bore of 40.0 mm. Take one of at most 26.6 mm',
  );
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
  expect(told.code).toBe(2);
  expect(told.data).toEqual([]);
  expect(told.said.join('\n')).toContain(said);
});
