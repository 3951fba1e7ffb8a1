/** The program as a tree of commands and their options: what is parsed, helped with, completed and put in the manual. */
import { Command } from 'commander';
import { wrap } from '../write/screen/wrap.js';
import type { Task } from './command.js';
import { COMMAND_MAKERS } from './command-table.js';
import { addExamples, type Example, widthOf } from './help-layout.js';

export const WITHOUT_COMMAND = 'Without a command, cantilena <input> is cantilena notes <input>.';

const EXAMPLES: readonly Example[] = [
  ['cantilena song.m4a', 'the melody, line by line'],
  ['cantilena song.m4a --midi song.mid', 'and a MIDI file of it'],
  ['cantilena notes --help', 'all options of a command'],
];

/** @param done called with what is to be done once arguments were read */
export function programOf(done: (task: Task) => void): Command {
  const program = new Command('cantilena')
    .description('Writes the melody of a recording note by note, for a pianist who plays by ear.')
    .usage('[command] <input> [options]')
    .version('', '-V, --version', 'print the version')
    .helpOption('-h, --help', 'print this')
    .helpCommand('help [command]', 'Prints the help of a command.')
    .addHelpText('after', ({ command }) => `\n${wrap(WITHOUT_COMMAND, widthOf(command), '', '').join('\n')}`);
  addExamples(program, EXAMPLES);
  for (const makeCommand of COMMAND_MAKERS) program.addCommand(makeCommand(done));
  return program;
}
