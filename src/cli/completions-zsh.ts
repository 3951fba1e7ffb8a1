/** The completions for zsh. */
import { type CommandCompletion, type OptionCompletion, quoted, type Values } from './completions-tree.js';

export function zshCompletions(commands: readonly CommandCompletion[]): string {
  const names = commands.map(({ name }) => name);
  const notes = commands.find(({ name }) => name === 'notes')!;
  return `#compdef cantilena
# Completions of cantilena for zsh, written by: cantilena completions zsh
_cantilena() {
  local -a commands
  commands=(
${commands.map(({ name, does }) => `    ${quoted(`${name}:${does}`)}`).join('\n')}
  )
  if ((CURRENT == 2)) && [[ $words[2] != -* ]]; then
    _describe -t commands command commands
    _files
    return
  fi
  case $words[2] in
    ${names.join(' | ')})
      local command=$words[2]
      shift words
      ((CURRENT--))
      ;;
    *) local command=notes ;;
  esac
  case $command in
${commands.map(branch).join('\n')}
  esac
}

# Read from a file on fpath this is the function's own body; read by source it only defines it.
if [[ $funcstack[1] == _cantilena ]]; then
  _cantilena "$@"
else
  compdef _cantilena cantilena
fi
`;

  function branch({ name, options, argument }: CommandCompletion): string {
    // Without a command the program's own options may come too.
    const own = name === notes.name ? ["'--version[print the version]'"] : [];
    const specs = [...options.flatMap(optionSpecs), ...own, ...argumentSpec(argument)];
    return `    ${name})\n      _arguments -s \\\n${specs.map((spec) => `        ${spec}`).join(' \\\n')}\n      ;;`;
  }
}

function argumentSpec(argument: Values | null): string[] {
  return argument === null ? [] : [quoted(`*:${wordFor(argument)}:${action(argument)}`)];
}

/** A specification of _arguments for each way to write the option; a long one may be followed by = and its value. */
function optionSpecs({ flags, does, value }: OptionCompletion): string[] {
  const words = does.replace(/[[\]\\]/g, '\\$&');
  const others = flags.length > 1 ? `(${flags.join(' ')})` : '';
  const rest = value === null ? '' : `:${value.called}:${action(value.values)}`;
  return flags.map((flag) => {
    const sign = value !== null && flag.startsWith('--') ? '=' : '';
    return quoted(`${others}${flag}${sign}[${words}]${rest}`);
  });
}

function action(values: Values): string {
  switch (values.kind) {
    case 'words':
      return `(${values.words.join(' ')})`;
    case 'files':
      return '_files';
    case 'folders':
      return '_files -/';
    case 'free':
      return ' ';
  }
}

function wordFor(values: Values): string {
  return { words: 'word', files: 'input', folders: 'folder', free: 'word' }[values.kind];
}
