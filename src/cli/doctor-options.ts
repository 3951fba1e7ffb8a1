/** The options of `doctor`. */
import { Command } from 'commander';
import { addGroup, flag } from './command.js';
import { addExamples, type Example } from './help-layout.js';

export interface DoctorPlan {
  readonly json: boolean;
}

const EXAMPLES: readonly Example[] = [
  ['cantilena doctor', 'what is there, what is missing, and whether a small melody is heard right'],
  ['cantilena doctor --json', 'the same for other programs'],
];

export function doctorCommand(done: (plan: DoctorPlan) => void): Command {
  const command = new Command('doctor')
    .description('Looks whether all that the program needs is there and works on this system.')
    .usage('[options]')
    .helpOption('-h, --help', 'print this')
    .action(({ json }: { readonly json?: true }) => done({ json: json ?? false }));
  addGroup(command, 'What is printed:', [flag('--json', 'print what was found as JSON')]);
  return addExamples(command, EXAMPLES);
}
