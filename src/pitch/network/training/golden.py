"""Writes what `features.py` makes of a signal given by a formula, for the test that holds the program's inputs
against it: python3 golden.py FILE.json

The same formula stands in `tests/pitch/network/golden.test.ts`.
"""

from __future__ import annotations

import json
import sys

import numpy as np
import torch

import features

SAMPLES = 16_123
"""A second and a part of a block."""
FINE_FRAMES = (0, 1, 37, 99, 100)
FRAMES = (0, 23, 50)
STACK_FRAME = 23
STACK_STEP = 7
"""Every seventh bin of the stack is kept."""


def clip() -> np.ndarray:
    """A gliding voice of eight partials that comes in after 0.1 s, over noise of Lehmer's generator."""
    seconds = np.arange(SAMPLES) / features.RATE
    turns = 196 * seconds + 30 * seconds**2
    voice = sum(np.sin(2 * np.pi * h * turns) / h for h in range(1, 9)) * (seconds >= 0.1)
    noise = np.empty(SAMPLES)
    state = 1
    for i in range(SAMPLES):
        state = state * 48_271 % 2_147_483_647
        noise[i] = state / 1_073_741_823 - 1
    return 0.1 * voice + 0.003 * noise


def pitch_path() -> tuple[np.ndarray, np.ndarray]:
    """Pitch (semitones) and periodicity of each frame of 10 ms; frame 40 has none."""
    u = np.arange(SAMPLES // features.FINE_HOP + 1)
    pitch = 60 + 2 * np.sin(u / 7)
    pitch[40] = np.nan
    return pitch, 0.5 + 0.5 * np.cos(u / 11)


def rounded(values: torch.Tensor) -> list[float]:
    return [round(v, 5) for v in values.flatten().tolist()]


def main(target: str) -> None:
    signal = torch.from_numpy(clip().astype(np.float32))[None]
    gain = features.level_gain(signal)
    level = signal * gain
    pitch, strength = (torch.from_numpy(x.astype(np.float32))[None] for x in pitch_path())
    harmonics, fine = features.mix_inputs(level)
    spectrum = features.log_spectrum(level, harmonics.shape[2])
    solo = features.solo_frames(level, pitch, strength)
    golden = {
        "gain": round(gain.item(), 6),
        "harmonicsShape": list(harmonics.shape),
        "fineShape": list(fine.shape),
        "soloShape": list(solo.shape),
        "spectrum": {t: rounded(spectrum[0, t]) for t in FRAMES},
        "stack": rounded(harmonics[0, :, STACK_FRAME, ::STACK_STEP]),
        "fine": {t: rounded(fine[0, :, t]) for t in FRAMES},
        "solo": {u: rounded(solo[0, :, u]) for u in FINE_FRAMES},
    }
    with open(target, "w", encoding="utf-8") as file:
        json.dump(golden, file)
        file.write("\n")


if __name__ == "__main__":
    main(*sys.argv[1:])
