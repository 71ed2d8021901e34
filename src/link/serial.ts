// A serial port opened, written, closed and listed by the serialport library.
import { SerialPort } from 'serialport';

export interface OpenPort {
  /** Sends text, one character one byte. What can't be sent any more is dropped: the board is asked again later. */
  send(text: string): void;
  /** Settles when the port is free again; never fails. */
  close(): Promise<void>;
}

export interface PortHandlers {
  bytes(bytes: Buffer): void;
  /** The port closed by itself: unplugged, or hung up. Not called after `close`. */
  gone(why: string): void;
}

/** Opens a port at 8N1 without flow control. Fails with the system's own error. */
export function openPort(path: string, baud: number, handlers: PortHandlers): Promise<OpenPort> {
  return new Promise((resolve, reject) => {
    // hupcl off: DTR keeps its level when the port is closed, so that opening it again does not restart the board.
    const port = new SerialPort({ path, baudRate: baud, autoOpen: false, hupcl: false });
    let closedByUs = false;
    port.on('data', (bytes: Buffer) => {
      if (!closedByUs) handlers.bytes(bytes);
    });
    port.on('close', (cause: Error | null) => {
      if (!closedByUs) handlers.gone(cause?.message ?? 'closed');
    });
    // A write fails when the port disappears; `close` follows and handles it.
    port.on('error', () => undefined);
    port.open((cause) => {
      if (cause) return reject(cause);
      resolve({
        send: (text) => port.isOpen && port.write(text, 'latin1'),
        close: () => {
          closedByUs = true;
          return closed(port);
        },
      });
    });
  });
}

const closed = (port: SerialPort): Promise<void> =>
  new Promise((resolve) => {
    if (!port.isOpen && !port.closing) return resolve();
    port.once('close', () => resolve());
    port.once('error', () => resolve());
    if (port.isOpen) port.close(() => resolve());
  });

export interface ListedPort {
  readonly path: string;
  readonly maker?: string | undefined;
  readonly serial?: string | undefined;
}

/** The ports the system lists. Fails where it cannot, such as on Linux without udev. */
export async function listPorts(): Promise<readonly ListedPort[]> {
  const found = await SerialPort.list();
  return found.map(({ path, manufacturer, serialNumber }) => ({
    path,
    maker: manufacturer,
    serial: serialNumber,
  }));
}
