// The notes against what they describe: vectors, terminal session, facts, links, and diagrams that can be drawn.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { Resvg } from '@resvg/resvg-js';
import { describe, expect, it } from 'vitest';
import golden from '../../shared/wire-lines.json' with { type: 'json' };
import { keptBoard } from './board.ts';

const NOTES = new URL('../../firmware-notes/', import.meta.url);
const read = (path: string): string => readFileSync(new URL(path, NOTES), 'utf8');
const PAGES = ['README.md', 'wiring.md', 'protocol.md', 'adding.md', 'figures.md'];
const DIAGRAMS = readdirSync(new URL('wiring/', NOTES));

describe('protocol.md', () => {
  it('shows vectors that are golden lines', () => {
    const rows = [...read('protocol.md').matchAll(/^\| `([^`]+)` *\| `([0-9A-F]{4})` *\|$/gm)];
    expect(rows.length).toBeGreaterThanOrEqual(7);
    for (const [, body, crc] of rows) {
      expect(golden.good.find((line) => line.body === body)?.crc, body).toBe(crc);
    }
  });
});

describe('README.md', () => {
  it('shows what an unconnected board sends to a terminal', () => {
    const board = keptBoard();
    board.run(1_003_000);
    expect(board.lines).toHaveLength(2);
    board.run(20_000);
    const page = read('README.md');
    for (const { text } of board.lines.slice(0, 3)) expect(page).toContain(`    ${text}\n`);
  });

  it('names every kept image, and each has its folder of facts', () => {
    const page = read('README.md');
    const images = readdirSync(new URL('reference/image/', NOTES)).flatMap((board) =>
      readdirSync(new URL(`reference/image/${board}/`, NOTES)).map((image) => ({ board, image })),
    );
    expect(images.length).toBeGreaterThanOrEqual(2);
    for (const { board, image } of images) {
      expect(page).toMatch(new RegExp(`\\| \`${board}\` *\\| \`${image}\``));
      expect(existsSync(new URL(`reference/facts/${image.replace(/\.\w+$/, '')}/facts.h`, NOTES))).toBe(true);
    }
  });
});

describe('the pages', () => {
  it('name no fact that facts.h does not have', () => {
    const facts = read('reference/facts/bench-01/facts.h');
    const named = new Set(
      PAGES.flatMap((page) =>
        [...read(page).matchAll(/\b(?:CALIPER|FEED|BUTTON)_[A-Z_]+\b/g)].map(([name]) => name),
      ),
    );
    expect(named.size).toBeGreaterThan(15);
    for (const name of named) expect(facts, name).toContain(`#define ${name} `);
  });

  it('link to nothing that is missing', () => {
    for (const page of PAGES) {
      for (const [, target] of read(page).matchAll(/\]\(([^)#]+)\)/g)) {
        expect(existsSync(new URL(target ?? '', NOTES)), `${page}: ${target}`).toBe(true);
      }
    }
  });

  it('show every diagram', () => {
    const all = PAGES.map(read).join('');
    expect(DIAGRAMS.length).toBeGreaterThanOrEqual(7);
    for (const diagram of DIAGRAMS) expect(all).toContain(`(wiring/${diagram})`);
  });

  it.each(DIAGRAMS)('%s can be drawn, and says in words what it shows', (diagram) => {
    const svg = read(`wiring/${diagram}`);
    expect(svg).toMatch(/<title id="title">[^<]{10,}<\/title>/);
    expect(svg).toMatch(/<desc id="desc">[^<]{40,}<\/desc>/);
    const picture = new Resvg(svg);
    expect(picture.render().width).toBeGreaterThan(600);
    const drawn = new Resvg(svg.replace(/<rect class="bg"[^>]*>/, '')).getBBox();
    expect(drawn?.x).toBeGreaterThanOrEqual(4);
    expect(drawn?.y).toBeGreaterThanOrEqual(4);
    expect((drawn?.x ?? 0) + (drawn?.width ?? 0)).toBeLessThanOrEqual(picture.width - 4);
    expect((drawn?.y ?? 0) + (drawn?.height ?? 0)).toBeLessThanOrEqual(picture.height - 4);
  });
});
