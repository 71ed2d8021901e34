// The end-to-end eye: the built program in a real pseudo-terminal, its screen read by a real terminal emulator.
import { join, resolve } from 'node:path';
import { type IPty, spawn } from '@lydell/node-pty';
import { type Cell, Emulator } from './terminal-screen.ts';
import { createChanges } from './waiting.ts';

/** The built program. */
export const PROGRAM = resolve(import.meta.dirname, '../../dist/lidwright.js');

/** Keys by name; anything else that is pressed is sent as it is. */
const KEYS: { readonly [name: string]: string } = {
  enter: '\r',
  escape: '\x1b',
  tab: '\t',
  'back-tab': '\x1b[Z',
  backspace: '\x7f',
  up: '\x1b[A',
  down: '\x1b[B',
  right: '\x1b[C',
  left: '\x1b[D',
  'ctrl-c': '\x03',
};

export interface Opening {
  /** Arguments of the program. */
  readonly args?: readonly string[];
  /** Added to an environment that holds only PATH, TERM and a UTF-8 locale; undefined takes one out. */
  readonly env?: Readonly<Record<string, string | undefined>>;
  readonly columns?: number;
  readonly rows?: number;
  readonly cwd?: string;
  /** Another program than the built lidwright: the file and its arguments. */
  readonly command?: readonly [file: string, ...args: string[]];
}

interface Ending {
  readonly code: number;
  /** 0 when no signal ended it. */
  readonly signal: number;
}

export type Step = readonly [does: string | (() => unknown), shown?: string | RegExp];

/** A person's view of a running program: what is on the screen, and keys to press. */
export class Eye {
  readonly emulator: Emulator;
  readonly #pty: IPty;
  readonly #chunks: Uint8Array[] = [];
  readonly #changes = createChanges();
  readonly #watchers = new Set<(arrivedAt: number) => void>();
  readonly #ended: Promise<Ending>;
  #ending: Ending | undefined;

  constructor(opening: Opening) {
    const columns = opening.columns ?? 80;
    const rows = opening.rows ?? 24;
    this.emulator = new Emulator(columns, rows);
    const [file, ...args] = opening.command ?? [process.execPath, PROGRAM, ...(opening.args ?? [])];
    this.#pty = spawn(file, args, {
      name: opening.env?.TERM ?? 'xterm-256color',
      cols: columns,
      rows,
      cwd: opening.cwd ?? join(PROGRAM, '../..'),
      env: cleanEnvironment(opening.env ?? {}),
      encoding: null,
    });
    this.#pty.onData((data: string | Uint8Array) => this.#took(data));
    this.#ended = new Promise((ended) => {
      this.#pty.onExit(({ exitCode, signal }) => {
        this.#ending = { code: exitCode, signal: signal ?? 0 };
        ended(this.#ending);
        this.#changes.changed();
      });
    });
  }

  get pid(): number {
    return this.#pty.pid;
  }

  /** One string per row, as wide as the terminal. */
  screen(): string[] {
    return this.emulator.screen();
  }

  text(): string {
    return this.screen().join('\n');
  }

  cells(): Cell[][] {
    return this.emulator.cells();
  }

  /** The style in words of the cells that show this text, at its first place on the screen. */
  styleOf(text: string): string | undefined {
    for (const [at, row] of this.screen().entries()) {
      const column = row.indexOf(text);
      if (column >= 0) return this.cells()[at]?.[column]?.style;
    }
    return undefined;
  }

  /** All bytes so far, as text. */
  raw(): string {
    return Buffer.concat(this.#chunks).toString('utf8');
  }

  get bytes(): number {
    return this.#chunks.reduce((sum, chunk) => sum + chunk.length, 0);
  }

  /** A key by its name, or a character. */
  press(...keys: readonly string[]): void {
    for (const key of keys) this.#pty.write(KEYS[key] ?? key);
  }

  /** What a person, or a caliper that types, enters. */
  type(text: string): void {
    this.#pty.write(text);
  }

  /** One thing after another, typed or done, and after each a wait for what it leads to where that is said. */
  async goes(...steps: readonly Step[]): Promise<void> {
    for (const [does, shown] of steps) {
      if (typeof does === 'string') this.type(does);
      else await does();
      if (shown !== undefined) await this.untilShown(shown);
    }
  }

  /** Leaves with `q`; the exit code. */
  async left(): Promise<number> {
    this.press('q');
    return (await this.ended()).code;
  }

  resize(columns: number, rows: number): void {
    this.emulator.resize(columns, rows);
    this.#pty.resize(columns, rows);
  }

  /** Sends a signal to the program alone. */
  signal(name: NodeJS.Signals): void {
    if (this.pid <= 0 || this.#ending) return;
    try {
      process.kill(this.pid, name);
    } catch (error) {
      // It has ended, and that has not been heard of yet.
      if ((error as NodeJS.ErrnoException).code !== 'ESRCH') throw error;
    }
  }

  /** Waits until the screen is as described; fails with the screen as it was when the ceiling was reached. */
  async until(
    described: string,
    met: (screen: readonly string[]) => boolean,
    ceiling = 15_000,
  ): Promise<readonly string[]> {
    await this.#wait(described, () => met(this.screen()), ceiling);
    return this.screen();
  }

  /** Waits until this text, or a match of this pattern, is on the screen. */
  untilShown(wanted: string | RegExp, ceiling?: number): Promise<readonly string[]> {
    const met = (screen: readonly string[]) =>
      screen.some((row) => (typeof wanted === 'string' ? row.includes(wanted) : wanted.test(row)));
    return this.until(`"${wanted}" on the screen`, met, ceiling);
  }

  /** Calls `look` after everything that arrives is on the screen, with when it arrived; the returned function ends that. */
  watch(look: (arrivedAt: number) => void): () => void {
    this.#watchers.add(look);
    return () => this.#watchers.delete(look);
  }

  /** Begins a job with the form's own answers, under this name where one is given; it is then at bore size. */
  async beginJob(name = ''): Promise<void> {
    await this.goes(['w', '◆ new job'], [name, name], ['\x1b[F', '◆bore size']);
  }

  /** Types one reading at bore size and keeps it as the bore. */
  async keepBore(reading: string): Promise<void> {
    await this.goes([`${reading}\r`, '1 READING'], ['\r', 'Bore kept']);
  }

  /** Waits until the program has ended by itself. */
  async ended(ceiling = 15_000): Promise<Ending> {
    await this.#wait('the program ended', () => this.#ending !== undefined, ceiling);
    return this.#ended;
  }

  /** Ends the program if it still runs; to be called after every test. */
  async close(): Promise<void> {
    this.signal('SIGKILL');
    await this.#ended;
  }

  #took(data: string | Uint8Array): void {
    const arrivedAt = performance.now();
    const chunk = typeof data === 'string' ? Buffer.from(data) : data;
    this.#chunks.push(chunk);
    void this.emulator.write(chunk).then(() => {
      this.#changes.changed();
      for (const watcher of this.#watchers) watcher(arrivedAt);
    });
  }

  async #wait(described: string, met: () => boolean, ceiling: number): Promise<void> {
    let timer: NodeJS.Timeout | undefined;
    const late = new Promise<never>((_, reject) => {
      timer = setTimeout(() => reject(new Error(this.#complaint(described, ceiling))), ceiling);
    });
    await Promise.race([this.#changes.until(met), late]).finally(() => clearTimeout(timer));
  }

  #complaint(described: string, ceiling: number): string {
    const rows = this.screen().map((row) => `│${row}│`);
    const state = this.#ending ? `ended with ${JSON.stringify(this.#ending)}` : 'still running';
    return `waited ${ceiling} ms in vain until ${described}; the program is ${state} and shows:\n${rows.join('\n')}`;
  }
}

/** Nothing of the parent's environment but where programs are found: CI variables would change what is drawn. */
function cleanEnvironment(added: Readonly<Record<string, string | undefined>>): Record<string, string> {
  const base = { PATH: process.env.PATH, HOME: process.env.HOME, TERM: 'xterm-256color', LANG: 'C.UTF-8' };
  const all = Object.entries({ ...base, ...added });
  return Object.fromEntries(all.filter((entry): entry is [string, string] => entry[1] !== undefined));
}
