/** What the tests use of verovio, which comes without types. */
declare module 'verovio/wasm' {
  export default function createVerovioModule(): Promise<unknown>;
}
declare module 'verovio/esm' {
  export class VerovioToolkit {
    constructor(module: unknown);
    loadData(data: string): boolean;
    renderToMIDI(): string;
    renderToSVG(page: number): string;
  }
}
