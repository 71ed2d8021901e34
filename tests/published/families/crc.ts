// CRC-16/IBM-3740: the check value and the published codewords through the line's own checksum.
import { crc16OfText } from '../../../src/wire/crc.ts';
import type { Check } from '../check.ts';
import { group, type Row, sourceOf, statusOf } from '../source.ts';

export const groups = ['5c_crc'];
export const count = 5;

const OURS = 'CRC-16/IBM-3740 (CCITT-FALSE)';
const upper = (value: number): string => value.toString(16).toUpperCase().padStart(4, '0');

const check = (row: Row, what: string, expected: string, ours: string, key: string): Check => ({
  what,
  source: sourceOf(row),
  status: statusOf(row),
  expected,
  ours,
  why: 'a checksum agrees or does not',
  truth: `5c_crc/${row.id}/${key}`,
});

/** A codeword is its bytes with the checksum of all but the last two behind them. */
function codeword(row: Row): Check {
  const text = String(row.values.codeword);
  const body = Buffer.from(text.slice(0, -4), 'hex');
  return check(row, row.id, text.slice(-4), upper(crc16OfText(body.toString('latin1'))), 'codeword');
}

function checkValue(row: Row): readonly Check[] {
  const ours = crc16OfText('123456789');
  const expected = upper(Number(row.values.check));
  return [
    check(row, 'check value of 123456789', expected, upper(ours), 'check'),
    {
      what: 'a codeword with its checksum behind it divides without rest',
      source: 'property of every CRC without reflection or final xor',
      status: 'DERIVED',
      expected: '0000',
      ours: upper(crc16OfText(Buffer.from('31323334353637383929B1', 'hex').toString('latin1'))),
      why: 'a checksum agrees or does not',
    },
  ];
}

const others = group('5c_crc').filter((row) => row.id !== OURS && !row.id.startsWith('codeword IBM-3740'));
const PARAMETERS = ['width', 'poly', 'init', 'refin', 'refout', 'xorout'];

export const leftOut = {
  ...Object.fromEntries(others.map((row) => [`5c_crc/${row.id}`, 'another CRC than the one on the line'])),
  ...Object.fromEntries(
    PARAMETERS.map((key) => [
      `5c_crc/${OURS}/${key}`,
      'a parameter; the check value and three codewords stand for it',
    ]),
  ),
};

export const rows = (): readonly Check[] =>
  group('5c_crc').flatMap((row) => {
    if (row.id === OURS) return checkValue(row);
    return row.id.startsWith('codeword IBM-3740') ? [codeword(row)] : [];
  });
