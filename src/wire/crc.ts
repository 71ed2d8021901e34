// CRC-16/IBM-3740: polynomial 0x1021, start 0xFFFF, no reflection, no final xor (check value 0x29B1).
// Parameters as the Catalogue of Parametrised CRC Algorithms names them (from memory).

const POLYNOMIAL = 0x1021;
const START = 0xffff;

const shiftByte = (byte: number): number => {
  let remainder = byte << 8;
  for (let bit = 0; bit < 8; bit++)
    remainder = (remainder & 0x8000 ? (remainder << 1) ^ POLYNOMIAL : remainder << 1) & 0xffff;
  return remainder;
};
const TABLE = Uint16Array.from({ length: 256 }, (_, byte) => shiftByte(byte));

const step = (crc: number, byte: number): number =>
  ((crc << 8) & 0xffff) ^ (TABLE[((crc >> 8) ^ byte) & 0xff] ?? 0);

/** The checksum of text in which each character is one byte. */
export function crc16OfText(text: string): number {
  let crc = START;
  for (let i = 0; i < text.length; i++) crc = step(crc, text.charCodeAt(i));
  return crc;
}

const COMMA = 0x2c;

/**
 * The checksum of the first `end` characters of a line, or -1 where one of them is not printable ASCII. Writes where each
 * field ends into `ends`, which ignores what it has no room for; missing fields end at `end` as well. One pass for both, since every
 * received line goes through here.
 */
export function crc16OfLine(line: string, end: number, ends: Int32Array): number {
  let crc = START;
  let field = 0;
  for (let i = 0; i < end; i++) {
    const code = line.charCodeAt(i);
    if (code < 0x20 || code > 0x7e) return -1;
    if (code === COMMA) ends[field++] = i;
    crc = step(crc, code);
  }
  ends.fill(end, field);
  return crc;
}
