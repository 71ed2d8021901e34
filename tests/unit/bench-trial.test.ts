// Trial and record at the bench: a word for the pair, crests relieved, the grain, and the job closed; and a job from end to end.
import { describe, expect, test } from 'vitest';
import { choices } from '../../src/core/bench/stages/trial-and-record.ts';
import { mm } from '../../src/core/units.ts';
import { sceneOf } from '../../src/screen/scenes/scene-of.ts';
import { played, type Table, threaded } from '../support/bench.ts';
import { keeps, near, no, type Step, story, tells } from '../support/story.ts';

/** Bore and spigot kept, at the trial. */
const AT = '=42.30 keep next 44.4x4 43.4x4 keep @trial';
const made = (verdict: string) => keeps('trial-made', { verdict });
const plain = { ...threaded, fit: 'plain', wanted: mm(-0.05) } as const;

describe('a trial', () => {
  test.each<Step>([
    [
      `${AT} keep`,
      { ...no('missing', { what: 'trial' }), shows: expect.not.stringMatching(/SEIZED|TIGHT|RUNNING|LOOSE/) },
    ],
    // A digit chooses and keeps in one go; buttons alone turn through the words.
    [`${AT} ~2`, made('tight')],
    [`${AT} again keep`, made('running')],
    [`${AT} ~2 next back`, { shows: 'TIGHT' }],
    ['@trial =2 keep =5 keep', keeps('crests-relieved', { part: 'male' })],
    ['@trial ~5', no('bad-number', { accepted: '1 to 4' })],
    ['@trial =2 ~6', no('bad-number', { accepted: '1 to 5' })],
    ['@trial =2 =10', no('bad-number')],
    ['@trial =2 =1.0', no('bad-number')],
    ['@trial =2 =01', no('bad-number')],
  ])('%s', tells);

  test('that was recorded is not recorded twice; another word at once corrects it', () => {
    const verdicts = (script: string) => played(`${AT} ${script}`).job.trials.map(({ verdict }) => verdict);
    expect(verdicts('~2 next back keep')).toEqual(['tight']);
    expect(verdicts('~2 ~3')).toEqual(['running']);
    expect(played('@trial =2 keep =5 keep').job.trials).toMatchObject([{ verdict: 'tight', relieved: true }]);
  });

  test('is chosen from four words by again, and relieved crests after a trial of a thread', () => {
    const turned = (table: Table) => Array.from({ length: 5 }, () => table.play('again').bench.trialled);
    const words = ['running', 'loose', 'seized', 'tight', 'running'];
    expect(turned(played('@trial'))).toEqual(words);
    expect(turned(played('@trial =2'))).toContain('crests relieved');
    expect(choices(played('@trial =2', plain).ready)).toHaveLength(4);
  });

  test('is advised what to do and what it does', () => {
    expect(JSON.stringify(sceneOf(played(`board ${AT} ~2`).bench).panel)).toContain(
      "Cut the spigot's thread 0.20 mm deeper (1 detent): adds 0.40 mm of clearance.",
    );
  });

  test('teaches no less for earlier lessons', () => {
    const learned = { shift: mm(0), spread: mm(0.1), reasons: ['an earlier box'] };
    const standard = (setup: typeof threaded) => played(`${AT} ~3`, setup).job.trials[0]?.standard;
    expect(standard({ ...threaded, learned })).toBe(standard(threaded));
    expect(standard(threaded)).toBeGreaterThan(0);
  });
});

describe('the record', () => {
  const quarter = { part: 'body', trim: near(25.4 / 16 / 4) };
  test.each<Step>([
    ['@record =90', keeps('grain-seen', quarter)],
    ['@record =400', no('bad-number', { accepted: 'an angle within one turn either way' })],
    ['@record =left', no('bad-number', { accepted: expect.stringContaining('60deg') })],
    ['@trial =3 @record keep', keeps('job-closed', { how: 'runs' })],
    ['@trial =2 @record keep', keeps('job-closed', { how: 'given-up' })],
    ['@record keep', keeps('job-closed', { how: 'untried' })],
    ['@record keep keep', no('closed')],
    ['@record keep =12', no('closed')],
  ])('%s', tells);

  test('of a bored body trims the lid', () => {
    const { grain } = played('@record =90', { ...threaded, bored: 'body' }).job;
    expect(grain?.part).toBe('lid');
  });
});

test('a plain lid goes without the thread stages', () =>
  story(played('=40 keep next 41.05x4 40.05x4 keep', plain), [
    'next',
    { stage: 'trial', spigot: near(40.05) },
  ]));

test('four actions lead from zero to a closed record', () => {
  const table = played('@zero 0x5 keep next 40x5 keep next board keep detents:5 keep next =42.3 keep next');
  table.play('44.4x4 43.4x4 keep next keep detents:5 keep next again keep next keep');
  expect(table.job.closed).toMatchObject({ how: 'runs' });
  for (const kind of ['zero-taken', 'hollow-measured', 'bore-taken', 'target-set', 'spigot-taken'] as const)
    expect(table.countOf(kind)).toBe(1);
  expect([table.countOf('touched-off'), table.countOf('thread-cut')]).toEqual([2, 2]);
});

test.each(['zero', 'hollow', 'bore-thread', 'bore-size', 'spigot', 'spigot-thread', 'trial'])(
  'at %s the way out is among the first keys',
  (stage) => {
    const keys = sceneOf(played(`@${stage}`).bench).keys.slice(0, 7);
    expect(keys.map(({ key }) => key)).toEqual(expect.arrayContaining(['?', 'q']));
  },
);
