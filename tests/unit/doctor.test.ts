// The doctor's judgements: each with what stands, and what to do where something is not well.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
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
import { homeOf } from '../../src/records/home.ts';
import { openRecords } from '../../src/records/jobs.ts';

const standing = (finding: Finding) => `${finding.state}: ${finding.says}`;

describe('surroundings', () => {
  test.each([
    ['20.11.0', 'ok'],
    ['20.20.2', 'ok'],
    ['22.1.0', 'ok'],
    ['20.10.9', 'bad'],
    ['18.20.0', 'bad'],
  ])('runtime %s against 20.11 is %s', (version, state) => {
    expect(judgeRuntime(version, '20.11').state).toBe(state);
  });

  test.each([
    [120, 40, 'ok'],
    [80, 24, 'ok'],
    [79, 24, 'attention'],
    [80, 23, 'attention'],
    [60, 16, 'attention'],
    [59, 40, 'bad'],
    [120, 15, 'bad'],
    [0, 0, 'ok'],
  ])('a terminal of %i by %i is %s', (columns, rows, state) => {
    expect(judgeTerminal({ columns, rows }).state).toBe(state);
  });

  test('a locale without UTF-8 wants attention, unless the turner chose', () => {
    expect(judgeGlyphs('auto', 'ascii')).toMatchObject({
      state: 'attention',
      todo: expect.stringContaining('LANG'),
    });
    expect(judgeGlyphs('ascii', 'ascii').state).toBe('ok');
    expect([judgeGlyphs('auto', 'all').state, judgeGlyphs('auto', 'blocks').state]).toEqual(['ok', 'ok']);
  });

  test('a clock earlier than the newest file is bad; a time zone or a few hours are not', () => {
    const written = { what: 'the job database', at: Date.UTC(2026, 5, 2) };
    expect(standing(judgeClock(Date.UTC(1970, 0, 1), written))).toBe(
      'bad: 1970-01-01 00:00 UTC, before the job database was written (2026-06-02 00:00)',
    );
    expect(judgeClock(written.at - 13 * 3600 * 1000, written).state).toBe('ok');
  });

  test.each([
    [500, true, 'ok'],
    [100, true, 'attention'],
    [1, true, 'bad'],
    [500, false, 'bad'],
  ])('%i MiB free, writable %s, is %s', (mebis, writable, state) => {
    expect(judgeDisk('/x', mebis * 1024 * 1024, writable).state).toBe(state);
  });
});

describe('the port', () => {
  const access = (change: Partial<Access>): Access => ({
    path: '/dev/ttyUSB0',
    mayOpen: false,
    group: { name: 'dialout', allowed: true },
    listed: false,
    joined: false,
    ...change,
  });

  test('a port without permission gets the way in: join the group, log in again, or look at the device', () => {
    expect(judgeAccess(access({ mayOpen: true })).state).toBe('ok');
    expect(judgeAccess(access({})).todo).toContain('usermod -aG dialout');
    expect(judgeAccess(access({ listed: true })).todo).toBe('log out and in again');
    expect(judgeAccess(access({ listed: true, joined: true })).todo).toContain('ls -l /dev/ttyUSB0');
    expect(judgeAccess(access({ group: { name: 'root', allowed: false } })).todo).toContain('ls -l');
  });

  const board = { board: 'oak-1', firmware: '0.3.0', parts: ['caliper', 'feed'] };
  const heard = (change: Partial<LineStats>) =>
    judgeLine({ kind: 'listened', path: '/dev/x', stats: { ...NOTHING_HEARD, ...change } }, 10);

  test.each<[string, Partial<LineStats>, string, string]>([
    ['lost lines', { board, readings: 70, lost: 3 }, 'attention', '3 lines lost'],
    ['damaged lines', { board, readings: 70, damaged: 2 }, 'attention', '2 damaged'],
    ['a restart', { board, readings: 70, restarts: 1 }, 'attention', 'it restarted'],
    ['a board without a caliper', { board }, 'attention', 'no readings from the caliper'],
    ['bare numbers', { readings: 50, unchecked: 50 }, 'attention', 'bare numbers'],
    [
      'readings without a name',
      { readings: 50 },
      'ok',
      "a board that hasn't said which one it is; 50 readings in 10 s (5.0 a second), 0 lines lost, 0 damaged",
    ],
    ['noise', { damaged: 9 }, 'attention', 'noise: 9 lines'],
    [
      'another version',
      { versionRefused: { theirs: '2', ours: '1' } },
      'bad',
      'speaks version 2 of the bench line, this program version 1',
    ],
  ])('%s', (_, change, state, says) => {
    const finding = heard(change);
    expect(finding.state).toBe(state);
    expect(finding.says).toContain(says);
    expect(finding.todo === undefined).toBe(state === 'ok');
  });
});

describe('the records', () => {
  let folder = '';
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'lidwright-doctor-'));
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));

  test('a bench without records is fine, and looking creates no file', () => {
    expect(judgeRecords(join(folder, 'jobs.db'))).toMatchObject({
      state: 'ok',
      says: expect.stringContaining('none yet'),
    });
  });

  test('sound ones are counted', () => {
    const opened = openRecords(homeOf({}, folder));
    if (!opened.ok) throw new Error('the records of a new folder must open');
    opened.value.close();
    expect(standing(judgeRecords(join(folder, 'jobs.db')))).toMatch(
      /^ok: every row checked, all sound: 0 jobs, 0 entries, 0 readings; \d+ KiB, format \d+, in /,
    );
  });

  test('a flipped letter in one entry is damage, though the file is a sound database', () => {
    const home = homeOf({}, folder);
    const opened = openRecords(home);
    if (!opened.ok) throw new Error('the records of a new folder must open');
    const kept = {
      id: 'e',
      job: 'j',
      at: 1,
      fact: { kind: 'note-added', text: 'waxed once' },
      readings: [],
    } as const;
    expect(opened.value.append(kept).ok).toBe(true);
    opened.value.close();
    const path = join(folder, 'jobs.db');
    const bytes = readFileSync(path);
    bytes.write('waned', bytes.indexOf('waxed'), 'latin1');
    writeFileSync(path, bytes);
    expect(judgeRecords(path)).toMatchObject({
      state: 'bad',
      says: expect.stringContaining("entry 1 isn't what was written"),
    });
  });

  test('an empty file is not damage', () => {
    writeFileSync(join(folder, 'jobs.db'), '');
    expect(judgeRecords(join(folder, 'jobs.db'))).toMatchObject({ state: 'ok' });
  });

  test('a file that is not our database is bad and left unchanged', () => {
    const path = join(folder, 'jobs.db');
    writeFileSync(path, 'x'.repeat(5000));
    expect(judgeRecords(path)).toMatchObject({
      state: 'bad',
      todo: expect.stringContaining('copy the file'),
    });
    expect(readFileSync(path, 'utf8')).toBe('x'.repeat(5000));
  });
});

test('the worst finding decides how it ends', () => {
  const [fine, odd, wrong] = [ok('a', 'x'), attention('b', 'y', 'do it'), bad('c', 'z', 'mend it')];
  expect([exitCodeOf([fine]), exitCodeOf([fine, odd]), exitCodeOf([wrong, odd])]).toEqual([0, 1, 3]);
  expect(findingLines(odd)).toEqual(['attention  b          y', `${' '.repeat(22)}do: do it`]);
});
