// The sentences: whatever was refused, doubted or advised, a turner reads what to do, and nothing from outside gets through raw.
import { describe, expect, test } from 'vitest';
import { STAGES } from '../../src/core/bench/entry.ts';
import type { Refusal } from '../../src/core/bench/state.ts';
import type { Doubt } from '../../src/core/measure/verdict.ts';
import { inches, mm } from '../../src/core/units.ts';
import { cautionAt, cautionsFor, helpAt } from '../../src/screen/help.ts';
import { adviceWords, DOUBT_CURES, doubtWords, noticeWords, refusalWords } from '../../src/screen/words.ts';

const REFUSALS: readonly Refusal[] = [
  { kind: 'no-reading' },
  { kind: 'stale-reading' },
  { kind: 'moving' },
  { kind: 'not-agreed', reason: 'peaks-disagree' },
  { kind: 'not-agreed', reason: 'something new' },
  { kind: 'zero-wanders', spread: 0.05, allowed: 0.02 },
  { kind: 'jaws-open', shown: 12.4, most: 1 },
  { kind: 'missing', what: 'bore' },
  { kind: 'missing', what: 'count' },
  { kind: 'missing', what: 'touch-off' },
  { kind: 'depth-void', why: 'restart' },
  { kind: 'depth-void', why: 'other-board' },
  { kind: 'bad-number', found: '4\x1b[2J2', accepted: 'a number' },
  { kind: 'no-fit', why: 'the crest is eaten' },
  { kind: 'board-counts' },
  { kind: 'nothing-to-undo' },
  { kind: 'closed' },
  { kind: 'no-job' },
];

test.each(REFUSALS)('a refusal is a sentence: %j', (refusal) => {
  expect(refusalWords(refusal, 'mm')).toMatch(/^["A-Z][^\p{Cc}]{12,}\.$/u);
});

test('figures in a refusal are in the unit of the bench', () => {
  const wanders: Refusal = { kind: 'zero-wanders', spread: inches(0.002), allowed: inches(0.001) };
  expect(refusalWords(wanders, 'in')).toContain('wander by 0.0020 in; up to 0.0010 in is allowed');
  expect(refusalWords(wanders, 'mm')).toContain('wander by 0.05 mm; up to 0.03 mm is allowed');
});

const DOUBTS: readonly Doubt[] = [
  { kind: 'no-readings' },
  { kind: 'not-rocked', readings: 40 },
  { kind: 'too-few-peaks', found: 1, needed: 3 },
  { kind: 'peaks-disagree', agreeing: 2, needed: 3, spread: mm(0.12) },
  { kind: 'peak-beyond', agreeing: 3, beyond: mm(0.2) },
  { kind: 'drifting', change: mm(0.08), peaks: 6 },
  { kind: 'unit-changed', from: 'mm', to: 'in' },
  { kind: 'too-many-bad-readings', bad: 9, of: 30 },
];

test.each(DOUBTS)('a doubt has its evidence and its cure: %j', (doubt) => {
  const evidence = Object.values(doubt).filter((value) => typeof value === 'number' && value >= 1);
  const told = doubtWords(doubt, 'mm');
  if (doubt.kind !== 'not-rocked' && doubt.kind !== 'drifting')
    for (const figure of evidence) expect(told).toContain(String(figure));
  expect(DOUBT_CURES[doubt.kind]).toMatch(/^[A-Z].*\.$/);
});

test('unsaved entries are said first, and the last kept thing last', () => {
  expect(noticeWords({ kind: 'not-saved', why: 'disk full' }, 'mm')).toMatch(/^NOT SAVED: disk full\./);
  expect(noticeWords({ kind: 'kept', what: 'bore-taken' }, 'mm')).toBe('Bore kept.');
  expect(noticeWords({ kind: 'undone', what: 'bore-taken' }, 'mm')).toBe('Undone: the bore.');
  expect(noticeWords({ kind: 'kept', what: 'the job sheet as /x/\x1bsheet.html' }, 'mm')).toBe(
    'Kept: the job sheet as /x/?sheet.html.',
  );
});

describe('advice', () => {
  test('says what to cut, by how much, in how many detents, and what it adds', () => {
    const deepen = { kind: 'deepen', part: 'male', detents: 1, by: mm(0.2), buys: mm(0.4) } as const;
    expect(adviceWords(deepen, 'mm')).toBe(
      "Cut the spigot's thread 0.20 mm deeper (1 detent): adds 0.40 mm of clearance.",
    );
    expect(adviceWords({ ...deepen, part: 'female', detents: null }, 'mm')).toBe(
      "Cut the bore's thread 0.20 mm deeper: adds 0.40 mm of clearance.",
    );
  });
});

test('every stage has its help and its cautions, hands and eyes first', () => {
  for (const stage of STAGES) {
    expect(helpAt(stage, false).length).toBeGreaterThan(0);
    expect(cautionsFor(stage).at(-1)).toMatch(/makers' manuals/);
  }
  expect(STAGES.filter((stage) => cautionAt[stage] === null)).toEqual(['record']);
  for (const stage of ['bore thread', 'spigot thread'] as const)
    for (const byHand of [false, true])
      expect(cautionsFor(stage, byHand).join(' ')).toMatch(/sleeves.*cyanoacrylate.*speed/);
});
