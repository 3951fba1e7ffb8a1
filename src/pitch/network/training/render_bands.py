"""Renders made bands without a lead voice, for training: `bands/band-0001.wav`, 30 s each, 16 kHz mono.

    python3 render_bands.py --songs songs.jsonl --out DIR --minutes 90 --seed 1 --soundfont FluidR3_GM.sf2

Chords come from the songs file; style, instruments, parts, tempo, key and the studio's work are drawn at random. The
sounds are those of a General MIDI soundfont, played by fluidsynth.
"""

from __future__ import annotations

import argparse
import subprocess
import tempfile
from functools import partial
from multiprocessing import Pool
from pathlib import Path

import numpy as np

from band_styles import STYLES, arrange
from choir import backing_choir
from effects import studio, to_level
from tunes import chords_of, read_songs
from wave_file import RATE, write_wave

PLAYED_RATE = 2 * RATE
"""fluidsynth plays at twice the rate, then what lies above 8 kHz is cut: the soundfont's treble must not fold back."""


def halve(samples: np.ndarray) -> np.ndarray:
    """Half the rate, by cutting the upper half of the spectrum."""
    size = len(samples) // 2 * 2
    spectrum = np.fft.rfft(samples[:size])[: size // 4 + 1]
    spectrum[-len(spectrum) // 32 :] *= np.linspace(1, 0, len(spectrum[-len(spectrum) // 32 :]))
    return np.fft.irfft(spectrum, size // 2) / 2


def play(midi: bytes, soundfont: Path, reverb: bool, seconds: float) -> np.ndarray:
    """Plays the first `seconds` of a MIDI file; mono samples at RATE, of any level."""
    with tempfile.TemporaryDirectory() as folder:
        source, target = Path(folder) / "piece.mid", Path(folder) / "piece.raw"
        source.write_bytes(midi)
        effects = "1" if reverb else "0"
        command = ["fluidsynth", "-ni", "-q", "-R", effects, "-C", effects, "-g", "0.3", "-r", str(PLAYED_RATE)]
        command += ["-o", "synth.dynamic-sample-loading=1", "-O", "float", "-T", "raw", "-F", str(target)]
        subprocess.run([*command, str(soundfont), str(source)], check=True, capture_output=True)
        both = np.fromfile(target, dtype="<f4").astype(np.float64).reshape(-1, 2)
    count = round(seconds * RATE) * 2
    return halve(np.pad(both.mean(axis=1), (0, max(0, count - len(both))))[:count])


def render(seed: int, index: int, songs: list[dict], seconds: float, soundfont: Path) -> np.ndarray:
    """One piece, loud part between −26 and −14 dB, peak at most 0.98."""
    rng = np.random.default_rng([seed, 2, index])
    weights = np.array([one.weight for one in STYLES.values()])
    style = str(rng.choice(list(STYLES), p=weights / weights.sum()))
    bpm = float(rng.uniform(*STYLES[style].bpm))
    bar = 4 if rng.random() < 0.87 else 3
    beats = seconds * bpm / 60 + 2
    chords = chords_of(songs[int(rng.integers(len(songs)))], beats, rng, int(rng.integers(0, 12)))
    track = arrange(rng, style, chords, beats, bar)
    tuning = float(rng.normal(0, 0.15)) if rng.random() < 0.3 else 0.0
    played = play(track.to_bytes(bpm), soundfont, rng.random() < 0.6, seconds + 1)
    if tuning:
        # a recording at another speed: all pitches move together
        places = np.arange(int(len(played) / 2 ** (tuning / 12))) * 2 ** (tuning / 12)
        played = np.interp(places, np.arange(len(played)), played)
    count = round(seconds * RATE)
    samples = to_level(np.pad(played, (0, max(0, count - len(played))))[:count], -20)
    if rng.random() < 0.15:
        samples = samples + backing_choir(chords, bpm, seconds, rng)[:count] * 10 ** (rng.uniform(-12, 1) / 20)
    samples = to_level(studio(samples, rng, 0.25, 0.06), rng.uniform(-26, -14))
    return samples * min(1.0, 0.98 / (np.max(np.abs(samples)) + 1e-9))


def write(index: int, seed: int, songs: list[dict], seconds: float, soundfont: Path, folder: Path) -> None:
    """Renders piece `index` (from 0) and writes its file, numbered from 1."""
    write_wave(folder / f"band-{index + 1:04d}.wav", render(seed, index, songs, seconds, soundfont))


def main() -> None:
    """Reads the arguments and renders all pieces."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--songs", type=Path, required=True, help="songs file (JSONL), for the chords")
    parser.add_argument("--out", type=Path, required=True, help="folder for bands/")
    parser.add_argument("--soundfont", type=Path, default=Path("/usr/share/sounds/sf2/FluidR3_GM.sf2"))
    parser.add_argument("--minutes", type=float, default=90)
    parser.add_argument("--seconds", type=float, default=30, help="length of a piece")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--processes", type=int, default=2)
    options = parser.parse_args()
    folder = options.out / "bands"
    folder.mkdir(parents=True, exist_ok=True)
    count = max(1, round(options.minutes * 60 / options.seconds))
    work = partial(
        write, seed=options.seed, songs=read_songs(options.songs), seconds=options.seconds,
        soundfont=options.soundfont, folder=folder,
    )  # fmt: skip
    with Pool(options.processes) as pool:
        for _ in pool.imap_unordered(work, range(count)):
            pass


if __name__ == "__main__":
    main()
