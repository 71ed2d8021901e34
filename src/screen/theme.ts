// What each style looks like, and how much colour the terminal allows. Colour never carries meaning alone: a word or a shape says the same.
/** How much of colour and weight a terminal shows. */
export type ColourDepth = 'bare' | 'none' | '16' | '256';

/** SGR parameters of a style at each depth; `none` has no colours but may be bold, faint, underlined or reversed. */
type Parameters = readonly [none: string, sixteen: string, twoFiftySix: string];

// The 256 colours are chosen between light and dark, to stand out on a black and on a white ground alike.
/** What a run of text means, and its looks. `cursor` marks the cell of the terminal's own cursor. */
const LOOKS = {
  plain: ['', '', ''],
  strong: ['1', '1', '1'],
  quiet: ['2', '2', '38;5;244'],
  title: ['1', '1;36', '1;38;5;37'],
  value: ['1', '1', '1'],
  stale: ['2', '2', '38;5;244'],
  near: ['1', '1;33', '1;38;5;172'],
  at: ['1', '1;32', '1;38;5;34'],
  past: ['1', '1;31', '1;38;5;202'],
  caution: ['4', '33', '38;5;172'],
  good: ['', '32', '38;5;34'],
  bad: ['1', '1;31', '1;38;5;202'],
  chosen: ['7', '7', '7'],
  here: ['1;4', '1;4;36', '1;4;38;5;37'],
  done: ['', '', ''],
  ahead: ['2', '2', '38;5;244'],
  next: ['1', '1', '1'],
  key: ['1', '1;36', '1;38;5;37'],
  trace: ['', '36', '38;5;67'],
  peak: ['1', '1;32', '1;38;5;34'],
  out: ['2', '31', '38;5;131'],
  rule: ['2', '2', '38;5;240'],
  flash: ['7', '7', '7;1'],
  cursor: ['8', '8', '8'],
} as const satisfies { readonly [style: string]: Parameters };

type Style = keyof typeof LOOKS;
export const STYLES = Object.keys(LOOKS) as readonly Style[];

/** The escape sequence that starts a style from any other; empty where nothing may be styled. */
export type Theme = (style: Style) => string;

const COLUMN = { none: 0, '16': 1, '256': 2 } as const;

/** The sequence of the `cursor` style, at every depth: it is for changed-cells.ts and never reaches the terminal. */
const CURSOR_MARK = '\x1b[0;8m';

/** The theme for a depth; `bare` writes no attribute at all. */
export function themeOf(depth: ColourDepth): Theme {
  if (depth === 'bare') return (style) => (style === 'cursor' ? CURSOR_MARK : '');
  return (style) => {
    const parameters = LOOKS[style][COLUMN[depth]];
    return parameters === '' ? '\x1b[0m' : `\x1b[0;${parameters}m`;
  };
}

export type Environment = Readonly<Record<string, string | undefined>>;

/**
 * How much colour the environment allows: FORCE_COLOR (0 to 3) before NO_COLOR (any text) before what TERM can do.
 * Sources: no-color.org; Node's own reading of FORCE_COLOR (tty.WriteStream getColorDepth); both from memory.
 */
export function colourDepthOf(env: Environment): ColourDepth {
  if (env.TERM === 'dumb') return 'bare';
  const forced = env.FORCE_COLOR;
  if (forced === '0' || forced === 'false') return 'none';
  if (forced === '2' || forced === '3') return '256';
  if (forced !== undefined) return '16';
  if (env.NO_COLOR) return 'none';
  if (/256/.test(env.TERM ?? '') || env.COLORTERM) return '256';
  return '16';
}
