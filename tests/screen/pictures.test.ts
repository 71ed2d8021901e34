// Showns of the screen as a turner sees it: rows with their right edge, and the styles of what must stand out.
import { describe, expect, test } from 'vitest';
import type { Bench } from '../../src/core/bench/state.ts';
import { millis } from '../../src/core/units.ts';
import { sceneOf } from '../../src/screen/scenes/scene-of.ts';
import { plainText, rowWidth, type Style } from '../../src/screen/styled-text.ts';
import { textWidth } from '../../src/screen/text.ts';
import { GALLERY } from '../support/gallery.ts';
import { type Shown, shown as view } from '../support/shown.tsx';

const SIZES = [
  { columns: 80, rows: 24 },
  { columns: 60, rows: 16 },
  { columns: 120, rows: 40 },
  { columns: 200, rows: 60 },
] as const;

const made = new Map<string, Bench>();
/** A moment of the gallery; each is made once. */
function bench(moment: string): Bench {
  const known = made.get(moment) ?? GALLERY[moment]?.();
  if (!known) throw new Error(`the gallery has no ${moment}`);
  made.set(moment, known);
  return known;
}
const at = (moment: string, columns: number, rows: number): Shown =>
  view(bench(moment), { columns, rows }, 'all');
/** Rows with their right edge drawn, so that a picture that is too narrow or too wide shows. */
const shown = ({ rows }: Shown): string[] => rows.map((row) => `${plainText(row)}|`);
const textOf = (picture: Shown): string => picture.rows.map(plainText).join('\n');
/** The text of every run in a style, in order. */
const inStyle = ({ rows }: Shown, style: Style): string[] =>
  rows.flatMap((row) =>
    row.filter((run) => run.style === style && run.text.trim() !== '').map((run) => run.text.trim()),
  );

describe('pictures', () => {
  test('three tops agree', () => {
    const picture = at('bore-size-agreed', 80, 24);
    expect(shown(picture)).toEqual([
      ' Pear box with lid  pear · 16 TPI                                ● bench-01 8/s |',
      ' ○zero ○hollow ○bore thread ◆bore size ○spigot ○spigot thread ○trial ○record    |',
      '                                                                                |',
      '                            bore, the true diameter                             |',
      '                  ▄████   ▄██████▄        ████████▄    ▄██████▄                 |',
      '                ▄██▀███  ███▀  ▀███       ▀▀▀▀▀▀▀██▄  ███▀  ▀███                |',
      '              ▄██▀  ███         ███          ▄▄▄▄██▀  ███    ███                |',
      '             ███    ███     ▄▄███▀▀          █████▄   ███    ███                |',
      '             ██████████  ▄███▀▀                  ███  ███    ███                |',
      '             ▀▀▀▀▀▀▀███  ███▄▄▄▄▄▄▄  ▄▄▄  ▄▄▄▄▄▄▄██▀  ███▄  ▄███                |',
      '                    ███  ██████████  ███  ████████▀    ▀██████▀  mm             |',
      '                                                                                |',
      '               ● STEADY  42.30 ± 0.04 mm, 6 peaks within 0.01 mm                |',
      '                      zero not checked   planned 42.30 mm                       |',
      '                                                                                |',
      '          ▼            ▼            ▼            ▼                              |',
      '        ⣀⠤⠤⡀         ⣀⠤⠤⡀         ⣀⠤⠤⡀         ⣀⠤⠤⡀                     42.33   |',
      '       ⡖⠁  ⠉⣆       ⡖⠁  ⠉⣆       ⡖⠁  ⠉⣆       ⡖⠁  ⠉⣆                            |',
      '⠤⡀    ⡏      ⠧⡀    ⡏      ⠧⡀    ⡏      ⠧⡀    ⡏      ⠧⡀                          |',
      ' ⠓⣄⣀⠤⠋        ⠓⣄⣀⠤⠋        ⠓⣄⣀⠤⠋        ⠓⣄⣀⠤⠋        ⠓⣄                 42.03   |',
      '                                                                                |',
      ' ▸ Press Enter to keep this bore. Keep rocking for a tighter figure.            |',
      ' ▲ Stop the lathe before the jaws touch the work.                               |',
      '   Enter keep   a again   n next   b back   ? help   u undo   m mm/inch         |',
    ]);
    expect(inStyle(picture, 'peak')).toEqual(['▼', '▼', '▼', '▼']);
    expect(inStyle(picture, 'at').at(-1)).toBe('● STEADY');
    expect(inStyle(picture, 'caution')).toEqual(['▲ Stop the lathe before the jaws touch the work.']);
    expect(inStyle(picture, 'here')).toEqual(['bore size']);
  });

  test('a spigot near its target on the smallest screen', () => {
    const picture = at('spigot-near', 60, 16);
    expect(shown(picture)).toEqual([
      ' Pear box with lid  pear · 16 TPI            ● bench-01 8/s |',
      ' ○─○─○─●─◆ spigot ─○─○─○                                    |',
      '             left to turn off, on the diameter              |',
      '             ▄██████▄     ▄██████▄ ▄██████                  |',
      '             ██    ██     ▀▀    ██ ██                       |',
      '             ██    ██       ▄▄██▀▀ ███████▄                 |',
      '             ██    ██     ██▀▀     ██    ██                 |',
      '             ▀██████▀ ██  ████████ ▀██████▀ mm              |',
      '       ◐ NEAR  light cuts now; measure after each one       |',
      '   diameter 43.66 mm   per side 0.13 mm   target 43.40 mm   |',
      ' ▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒·············◆───────┤    |',
      '                                         target 43.40       |',
      " ▸ Take a light cut, stop, measure again. Half of what's    |",
      '   left comes off each side.                                |',
      ' ▲ Stop the lathe before the jaws touch the work.           |',
      '   Enter keep   a again   n next   b back   ? help   u undo |',
    ]);
    expect(inStyle(picture, 'near')).toContain('◐ NEAR');
  });

  test('a depth that the restarted board no longer proves', () => {
    const picture = at('bore-thread-void', 80, 24);
    expect(shown(picture)).toEqual([
      ' Pear box with lid  pear · 16 TPI                         1 restart  ● bench-01 |',
      ' ○zero ○hollow ◆bore thread ○bore size ○spigot ○spigot thread ○trial ○record    |',
      '                                                                                |',
      '      the count is lost        ⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿  |',
      '                               ⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿  |',
      '                               ⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿  |',
      '                               ⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⠁⡹⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⢏⠈⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿  |',
      '                               ⣿⣿⣿⣿⣿⣿⣿⣿⣿⡿⠡ ⠄⠹⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⠏⠠ ⠌⢿⣿⣿⣿⣿⣿⣿⣿⣿⣿  |',
      ' ████████████   ████████████   ⣿⣿⣿⣿⣿⣿⣿⣿⡟⠂⠐ ⠂⠐⠘⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⠃⠂⠐ ⠂⠐⢻⣿⣿⣿⣿⣿⣿⣿⣿  |',
      ' ████████████   ████████████   ⣿⣿⣿⣿⣿⣿⣿⢟ ⡁⢈ ⡁⢈ ⡙⢿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⡿⢋ ⡁⢈ ⡁⢈ ⡻⣿⣿⣿⣿⣿⣿⣿  |',
      '                               ⣿⣿⣿⣿⣿⣿⠏⠠ ⠄⠠ ⠄⠠ ⠄⠨⢿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⣿⡿⠅⠠ ⠄⠠ ⠄⠠ ⠄⠹⣿⣿⣿⣿⣿⣿  |',
      '                               ⣿⣿⣿⣿⣿⠋⠂⠐ ⠂⠐ ⠂⠐ ⠂⠐⠈⢻⣿⣿⣿⣿⣿⣿⣿⣿⣿⡟⠁⠂⠐ ⠂⠐ ⠂⠐ ⠂⠐⠙⣿⣿⣿⣿⣿  |',
      '                               ⣿⣿⣿⡿⢋ ⡁⢈ ⡁⢈ ⡁⢈ ⡁⢈ ⡁⢻⣿⣿⣿⣿⣿⣿⣿⡟⢈ ⡁⢈ ⡁⢈ ⡁⢈ ⡁⢈ ⡙⢿⣿⣿⣿  |',
      '                               ⠉⠉⠉⠁                ⠉⠉⠉⠉⠉⠉⠉                ⠈⠉⠉⠉  |',
      '                               wood solid, dots: as planned                     |',
      '                                                                                |',
      '             × DEPTH VOID  the board restarted and counts from zero             |',
      '                       planned 5 detents   depth 1.00 mm                        |',
      '                                                                                |',
      ' ▸ Feed up until the cutter just marks the wood, then press Enter to touch off  |',
      '   again.                                                                       |',
      ' ▲ Keep hands, sleeves and tissue clear of the cutter. Wear eye and face        |',
      '   protection.                                                                  |',
      '   Enter touch off   a touch off   n next   b back   ? help   k calibrate       |',
    ]);
    expect(inStyle(picture, 'bad')).toEqual(['× DEPTH VOID']);
  });
});

describe.each(Object.keys(GALLERY))('%s', (moment) => {
  test('fills every size exactly, with what to do, what to mind and one huge thing', () => {
    const scene = sceneOf(bench(moment));
    for (const { columns, rows } of SIZES) {
      const picture = at(moment, columns, rows);
      expect(picture.rows).toHaveLength(rows);
      for (const row of picture.rows) expect(rowWidth(row)).toBe(columns);
      const words = textOf(picture).replace(/\s+/g, ' ');
      expect(words).toContain(scene.next);
      if (scene.caution) expect(words).toContain(scene.caution);
      if (scene.standing) expect(words).toContain(`${scene.standing.mark} ${scene.standing.word}`);
      if (scene.big) expect(words).toContain(scene.big.label.slice(0, 20));
      expect(words).not.toMatch(/\p{Cc}|NaN|undefined|Infinity/u);
    }
  });

  test('shows in ASCII alone where nothing else can be shown', () => {
    const picture = view(bench(moment), { columns: 80, rows: 24 }, 'ascii');
    for (const row of picture.rows) {
      expect(plainText(row)).toMatch(/^[\x20-\x7e]*$/);
      expect(textWidth(plainText(row))).toBe(80);
    }
  });

  test('says what is too small, and still shows what to do', () => {
    for (const [columns, rows] of [
      [59, 24],
      [80, 15],
      [30, 8],
      [20, 4],
      [1, 1],
    ] as const) {
      const picture = at(moment, columns, rows);
      expect(picture.rows).toHaveLength(rows);
      for (const row of picture.rows) expect(rowWidth(row)).toBe(columns);
    }
    expect(textOf(at(moment, 59, 24))).toContain('59x24 is too small: 60x16 shows all');
  });
});

test('the zones of a spigot differ by word and shape, not by colour alone', () => {
  const zones = ['far', 'near', 'at', 'under', 'past'].map((zone) => sceneOf(bench(`spigot-${zone}`)));
  expect(new Set(zones.map((scene) => scene.standing?.word)).size).toBe(5);
  expect(new Set(zones.map((scene) => scene.standing?.mark)).size).toBe(5);
  const bars = ['far', 'near', 'at', 'under', 'past'].map(
    (zone) => shown(at(`spigot-${zone}`, 80, 24))[16]?.trim()[0],
  );
  expect(bars).toEqual(['░', '▒', '█', '▓', '×']);
});

test('a reading older than two seconds is stale by word and style, and not before', () => {
  const fresh = bench('bore-size-rocking');
  const heard = fresh.live?.heardAt ?? 0;
  const capture = { ...fresh, capture: null, job: fresh.job && { ...fresh.job, bore: null } };
  const later = (after: number): Shown =>
    view({ ...capture, now: millis(heard + after) }, { columns: 80, rows: 24 }, 'all');
  expect(textOf(later(1900))).not.toMatch(/STALE|silent/);
  expect(textOf(later(2100))).toContain('◇ STALE  the last reading is 2 s old');
  expect(textOf(later(2100))).toContain('▲ silent 2 s');
  expect(inStyle(later(2100), 'stale').length).toBeGreaterThan(0);
  expect(inStyle(later(2100), 'value')).toEqual([]);
});

test('the number keeps its size and place whatever the sentences around it say', () => {
  const rowsOfNumber = (moment: string): number[] =>
    shown(at(moment, 80, 24)).flatMap((row, index) => (/[█▀▄]{3}/.test(row) && index < 14 ? [index] : []));
  const first = rowsOfNumber('spigot-far');
  expect(first).toHaveLength(7);
  for (const moment of ['spigot-near', 'spigot-at', 'spigot-under', 'spigot-past', 'spigot-target'])
    expect(rowsOfNumber(moment)).toEqual(first);
});

test('a cue flashes its word over the strip, and is gone after a second', () => {
  const flashing = bench('spigot-flash');
  const row = (after: number): string =>
    shown(
      view({ ...flashing, now: millis((flashing.cue?.at ?? 0) + after) }, { columns: 80, rows: 24 }, 'all'),
    )[1] ?? '';
  expect(row(100).trim()).toMatch(/^AT SIZE +\|$/);
  expect(row(1000)).toContain('◆spigot');
});

test('what is typed stands with the cursor behind it', () => {
  const picture = at('bore-size-typed', 80, 24);
  expect(plainText(picture.rows[picture.cursor?.row ?? 0] ?? [])).toMatch(/^ typed: 42\.3 +$/);
  expect(picture.cursor?.column).toBe(12);
});

test('names from outside cannot move the cursor or change a colour', () => {
  const evil = bench('bore-size-ready');
  const job = evil.job && { ...evil.job, name: 'box\x1b[31m\x9b2J\r\n\u202e' };
  const picture = view({ ...evil, job }, { columns: 80, rows: 24 }, 'all');
  expect(textOf(picture)).toContain('box?[31m?2J ?');
});

test('a wide name leaves every column where it belongs', () => {
  const row = shown(at('jobs', 80, 24)).find((line) => line.includes('木の小箱')) ?? '';
  expect(textWidth(row)).toBe(81);
  expect(row).toMatch(/● closed +yesterday +\|$/);
});

test('a target moved by earlier trials says so, and the help says why', () => {
  const words = textOf(at('spigot-learned', 80, 24));
  expect(words).toContain('trials moved it by -0.06 mm: ? says why');
  expect(words).toContain('learned -0.06, from 1 trial');
  const why = textOf(at('help-learned', 80, 24));
  expect(why).toContain('came out 0.06 mm tighter than computed');
  expect(why).toContain('- Quince box: computed 0.15 mm, tight');
});

test('inches are shown as inches', () => {
  const words = textOf(at('bore-size-inches', 80, 24));
  expect(words).toMatch(/1\.66\d\d? ± 0\.00\d\d? in/);
  expect(words).not.toMatch(/ mm[^/]/);
});
