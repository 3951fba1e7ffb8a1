/** How the engine of a worker is set: for many songs one after the other. */

/**
 * Megabytes of objects before the heap is swept whole, unless sound that was let go piles up first. The engine keeps the
 * fast code that it made of a function only while the function is there; those that are made anew for every song are gone
 * at the sweep, and their code with them. With V8's own first limit that came after every second song, with this one
 * after three or four; with 1000 it came no later. Making code was a fifth of all the work. What piles up is mostly
 * sound: the largest memory of a worker grew from 430 to 470 MB.
 */
const OLD_SPACE_MEGABYTES = 256;

/**
 * How much a function runs, in bytes of its code, between two looks at whether to make fast code of it: sixteen times
 * V8's own of Node 20. Most functions of a song have done their work before that pays, and V8 makes the code on threads of
 * its own, which take the processors from other workers. Processor seconds of the thread that hears, and of those: of 42
 * songs 29.3 and 8.2 with V8's own, 29.3 and 6.9 with twice that, 29.5 and 6.0 with four times; of 28 songs 20.7 and 3.7
 * with eight times, 21.2 and 3.2 with sixteen, 21.5 and 2.8 with thirty-two. From Node 22 on there is no such option: a
 * second, quicker compiler stands between.
 */
const CODE_BUDGET = 16 * 67_584;
/** The same for WebAssembly. */
const WASM_BUDGET = 16 * 1_800_000;

/**
 * Objects that nobody knows any more are swept by the thread that hears, not by others as well. Processor seconds of the
 * thread that hears, and of the others, for 40 songs: 11.1 and 0.7 with threads that sweep, 11.1 and 0.55 so.
 */
const SWEPT_ALONE = '--single-threaded-gc';

/** Options of V8 for a worker of this version of Node: one that it does not know would keep it from starting. */
export function workerFlags(nodeVersion: string): readonly string[] {
  const flags = [
    `--initial-old-space-size=${OLD_SPACE_MEGABYTES}`,
    `--wasm-tiering-budget=${WASM_BUDGET}`,
    SWEPT_ALONE,
  ];
  return nodeVersion.startsWith('20.') ? [...flags, `--interrupt-budget=${CODE_BUDGET}`] : flags;
}
