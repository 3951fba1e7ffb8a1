/** A tune of our own, as long as wanted, for measuring time and memory: a scale pattern sung by a bare source. */
const RATE = 44_100;
/** Scale steps of the pattern in semitones above the first note; null is a breath. */
const PATTERN = [0, 2, 4, 5, 7, null, 7, 5, 4, 2, 4, null, 0, 4, 7, 12, 11, 9, 7, null] as const;
const NOTE_SECONDS = 0.5;
const FIRST_MIDI = 57;

/** Mono samples at 44.1 kHz: ten harmonics, 5 Hz vibrato, a soft attack and a decay on each note. */
export function tuneSamples(seconds: number): Float32Array {
  let phase = 0;
  return Float32Array.from({ length: Math.round(seconds * RATE) }, (_, i) => {
    const time = i / RATE;
    const step = PATTERN[Math.floor(time / NOTE_SECONDS) % PATTERN.length];
    if (step === null || step === undefined) return 0;
    const within = time % NOTE_SECONDS;
    const midi = FIRST_MIDI + step + 0.2 * Math.sin(10 * Math.PI * time);
    phase += (2 * Math.PI * 440 * 2 ** ((midi - 69) / 12)) / RATE;
    const envelope = Math.min(1, within / 0.03) * Math.min(1, (NOTE_SECONDS - within) / 0.05);
    let sum = 0;
    for (let harmonic = 1; harmonic <= 10; harmonic++) sum += Math.sin(harmonic * phase) / harmonic ** 1.5;
    return 0.3 * envelope * sum;
  });
}

/** A WAV file of 16-bit PCM, mono, 44.1 kHz (44 bytes of header: RIFF, fmt and data chunks). */
export function wavOf(samples: Float32Array): Buffer {
  const bytes = Buffer.alloc(44 + 2 * samples.length);
  bytes.write('RIFF', 0, 'latin1');
  bytes.writeUInt32LE(36 + 2 * samples.length, 4);
  bytes.write('WAVEfmt ', 8, 'latin1');
  bytes.writeUInt32LE(16, 16);
  bytes.writeUInt16LE(1, 20);
  bytes.writeUInt16LE(1, 22);
  bytes.writeUInt32LE(RATE, 24);
  bytes.writeUInt32LE(2 * RATE, 28);
  bytes.writeUInt16LE(2, 32);
  bytes.writeUInt16LE(16, 34);
  bytes.write('data', 36, 'latin1');
  bytes.writeUInt32LE(2 * samples.length, 40);
  samples.forEach((s, i) => {
    bytes.writeInt16LE(Math.round(32_767 * Math.max(-1, Math.min(1, s))), 44 + 2 * i);
  });
  return bytes;
}
