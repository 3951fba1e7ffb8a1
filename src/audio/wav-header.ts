/** The plain RIFF WAVE header (Microsoft & IBM 1991), used for writing and to feed the WAV decoder. */

export interface PlainWavFormat {
  readonly float: boolean;
  readonly bits: number;
  readonly channels: number;
  readonly sampleRate: number;
}

/** Length of the header in bytes. */
export const WAV_HEADER_BYTES = 44;

/** Fills the start of `file` with the plain RIFF WAVE header for the `dataBytes` of samples that follow it. */
export function writeWavHeader(
  file: Uint8Array,
  { float, bits, channels, sampleRate }: PlainWavFormat,
  dataBytes: number,
): void {
  const view = new DataView(file.buffer, file.byteOffset);
  const tag = (at: number, letters: string) => file.set(Buffer.from(letters, 'latin1'), at);
  const frameBytes = channels * (bits / 8);
  tag(0, 'RIFF');
  view.setUint32(4, file.length - 8, true);
  tag(8, 'WAVEfmt ');
  view.setUint32(16, 16, true);
  view.setUint16(20, float ? 3 : 1, true);
  view.setUint16(22, channels, true);
  view.setUint32(24, sampleRate, true);
  view.setUint32(28, sampleRate * frameBytes, true);
  view.setUint16(32, frameBytes, true);
  view.setUint16(34, bits, true);
  tag(36, 'data');
  view.setUint32(40, dataBytes, true);
}
