// Reads the kept firmware images: Intel HEX as text, and the same as words for the simulated chip.
import { readFileSync } from 'node:fs';

const FLASH_BYTES = 32 * 1024;

/** The text of a kept image, by the name of its facts. */
export const keptImage = (facts: string): string =>
  readFileSync(
    new URL(`../../firmware-notes/reference/image/atmega328p/${facts}.hex`, import.meta.url),
    'utf8',
  );

export interface Image {
  readonly words: Uint16Array;
  /** Bytes of flash that the image fills. */
  readonly bytes: number;
}

/** Reads data and end records; throws on a damaged or any other record, since a wrong image would test nothing. */
export function readImage(hex: string): Image {
  const flash = new Uint8Array(FLASH_BYTES).fill(0xff);
  let bytes = 0;
  for (const row of hex.trim().split(/\r?\n/)) {
    const record = Uint8Array.from(row.slice(1).match(/../g) ?? [], (pair) => Number.parseInt(pair, 16));
    const [count = 0, high = 0, low = 0, kind] = record;
    const sum = record.reduce((total, byte) => total + byte, 0) & 0xff;
    if (!row.startsWith(':') || record.length !== count + 5 || sum !== 0)
      throw new Error(`bad record: ${row}`);
    if (kind === 1) return { words: new Uint16Array(flash.buffer), bytes };
    if (kind !== 0) throw new Error(`a kind of record not known here: ${row}`);
    flash.set(record.subarray(4, 4 + count), (high << 8) | low);
    bytes += count;
  }
  throw new Error('the image has no end record');
}
