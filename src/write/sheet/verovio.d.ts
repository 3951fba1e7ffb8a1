/** What is used of verovio, which comes without types. */
declare module 'verovio/wasm' {
  export default function createVerovioModule(): Promise<unknown>;
}
declare module 'verovio/esm' {
  /** Switches the toolkit's words on the console on or off. */
  export function enableLog(level: number, module: unknown): void;
  export class VerovioToolkit {
    constructor(module: unknown);
    setOptions(options: Readonly<Record<string, unknown>>): void;
    loadData(data: string): boolean;
    renderToMIDI(): string;
    renderToSVG(page: number): string;
  }
}
