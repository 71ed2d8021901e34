// Calibrating the feed at the bench: each way question by question, every key at every step, and every refusal.
import { describe, expect, test } from 'vitest';
import { calibrationOf, provenFrom } from '../../src/core/bench/calibration/model.ts';
import {
  type Answers,
  answersShown,
  questionIn,
  rowOf,
  type Way,
} from '../../src/core/bench/calibration/questions.ts';
import type { Job } from '../../src/core/bench/job.ts';
import type { Setup } from '../../src/core/bench/setup.ts';
import { step } from '../../src/core/bench/step.ts';
import { pairOf } from '../../src/core/bench/threads.ts';
import { calibrateByPair, calibrateByTravel, type RunningPair } from '../../src/core/thread/calibrate.ts';
import { limitsOf } from '../../src/core/thread/fit.ts';
import { mm } from '../../src/core/units.ts';
import { handsOf, kit, played, type Table, threaded } from '../support/bench.ts';
import { ofKind } from '../support/of-kind.ts';
import { near } from '../support/story.ts';

const { feed: own, ...unfed } = threaded;
const now = ({ bench }: Table) => ofKind('calibrate', bench.mode).calibrating;
const asking = (table: Table) => ({ ...table.bench, answers: now(table).answers });
const found = (table: Table) => ofKind('calibration', calibrationOf(asking(table)));
const calibrating = (table: Table) => {
  const { mode, typed, notice } = table.bench;
  const { refusal } = table;
  const trouble = refusal?.kind === 'calibration' ? refusal.trouble : refusal;
  if (mode.kind !== 'calibrate') return { mode: mode.kind, typed, notice };
  const { step, answers, name } = mode.calibrating;
  const calibration = calibrationOf(asking(table));
  return {
    mode: mode.kind,
    typed,
    notice,
    trouble,
    step,
    name,
    way: answers.way,
    question: questionIn(asking(table)),
    /** Each answer so far, the newest last. */
    answers: answers.given.map(({ to, value }) => `${to} ${value}`),
    perDetent: calibration?.kind === 'calibration' ? calibration.perDetent : null,
  };
};
type Told = { readonly [key in 'trouble' | keyof ReturnType<typeof calibrating>]?: unknown } & {
  readonly [key: string]: unknown;
};
type Row = [script: string, told: Told, setup?: Setup | undefined];
/** Scripts one after another on one bench. */
function story(table: Table, ...rows: readonly Row[]): void {
  for (const [script, told] of rows) expect(calibrating(table.play(script)), script).toMatchObject(told);
}
const tells = (...[script, told, setup]: Row): void => story(played(script, setup), ['', told]);

/** By a travel over a gauge whose doubt was left as offered: the detents are asked for next. */
const GAUGE = 'calibrate keep keep';
const MEASURED = '=42.30 keep next 44.4x4 43.4x4 keep';
/** A pair on the bench, its grooves typed as detents or as depths, with its trial. */
const tried = (verdict = 3, depth = '5') =>
  `${MEASURED} @bore-thread =${depth} @spigot-thread =${depth} @trial =${verdict}`;
const PAIR = `${tried()} calibrate =2`;
const UNCOUNTED = `${tried(3, '1.0')} calibrate =2`;

describe('the choice of the way', () => {
  test.each(['calibrate', GAUGE, PAIR])(
    '%s answers keys that lead elsewhere with a sentence, and stays',
    (script) => {
      for (const word of ['note', 'new', 'jobs', 'sheet', 'calibrate', 'virtual']) {
        const table = played(script);
        const { mode } = table.bench;
        story(table, [word, { trouble: { kind: 'other-key' } }]);
        expect(table.bench.mode).toEqual(mode);
      }
    },
  );

  test.each<Row>([
    // Again and the arrows turn it, a number chooses; a pair needs one that was tried.
    [`${tried()} calibrate`, { step: 'way', way: 'travel', answers: [] }],
    [`${tried()} calibrate again`, { step: 'way', way: 'pair', answers: [] }],
    [`${tried()} calibrate again again`, { way: 'known' }],
    [`${tried()} calibrate again again again`, { way: 'travel' }],
    [`${tried()} calibrate down`, { way: 'pair' }],
    [`${tried()} calibrate =_2_`, { step: 'asking', way: 'pair' }],
    [`${tried()} calibrate =_1_`, { step: 'asking', way: 'travel' }],
    ['calibrate =4', { step: 'way', trouble: { kind: 'bad-number', found: '4', accepted: '1, 2 or 3' } }],
    // Going on the same way keeps the answers, another way starts over.
    [`${tried()} ${GAUGE} =20 esc keep`, { answers: ['gauge within 0.01', 'detents 20'] }],
    [`${tried()} ${GAUGE} =20 esc =2 esc =1`, { answers: [] }],
    // Back, undo and escape leave for where the turner came from, with nothing said.
    ['calibrate ~9 esc esc', { mode: 'stage', typed: '', notice: null }],
    ['calibrate =9 back', { mode: 'stage', typed: '', notice: null }],
    ['calibrate =9 undo', { mode: 'stage', typed: '', notice: null }],
    [`${GAUGE} =20 esc back`, { mode: 'stage' }],
    // A pair that lacks something, with what.
    ['calibrate =2', { step: 'way', trouble: { kind: 'no-pair', lack: 'bore' } }],
    ['=42.30 keep calibrate =2', { trouble: { kind: 'no-pair', lack: 'spigot' } }],
    [`${MEASURED} calibrate =2`, { trouble: { kind: 'no-pair', lack: 'trial' } }],
    [`${tried(2)} calibrate =2`, { trouble: { kind: 'no-pair', lack: 'trial' } }],
    [`${tried()} @spigot-thread =6 calibrate =2`, { trouble: { kind: 'no-pair', lack: 'trial' } }],
    ['calibrate =2', { trouble: { kind: 'no-pair', lack: 'thread' } }, { ...threaded, fit: 'plain' }],
    [`${tried(4)} calibrate =2`, { step: 'asking' }],
  ])('%s: %j', tells);

  test('without a job a pair is refused, and leaving leads to the welcome', () => {
    const welcome = { ...played('').bench, job: null, log: [], mode: { kind: 'welcome' } } as const;
    const leaves = (script: string) =>
      handsOf(script).reduce(
        (at, event) => step(at, event).bench,
        step(welcome, { kind: 'calibration-opened', kit }).bench,
      );
    expect(leaves('=2').notice).toMatchObject({ why: { trouble: { kind: 'no-pair', lack: 'job' } } });
    expect(leaves('').mode).toMatchObject({
      calibrating: { name: 'cross slide', answers: { way: 'travel' } },
    });
    expect(leaves('esc').mode).toEqual({ kind: 'welcome' });
  });

  test('the feed is named as the job has it, or the kit, or plainly', () => {
    const other = [{ name: 'other slide', perDetent: mm(0.1), lostDetents: 0, perDetentStandard: mm(0) }];
    for (const [setup, feeds, name] of [
      [threaded, other, 'cross slide'],
      [unfed, other, 'other slide'],
      [unfed, [], 'feed'],
    ] as const)
      expect(now(played('', setup).do({ kind: 'calibration-opened', kit: { ...kit, feeds } })).name).toBe(
        name,
      );
  });
});

describe('against a gauge', () => {
  test('typed alone: detents, travels, a name; the figures are those of the sums', () => {
    const table = played(`@bore-thread ${GAUGE} =20 =4.02 =4.03mm =4.02`);
    const sums = calibrateByTravel(20, [mm(4.02), mm(4.03), mm(4.02)], mm(0.01 / Math.sqrt(3)));
    const by = ofKind('calibration', sums);
    expect(found(table)).toEqual(by);
    story(
      table,
      ['next', { step: 'naming', name: 'cross slide' }],
      ['~n ~ew enter', { mode: 'stage', notice: { kind: 'feed-kept', name: 'new' } }],
    );
    const { perDetent, doubt } = by;
    const { standard, degreesOfFreedom: freedom } = doubt;
    expect(table.feeds).toEqual([{ name: 'new', perDetent, standard, freedom }]);
    // The kit's, not the job's.
    expect(table.kinds).not.toContain('setup-changed');
  });

  test('with a board the detents are its count, and every travel must be over as many', () =>
    story(
      played(`board feed:7 ${GAUGE} keep`),
      ['=2.00', { trouble: { kind: 'not-fed', detents: 0 } }],
      ['feed:8 feed:17 =2.01', { question: 'mark', perDetent: near(0.201) }],
      ['=2.02', { trouble: { kind: 'nothing-asked', question: 'mark' } }],
      ['feed:5 keep feed:16 =2.02', { trouble: { kind: 'other-count', detents: 11, first: 10 } }],
      ['feed:15 =2.03', { perDetent: near(0.202) }],
    ));

  test('a broken count is not used; earlier travels and other answers stay', () => {
    story(
      played(`board ${GAUGE} keep feed:10 =2.00 keep feed:14`),
      [
        'restart',
        { question: 'mark', perDetent: near(0.2), trouble: { kind: 'count-broken', why: 'restart' } },
      ],
      ['feed:0 keep feed:10 =2.01', { perDetent: near(0.2005) }],
    );
    const answers = ['gauge within 0.01', 'detents 20', 'travel 4.02'];
    story(played(`board ${GAUGE} =20 =4.02 restart`), ['', { answers, trouble: null }]);
    story(played(`${PAIR} restart`), ['', { trouble: null }]);
  });

  test('the feed of a job that was touched off goes on being counted meanwhile', () => {
    const table = played('board @bore-thread keep feed:1 calibrate feed:2');
    expect(table.bench.mode.kind).toBe('calibrate');
    expect(table.job.threads.female.tracker).toMatchObject({ count: 2 });
  });

  const whole = ['gauge within 0.01', 'detents 20', 'travel 4.02'];
  test.each<Row>([
    // Nothing is guessed: each refusal says why.
    ['calibrate keep =-0.01', { trouble: { kind: 'bad-number', accepted: 'zero or more' } }],
    ['calibrate keep =0', { answers: ['gauge within 0'] }],
    [`${GAUGE} keep`, { trouble: { kind: 'no-count' } }],
    [`${GAUGE} =_`, { trouble: { kind: 'no-count' } }],
    [`${GAUGE} =2.5`, { trouble: { kind: 'bad-number' } }],
    [`${GAUGE} next`, { trouble: { kind: 'not-answered' } }],
    [`${GAUGE} =20 =0`, { trouble: { kind: 'bad-number', accepted: 'a travel above zero' } }],
    [`${GAUGE} =20 =4.02 keep`, { trouble: { kind: 'no-reading' }, perDetent: near(0.201) }],
    // Back and undo take one answer back at a time; escape goes out and comes back to them.
    [`${GAUGE} =20 =4.02 =9 back`, { answers: whole }],
    [`${GAUGE} =20 =4.02 esc keep`, { answers: whole }],
    [`${GAUGE} =20 =4.02 undo`, { answers: whole.slice(0, 2) }],
    [`${GAUGE} =20 =4.02 undo back`, { question: 'detents' }],
    [`${GAUGE} =20 =4.02 undo back back back`, { step: 'way' }],
    // A board's count taken back is asked for again, and the turner's own isn't.
    [`board ${GAUGE} keep feed:10 back`, { question: 'detents' }],
    [
      `board ${GAUGE} keep feed:20 =2.00 keep back`,
      { question: 'mark', answers: ['gauge within 0.01', 'travel 2'] },
    ],
    [`board ${GAUGE} keep feed:20 =2.00 keep back back`, { question: 'detents' }],
    // A number is typed, erased, bounded and forgotten; the arrows do nothing, again starts over.
    [`${GAUGE} ~20 ~1 erase`, { typed: '20' }],
    [`${GAUGE} ~20 esc`, { typed: '', step: 'asking' }],
    [`${GAUGE} ~${'1'.repeat(40)}`, { typed: '1'.repeat(24) }],
    [`${GAUGE} =20 =4.02 down`, { answers: whole }],
    [`${GAUGE} =20 =4.02 again`, { step: 'asking', way: 'travel', answers: [] }],
    // Inches typed are inches, also where the unit is switched meanwhile.
    [`${GAUGE} =10 =0.05`, { perDetent: near(0.127) }, { ...threaded, unit: 'in' }],
    [`${GAUGE} unit =10 =0.05`, { perDetent: near(0.127) }],
  ])('%s: %j', tells);
});

describe('from a pair', () => {
  test("its counts are the job's; the play that its depth gives makes the feed that cut it", () => {
    const cut = (stage: string) => `@${stage} keep detents:5 keep`;
    const table = played(
      `board ${MEASURED} ${cut('bore-thread')} ${cut('spigot-thread')} @trial =3 calibrate =2`,
    );
    story(table, ['', { question: 'play' }]);
    const limits = ofKind('limits', limitsOf(pairOf(table.job, mm(42.3))));
    // Play = clearance x tan(30 degrees) (fit.ts).
    const play = (limits.flank - 1.1) * Math.tan(Math.PI / 6);
    story(table, [
      `=${play.toFixed(4)} keep keep`,
      { question: 'nothing', perDetent: expect.closeTo(0.2, 4) },
    ]);
    expect(found(table).doubt.shares.map(({ name }) => name)).toContain('touch-off in the bore');
    expect(table.play('keep enter').feeds).toMatchObject([{ name: 'cross slide', proven: { detents: 5 } }]);
  });

  test.each<Row>([
    // A play and its doubt may be nothing; then nothing more is asked.
    [`${PAIR} =0 =0 =0`, { question: 'nothing', answers: ['play 0', 'play within 0', 'touch-off within 0'] }],
    [`${PAIR} =0 =0 =0 =1`, { trouble: { kind: 'nothing-asked', question: 'nothing' } }],
    [`${PAIR} =long`, { trouble: { kind: 'bad-number', found: 'long' } }],
    [`${PAIR} keep`, { trouble: { kind: 'no-reading' } }],
    [`${PAIR} =0.1 again`, { question: 'play', answers: [] }],
    [`${PAIR} back`, { step: 'way' }],
    // Where the depths were typed the counts are asked, and figures that do not add up are refused.
    [UNCOUNTED, { question: 'bore detents' }, unfed],
    [`${UNCOUNTED} =5 back back`, { step: 'way' }, unfed],
    [`${UNCOUNTED} =5 =6 =900 keep keep next`, { trouble: { kind: 'no-calibration' } }, unfed],
    // The touch-off offered is the feed's own where it has one.
    [`${PAIR} =0.08 keep keep`, { answers: ['play 0.08', 'play within 0.05', 'touch-off within 0.05'] }],
    [
      `${PAIR} =0.08 keep keep`,
      { answers: ['play 0.08', 'play within 0.05', 'touch-off within 0.03'] },
      own && { ...threaded, feed: { ...own, touchOff: mm(0.03) } },
    ],
  ])('%s: %j', tells);

  test('its answers go back one by one', () => {
    const table = played(`${UNCOUNTED} =5 =6 =900 keep keep back back back =0.08 keep keep`, unfed);
    expect(found(table).perDetent).toBeGreaterThan(0.15);
    for (const question of ['touch-off within', 'play within', 'play', 'spigot detents', 'bore detents'])
      story(table, ['back', { question }]);
    // Cut by unlike detents it proves none.
    expect(table.play('=5 =6 =0.08 keep keep next enter').feeds[0]).not.toHaveProperty('proven');
  });

  test('a bore whose readings scatter makes the feed less well known', () => {
    const cut = '@bore-thread =5 @spigot-thread =5 @trial =3 calibrate =2 =0.08 =0.001 =0.001';
    const standard = (bore: string) =>
      found(played(`${bore} keep next 44.4x4 43.4x4 keep ${cut}`)).doubt.standard;
    expect(standard('=42.29 =42.30 =42.31')).toBeGreaterThan(standard('=42.30 =42.30 =42.30'));
  });
});

describe('what the screen says', () => {
  const says = (table: Table) => rowOf(asking(table))?.asks(asking(table));

  test.each<[string, RegExp, Setup?]>([
    [
      'calibrate keep',
      /^How accurate is the gauge \(plus or minus\)\? Type it, or press Enter for 0\.01 mm\.$/,
    ],
    [GAUGE, /how many detents will you feed each time\? Type it/i],
    [`${GAUGE} =20`, /^Take up the slack and zero the gauge/],
    [`${GAUGE} =20 =4.02`, /^One measurement isn't enough/],
    [`${GAUGE} =20 =4.02 =4.03`, /^Measure once more/],
    [`board ${GAUGE}`, /The board counts from there\.$/],
    [`board ${GAUGE} keep`, /^Feed some detents deeper/],
    [`board ${GAUGE} keep feed:10 =2.00`, /^To measure again, back off/],
    [UNCOUNTED, /^How many detents deep was the bore cut/, unfed],
    [`${UNCOUNTED} =5`, /^How many detents deep was the spigot cut/, unfed],
    [`${UNCOUNTED} =5 =6`, /how far does it shake along its axis/, unfed],
    [`${UNCOUNTED} =5 =6 =0.08`, /^How accurate is that \(plus or minus\)\? .* Enter for 0\.05 mm\.$/, unfed],
    [`${UNCOUNTED} =5 =6 =0.08 =0.01`, /^How accurate was each touch-off .* Enter for 0\.05 mm\.$/, unfed],
    ['calibrate =3', /^How far does one detent move the cutter/],
  ])('after %s: %s', (script, words, setup) => expect(says(played(script, setup))).toMatch(words));

  test('nothing once all is answered', () =>
    expect(rowOf(asking(played(`${UNCOUNTED} =5 =6 =0.08 =0.01 =0.02`, unfed)))).toBeNull());

  test.each([
    [GAUGE, ['gauge ± 0.01 mm']],
    // Of many travels the last four.
    [
      `${GAUGE} =20 =4.01 =4.02 =4.03 =4.04 =4.05`,
      ['gauge ± 0.01 mm', 'over 20 detents', 'travels 4.02 mm, 4.03 mm, 4.04 mm, 4.05 mm'],
    ],
    ['calibrate =3 =0.2', []],
    [
      `${PAIR} =0.08 =0.01 =0.02`,
      [
        'bore cut 5 detents',
        'spigot cut 5 detents',
        'shake 0.08 mm',
        'known ± 0.01 mm',
        'touch-off ± 0.02 mm',
      ],
    ],
  ])('after %s the answers are %j', (script, shown) => {
    expect(answersShown(asking(played(script))).map(({ name, value }) => `${name} ${value}`)).toEqual(shown);
  });
});

describe('the name', () => {
  const NAMING = `${GAUGE} =20 =4.02 next`;
  const feedsAfter = (script: string) => played(`${NAMING} ${script}`).feeds.map(({ name }) => name);

  test.each<Row>([
    // Typed over the offered one, erased letter by letter, and bounded.
    [`${NAMING} erase`, { name: '' }],
    [`${NAMING} ~né ~w erase`, { name: 'né' }],
    [`${NAMING} ~${'x'.repeat(60)}`, { name: 'x'.repeat(40) }],
    // Back to the questions with escape and back, and nowhere with the rest.
    [`${NAMING} esc`, { step: 'asking' }],
    [`${NAMING} back`, { step: 'asking' }],
    [`${NAMING} next again down`, { step: 'naming', name: 'cross slide' }],
    [`${NAMING} =__`, { trouble: { kind: 'no-name' } }],
  ])('%s: %j', tells);

  test.each([
    ['~_new_ keep', ['new']],
    ['~_new_ enter', ['new']],
    ['~_new_ finish', ['new']],
    ['next again down', []],
    ['=__', []],
  ])('%s keeps %j', (script, kept) => expect(feedsAfter(script)).toEqual(kept));

  test('can be given again after the kit could not be written', () => {
    const table = played(NAMING);
    table.broken = true;
    story(table, [
      'enter',
      { step: 'naming', notice: { kind: 'not-done', why: 'feed not saved. The disk is full' } },
    ]);
    table.broken = false;
    expect(table.play('enter').feeds).toHaveLength(1);
  });
});

describe('nothing is worked out while an answer is missing', () => {
  const of = (way: Way, given: { readonly [to: string]: number }): Answers => ({
    way,
    given: Object.entries(given).map(([to, value]) => ({ to: to as 'travel', value })),
  });
  const on = (answers: Answers, job: Job | null) => ({ answers, job, unit: 'mm', feed: null }) as const;
  const job = () => played(tried()).job;
  const uncounted = () => played(tried(3, '1.0'), unfed).job;
  const travel = { 'gauge within': 0.01, detents: 20, travel: 4.02 };
  const play = { play: 0.08, 'play within': 0.05, 'touch-off within': 0.05 };
  const pair = { 'bore detents': 5, 'spigot detents': 5, ...play };

  test.each([
    ...Object.keys(travel).map((missing) => ['travel', missing, travel, null] as const),
    ...Object.keys(pair).map((missing) => ['pair', missing, pair, uncounted()] as const),
    ['known', 'per detent', { 'per detent': 0.2 }, null] as const,
  ])('by a %s without %s', (way, missing, whole, job) => {
    const { [missing]: _, ...rest } = whole as { readonly [to: string]: number };
    expect(calibrationOf(on(of(way, whole), job))?.kind).toBe('calibration');
    expect(calibrationOf(on(of(way, rest), job))).toBeNull();
  });

  test('or the pair', () => {
    expect(calibrationOf(on(of('pair', play), job()))?.kind).toBe('calibration');
    const lacking = ['', '=42.30 keep', tried(2)].map((script) => played(script).job);
    for (const without of [null, ...lacking]) expect(calibrationOf(on(of('pair', pair), without))).toBeNull();
  });

  test('a pair cut by as many detents on both parts proves them', () => {
    const proven = { proven: { pitch: threaded.pitch, detents: 5 } };
    expect(provenFrom(on(of('pair', play), job()))).toEqual(proven);
    expect(provenFrom(on(of('pair', pair), uncounted()))).toEqual(proven);
    const none = [
      on(of('pair', { ...pair, 'spigot detents': 6 }), uncounted()),
      on(of('pair', {}), uncounted()),
      on(of('pair', pair), null),
      on(of('travel', travel), job()),
    ];
    for (const asking of none) expect(provenFrom(asking)).toEqual({});
  });
});

test('buttons alone go through a calibration, and nothing behind it moves', () => {
  const table = played('board @bore-size calibrate');
  const press = (...buttons: readonly (1 | 2 | 3 | 4)[]): Table => {
    const heardAt = table.bench.now;
    return table.do(
      ...buttons.map((button) => ({ kind: 'button-changed', button, down: true, heardAt }) as const),
    );
  };
  press(1, 1, 1).play('feed:10 =2.00');
  expect(press(3, 1).feeds).toHaveLength(1);
  expect(table.job.stage).toBe('bore size');
});

test('diameters known better than the caliper’s sheet says make the feed better known', () => {
  const of: RunningPair = {
    ...threaded,
    bore: mm(42.3),
    spigot: mm(43.4),
    detents: { female: 5, male: 5 },
    play: mm(0.08),
    playWithin: mm(0.001),
    touchOffWithin: mm(0.001),
  };
  const standardWith = (standard?: RunningPair['standard']) =>
    ofKind('calibration', calibrateByPair(standard ? { ...of, standard } : of)).doubt.standard;
  // The sheet's limit of error and one step, both as rectangles.
  const sheet = mm(Math.hypot(0.03 / Math.sqrt(3), 0.01 / Math.sqrt(12)));
  const [fine, one] = [mm(0.002), { bore: mm(0.002), spigot: sheet }];
  expect(standardWith()).toBeCloseTo(standardWith({ bore: sheet, spigot: sheet }), 12);
  expect(standardWith({ bore: fine, spigot: fine })).toBeLessThan(standardWith(one));
  expect(standardWith(one)).toBeCloseTo(standardWith({ bore: sheet, spigot: fine }), 12);
});
