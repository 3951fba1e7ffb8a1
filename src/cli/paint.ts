import type { Paint } from '../write/types.js';
import type { Context, Output } from './context.js';

const PLAIN: Paint = { bold: (text) => text, dim: (text) => text, warn: (text) => text };

/**
 * Colours for an output: none with NO_COLOR (any value but the empty one), else those that FORCE_COLOR asks
 * for (0 or false: none), else only on a terminal that is not TERM=dumb.
 */
export async function paintFor(output: Output, env: Context['env']): Promise<Paint> {
  if (!wantsColour(output, env)) return PLAIN;
  const { Chalk } = await import('chalk');
  // The sixteen basic colours follow the colours that a person has chosen for the terminal.
  const chalk = new Chalk({ level: 1 });
  return { bold: chalk.bold, dim: chalk.dim, warn: chalk.yellow };
}

function wantsColour(output: Output, { NO_COLOR, FORCE_COLOR, TERM }: Context['env']): boolean {
  if (NO_COLOR) return false;
  if (FORCE_COLOR !== undefined) return FORCE_COLOR !== '0' && FORCE_COLOR !== 'false';
  return output.isTTY === true && TERM !== 'dumb';
}
