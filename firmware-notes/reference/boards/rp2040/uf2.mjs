// Makes a UF2 image of a flash image: seals its first 256 bytes with their sum, and cuts it into blocks.
// Format and sum: the UF2 specification and the RP2040 data sheet, section on the boot sequence (both from memory).
import { readFileSync, writeFileSync } from 'node:fs';

const FLASH = 0x10000000;
const FAMILY = 0xe48bff56;
const PAYLOAD = 256;
const SEALED = 252;

/** CRC-32 with polynomial 04C11DB7, start FFFFFFFF, no reflection, no final xor. */
function sumOf(bytes) {
  let sum = 0xffffffff;
  for (const byte of bytes) {
    sum ^= byte << 24;
    for (let bit = 0; bit < 8; bit++) sum = sum & 0x80000000 ? (sum << 1) ^ 0x04c11db7 : sum << 1;
  }
  return sum >>> 0;
}

function blockOf(payload, number, count) {
  const block = Buffer.alloc(512);
  const head = [0x0a324655, 0x9e5d5157, 0x2000, FLASH + number * PAYLOAD, PAYLOAD, number, count, FAMILY];
  for (const [n, word] of head.entries()) block.writeUInt32LE(word, 4 * n);
  payload.copy(block, 32);
  block.writeUInt32LE(0x0ab16f30, 508);
  return block;
}

const [from, to] = process.argv.slice(2);
const flash = readFileSync(from);
if (flash.subarray(SEALED, PAYLOAD).some((byte) => byte !== 0))
  throw new Error('boot2 is longer than 252 bytes');
flash.writeUInt32LE(sumOf(flash.subarray(0, SEALED)), SEALED);
const count = Math.ceil(flash.length / PAYLOAD);
const blocks = Array.from({ length: count }, (_, n) =>
  blockOf(flash.subarray(n * PAYLOAD, (n + 1) * PAYLOAD), n, count),
);
writeFileSync(to, Buffer.concat(blocks));
