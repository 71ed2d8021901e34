// Text that came from outside, made safe to show: nothing in it can move a cursor, turn the writing or run on.

/** The longest text from a device that is shown: one whole line of the protocol. */
export const SHOWN_AT_MOST = 96;

/** C0, DEL and C1 (ECMA-48), the line and paragraph separators, and what turns or hides text (Unicode UAX #9); from memory. */
const UNSAFE =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what this looks for
  /[\u0000-\u001f\u007f-\u009f\u00ad\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb]/g;

/** `text` with every control and direction character replaced by `?`, and cut at `cap` characters with an ellipsis. */
export function safeText(text: string, cap: number = SHOWN_AT_MOST): string {
  const cut = text.length > cap ? `${text.slice(0, cap - 1)}…` : text;
  return cut.replace(UNSAFE, '?');
}
