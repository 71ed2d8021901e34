// The last look at what leaves for a terminal: characters that turn, hide or command are written as escapes that can be seen.

/**
 * DEL, C1 (ECMA-48), and what turns or hides text (Unicode UAX #9; from memory). C0 is not among them: JSON escapes it by
 * itself, and colours of our own begin with it.
 */
const UNSEEN = /[\u007f-\u009f\u00ad\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb]/g;

/** Each such character as `\uHHHH`: in JSON the same text, in anything else a text that can be read. */
export const plainly = (line: string): string =>
  line.replace(UNSEEN, (found) => `\\u${found.charCodeAt(0).toString(16).padStart(4, '0')}`);
