// Completions for fish: one line for each word that may stand somewhere, guarded by the commands typed so far.
import { type Flag, type Offer, type Place, type Positional, placesIn, plainText } from './grammar.ts';

/** Text inside fish's single quotes, where only the quote and the backslash are special (fish language, Quotes). */
const quoted = (text: string): string => `'${text.replace(/[\\']/g, '\\$&')}'`;
const about = (text: string): string => `-d ${quoted(plainText(text))}`;

const at = (path: readonly string[]): string => `-n ${quoted(['__lidwright_at', ...path].join(' '))}`;

function taking(offer: Offer): string {
  switch (offer.kind) {
    case 'words':
      return ` -x -a ${quoted(offer.words.join(' '))}`;
    case 'files':
      return ' -r -F';
    case 'folders':
      return ` -x -a ${quoted('(__fish_complete_directories)')}`;
    case 'nothing':
      return ' -x';
    default:
      return offer satisfies never;
  }
}

function flagLine(place: Place, flag: Flag): string {
  const names = flag.names.map((name) =>
    name.startsWith('--') ? `-l ${name.slice(2)}` : `-s ${name.slice(1)}`,
  );
  const value = flag.value ? taking(flag.value.offer) : '';
  return `complete -c lidwright ${at(place.path)} ${names.join(' ')}${value} ${about(flag.about)}`;
}

function positionalLines(place: Place, positional: Positional): readonly string[] {
  const start = `complete -c lidwright ${at(place.path)}`;
  if (positional.offer.kind === 'words')
    return [`${start} -a ${quoted(positional.offer.words.join(' '))} ${about(positional.about)}`];
  return positional.offer.kind === 'files' ? [`${start} -F`] : [];
}

const linesAt = (place: Place): readonly string[] => [
  ...place.subs.map(
    ({ path, summary }) => `complete -c lidwright ${at(place.path)} -a ${path.at(-1)} ${about(summary)}`,
  ),
  ...place.positionals.flatMap((positional) => positionalLines(place, positional)),
  ...place.flags.map((flag) => flagLine(place, flag)),
];

/** The script, for fish 3 and later. */
export function fishScript(root: Place): string {
  const places = placesIn(root);
  const known = places.filter(({ path }) => path.length > 0).map(({ path }) => quoted(path.join(' ')));
  return `# fish completion for lidwright, made from its command definitions.
# To load it: lidwright completions fish | source
# To keep it: lidwright completions fish > ~/.config/fish/completions/lidwright.fish
function __lidwright_at
    set -l path
    set -l words (commandline -opc)
    set -e words[1]
    for word in $words
        set -l longer (string join ' ' -- $path $word)
        if contains -- "$longer" ${known.join(' ')}
            set path $path $word
        end
    end
    test "$path" = "$argv"
end
complete -c lidwright -f
${places.flatMap(linesAt).join('\n')}`;
}
