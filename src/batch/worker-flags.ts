/** How the engine of a worker is set: for many songs one after the other. */

/**
 * Megabytes of objects before the heap is swept whole, unless memory outside of it that was let go (sound, mostly) piles up
 * first, which makes a sweep for some twenty songs. The fast code of functions that are made anew for every song is gone at
 * a sweep, and is made again; loops that run long therefore stand in functions of their modules. Two workers took 33.4 and
 * 33.9 s for 200 recordings with V8's own first limit, 32.7 and 32.9 with this.
 */
const OLD_SPACE_MEGABYTES = 256;

/**
 * How much a function runs, in bytes of its code, between two looks at whether to make fast code of it: sixteen times
 * V8's own of Node 20. Many functions of a song have done their work before that pays, and V8 makes the code on threads of
 * its own, which take the processors from other workers. Processor seconds of the thread that hears, and of those, for 40
 * songs heard three times: 35.1 and 5.7 with V8's own, 34.7 and 3.7 with four times that, 35.0 and 2.9 with eight, 35.6
 * and 2.3 with sixteen, 36.2 and 1.9 with thirty-two. From Node 22 on there is no such option: a second, quicker compiler
 * stands between.
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
