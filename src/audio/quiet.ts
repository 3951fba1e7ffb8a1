/**
 * Runs `work` with the console silent. The WASM decoders print to it about damaged data, which is none of the
 * user's business: what was lost is said in the recording's warnings. `work` must be synchronous, so that
 * nobody else's words are lost; the console is given back also when it throws.
 */
export function quietly<T>(work: () => T): T {
  const { log, info, warn, error } = console;
  const silent = () => {};
  Object.assign(console, {
    log: silent,
    info: silent,
    warn: silent,
    error: silent,
  });
  try {
    return work();
  } finally {
    Object.assign(console, { log, info, warn, error });
  }
}
