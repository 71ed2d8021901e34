// A turner's slips at the bench: what is typed is read as meant or refused in a sentence, and nothing doubtful is kept unasked.
import { describe, expect, test } from 'vitest';
import { clearanceInDoubt } from '../../src/core/bench/doubt.ts';
import { aimOf } from '../../src/core/bench/target.ts';
import { inches, type LengthUnit, millis, mm } from '../../src/core/units.ts';
import { eventFor } from '../../src/screen/keymap.ts';
import { sceneOf } from '../../src/screen/scenes/scene-of.ts';
import { noticeWords } from '../../src/screen/words.ts';
import { Table, TYPED_BORE, threaded } from '../support/bench.ts';
import { ofKind } from '../support/of-kind.ts';

const inUnit = (unit: LengthUnit) => new Table({ ...threaded, unit });
const values = ({ bench }: Table) => bench.readings.map(({ value }) => value);
/** Each character as a key, then Enter. */
function keys(table: Table, text: string): Table {
  for (const character of text) {
    const event = eventFor({ kind: 'text', text: character }, table.bench);
    if (event) table.do(event);
  }
  return table.do({ kind: 'entered' });
}

describe('a typed measurement', () => {
  test.each([
    ['42,3', 'mm', 42.3],
    ['42.30 mm', 'mm', 42.3],
    [',5in', 'mm', 12.7],
    ['1.665in', 'mm', 42.291],
    ['1 1/2', 'in', 38.1],
    ['1-1/2in', 'mm', 38.1],
    ['1 21/32 in', 'mm', 42.06875],
    ['1,665', 'in', 42.291],
  ] as const)('%s in a bench of %s is %d mm, key by key', (text, unit, value) => {
    expect(values(keys(inUnit(unit), text))).toEqual([expect.closeTo(value, 6)]);
  });

  test.each(['1e3mm', '3cm', '42.3x', '4,2,3', '42 3', '1 1/2', '0x2a', '42.3q'])(
    '%s is refused as it was typed, with what is accepted',
    (text) => {
      const table = keys(inUnit('mm'), text);
      expect(table.bench.notice).toMatchObject({ kind: 'refused', why: { kind: 'bad-number', found: text } });
      expect(values(table)).toEqual([]);
    },
  );

  test('longer than any measurement is refused, not cut', () => {
    const text = '4'.repeat(60);
    expect(keys(inUnit('mm'), text).bench.notice).toMatchObject({
      kind: 'refused',
      why: { kind: 'bad-number' },
    });
  });

  test('a depth with a comma is a depth, not detents', () => {
    const table = keys(new Table().to('bore thread'), '0,9');
    expect(table.lastFact).toMatchObject({
      kind: 'thread-cut',
      depth: expect.closeTo(0.9, 9),
      detents: null,
    });
  });

  test('detents that make a groove no thread has are refused as a depth would be', () => {
    const table = keys(new Table().to('bore thread'), '90');
    expect(table.kinds).not.toContain('thread-cut');
    expect(table.bench.notice).toMatchObject({ kind: 'refused', why: { kind: 'bad-number' } });
  });

  test.each([
    ['no planned bore', threaded, '423'],
    ['a planned bore', { ...threaded, plannedBore: inches(1.65) }, '47.3'],
  ])('a bore that can hardly be meant is asked about first, with %s', (_, setup, text) => {
    const table = keys(new Table(setup), text);
    expect(values(table)).toEqual([]);
    expect(table.bench.notice).toMatchObject({ kind: 'question' });
    expect(sceneOf(table.bench).typing?.text).toBe(text);
    expect(values(table.do({ kind: 'entered' }))).toEqual([Number(text)]);
  });

  test('changing the size in question drops the question', () => {
    const table = keys(new Table(), '423').do({ kind: 'erased' }, { kind: 'entered' });
    expect(values(table)).toEqual([42]);
  });
});

describe('typed readings of a bore', () => {
  test('are listed, and taken back one by one', () => {
    const table = new Table().type('42.30').type('42.35').type('42.31');
    expect(sceneOf(table.bench).panel).toMatchObject({
      kind: 'table',
      rows: [{ value: '42.30 mm' }, { value: '42.35 mm' }, { value: '42.31 mm' }],
    });
    table.do({ kind: 'undo-asked' });
    expect(values(table)).toEqual([42.3, 42.35]);
    expect(table.kinds).not.toContain('undone');
  });

  test('the last one comes back to be edited', () => {
    const table = new Table().type('42.30').type('42.35').do({ kind: 'moved', by: -1 });
    expect(table.bench.typed).toBe('42.35');
    expect(values(table.do({ kind: 'erased' }, { kind: 'typed', text: '1' }, { kind: 'entered' }))).toEqual([
      42.3, 42.31,
    ]);
  });

  const up = { kind: 'moved', by: -1 } as const;
  const down = { kind: 'moved', by: 1 } as const;
  const erased = { kind: 'erased' } as const;
  const entered = { kind: 'entered' } as const;
  const three = (): Table => new Table().type('42.30').type('42.53').type('42.31');

  test('are picked with the arrows, and corrected in their place', () => {
    const table = three().do(up, up);
    expect([table.bench.typed, values(table)]).toEqual(['42.53', [42.3, 42.31]]);
    expect(values(table.do(erased, erased).typing('29').do(entered))).toEqual([42.3, 42.29, 42.31]);
    expect(values(table.type('42.28'))).toEqual([42.3, 42.29, 42.31, 42.28]);
  });

  test('stay as they are while the arrows only pass them', () => {
    const table = three().do(up, up, up, up);
    expect(table.bench.typed).toBe('42.30');
    expect(table.do(down).bench.typed).toBe('42.53');
    expect([table.do(down, down).bench.typed, values(table)]).toEqual(['', [42.3, 42.53, 42.31]]);
    expect(values(table.type('42.29'))).toEqual([42.3, 42.53, 42.31, 42.29]);
  });

  test('do not leave the line for an arrow once they are changed', () => {
    const table = three().do(up, erased, up, down);
    expect([table.bench.typed, values(table)]).toEqual(['42.3', [42.3, 42.53]]);
  });

  test.each<[string, (table: Table) => Table]>([
    ['is refused', (table) => table.type('x')],
    ['is far too long', (table) => table.typing('1'.repeat(50))],
    ['is left for what a button does', (table) => table.act('keep')],
  ])('are kept as they were where the correction %s', (_, correct) => {
    expect(values(correct(three().do(up, up).typing('9')))).toEqual([42.3, 42.53, 42.31]);
  });

  test('are dropped with Escape, and by erasing them whole', () => {
    expect(values(three().do(up, up, { kind: 'escaped' }).type('42.29'))).toEqual([42.3, 42.31, 42.29]);
    const table = three().do(up, up, erased, erased, erased, erased, erased);
    expect([table.bench.typed, values(table)]).toEqual(['', [42.3, 42.31]]);
    expect(values(table.type('42.29'))).toEqual([42.3, 42.31, 42.29]);
  });

  test('of which only the newest counts are not picked further back', () => {
    const table = new Table().to('hollow').type('39.8').type('39.9').do(up, up);
    expect([table.bench.typed, values(table)]).toEqual(['39.9', [39.8]]);
  });

  test('come back with their unit where the bench has another now, and never over what is being typed', () => {
    const table = new Table().type('42.30').do({ kind: 'unit-switched' }, { kind: 'moved', by: -1 });
    expect(table.bench.typed).toBe('42.30mm');
    const typing = new Table().type('42.30').typing('4').do({ kind: 'moved', by: -1 });
    expect([typing.bench.typed, values(typing)]).toEqual(['4', [42.3]]);
    const stays = new Table().type('42.30').do(down);
    expect([stays.bench.typed, values(stays)]).toEqual(['', [42.3]]);
    expect(new Table().do({ kind: 'moved', by: -1 }).bench.typed).toBe('');
  });

  test('are taken back before what was kept, and that is said', () => {
    const { notice } = new Table().type('42.30').do({ kind: 'undo-asked' }).bench;
    expect(notice).toEqual({ kind: 'undone', what: 'reading taken back' });
  });

  test('are as long as a measurement, and what is longer is refused whole', () => {
    expect(new Table().typing('4'.repeat(40)).refusal).toBeNull();
    expect(new Table().typing('4'.repeat(41)).refusal).toEqual({
      kind: 'bad-number',
      found: '4'.repeat(41),
      accepted: 'one measurement',
    });
  });

  test('stay in the line while the board goes on reading', () => {
    const table = new Table().measured().act('next').type('43.70').do(up).reads(43.6, 2);
    expect(table.bench.lifted).toMatchObject({ reading: { value: 43.7 } });
    expect(values(table.do(erased).type('5')).at(-1)).toBe(43.75);
    expect(table.bench.lifted).toBeNull();
  });

  test('a quarter turn round are doubted beside the bore that was kept, not beside the plan', () => {
    const planned = { ...threaded, plannedBore: mm(46.5) };
    const across = new Table(planned).measured().act('again').type('46.60');
    expect(across.bench.notice).toMatchObject({ ask: { kind: 'odd-size', expected: 42.3 } });
    expect(values(new Table(planned).measured().act('again').type('42.31'))).toEqual([42.31]);
    const first = new Table(planned).measured().type('41.30');
    expect(first.bench.notice).toMatchObject({ ask: { kind: 'odd-size', expected: 46.5 } });
  });

  test('are started over by again, and with nothing read again goes on to the quarter turn', () => {
    const table = new Table().measured().type('42.31').act('again');
    expect([table.bench.place, values(table)]).toEqual(['first', []]);
    expect(table.act('again').bench.place).toBe('across');
    expect(table.type('42.31').act('again').bench.place).toBe('across');
    expect(table.act('again').bench.place).toBe('first');
    expect(new Table().act('again').bench.place).toBe('first');
  });

  test('are undone as what they measured: the bore, or its second size', () => {
    const undo = { kind: 'undo-asked' } as const;
    const across = new Table().measured().act('again').type('42.33').act('keep');
    expect(across.do(undo).bench.notice).toMatchObject({ what: 'the last size measured' });
    expect(across.do(undo).bench.notice).toMatchObject({ what: 'bore-taken' });
    const spigot = new Table().measured('42.30', 43.4);
    expect(spigot.do(undo).bench.notice).toMatchObject({ what: 'spigot-taken' });
    const end = new Table().measured('42.30', 43.4).act('again').reads(43.35, 6).act('keep');
    expect(end.do(undo).bench.notice).toMatchObject({ what: 'the last size measured' });
  });

  test('that disagree are doubtful: not kept, none lost', () => {
    const table = new Table().type('42.06').type('42.28').type('42.30').act('keep');
    expect(table.kinds).not.toContain('bore-taken');
    expect(values(table)).toHaveLength(3);
    const scene = sceneOf(table.bench);
    expect(scene.standing?.word).toBe('DOUBTFUL');
    expect(scene.standing?.about).toContain('0.24 mm');
  });

  test('spread among those that agree enters the uncertainty with its degrees of freedom', () => {
    const doubt = (...texts: readonly string[]) => {
      const table = texts.reduce((at, text) => at.type(text), new Table()).act('keep');
      const { job } = table.bench;
      return { fact: table.lastFact, doubt: job && clearanceInDoubt(job)?.standard };
    };
    const spread = doubt('42.28', '42.30', '42.31');
    expect(spread.fact).toMatchObject({
      standard: expect.closeTo(Math.sqrt((0.0167 ** 2 + 0.0033 ** 2 + 0.0133 ** 2) / 2 / 3), 3),
      degreesOfFreedom: 2,
      tops: 3,
    });
    const same = doubt('42.30', '42.30', '42.30');
    const one = doubt('42.30');
    expect(one.fact).toMatchObject({ standard: 0.03, tops: 1, agreeing: 1 });
    expect(Number(spread.doubt)).toBeGreaterThan(Number(same.doubt));
    expect(Number(one.doubt)).toBeGreaterThan(Number(same.doubt));
  });
});

const atSpigot = () => new Table().board().type('42.30').act('keep', 'next');
const targetOf = (table: Table): number => {
  const aim = ofKind('aim', table.bench.job && aimOf(table.bench.job));
  return Math.round(aim.target * 100) / 100;
};

describe('coming to the spigot', () => {
  test('with the jaws still at the bore shows the target and keeps nothing unasked', () => {
    const table = atSpigot().reads(42.3, 6);
    const scene = sceneOf(table.bench);
    expect(scene.standing?.word).toBe('TURN TO THIS');
    expect(Number(scene.big?.text)).toBeCloseTo(targetOf(table), 2);
    expect(table.sounds).not.toContain('past');
    expect(table.act('keep').kinds).not.toContain('spigot-taken');
    expect(table.bench.notice).toMatchObject({ kind: 'question' });
    expect(table.act('keep').kinds).toContain('spigot-taken');
  });

  test.each([-0.05, 0.2])(
    'of a plain lid wanted %d mm loose, jaws left at the bore are not the spigot',
    (wanted) => {
      const plain = { ...threaded, fit: 'plain', wanted: mm(wanted) } as const;
      const table = new Table(plain).board().type('42.30').act('keep', 'next');
      table.reads(42.3, 6);
      expect(sceneOf(table.bench).standing?.word).toBe('TURN TO THIS');
      expect(table.sounds).not.toContain('near');
      expect(table.act('keep').kinds).not.toContain('spigot-taken');
      expect(table.bench.notice).toMatchObject({ kind: 'question', ask: { kind: 'is-spigot' } });
      table.do({ kind: 'escaped' }).reads(42.6, 6).reads(targetOf(table), 6).act('keep');
      expect(table.kinds).toContain('spigot-taken');
    },
  );

  test('closed jaws are no spigot, even if the turner says yes', () => {
    const table = atSpigot().reads(0, 6).act('keep', 'keep');
    expect(table.kinds).not.toContain('spigot-taken');
    expect(table.bench.notice).toMatchObject({ kind: 'refused', why: { kind: 'closed-jaws' } });
    expect(sceneOf(table.bench).standing?.word).not.toBe('PAST');
  });

  test('once a reading above the target was seen, past is said at once', () => {
    const table = atSpigot();
    table.reads(targetOf(table) + 1, 6).reads(targetOf(table) - 1, 6);
    expect(sceneOf(table.bench).standing?.word).toBe('PAST');
  });

  test.each([0.4, -0.4])('%d mm off the target is kept only after a question, and not in green', (off) => {
    const table = atSpigot();
    table
      .reads(targetOf(table) + 1, 6)
      .reads(targetOf(table) + off, 6)
      .act('keep');
    expect(table.kinds).not.toContain('spigot-taken');
    expect(table.bench.notice).toMatchObject({ kind: 'question' });
    table.act('keep');
    expect(table.kinds).toContain('spigot-taken');
    const scene = sceneOf(table.bench);
    expect(scene.standing?.style).not.toBe('good');
    expect(scene.next).not.toMatch(/^Press n for its thread/);
  });

  test.each([
    ['44', '0.60'],
    ['44.0', '0.60'],
    ['44.00', '0.60'],
    ['46', '2.60'],
  ])('typing %s shows %s: the figure is as fine as the caliper, whatever was typed', (text, shown) => {
    // the target of a bore of 42.30 mm is 43.40 mm
    const table = new Table().measured().act('next');
    expect(sceneOf(table.type(text).bench).big?.text).toBe(shown);
  });
});

describe('once it is kept', () => {
  const kept = (off = 0) => {
    const table = atSpigot();
    const target = targetOf(table);
    return { table: table.turns(target + off, 6).act('keep'), target };
  };

  test('the spigot stays kept while the jaws lean or open, and the screen says where to go on', () => {
    const { table, target } = kept();
    for (const over of [0, 0.06, 0.3, 20]) {
      const scene = sceneOf(table.reads(target + over, 2).bench);
      expect(scene.standing?.word).toBe('KEPT');
      expect(scene.next).toMatch(/^Press n for its thread\./);
    }
  });

  test('a spigot cut again is measured against the target again', () => {
    const { table, target } = kept();
    const scene = sceneOf(table.reads(target - 0.05, 6).bench);
    expect(scene.standing?.word).toBe('UNDER');
    expect(scene.next).toMatch(/Press Enter to keep it/);
  });

  test('a spigot kept past its limit is called PAST until another is measured', () => {
    const { table, target } = kept(-1);
    table.act('keep');
    expect(sceneOf(table.reads(target - 1, 6).bench).standing?.word).toBe('PAST');
    expect(sceneOf(table.reads(target + 2, 6).bench).standing?.word).toBe('TURN DOWN');
  });

  test('a thread says where to go on, and a deeper one may be kept in its place', () => {
    const table = atSpigot().to('bore thread').act('keep').detents(5);
    expect(sceneOf(table.bench).next).toMatch(/Enter to keep the depth/);
    expect(sceneOf(table.act('keep').bench).next).toMatch(/^Press n for the bore size\./);
    expect(sceneOf(table.feed(6).bench).next).toMatch(/instead of the last one/);
  });
});

describe('a trial', () => {
  const atTrial = () => {
    const table = atSpigot();
    return table.turns(targetOf(table), 6).act('keep').to('trial');
  };

  test('claims nothing before it was made', () => {
    const table = atTrial();
    expect(sceneOf(table.bench).big?.text).not.toMatch(/SEIZED|TIGHT|RUNNING|LOOSE/);
    expect(table.act('keep').kinds).not.toContain('trial-made');
    expect(table.bench.notice).toMatchObject({ kind: 'refused', why: { kind: 'missing', what: 'trial' } });
  });

  test('a digit chooses and keeps in one go', () => {
    const table = atTrial().do({ kind: 'typed', text: '2' });
    expect(table.lastFact).toMatchObject({ kind: 'trial-made', verdict: 'tight' });
  });

  test('shows the record, also after leaving and coming back', () => {
    const table = atTrial().do({ kind: 'typed', text: '2' }).act('next', 'back');
    expect(sceneOf(table.bench).big?.text).toBe('TIGHT');
    const before = table.entries.length;
    table.act('keep');
    expect(table.entries.length).toBe(before);
  });

  test('another digit at once corrects the word instead of making a second trial', () => {
    const table = atTrial().do({ kind: 'typed', text: '2' }, { kind: 'typed', text: '3' });
    expect(table.bench.job?.trials.map(({ verdict }) => verdict)).toEqual(['running']);
  });

  test('buttons alone choose and keep', () => {
    const table = atTrial().act('again', 'keep');
    expect(table.lastFact).toMatchObject({ kind: 'trial-made', verdict: 'running' });
  });

  test('advice says what to do and what it does', () => {
    const table = atTrial().do({ kind: 'typed', text: '2' });
    const { panel } = sceneOf(table.bench);
    const rows = panel?.kind === 'table' ? panel.rows.map(({ value }) => value) : [];
    expect(rows.join('\n')).toMatch(
      /Cut the spigot's thread 0\.20 mm deeper \(1 detent\): adds 0\.40 mm of clearance\./,
    );
  });
});

describe('a feed count that no hand makes', () => {
  const touched = () => new Table().board().to('bore thread').act('keep');

  /** Whether the count still holds, after so many milliseconds without a line, at this total. */
  const holds = (quiet: number, total: number) => {
    const table = touched().pass(quiet).feed(total);
    return table.bench.job?.threads.female.tracker?.kind === 'tracking';
  };

  test.each([
    // 20 at once, and 100 a second, of which the next line brings 50 ms; backwards, since no groove is so deep
    [0, -25, true],
    [0, -26, false],
    [950, -120, true],
    [950, -121, false],
  ])('after %d ms at %d detents holds: %j', (quiet, total, sound) => {
    expect(holds(quiet, total)).toBe(sound);
  });

  test('jumping by thousands voids the depth', () => {
    const table = touched().feed(1).feed(30_000).feed(2);
    expect(table.lastFact).toMatchObject({ kind: 'depth-voided', why: 'impossible' });
    expect(table.act('keep').kinds).not.toContain('thread-cut');
  });

  test('going deeper than a groove of this pitch can be voids it as well', () => {
    const table = touched();
    table.detents(20);
    expect(table.kinds).toContain('depth-voided');
  });

  test('a turn of the handle back, out of the work, does not', () => {
    const table = touched();
    for (let at = -1; at >= -20; at--) table.feed(at);
    expect(table.kinds).not.toContain('depth-voided');
  });
});

describe('what the line says', () => {
  const silent = { kind: 'line-silent', heardAt: millis(0) } as const;
  const fault = (code: string) => ({ kind: 'board-fault', code, heardAt: millis(0) }) as const;

  test.each([
    ['bore size', true],
    ['spigot', true],
    ['bore thread', false],
    ['trial', false],
  ])('at %s a silent line sounds: %s', (stage, sounds) => {
    expect(new Table().to(stage).do(silent).sounds.includes('link-lost')).toBe(sounds);
  });

  test.each([
    ['caliper-noise', 'Move the lead away'],
    ['caliper-data', 'data lead is open'],
    ['feed-windows', 'Mount them closer'],
  ])('%s is shown with what to do', (code, words) => {
    const { notice } = new Table().do(fault(code)).bench;
    expect(notice && noticeWords(notice, 'mm')).toContain(words);
  });

  test('a code that nobody at the bench can mend is not', () => {
    expect(new Table().do(fault('caliper-frame')).bench.notice?.kind).not.toBe('board-fault');
  });

  test.each(['zero', 'hollow', 'bore thread', 'bore size', 'spigot', 'spigot thread', 'trial'])(
    'at %s the way out is among the first keys',
    (stage) => {
      const keys = sceneOf(new Table().to(stage).bench).keys.slice(0, 7);
      expect(keys.map(({ key }) => key)).toEqual(expect.arrayContaining(['?', 'q']));
    },
  );
});

test("another bench's entries of the same job are shown, with its bore and target, and a notice says so", () => {
  const table = atSpigot();
  const before = targetOf(table);
  const [begun] = table.entries;
  if (!begun || !table.bench.job) throw new Error('no job');
  const theirs = {
    ...begun,
    id: 'theirs',
    fact: { kind: 'bore-taken', diameter: mm(42.6), ...TYPED_BORE },
  } as const;
  const mine = { ...begun, id: 'mine', fact: { kind: 'note-added', text: 'mine' } } as const;
  table.do({ kind: 'entry-kept', entry: mine, trouble: null, log: [...table.entries, theirs, mine] });
  expect(table.bench.notice).toEqual({ kind: 'other-bench' });
  expect(table.bench.job.bore?.diameter).toBe(42.6);
  expect(targetOf(table)).toBeCloseTo(before + 0.3, 9);
});

test('a spigot at its target is not asked about, however doubtful its fit', () => {
  const learned = { shift: mm(-0.2), spread: mm(0.2), reasons: ['an earlier box, seized'] };
  const bounds = { ...threaded.bounds, runningFrom: mm(0.14) };
  const table = new Table({ ...threaded, learned, wanted: mm(0.1), bounds }).board();
  table.type('42.30').act('keep', 'next');
  table.turns(targetOf(table), 6).act('keep');
  expect(table.kinds).toContain('spigot-taken');
  expect(sceneOf(table.bench).next).toMatch(/^Press n for its thread/);
});
