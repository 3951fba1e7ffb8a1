/** What wav-decoder 1.3.0 gets wrong, and that the program does not. When one of these fails, a guard can go. */
import { spawnSync } from 'node:child_process';
import { describe, expect, test } from 'vitest';
import wavDecoder from 'wav-decoder';
import { decodeRecording } from '../../src/audio/decode.js';
import { chunk, fmt, fmtExtensible, integers, riff } from './make-wav.js';

const alone = (bytes: Uint8Array) => wavDecoder.decode.sync(bytes.slice().buffer, { symmetric: true });
const ours = async (bytes: Uint8Array) => [...(await decodeRecording(bytes, 'test.wav')).samples];

describe('wav-decoder alone, and the guard', () => {
  test('it hangs on 0 channels; here that is one sentence', async () => {
    const bytes = riff(fmt({ channels: 0 }), chunk('data', integers([1, 2], 16)));
    const script = `require('wav-decoder').decode.sync(Uint8Array.from([${bytes}]).buffer)`;
    const { signal } = spawnSync(process.execPath, ['-e', script], { timeout: 1500, killSignal: 'SIGKILL' });
    expect(signal).toBe('SIGKILL');
    await expect(decodeRecording(bytes, 'test.wav')).rejects.toThrow(
      /^test\.wav says that it has 0 channels/,
    );
  });

  test('it refuses WAVE_FORMAT_EXTENSIBLE; here it is read', async () => {
    const bytes = riff(fmtExtensible(), chunk('data', integers([16_384], 16)));
    expect(() => alone(bytes)).toThrow();
    expect(await ours(bytes)).toEqual([0.5]);
  });

  test('it loses its way after a padded odd chunk; here it is read', async () => {
    const bytes = riff(chunk('LIST', [1, 2, 3]), [0], fmt(), chunk('data', integers([16_384], 16)));
    expect(() => alone(bytes)).toThrow();
    expect(await ours(bytes)).toEqual([0.5]);
  });

  test('it reads nothing where the size is 0; here all is read', async () => {
    const bytes = riff(fmt(), chunk('data', integers([16_384], 16), 0));
    expect(alone(bytes).channelData[0]).toHaveLength(0);
    expect(await ours(bytes)).toEqual([0.5]);
  });

  test('it turns the lowest 24-bit value into the highest; here it is −1', async () => {
    const bytes = riff(fmt({ bits: 24 }), chunk('data', integers([-(2 ** 23)], 24)));
    expect(alone(bytes).channelData[0]![0]).toBeCloseTo(1, 5);
    expect(await ours(bytes)).toEqual([-1]);
  });

  test('it gives 8-bit silence a constant offset; here it is 0', async () => {
    const bytes = riff(fmt({ bits: 8 }), chunk('data', [128, 128]));
    expect(alone(bytes).channelData[0]![0]).not.toBe(0);
    expect(await ours(bytes)).toEqual([0, 0]);
  });
});
