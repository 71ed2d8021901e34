// Which ports are found and in what order, which one is meant when none is named, and why one would not open.
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { chosenPort } from '../../src/commands/listen/choice.ts';
import { findPorts, ranked } from '../../src/link/ports.ts';
import { isHeldElsewhere, refusalOf } from '../../src/link/refusal.ts';

const folder = mkdtempSync(join(tmpdir(), 'lidwright-ports-'));
const devices = join(folder, 'dev');
const byId = join(devices, 'serial', 'by-id');
mkdirSync(byId, { recursive: true });
for (const name of ['ttyUSB10', 'ttyUSB2', 'ttyACM0', 'ttyS0', 'null'])
  writeFileSync(join(devices, name), '');
symlinkSync(join(devices, 'ttyUSB2'), join(byId, 'usb-elm-1'));
symlinkSync(join(devices, 'ttyUSB99'), join(byId, 'usb-gone'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const paths = (found: readonly { path: string }[]): string[] =>
  found.map(({ path }) => path.replace(devices, ''));

describe('finding ports', () => {
  test('without udev the device folder is read, with stable names, numbers in their order', async () => {
    const found = await findPorts(() => Promise.reject(new Error('no udevadm')), { devices, byId });
    expect(paths(found)).toEqual(['/ttyACM0', '/ttyUSB2', '/ttyUSB10']);
    expect(found[1]?.stable).toBe(join(byId, 'usb-elm-1'));
    expect(found[2]?.stable).toBeUndefined();
  });
  test('what the system tells is kept, and nothing is told twice', async () => {
    const listed = [
      { path: join(devices, 'ttyS0') },
      { path: join(devices, 'ttyUSB2'), maker: 'a maker', serial: '7' },
    ];
    const found = await findPorts(async () => listed, { devices, byId });
    expect(paths(found)).toEqual(['/ttyACM0', '/ttyUSB2', '/ttyUSB10', '/ttyS0']);
    expect(found[1]).toMatchObject({ maker: 'a maker', serial: '7' });
  });
  test('where there is nothing at all, nothing is found', async () => {
    const nowhere = { devices: join(folder, 'none'), byId: join(folder, 'none') };
    expect(await findPorts(async () => [], nowhere)).toEqual([]);
  });
  test('a port that tells its maker comes before one that tells nothing', () => {
    expect(ranked([{ path: 'COM1' }, { path: 'COM3', maker: 'a maker' }]).map(({ path }) => path)).toEqual([
      'COM3',
      'COM1',
    ]);
  });
});

describe('the port that is meant', () => {
  test('is the only USB port, by its stable name where it has one', () => {
    expect(
      chosenPort([{ path: '/dev/ttyUSB0', stable: '/dev/serial/by-id/x' }, { path: '/dev/ttyS0' }]),
    ).toEqual({
      kind: 'chosen',
      path: '/dev/serial/by-id/x',
    });
    expect(chosenPort([{ path: 'COM3' }])).toEqual({ kind: 'chosen', path: 'COM3' });
  });
  test('is none where there is none, or where it could be several', () => {
    expect(chosenPort([])).toMatchObject({ kind: 'none', why: expect.stringContaining('--virtual') });
    expect(chosenPort([{ path: '/dev/ttyUSB0' }, { path: '/dev/ttyUSB1' }])).toMatchObject({
      why: 'several ports are there (/dev/ttyUSB0, /dev/ttyUSB1): name one with --port',
    });
  });
});

describe('why a port would not open', () => {
  test.each([
    [
      'Error Resource temporarily unavailable Cannot lock port',
      'perhaps a serial monitor, or a second lidwright',
    ],
    ['Error: Permission denied, cannot open /dev/ttyUSB0', 'dialout'],
    ['Opening /dev/ttyUSB0: Access denied', 'another program'],
    ['Error: No such file or directory, cannot open /dev/ttyUSB0', 'plug the board in'],
    ['Error: Inappropriate ioctl for device, cannot open /dev/null', 'not a serial port'],
    ['Error: Invalid baud rate', '--baud'],
    ['something \x1b[31mnew', 'would not open: something ?[31mnew'],
  ])('%s', (message, says) => {
    expect(refusalOf('/dev/ttyUSB0', message, [])).toContain(says);
  });
  test('names who has it', () => {
    expect(refusalOf('/dev/ttyUSB0', 'Cannot lock port', ['monitor (process 7)'])).toBe(
      '/dev/ttyUSB0 is open in monitor (process 7): end it there, and the link comes up by itself',
    );
  });
  test('only a held port is worth asking around for', () => {
    expect(isHeldElsewhere('Cannot lock port')).toBe(true);
    expect(isHeldElsewhere('No such file or directory')).toBe(false);
  });
});
