// A serial port opened, written, closed and listed. The one file that knows the serialport library.
// Lines are cut by our own framing, not by the library's line parser: that one passes an unfinished tail on as a line when
// the port ends, has no limit to a line's length, and turns damaged bytes into other characters before they can be counted.
import { SerialPort } from 'serialport';

export interface OpenPort {
  /** Sends text, one character one byte. What cannot be sent any more is let go: the board is asked again later. */
  send(text: string): void;
  /** Settles when the port is free again; never fails. */
  close(): Promise<void>;
}

export interface PortHandlers {
  /** Bytes as text in which each character is one byte. */
  bytes(text: string): void;
  /** The port closed by itself: unplugged, or hung up. Not called after `close`. */
  gone(why: string): void;
}

/** Opens a port at 8N1 without flow control. Fails with the system's own error. */
export function openPort(path: string, baud: number, handlers: PortHandlers): Promise<OpenPort> {
  return new Promise((resolve, reject) => {
    // hupcl off: DTR keeps its level when the port is closed, so that opening it again does not restart the board.
    const port = new SerialPort({ path, baudRate: baud, autoOpen: false, hupcl: false });
    let ours = false;
    port.on('data', (chunk: Buffer) => {
      if (!ours) handlers.bytes(chunk.toString('latin1'));
    });
    port.on('close', (cause: Error | null) => {
      if (!ours) handlers.gone(cause?.message ?? 'closed');
    });
    // A write that fails as the port goes is followed by `close`; nothing more is to be done about it here.
    port.on('error', () => undefined);
    port.open((cause) => {
      if (cause) return reject(cause);
      resolve({
        send: (text) => port.isOpen && port.write(text, 'latin1'),
        close: () => {
          ours = true;
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
  readonly maker?: string;
  readonly serial?: string;
}

/** The ports the system tells of. Fails where it cannot tell, such as on Linux without udev. */
export async function listPorts(): Promise<readonly ListedPort[]> {
  const found = await SerialPort.list();
  return found.map(({ path, manufacturer, serialNumber }) => ({
    path,
    ...(manufacturer === undefined ? {} : { maker: manufacturer }),
    ...(serialNumber === undefined ? {} : { serial: serialNumber }),
  }));
}
