// Text as roff reads it: nothing in it can be taken for a request or an escape (groff_char(7), groff(7)).

const hex = (letter: string): string =>
  (letter.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0');

/** Text for the middle of a line: backslashes, hyphens that must stay hyphens, and quotes of both kinds, letters beyond ASCII. */
export const roffText = (text: string): string =>
  text
    .replace(/\p{C}/gu, '')
    .replaceAll('\\', '\\e')
    .replaceAll('-', '\\-')
    .replaceAll("'", '\\(aq')
    .replaceAll('`', '\\(ga')
    .replaceAll('^', '\\(ha')
    .replaceAll('~', '\\(ti')
    .replace(/[^\x20-\x7e]/gu, (letter) => `\\[u${hex(letter)}]`);

/** A whole line of text: a full stop at its beginning would be a request. */
export const roffLine = (text: string): string => {
  const line = roffText(text);
  return line.startsWith('.') ? `\\&${line}` : line;
};

/** An argument of a macro, in double quotes. */
export const roffArgument = (text: string): string => `"${roffText(text).replaceAll('"', '\\(dq')}"`;
