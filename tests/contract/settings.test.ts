// Settings heeded by commands that are not the bench: the environment and the file count there too, and only for what is heeded.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { COMMANDS } from '../../src/commands/all.ts';
import { runLine } from '../support/command-run.ts';

let home = '';
beforeEach(() => {
  home = mkdtempSync(join(tmpdir(), 'lidwright-settings-'));
});
afterEach(() => rmSync(home, { recursive: true, force: true }));

test('the port of the environment, or of the file, is the one listened to', async () => {
  const fromEnvironment = await runLine(home, 'listen --for 1', COMMANDS, {
    LIDWRIGHT_PORT: '/dev/none-of-that',
  });
  expect(fromEnvironment).toMatchObject({
    code: 3,
    data: [expect.stringContaining('/dev/none-of-that is not there')],
  });
  writeFileSync(join(home, 'settings.toml'), 'port = "/dev/nor-of-this"\n');
  const fromFile = await runLine(home, 'listen --for 1', COMMANDS);
  expect(fromFile).toMatchObject({
    code: 3,
    data: [expect.stringContaining('/dev/nor-of-this is not there')],
  });
});

test.each(['listen --for 1', 'ports'])(
  '%s does not begin with an unsound speed, and says where it stands',
  async (line) => {
    const { code, said } = await runLine(home, line, COMMANDS, { LIDWRIGHT_BAUD: 'fast' });
    expect(code).toBe(2);
    expect(said.join()).toContain('LIDWRIGHT_BAUD: found "fast"; give a whole number');
  },
);

test('trouble with a setting that a command does not heed is not its trouble', async () => {
  const { code, said } = await runLine(home, 'ports --list', COMMANDS, { LIDWRIGHT_TILT: 'steep' });
  expect(code).toBe(0);
  expect(said.join()).not.toContain('TILT');
});
