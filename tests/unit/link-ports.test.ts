// Which ports are found and in what order, which one is used when none is named, and why one would not open.
import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { choosePort } from '../../src/commands/ports.ts';
import { findPorts, ranked } from '../../src/link/ports.ts';
import { openFailureText } from '../../src/link/serial.ts';
import { freshFolder } from '../support/fresh-folder.ts';

const folder = freshFolder();
const devices = join(folder, 'dev');
const byId = join(devices, 'serial', 'by-id');
const terminals = join(folder, 'sys', 'class', 'tty');

const write = (file: string, text = ''): void => {
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, text);
};
/** A terminal device as Linux shows it: its own folder, and a `device` link to the hardware where there is some. */
function terminal(name: string, hardware?: string, type?: string): void {
  mkdirSync(join(terminals, name), { recursive: true });
  if (type !== undefined) write(join(terminals, name, 'type'), `${type}\n`);
  if (hardware === undefined) return;
  write(join(folder, 'sys', 'devices', hardware, 'driver', 'module'));
  symlinkSync(join(folder, 'sys', 'devices', hardware), join(terminals, name, 'device'));
}

for (const name of ['ttyUSB10', 'ttyUSB2', 'ttyACM0', 'ttyS0', 'ttyS1', 'ttyAMA0', 'tty1', 'null'])
  write(join(devices, name));
mkdirSync(byId, { recursive: true });
symlinkSync(join(devices, 'ttyUSB2'), join(byId, 'usb-elm-1'));
symlinkSync(join(devices, 'ttyUSB99'), join(byId, 'usb-gone'));
terminal('tty1');
terminal('ttyS0', 'pnp0/serial0', '4');
terminal('ttyS1', 'pnp0/serial1', '0');
terminal('ttyAMA0', 'soc/uart0', '2');
terminal('ttyS9', 'pnp0/serial9', '4');
terminal('ttyUSB2', 'usb1/1-2/1-2:1.0/ttyUSB2');
write(join(folder, 'sys/devices/usb1/1-2/idVendor'), '1a86\n');
write(join(folder, 'sys/devices/usb1/1-2/manufacturer'), 'a maker\n');

const folders = { devices, byId, terminals };
const noUdev = (): Promise<never> => Promise.reject(new Error('spawn udevadm ENOENT'));
const paths = (ports: readonly { path: string }[]): string[] =>
  ports.map(({ path }) => path.replace(devices, ''));

describe('finding ports', () => {
  test('without udev /dev and /sys are read: USB ports first, then those with hardware, numbers in their order', async () => {
    const { ports, unlisted } = await findPorts(noUdev, folders);
    expect(paths(ports)).toEqual(['/ttyACM0', '/ttyUSB2', '/ttyUSB10', '/ttyAMA0', '/ttyS0']);
    expect(unlisted).toContain('udevadm');
    expect(ports[1]).toMatchObject({ stable: join(byId, 'usb-elm-1'), maker: 'a maker' });
    expect(ports[2]?.stable).toBeUndefined();
  });
  test("the system's list is used, and no port comes twice", async () => {
    const other = { path: join(devices, 'ttyUSB2'), maker: 'another maker', serial: '7' };
    const { ports, unlisted } = await findPorts(
      async () => [{ path: join(devices, 'ttyS1') }, other],
      folders,
    );
    expect(paths(ports)).toEqual(['/ttyACM0', '/ttyUSB2', '/ttyUSB10', '/ttyAMA0', '/ttyS0', '/ttyS1']);
    expect(ports[1]).toMatchObject({ maker: 'another maker', serial: '7' });
    expect(unlisted).toBeUndefined();
  });
  test('where there is nothing at all, nothing is found', async () => {
    const none = join(folder, 'none');
    const nowhere = { devices: none, byId: none, terminals: none };
    expect((await findPorts(async () => [], nowhere)).ports).toEqual([]);
  });
  test('a port with a maker comes before one without', () => {
    const [one, three] = [{ path: 'COM1' }, { path: 'COM3', maker: 'a maker' }];
    expect(ranked([one, three])).toEqual([three, one]);
  });
});

describe('the port used when none is named', () => {
  const usb = { path: '/dev/ttyUSB0', stable: '/dev/serial/by-id/x' };
  const two = [usb, { path: '/dev/ttyUSB1' }];
  const chosen = (path: string) => ({ kind: 'chosen', path });

  test('is the only USB port, by its stable name where it has one', () => {
    expect(choosePort([usb, { path: '/dev/ttyS0' }])).toEqual(chosen(usb.stable));
    expect(choosePort([{ path: 'COM3' }])).toEqual(chosen('COM3'));
  });
  test('is the one used last while it is there, by any of its names', () => {
    for (const last of [usb.path, usb.stable]) expect(choosePort(two, last)).toEqual(chosen(usb.stable));
    expect(choosePort(two, '/dev/ttyUSB7')).toMatchObject({ kind: 'none' });
  });
  test("is never the computer's own serial port where the bench opens it by itself", () => {
    expect(choosePort([{ path: '/dev/ttyS0' }], '', false)).toMatchObject({ kind: 'none' });
    const made = { path: 'COM3', maker: 'a maker' };
    expect(choosePort([{ path: 'COM1' }, made], '', false)).toEqual(chosen('COM3'));
  });
  test('is empty without ports, and with several', () => {
    expect(choosePort([])).toMatchObject({ why: expect.stringContaining('use the virtual bench') });
    const why = 'More than one port found (/dev/ttyUSB0, /dev/ttyUSB1). Choose one with --port.';
    expect(choosePort(two)).toEqual({ kind: 'none', why });
  });
});

describe('why a port would not open', () => {
  test.each([
    ['Error Resource temporarily unavailable Cannot lock port', 'a second lidwright. Close it there'],
    ['Error: Permission denied, cannot open /dev/ttyUSB0', 'dialout'],
    ['Opening /dev/ttyUSB0: Access denied', 'another program'],
    ['Error: No such file or directory, cannot open /dev/ttyUSB0', 'Plug the board in'],
    ['Error: Inappropriate ioctl for device, cannot open /dev/null', "isn't a serial port"],
    ['Error: Invalid baud rate', '--baud'],
    ['something \x1b[31mnew', "Can't open /dev/ttyUSB0: something ?[31mnew"],
  ])('%s', (message, says) => {
    expect(openFailureText('/dev/ttyUSB0', message, [])).toContain(says);
  });
  test('names the program that uses it', () => {
    expect(openFailureText('/dev/ttyUSB0', 'Cannot lock port', ['monitor (process 7)'])).toBe(
      '/dev/ttyUSB0 is open in monitor (process 7). Close it there, and the bench connects by itself.',
    );
  });
});
