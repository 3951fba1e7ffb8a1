"""Renders made singers with exact truth, for training: `voices/voice-0001.wav` and `.json` beside it.

    python3 render_voices.py --songs songs.jsonl --out DIR --minutes 60 --seed 1 --processes 2

The JSON holds `notes` as [start s, end s, MIDI] and `f0Hz`, one value every 10 ms (frame i is centred at 0.01·i s;
0 where nothing sounds with a pitch). A note starts where its vowel starts, or in the middle of the glide where joined;
it ends where the vowel has faded by half, or with the next note. Seven in ten tunes come from the songs file.
"""

from __future__ import annotations

import argparse
import json
from dataclasses import replace
from functools import partial
from multiprocessing import Pool
from pathlib import Path

import numpy as np

from curves import controls_of
from effects import studio, to_level
from performance import Syllable, loosen, perform
from singer import Singer, another_take, draw_singer
from tunes import read_songs, song_tune, walk_tune
from voice_sound import HOP, sing
from wave_file import write_wave

LABEL_HOP = 160
"""Samples between two values of the truth: 10 ms."""
SILENT = 0.05
"""Level (of about 1) under which the voice has no pitch to be heard."""


def take(
    syllables: list[Syllable], singer: Singer, seconds: float, rng: np.random.Generator
) -> tuple[np.ndarray, np.ndarray]:
    """Samples of one take, and its MIDI pitch every 10 ms, NaN where nothing sounds with a pitch."""
    controls = controls_of(syllables, singer, seconds, rng)
    samples = sing(controls, rng, singer.sub)
    midi = np.where(controls.level > SILENT, controls.midi, np.nan)
    return samples, midi[:: LABEL_HOP // HOP]


def third_above(syllables: list[Syllable]) -> list[Syllable]:
    """The same syllables three or four semitones up, whichever keeps to most of the tune's own keys."""
    keys = {round(one.midi) % 12 for one in syllables}
    out = []
    for one in syllables:
        step = 4 if (round(one.midi) + 4) % 12 in keys else 3
        out.append(replace(one, midi=one.midi + step))
    return out


def render(seed: int, index: int, songs: list[dict], seconds: float, dry: bool) -> tuple[np.ndarray, dict]:
    """One piece: its samples and its truth; dry is one take without a studio, on which the truth can be measured."""
    rng = np.random.default_rng([seed, 1, index])
    kind = str(rng.choice(["voice", "hum", "whistle"], p=[0.85, 0.08, 0.07]))
    singer = draw_singer(rng, kind)
    walk = rng.random() < 0.3 or not songs
    tune = walk_tune(seconds, rng) if walk else song_tune(songs[int(rng.integers(len(songs)))], seconds, rng)
    syllables = perform(tune, singer, seconds, rng)
    if not syllables:
        syllables = perform(walk_tune(seconds, rng), singer, seconds, rng)
    samples, midi = take(syllables, singer, seconds, rng)
    manner = 1.0 if dry else rng.random()
    if kind == "voice" and manner < 0.15:
        second, other = take(loosen(syllables, rng, seconds, 0.012), another_take(singer, rng), seconds, rng)
        samples = samples + second * rng.uniform(0.5, 1)
        midi = np.where(np.isnan(other), midi, (midi + other) / 2)
    elif kind == "voice" and manner < 0.25:
        above = loosen(third_above(syllables), rng, seconds, 0.01)
        samples = samples + take(above, another_take(singer, rng), seconds, rng)[0] * 10 ** (rng.uniform(-14, -5) / 20)
    samples = to_level(samples, -18)
    samples = samples if dry or rng.random() > 0.85 else studio(samples, rng, 0.15, 0.03)
    samples = to_level(samples, -18)
    samples *= rng.uniform(0.4, 0.98) / np.max(np.abs(samples))
    hertz = np.where(np.isnan(midi), 0, 440 * 2 ** ((midi - 69) / 12))
    truth = {
        "kind": kind,
        "notes": [[round(one.on, 4), round(one.off, 4), round(one.midi, 3)] for one in syllables],
        "f0Hz": [round(float(value), 2) for value in hertz],
    }
    return samples, truth


def write(index: int, seed: int, songs: list[dict], seconds: float, dry: bool, folder: Path) -> None:
    """Renders piece `index` (from 0) and writes its two files, numbered from 1."""
    samples, truth = render(seed, index, songs, seconds, dry)
    write_wave(folder / f"voice-{index + 1:04d}.wav", samples)
    (folder / f"voice-{index + 1:04d}.json").write_text(json.dumps(truth, separators=(",", ":")), encoding="utf-8")


def main() -> None:
    """Reads the arguments and renders all pieces."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--songs", type=Path, help="songs file (JSONL); without it all tunes are random walks")
    parser.add_argument("--out", type=Path, required=True, help="folder for voices/")
    parser.add_argument("--minutes", type=float, default=60)
    parser.add_argument("--seconds", type=float, default=30, help="length of a piece")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--processes", type=int, default=2)
    parser.add_argument("--dry", action="store_true", help="one take each, no studio: to measure the truth on")
    options = parser.parse_args()
    songs = read_songs(options.songs) if options.songs else []
    folder = options.out / "voices"
    folder.mkdir(parents=True, exist_ok=True)
    count = max(1, round(options.minutes * 60 / options.seconds))
    work = partial(write, seed=options.seed, songs=songs, seconds=options.seconds, dry=options.dry, folder=folder)
    if options.processes == 1:
        for index in range(count):
            work(index)
        return
    with Pool(options.processes) as pool:
        for _ in pool.imap_unordered(work, range(count)):
            pass


if __name__ == "__main__":
    main()
