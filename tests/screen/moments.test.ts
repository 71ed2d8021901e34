// What each moment says agrees with itself: number, label, word and instruction.
import { describe, expect, test } from 'vitest';
import { factWords } from '../../src/commands/jobs/words.ts';
import { CAUTIONS } from '../../src/core/bench/cautions.ts';
import type { Bench } from '../../src/core/bench/state.ts';
import { millis } from '../../src/core/units.ts';
import type { Scene } from '../../src/screen/scene.ts';
import { sceneOf } from '../../src/screen/scenes/scene-of.ts';
import { keyRows } from '../../src/sheet/rows.ts';
import { GALLERY } from '../support/gallery.ts';
import { shownText } from '../support/shown.tsx';

const SIZES = [
  [60, 16],
  [80, 24],
  [120, 40],
] as const;

function bench(moment: string): Bench {
  const made = GALLERY[moment]?.();
  if (!made) throw new Error(`the gallery has no ${moment}`);
  return made;
}
const scene = (moment: string): Scene => sceneOf(bench(moment));
const fact = (moment: string, name: string): string | undefined =>
  scene(moment).facts.find((one) => one.name === name)?.value;
const words = (shown: Bench, columns = 80, rows = 24): string =>
  shownText(shown, { columns, rows }).join(' ').replace(/\s+/g, ' ');

test('no moment asks to keep a stale reading', () => {
  for (const moment of Object.keys(GALLERY)) {
    const { standing, next } = scene(moment);
    if (standing?.word === 'STALE')
      expect(next, moment).toMatch(/^(Switch the caliper on|Plug the board in)/);
  }
});

test('for an unplugged board the screen says to plug it in, not to wake the caliper', () => {
  expect(scene('line-unplugged').next).toBe('Plug the board in again. The peaks so far are kept.');
  expect(scene('line-silent').next).toMatch(/^Switch the caliper on/);
});

test.each(Object.keys(GALLERY).filter((moment) => moment.startsWith('help-')))(
  '%s names manuals, rules and teaching at every size',
  (moment) => {
    for (const [columns, rows] of SIZES)
      expect(words(bench(moment), columns, rows)).toContain(CAUTIONS.manuals);
  },
);

test.each(Object.keys(GALLERY).filter((moment) => moment.includes('chased')))(
  '%s says nothing of detents, nor of a touch-off',
  (moment) => {
    for (const [columns, rows] of SIZES)
      expect(words(bench(moment), columns, rows)).not.toMatch(/detent|touch(ed)?[ -]off/i);
  },
);

describe('a spigot', () => {
  test('at size shows its distance from the target, neither under it nor still to be cut', () => {
    for (const moment of ['spigot-at', 'spigot-at-sharp', 'spigot-at-below', 'plain-at'])
      expect(scene(moment).big?.label).toBe('from target, on the diameter');
    expect(scene('spigot-at-sharp').big?.text).toBe('0.00');
    expect(scene('spigot-near').big?.label).toBe('left to turn off, on the diameter');
    expect(scene('spigot-under').big?.label).toBe('below target, on the diameter');
  });

  test('that was taken is shown itself, with the fit it gives', () => {
    expect(scene('spigot-taken').big).toMatchObject({
      text: '43.41',
      label: 'spigot, as kept',
      style: 'good',
    });
    expect(scene('spigot-taken-loose').big).toMatchObject({ text: '43.10', style: 'past' });
    expect(scene('spigot-taken-loose').standing?.mark).not.toBe(scene('spigot-taken').standing?.mark);
    const { panel } = scene('spigot-taken');
    expect(panel?.kind === 'bar' && panel).toMatchObject({ zone: 'at', stale: false });
  });

  test('of a plain lid has a hold, and is as wanted', () => {
    expect(scene('plain-at').standing?.about).toBe('stop here: as wanted, hold 0.05 mm');
    expect(fact('plain-at', 'hold')).toBe('0.05 ± 0.11 mm');
    expect(fact('plain-at', 'will run')).toBeUndefined();
    expect(fact('trial-plain', 'computed fit')).toBe('as wanted');
  });

  test('shows its clearance only where you may stop; until then the one wanted', () => {
    for (const moment of ['spigot-target', 'spigot-far', 'spigot-near', 'spigot-moving'])
      expect([fact(moment, 'wanted'), fact(moment, 'clearance')]).toEqual(['0.15 mm', undefined]);
    for (const moment of ['spigot-at', 'spigot-under', 'spigot-past', 'spigot-taken'])
      expect([fact(moment, 'wanted'), fact(moment, 'clearance')]).toEqual([undefined, expect.any(String)]);
    expect(scene('spigot-at').standing?.about).toBe('stop here: running, clearance 0.1 mm');
  });

  test.each(['spigot-near', 'spigot-inches'])('%s has the limits of the sheet and of the log', (moment) => {
    const { job, log, unit } = bench(moment);
    if (!job) throw new Error('no job');
    const [, [target, limits]] = keyRows(job, job, unit)[1] ?? ['', ['', '']];
    expect(limits).toBe(`runs from ${fact(moment, 'runs from')}`);
    expect(target).toBe(fact(moment, 'target'));
    const kept = log.find((one) => one.fact.kind === 'target-set')?.fact;
    expect(kept && factWords(kept, unit)).toBe(`target ${target}, ${limits}`);
  });

  test('in inches is as fine as its target is known', () => {
    expect(scene('spigot-inches').big?.text).toBe('0.007');
    expect(fact('spigot-inches', 'target')).toBe('1.708 in');
    expect(fact('spigot-inches', 'diameter')).toBe('1.7150 in');
  });

  test('made for a season says which', () =>
    expect(fact('season-stage', 'made for')).toBe('30%-65% humidity'));
});

describe('zero and hollow', () => {
  test('open jaws are not to be kept as a zero error', () => {
    expect(scene('zero-open').standing?.word).toBe('OPEN');
    expect(scene('zero-open').next).toBe('Close the empty jaws and leave them closed.');
  });

  test('a zero from before the board restarted asks to be checked', () => {
    expect(scene('zero-kept').standing?.word).toBe('KEPT');
    expect(scene('zero-doubted').standing?.word).toBe('CHECK AGAIN');
    expect(scene('zero-doubted').next).toBe('Close the empty jaws and leave them closed.');
  });

  test('a bore wider than planned has a plus, and nothing to come', () => {
    expect(scene('hollow-wider').big).toMatchObject({
      text: '+0.22',
      label: 'over the planned bore, on the diameter',
    });
    expect(scene('hollow-going').big?.text).toBe('2.44');
  });
});

describe('a thread', () => {
  test('whose depth is void tells the plan, not a count of nothing', () => {
    expect(fact('bore-thread-void', 'done')).toBeUndefined();
    expect(fact('bore-thread-void', 'planned')).toBe('5 detents');
    expect(words(bench('bore-thread-void'))).toContain('dots: as planned');
  });

  test('goes from touched off to taken by its word', () => {
    const steps = ['start', 'touched', 'cutting', 'last', 'full', 'taken', 'over'];
    const said = steps.map((step) => scene(`bore-thread-${step}`).standing?.word);
    expect(said).toEqual([
      'NOT TOUCHED OFF',
      'TOUCHED OFF',
      'CUTTING',
      'LAST DETENT',
      'FULL DEPTH',
      'KEPT',
      'TOO DEEP',
    ]);
  });

  test('too deep has the clearance of that depth, or none where the crest is gone', () => {
    expect(fact('spigot-thread-full', 'clearance')).toBe('0.1 ± 0.7 mm');
    expect(fact('spigot-thread-over', 'clearance')).toBeUndefined();
  });

  test('turned back asks for a deeper feed before it cuts; at full depth it asks to be kept', () => {
    expect(scene('bore-thread-reversed').next).toContain('feed 1 detent deeper');
    expect(scene('bore-thread-withdrawn').next).toContain('Enter to keep the depth');
  });

  test('has nothing still to cut once it is as deep as planned', () => {
    expect(words(bench('bore-thread-last'))).toContain('dots: uncut');
    expect(words(bench('bore-thread-full'))).not.toContain('dots:');
  });

  test('is not called silent for a caliper that lies idle, unless the board says nothing', () => {
    const idle = { ...bench('bore-thread-cutting'), now: millis(90_000) };
    expect(words(idle)).not.toContain('silent');
    expect(words({ ...idle, line: { ...idle.line, silent: true } })).toContain('▲ silent');
  });
});

describe('notices', () => {
  test('are gone once the number says more', () => {
    expect(words(bench('bore-thread-touched'))).toContain('● Touched off');
    expect(words(bench('bore-thread-cutting'))).not.toContain('Touched off');
    expect(words(bench('bore-size-waiting'))).toContain('● Job begun.');
    expect(words(bench('bore-size-ready'))).not.toContain('Job begun');
  });

  test('of a void are no good news, and are said where the thread is not in sight', () => {
    const elsewhere = words(bench('void-elsewhere'));
    expect(elsewhere).toContain("× The depth of the bore's thread is lost. Touch off again.");
    expect(words(bench('bore-thread-void'))).not.toContain('The depth of the thread is void');
  });
});

test('a trial that is best left says where to go, and crests that were relieved ask for a trial', () => {
  expect(scene('trial-loose').next).toMatch(/^Press n for the record/);
  expect(scene('trial-relieving').next).toMatch(/^Sand the crests/);
  expect(scene('trial-relieved').next).toMatch(/^Crests relieved: screw the pair together again/);
});

test.each([
  ['hollow-typed', 'at the mouth'],
  ['spigot-across-typed', 'a quarter turn round'],
])('%s says that the size was typed, and nothing of jaws held still', (moment, where) => {
  const { standing, next } = scene(moment);
  expect(standing).toMatchObject({ word: 'TYPED', about: 'press Enter to keep it' });
  expect(next).toBe(`Press Enter to keep this size ${where}, or type it again. Press n to go on.`);
  expect(words(bench(moment))).not.toMatch(/held still|hold the jaws/i);
});

test('figures that do not go together are not offered to be kept', () => {
  expect(scene('calibrate-pair').next).toContain('Press Enter to keep it');
  expect(scene('calibrate-pair-wrong').next).not.toContain('keep');
});

test('the form says which wood the letters mean', () => {
  expect(words(bench('form-wood'))).toMatch(/could be Maple, .*; .*Press down to pick one/);
  expect(words(bench('form-as-last'))).toContain('this is Boxwood');
  expect(words(bench('form-wood-xyz'))).toContain('saved as typed');
});

test('the screen tells an unreadable or silent board from no board', () => {
  expect(scene('bore-size-nothing').standing?.about).toBe('no board is plugged in');
  expect(scene('line-refused').standing?.about).toBe('port not open: run lidwright doctor');
  expect(scene('line-version').standing?.about).toBe("can't read this board's messages");
  expect(scene('line-version').next).toContain('type the largest reading');
});

test('a table that is longer than its room says how many rows are left off', () => {
  expect(words(bench('record-runs-closed'), 60, 16)).toContain('and 2 more');
  expect(words(bench('record-runs-closed'))).not.toMatch(/and \d more/);
});

test('a thread keeps its number in sight when the sentences below it are long', () => {
  // the foot of the 5, with the unit beside it
  expect(words(bench('bore-thread-unseen'), 60, 16)).toContain('▀██████▀ detents');
});
