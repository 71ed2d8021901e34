// Completions for bash: one function that walks the words typed so far, then offers what may stand next.
import { type Flag, type Offer, type Place, placesIn } from './grammar.ts';

/** Text inside single quotes; a single quote itself ends them, is escaped, and begins them anew (POSIX 2.2.2). */
export const quoted = (text: string): string => `'${text.replaceAll("'", "'\\''")}'`;

const key = (path: readonly string[]): string => path.map((word) => ` ${word}`).join('');

/** What a value's place offers, as a statement. */
function offering(offer: Offer): string {
  switch (offer.kind) {
    case 'words':
      return `COMPREPLY=($(compgen -W ${quoted(offer.words.join(' '))} -- "$word"))`;
    case 'files':
      return 'compopt -o filenames 2>/dev/null; COMPREPLY=($(compgen -f -- "$word"))';
    case 'folders':
      return 'compopt -o filenames 2>/dev/null; COMPREPLY=($(compgen -d -- "$word"))';
    case 'nothing':
      return ':';
    default:
      return offer satisfies never;
  }
}

const valueCases = (place: Place): readonly string[] =>
  place.flags.flatMap((flag) => {
    const { value } = flag;
    if (!value) return [];
    const patterns = flag.names.map((name) => quoted(`${key(place.path)} ${name}`)).join('|');
    return [`    ${patterns}) ${offering(value.offer)}; return ;;`];
  });

const flagNames = (flag: Flag): readonly string[] => flag.names.filter((name) => name.startsWith('--'));

function wordCase(place: Place): string {
  const subs = place.subs.map(({ path }) => path.at(-1) ?? '');
  const flags = place.flags.flatMap(flagNames);
  const first = place.positionals[0];
  const words = first?.offer.kind === 'words' ? first.offer.words : [];
  const all = quoted([...subs, ...words, ...flags].join(' '));
  const files = place.positionals.some(({ offer }) => offer.kind === 'files') ? ' files=yes' : '';
  return `    ${quoted(key(place.path))}) words=${all}${files} ;;`;
}

/** The script; bash 3.2 and later. */
export function bashScript(root: Place): string {
  const places = placesIn(root);
  const paths = places.filter(({ path }) => path.length > 0).map(({ path }) => quoted(key(path)));
  return `# bash completion for lidwright, made from its command definitions.
# To load it: source <(lidwright completions bash)
# To keep it: lidwright completions bash > ~/.local/share/bash-completion/completions/lidwright
_lidwright() {
  local IFS=$' \\t\\n' word=\${COMP_WORDS[COMP_CWORD]} before=\${COMP_WORDS[COMP_CWORD-1]} path='' words='' files='' at
  COMPREPLY=()
  for ((at = 1; at < COMP_CWORD; at++)); do
    case "$path \${COMP_WORDS[at]}" in
      ${paths.join('|')}) path="$path \${COMP_WORDS[at]}" ;;
    esac
  done
  case "$path $before" in
${places.flatMap(valueCases).join('\n')}
  esac
  case "$path" in
${places.map(wordCase).join('\n')}
  esac
  COMPREPLY=($(compgen -W "$words" -- "$word"))
  if [ -n "$files" ] && [ "\${word#-}" = "$word" ]; then
    local IFS=$'\\n'
    compopt -o filenames 2>/dev/null
    COMPREPLY+=($(compgen -f -- "$word"))
  fi
}
complete -F _lidwright lidwright`;
}
