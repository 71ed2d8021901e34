// What can be wrong with the files of kit and settings, as values, and the sentence for each.
import { forScreen, pathForScreen } from '../core/safe-text.ts';

/** A value that is not accepted: where it stood, what it was, what would be. */
interface BadValue {
  readonly kind: 'bad-value';
  /** The file, the environment variable or the flag. */
  readonly where: string;
  readonly key: string;
  readonly found: string;
  readonly accepted: string;
  /** What counts in its place. */
  readonly kept: string;
}

export type KitTrouble =
  | BadValue
  | { readonly kind: 'unreadable'; readonly where: string; readonly why: string }
  | {
      readonly kind: 'not-toml';
      readonly where: string;
      readonly line: number;
      readonly column: number;
      readonly why: string;
    }
  | {
      readonly kind: 'unknown-key';
      readonly where: string;
      readonly key: string;
      readonly accepted: readonly string[];
    }
  | { readonly kind: 'same-name'; readonly where: string; readonly other: string; readonly name: string }
  | {
      readonly kind: 'not-in-kit';
      readonly where: string;
      readonly what: string;
      readonly name: string;
      readonly names: readonly string[];
    }
  | { readonly kind: 'crossed'; readonly where: string; readonly why: string; readonly kept: string };

const MOST_SHOWN = 60;
const shown = (text: string): string => forScreen(text, MOST_SHOWN);
const listed = (words: readonly string[]): string => words.map(shown).join(', ');

/** What was wrong, what counts instead, and what to do. */
export function kitTroubleText(trouble: KitTrouble): string {
  const where = pathForScreen(trouble.where);
  switch (trouble.kind) {
    case 'bad-value':
      return `${where}: ${trouble.key}: ${shown(trouble.found)} isn't accepted. Give ${trouble.accepted}. Until then, ${trouble.kept}.`;
    case 'unreadable':
      return `${where} can't be read (${shown(trouble.why)}), so it isn't used. Nothing in it was changed. Check its permissions.`;
    case 'not-toml':
      return `${where}: line ${trouble.line}, column ${trouble.column}: ${shown(trouble.why)}. Nothing in this file is used or changed. Correct that line.`;
    case 'unknown-key':
      return `${where}: unknown key "${shown(trouble.key)}", ignored. Check the spelling: ${listed(trouble.accepted)}.`;
    case 'same-name':
      return `${where}: "${shown(trouble.name)}" is also the name in ${pathForScreen(trouble.other)}, which is the one used. Rename this one.`;
    case 'not-in-kit':
      return `${where}: ${trouble.what} "${shown(trouble.name)}" isn't in the kit (${listed(trouble.names)}). The first of these is used. \`lidwright kit choose\` picks another.`;
    case 'crossed':
      return `${where}: ${trouble.why}. Until that is corrected, ${trouble.kept}.`;
    default:
      return trouble satisfies never;
  }
}
