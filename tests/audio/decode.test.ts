import { readFileSync } from 'node:fs';
import { describe, expect, test, vi } from 'vitest';
import { decodeBlocks, decodeRecording } from '../../src/audio/decode.js';
import { checkKept } from '../../src/audio/length.js';
import type { Container } from '../../src/audio/types.js';
import { InputError, UsageError } from '../../src/errors.js';
import { chunk, type Format, floats, fmt, integers, riff } from './make-wav.js';
import { silentFlac } from './silent-flac.js';

/**
 * files/tone.*: half a second, mono, of our own: silence to 0.1 s, then 440 Hz at −12 dB; made with sox and
 * encoded with ffmpeg 5.1 and flac 1.4 (22.05 kHz, Opus at 48 kHz).
 */
const FILES: readonly (readonly [name: string, container: Container, rate: number])[] = [
  ['tone.mp3', 'mp3', 22_050],
  ['tone.flac', 'flac', 22_050],
  ['tone.ogg', 'ogg-vorbis', 22_050],
  ['tone.opus', 'ogg-opus', 48_000],
  ['tone.m4a', 'mp4-aac', 22_050],
  ['tone-lossless.m4a', 'mp4-alac', 22_050],
  ['tone.aac', 'adts-aac', 22_050],
];
const stored = (name: string) => new Uint8Array(readFileSync(new URL(`files/${name}`, import.meta.url)));

function wavOf(channels: readonly (readonly number[])[], format: Format = {}): Uint8Array {
  const frames = channels[0]!.flatMap((_, i) => channels.map((channel) => channel[i]!));
  return riff(
    fmt({ channels: channels.length, tag: 3, bits: 32, ...format }),
    chunk('data', floats(frames, 32)),
  );
}

const decode = (bytes: Uint8Array, range?: { fromSeconds?: number; toSeconds?: number }) =>
  decodeRecording(bytes, 'memo', range);

/** The error of an input that cannot be read: one sentence, of the right class. */
async function refusal(bytes: Uint8Array): Promise<string> {
  const error: unknown = await decode(bytes).catch((thrown: unknown) => thrown);
  expect(error).toBeInstanceOf(InputError);
  const { message } = error as InputError;
  expect(message).toMatch(/^memo [^\n]*\.$/);
  return message;
}

const rms = (samples: Float32Array) =>
  Math.sqrt(samples.reduce((sum, value) => sum + value * value, 0) / samples.length);

describe('every container, told by content', () => {
  for (const [name, container, sampleRate] of FILES) {
    test(`${name}: its facts, silence to 0.1 s, then the tone`, async () => {
      const { samples, sampleRate: rate, source } = await decode(stored(name));
      expect(rate).toBe(16_000);
      expect(source).toMatchObject({ container, sampleRate, channels: 1, warnings: [] });
      expect(source.seconds).toBeCloseTo(0.5, 1);
      expect(rms(samples.subarray(0, 1500))).toBeLessThan(0.02);
      // 440 Hz at −12 dB: 0.251 / √2.
      expect(rms(samples.subarray(3200, 6400))).toBeCloseTo(0.178, 1);
    });
  }

  test('decoding writes nothing to the console and leaves no handlers in the process', async () => {
    const spies = (['log', 'info', 'warn', 'error'] as const).map((name) => vi.spyOn(console, name));
    const before = process.eventNames().map((name) => [name, process.listenerCount(name)]);
    for (const [name] of FILES) {
      const damaged = stored(name);
      damaged.fill(0x55, damaged.length / 2, damaged.length / 2 + 200);
      await decode(damaged).catch(() => null);
    }
    expect(process.eventNames().map((name) => [name, process.listenerCount(name)])).toEqual(before);
    for (const spy of spies) {
      expect(spy).not.toHaveBeenCalled();
      spy.mockRestore();
    }
  });

  test('FLAC keeps every frame', async () => {
    let samples = 0;
    for await (const block of decodeBlocks(stored('tone.flac'), 'memo')) samples += block.channels[0]!.length;
    expect(samples).toBe(11_025);
  });

  test('MP3 after a large ID3v2 tag, and after junk', async () => {
    const mp3 = stored('tone.mp3');
    const whole = await decode(mp3);
    // ID3v2.4 header with a size of 2^20 in seven-bit bytes.
    const tagged = Uint8Array.from([
      ...Buffer.from('ID3'),
      4,
      0,
      0,
      0,
      0x40,
      0,
      0,
      ...new Uint8Array(2 ** 20),
      ...mp3,
    ]);
    const junk = Uint8Array.from({ length: 3000 }, (_, i) => (i * 73) % 256);
    for (const bytes of [tagged, Uint8Array.from([...junk, ...mp3])]) {
      expect((await decode(bytes)).samples).toEqual(whole.samples);
    }
  });
});

describe('damage is said', () => {
  const cut = (bytes: Uint8Array) => bytes.subarray(0, bytes.length * 0.6);
  const holed = (bytes: Uint8Array) => bytes.fill(0xff, bytes.length * 0.4, bytes.length * 0.6);
  const changed = (bytes: Uint8Array) => bytes.fill(bytes.at(-50)! ^ 1, -50, -49);
  for (const [name, damage] of [
    ['tone.mp3', cut],
    ['tone.mp3', holed],
    ['tone.flac', cut],
    ['tone.flac', holed],
    ['tone.m4a', holed],
    ['tone.aac', holed],
    ['tone.ogg', changed],
    ['tone.opus', changed],
  ] as const) {
    test(`${name}, ${damage.name}`, async () => {
      const { source } = await decode(damage(stored(name)));
      expect(source.warnings[0]).toMatch(/^damaged: /);
    });
  }

  test('a hole in FLAC becomes silence of its length, and the sound after it keeps its time', async () => {
    const whole = await decode(stored('tone.flac'));
    const { samples, source } = await decode(holed(stored('tone.flac')));
    expect(samples).toHaveLength(whole.samples.length);
    expect(samples.subarray(6000, 7900)).toEqual(whole.samples.subarray(6000, 7900));
    expect(samples.indexOf(0, 2000)).toBeGreaterThan(0);
    expect(source.warnings).toEqual([expect.stringMatching(/^damaged: 0\.[34] of 0\.5 s could be read\.$/)]);
  });

  test('a header that claims 10 hours over a kilobyte costs no memory and no time', async () => {
    const content = integers(
      Array.from({ length: 480 }, (_, i) => i),
      16,
    );
    const { samples, source } = await decode(riff(fmt(), chunk('data', content, 10 * 3600 * 32_000)));
    expect(samples).toHaveLength(480);
    expect(source.warnings).toEqual(['damaged: 0.0 of 36000.0 s could be read.']);
  });

  test('an MP4 index that claims billions of packets ends with the packets that are there', async () => {
    const bytes = stored('tone.m4a');
    const whole = await decode(bytes.slice());
    // stts: four letters, version, number of entries, then the count of the first entry.
    new DataView(bytes.buffer).setUint32(Buffer.from(bytes).indexOf('stts') + 12, 0x7fff_fff0);
    const { samples } = await decode(bytes);
    expect(samples.subarray(0, 7000)).toEqual(whole.samples.subarray(0, 7000));
    expect(samples.length).toBeLessThan(2 * whole.samples.length);
  });

  test('an MP4 index with billions of samples in a chunk is read as fast as another', async () => {
    const bytes = stored('tone.m4a');
    const whole = await decode(bytes.slice());
    // stsc: four letters, version, number of entries, first chunk, then the samples of a chunk.
    const entry = Buffer.from(bytes).indexOf('stsc') + 12;
    new DataView(bytes.buffer).setUint32(entry + 4, 0x7fff_fff0);
    expect((await decode(bytes)).samples).toEqual(whole.samples);
  });

  test('Apple Lossless with a false configuration is refused, and a packet that asks for too much is silence', async () => {
    // The configuration after four letters and version: block length, a byte, bits, three of the code, channels.
    const config = Buffer.from(stored('tone-lossless.m4a')).lastIndexOf('alac') + 8;
    for (const [place, value] of [
      [0, 0xff],
      [5, 7],
      [8, 0],
      [9, 0],
    ] as const) {
      const bytes = stored('tone-lossless.m4a');
      bytes[config + place] = value;
      expect(await refusal(bytes)).toContain('index is damaged');
    }
    const bytes = stored('tone-lossless.m4a');
    // The second packet lies after the first, whose length the table of sizes gives.
    const length = Buffer.from(bytes).readUInt32BE(Buffer.from(bytes).indexOf('stsz') + 16);
    const second = Buffer.from(bytes).indexOf('mdat') + 4 + length;
    // "A number of samples follows", and the first of its bits.
    bytes[second + 2]! |= 0x11;
    const { samples, source } = await decode(bytes);
    expect(source.warnings).toHaveLength(1);
    expect(samples.length).toBeGreaterThan(3000);
  });

  test('samples that are not finite are taken as silence', async () => {
    const { samples, source } = await decode(wavOf([[0.5, Number.NaN, Number.POSITIVE_INFINITY, -0.5]]));
    expect([...samples]).toEqual([0.5, 0, 0, -0.5]);
    expect(source.warnings).toEqual(['2 samples were not finite numbers and were taken as silence.']);
  });

  test('peaks beyond full scale are scaled down in float WAV', async () => {
    const { samples, source } = await decode(wavOf([[4, -2, 1]]));
    expect([...samples]).toEqual([1, -0.5, 0.25]);
    expect(source.warnings).toHaveLength(1);
  });
});

describe('channels become one', () => {
  const wave = Array.from({ length: 200 }, (_, i) => Math.sin(i / 5) / 2);

  test('as their mean', async () => {
    const { samples, source } = await decode(
      wavOf([
        [0.5, 0.25],
        [0.25, -0.25],
        [0, 0.75],
      ]),
    );
    expect([...samples]).toEqual([0.25, 0.25]);
    expect(source).toMatchObject({ channels: 3, warnings: [] });
  });

  test('as the louder one where they cancel, saying so', async () => {
    const quieter = wave.map((value) => -0.9 * value);
    const { samples, source } = await decode(wavOf([quieter, wave]));
    expect([...samples]).toEqual(wave.map(Math.fround));
    expect(source.warnings).toEqual([expect.stringContaining('channel 2')]);
  });

  test('as their mean where one is silent or they have nothing in common', async () => {
    const other = wave.map((_, i) => Math.sin(i / 3.1) / 2);
    for (const second of [wave.map(() => 0), other]) {
      const { samples, source } = await decode(wavOf([wave, second]));
      expect(samples[50]).toBeCloseTo((wave[50]! + second[50]!) / 2, 6);
      expect(source.warnings).toEqual([]);
    }
  });
});

describe('a part of a recording', () => {
  const ramp = wavOf([Array.from({ length: 16_000 }, (_, i) => i / 16_000)]);

  test('starts at fromSeconds and ends before toSeconds', async () => {
    const { samples, source } = await decode(ramp, { fromSeconds: 0.25, toSeconds: 0.5 });
    expect(samples).toHaveLength(4000);
    expect(samples[0]).toBe(0.25);
    expect(source).toMatchObject({ seconds: 0.25, warnings: [] });
  });

  test('is the same part of what the whole gives, after resampling too', async () => {
    const whole = await decode(stored('tone.flac'));
    const part = await decode(stored('tone.flac'), { fromSeconds: 0.2, toSeconds: 0.4 });
    expect(part.samples).toEqual(whole.samples.slice(3200, 6400));
    expect(part.source.warnings).toEqual([]);
  });

  test('must not be empty, and must lie in the recording', async () => {
    await expect(decode(ramp, { fromSeconds: 2, toSeconds: 1 })).rejects.toThrow(UsageError);
    await expect(decode(ramp, { fromSeconds: -1 })).rejects.toThrow(UsageError);
    await expect(decode(ramp, { fromSeconds: 5 })).rejects.toThrow(/^memo ends at 1\.0 s/);
  });
});

describe('what cannot be read is refused in one sentence', () => {
  test('a raw AAC stream whose rate the decoder refuses: 7,350 Hz, index 12 of ISO/IEC 14496-3, table 1.18', async () => {
    const bytes = stored('tone.aac');
    // Byte 2 of an ADTS header: two bits of object type, four of the rate, two more.
    bytes[2] = (bytes[2]! & 0b1100_0011) | (12 << 2);
    expect(await refusal(bytes)).toContain('holds no sound that can be decoded');
  });

  test('empty files, text, random bytes, and the sync word of MP3 before random bytes', async () => {
    expect(await refusal(new Uint8Array(0))).toContain('is empty');
    const random = Uint8Array.from({ length: 20_000 }, (_, i) => (i * i * 31 + i * 17) % 251);
    for (const bytes of [
      Buffer.from('do re mi '.repeat(99)),
      random,
      Uint8Array.from([0xff, 0xfb, 0x90, 0, ...random]),
    ]) {
      expect(await refusal(bytes)).toContain('WAV, MP3, FLAC, Ogg Vorbis, Ogg Opus and M4A/AAC');
    }
  });

  test('headers without sound', async () => {
    expect(await refusal(riff(fmt()))).toContain('without sound');
    expect(await refusal(riff(fmt(), chunk('data', [])))).toContain('no sound');
    for (const [name] of FILES) await refusal(stored(name).subarray(0, 60));
  });

  test('rates and channels out of range, 0 among them, and codings that are not read', async () => {
    const data = chunk('data', integers([1, 2, 3, 4], 16));
    for (const rate of [0, 7999, 192_001, 2 ** 31])
      expect(await refusal(riff(fmt({ rate }), data))).toContain(`${rate} Hz`);
    expect(await refusal(riff(fmt({ channels: 0 }), data))).toContain('0 channels');
    expect(await refusal(riff(fmt({ channels: 65 }), chunk('data', new Array(130).fill(0))))).toContain(
      '65 channels',
    );
    // A frame of 65535 channels of floats has more bytes than the header's 16 bits can say.
    expect(
      await refusal(
        riff(fmt({ tag: 3, bits: 32, channels: 65_535 }), chunk('data', new Array(262_140).fill(0))),
      ),
    ).toContain('65535 channels');
    expect(await refusal(riff(fmt({ tag: 2, bits: 4 }), data))).toContain('16-bit PCM');
    expect(await refusal(riff(fmt({ bits: 12 }), data))).toContain('16-bit PCM');
  });

  test('nothing but non-finite samples', async () => {
    expect(await refusal(wavOf([[Number.NaN, Number.NEGATIVE_INFINITY]]))).toContain('finite');
  });
});

describe('more than three hours', () => {
  /** STREAMINFO of the tone with another number of samples a channel (RFC 9639, 8.2): 36 bits from byte 21.5 on. */
  function claiming(seconds: number): Uint8Array {
    const bytes = stored('tone.flac');
    const samples = seconds * 22_050;
    bytes[21] = (bytes[21]! & 0xf0) | Math.floor(samples / 2 ** 32);
    new DataView(bytes.buffer).setUint32(22, samples % 2 ** 32);
    return bytes;
  }

  test('are refused before they are decoded where the header says so, unless a part is asked for', async () => {
    const sentence =
      'memo lasts 10.0 hours, and no more than 3 are heard at once: choose a part with --from and --to.';
    expect(await refusal(claiming(36_000))).toBe(sentence);
    const part = await decode(claiming(36_000), { toSeconds: 0.25 });
    expect(part.samples).toHaveLength(4000);
    expect((await decode(claiming(10_700))).source.warnings).toHaveLength(1);
  });

  test('are not believed of a file that cannot hold them', async () => {
    const bytes = stored('tone.mp3');
    new DataView(bytes.buffer).setUint32(Buffer.from(bytes).indexOf('Info') + 8, 36_000 * 40);
    expect((await decode(bytes)).source.warnings[0]).toMatch(
      /^damaged: 0\.\d of 3\d{4}\.\d s could be read\.$/,
    );
  });

  test('are refused on the way where nothing says so; a little silence in few bytes is decoded', async () => {
    // Decoding three hours takes too long for a test: this is what is asked after each block.
    expect(() => checkKept(10_800, 'memo')).not.toThrow();
    expect(() => checkKept(10_801, 'memo')).toThrow(/^memo goes on after 3 hours, and no more .* --to\.$/);
    const quarter = silentFlac(900);
    expect(quarter.length).toBeLessThan(4000);
    expect((await decode(quarter, { toSeconds: 60 })).samples).toHaveLength(960_000);
  });
});

test('silence and noise are recordings', async () => {
  const noise = Array.from({ length: 16_000 }, (_, i) => ((i * 7919) % 1999) / 1000 - 1);
  for (const samples of [new Array<number>(16_000).fill(0), noise]) {
    expect((await decode(wavOf([samples]))).samples).toHaveLength(16_000);
  }
});
