/** What is used of WebAssembly's interface: the types of Node 20 leave it out, and those of browsers bring all else. */
declare namespace WebAssembly {
  class Module {
    constructor(bytes: Uint8Array<ArrayBuffer>);
  }
  class Memory {
    constructor(size: { readonly initial: number });
    readonly buffer: ArrayBuffer;
  }
  class Instance {
    constructor(module: Module, imports: { readonly env: { readonly memory: Memory } });
    readonly exports: unknown;
  }
}
