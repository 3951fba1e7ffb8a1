/** The options of `doctor`. */
import { Command } from 'commander';
import { addGroup, flag } from './command.js';

export interface DoctorPlan {
  readonly json: boolean;
}

const EXAMPLES = `
Examples:
  cantilena doctor
      what is there, what is missing, and whether a small melody is heard right
  cantilena doctor --json
      the same for other programs
`;

export function doctorCommand(done: (plan: DoctorPlan) => void): Command {
  const command = new Command('doctor')
    .description('Looks whether all that the program needs is there and works on this system.')
    .usage('[options]')
    .helpOption('-h, --help', 'print this')
    .addHelpText('after', EXAMPLES)
    .action(({ json }: { readonly json?: true }) => done({ json: json ?? false }));
  addGroup(command, 'What is printed:', [flag('--json', 'print what was found as JSON')]);
  return command;
}
