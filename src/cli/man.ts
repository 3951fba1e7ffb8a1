/** The tree of commands → the manual page, in the language of man(7). Pure. */
import type { Command, Help, Option } from 'commander';
import { examplesOf } from './help-layout.js';
import { DESCRIPTION, ENVIRONMENT, EXIT_STATUSES } from './man-words.js';
import { programOf, WITHOUT_COMMAND } from './program.js';

/** The page as it lies in docs/cantilena.1. `version` is the program's. */
export function manPage(version: string): string {
  const program = programOf(() => {});
  const help = program.createHelp();
  const lines = [
    `.TH CANTILENA 1 "" ${argument(`cantilena ${version}`)} "User Commands"`,
    '.SH NAME',
    `cantilena \\- ${text(lower(program.description()).replace(/\.$/, ''))}`,
    '.SH SYNOPSIS',
    ...[...program.commands.flatMap((command) => ['.br', ...synopsis(command)]).slice(1)],
    '.SH DESCRIPTION',
    ...[program.description(), ...DESCRIPTION].flatMap((words) => ['.PP', text(words)]).slice(1),
    '.PP',
    text(WITHOUT_COMMAND),
    '.SH COMMANDS',
    ...program.commands.flatMap((command) => section(command, help)),
    '.SH EXIT STATUS',
    ...EXIT_STATUSES.flatMap(([status, means]) => item(`\\fB${status}\\fR`, means)),
    '.SH ENVIRONMENT',
    ...ENVIRONMENT.flatMap(([name, does]) => item(`\\fB${text(name)}\\fR`, does)),
    '.SH SEE ALSO',
    text('The folder docs of the package: commands.md, guide.md, recipes.md, note-list.md.'),
  ];
  return `${lines.join('\n')}\n`;
}

function synopsis(command: Command): string[] {
  return [`\\fBcantilena ${command.name()}\\fR ${text(command.usage())}`];
}

function section(command: Command, help: Help): string[] {
  const groups = new Map<string, Option[]>();
  for (const option of help.visibleOptions(command)) {
    const heading = option.helpGroupHeading ?? 'Options:';
    groups.set(heading, [...(groups.get(heading) ?? []), option]);
  }
  return [
    `.SS ${argument(`cantilena ${command.name()}`)}`,
    text(command.description()),
    ...help
      .visibleArguments(command)
      .flatMap((part) => item(`\\fI${text(part.name())}\\fR`, part.description)),
    ...[...groups].flatMap(([heading, options]) => [
      '.PP',
      text(heading),
      ...options.flatMap((option) => item(flags(option), option.description)),
    ]),
    '.PP',
    'Examples:',
    ...examplesOf(command).flatMap(([line, gives]) => item(`\\fB${text(line)}\\fR`, gives)),
  ];
}

/** The flags in bold, the name of the value in italics. */
function flags({ flags: written }: Option): string {
  return written
    .split(/([<[][^>\]]+[>\]])/)
    .filter((part) => part !== '')
    .map((part) => (/^[<[]/.test(part) ? `\\fI${text(part.slice(1, -1))}\\fR` : `\\fB${text(part)}\\fR`))
    .join('');
}

function item(term: string, words: string): string[] {
  return ['.TP', term, text(words)];
}

function lower(words: string): string {
  return words.charAt(0).toLowerCase() + words.slice(1);
}

/** A backslash, a hyphen and letters beyond ASCII have names of their own; a line must not begin with a full stop or an apostrophe. */
function text(words: string): string {
  return words
    .replaceAll('\\', '\\e')
    .replaceAll('-', '\\-')
    .replace(
      /[^\0-\x7f]/gu,
      (letter) => `\\[u${letter.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')}]`,
    )
    .replace(/^(?=[.'])/gm, '\\&');
}

function argument(words: string): string {
  return `"${text(words).replaceAll('"', '\\(dq')}"`;
}
