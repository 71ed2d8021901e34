// The doctor's judgements: each with what stands, and what to do where something is not well.
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { judgeRecords } from '../../src/commands/doctor/examine.ts';
import {
  type Access,
  attention,
  bad,
  exitCodeOf,
  type Finding,
  findingLines,
  judgeAccess,
  judgeClock,
  judgeDisk,
  judgeGlyphs,
  judgeLine,
  judgeRuntime,
  judgeTerminal,
  ok,
} from '../../src/commands/doctor/findings.ts';
import { type LineStats, NOTHING_HEARD } from '../../src/link/probe.ts';
import { freshHome, must, opened } from '../support/records-home.ts';

const terminal = (columns: number, rows: number): Finding => judgeTerminal({ columns, rows });
const disk = (mebis: number, writable: boolean): Finding => judgeDisk('/x', mebis * 1024 * 1024, writable);

const written = { what: 'the job database', at: Date.UTC(2026, 5, 2) };

const access = (change: Partial<Access>): Finding =>
  judgeAccess({
    path: '/dev/ttyUSB0',
    mayOpen: false,
    group: { name: 'dialout', allowed: true },
    listed: false,
    joined: false,
    ...change,
  });

const board = { board: 'oak-1', firmware: '0.3.0', parts: ['caliper', 'feed'] };
const line = (change: Partial<LineStats>): Finding =>
  judgeLine({ kind: 'listened', path: '/dev/x', stats: { ...NOTHING_HEARD, ...change } }, 10);

/** Each finding, and words of what it says or of what there is to do. */
test.each<[Finding, Finding['state'], string]>([
  [judgeRuntime('20.11.0', '20.11'), 'ok', 'Node 20.11.0'],
  [judgeRuntime('22.1.0', '20.11'), 'ok', 'Node 22.1.0'],
  [judgeRuntime('20.10.9', '20.11'), 'bad', 'install Node 20.11 or newer'],
  [judgeRuntime('18.20.0', '20.11'), 'bad', 'install Node 20.11 or newer'],
  [terminal(80, 24), 'ok', '80 columns, 24 rows'],
  [terminal(79, 24), 'attention', '80 by 24'],
  [terminal(80, 23), 'attention', '80 by 24'],
  [terminal(60, 16), 'attention', '80 by 24'],
  [terminal(59, 40), 'bad', '60 by 16'],
  [terminal(120, 15), 'bad', '60 by 16'],
  [terminal(0, 0), 'ok', 'its size is unknown'],
  [judgeGlyphs('auto', 'ascii'), 'attention', 'set LANG'],
  [judgeGlyphs('ascii', 'ascii'), 'ok', 'as set'],
  [judgeGlyphs('auto', 'all'), 'ok', 'UTF-8'],
  [judgeGlyphs('auto', 'blocks'), 'ok', 'blocks'],
  [
    judgeClock(Date.UTC(1970, 0, 1), written),
    'bad',
    '1970-01-01 00:00 UTC, before the job database was written (2026-06-02 00:00)',
  ],
  // A time zone or a few hours are not a wrong clock.
  [judgeClock(written.at - 13 * 3600 * 1000, written), 'ok', '2026-06-01 11:00 UTC'],
  [disk(500, true), 'ok', '500 MiB free for /x'],
  [disk(100, true), 'attention', 'free some space soon'],
  [disk(1, true), 'bad', 'the next job may not be saved'],
  [disk(500, false), 'bad', "you can't write to /x"],
  [access({ mayOpen: true }), 'ok', 'you can read and write /dev/ttyUSB0'],
  [access({}), 'bad', 'usermod -aG dialout'],
  [access({ listed: true }), 'bad', 'log out and in again'],
  [access({ listed: true, joined: true }), 'bad', 'ls -l /dev/ttyUSB0'],
  [access({ group: { name: 'root', allowed: false } }), 'bad', 'ls -l /dev/ttyUSB0'],
  [line({ board, readings: 70, lost: 3 }), 'attention', '3 lines lost'],
  [line({ board, readings: 70, damaged: 2 }), 'attention', '2 damaged'],
  [line({ board, readings: 70, restarts: 1 }), 'attention', 'it restarted'],
  [line({ board }), 'attention', 'no readings from the caliper'],
  [line({ readings: 50, unchecked: 50 }), 'attention', 'bare numbers'],
  [
    line({ readings: 50 }),
    'ok',
    "a board that hasn't said which one it is; 50 readings in 10 s (5.0 a second), 0 lines lost, 0 damaged",
  ],
  [line({ damaged: 9 }), 'attention', 'noise: 9 lines'],
  [
    line({ versionRefused: { theirs: '2', ours: '1' } }),
    'bad',
    'speaks version 2 of the bench line, this program version 1',
  ],
])('%o', (finding, state, words) => {
  expect(finding.state).toBe(state);
  expect(`${finding.says} ${finding.todo}`).toContain(words);
  expect(finding.todo === undefined).toBe(state === 'ok');
});

test('a bench without records is fine, and looking creates no file', () => {
  const { database } = freshHome();
  const says = expect.stringContaining('none yet');
  expect(judgeRecords(database)).toMatchObject({ state: 'ok', says });
  expect(existsSync(database)).toBe(false);
});

test('sound records are counted; a flipped letter in one entry is damage, though the file is a sound database', () => {
  const home = freshHome();
  const records = opened(home);
  const kept = {
    id: 'e',
    job: 'j',
    at: 1,
    fact: { kind: 'note-added', text: 'waxed once' },
    readings: [],
  } as const;
  must(records.append(kept));
  records.close();
  expect(judgeRecords(home.database)).toMatchObject({
    state: 'ok',
    says: expect.stringMatching(
      /^every row checked, all sound: 1 jobs, 1 entries, 0 readings; \d+ KiB, format \d+, in /,
    ),
  });
  const bytes = readFileSync(home.database);
  bytes.write('waned', bytes.indexOf('waxed'), 'latin1');
  writeFileSync(home.database, bytes);
  expect(judgeRecords(home.database)).toMatchObject({
    state: 'bad',
    says: expect.stringContaining("entry 1 isn't what was written"),
  });
});

test('a file that is not our database is bad and left unchanged; an empty one is not damage', () => {
  const home = freshHome();
  opened(home).close();
  writeFileSync(home.database, 'x'.repeat(5000));
  expect(judgeRecords(home.database)).toMatchObject({
    state: 'bad',
    todo: expect.stringContaining('copy the file'),
  });
  expect(readFileSync(home.database, 'utf8')).toBe('x'.repeat(5000));
  writeFileSync(home.database, '');
  expect(judgeRecords(home.database).state).toBe('ok');
});

test('the worst finding decides how it ends', () => {
  const [fine, odd, wrong] = [ok('a', 'x'), attention('b', 'y', 'do it'), bad('c', 'z', 'mend it')];
  expect([exitCodeOf([fine]), exitCodeOf([fine, odd]), exitCodeOf([wrong, odd])]).toEqual([0, 1, 3]);
  expect(findingLines(odd)).toEqual(['attention  b          y', `${' '.repeat(22)}do: do it`]);
});
