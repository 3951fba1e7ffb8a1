"""The packed recordings (pack.py) on one device, and what the networks should say of each frame of 10 ms."""

from __future__ import annotations

import json
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import torch
from torch import Tensor

from opus_stream import read_opus

FRAME = 160
"""Samples of a label frame."""
HELD_OUT_SINGERS = ("bug", "heycat", "khair")
"""Singers of MIR-1K whose voices and bands are never trained on: the figures are theirs."""
LATE_SECONDS = {"ssvd": 0.01, "made-voice": 0.005}
"""How much later than the arrival of the pitch a note's start is labelled (the vowel, not the pitch)."""
ONSET_SPREAD_SECONDS = 0.015
"""Standard deviation of the bump that stands for a start: annotators of one recording differ by about as much."""
TAUGHT_WEIGHT = 0.7
"""Of what the solo network says against what people labelled."""
LONG_BREAK = 20
"""Frames without pitch after which a clip without labelled notes is said to be silent, or to start anew."""


@dataclass(frozen=True)
class Clip:
    kind: str
    name: str
    start: int
    """First sample in `Material.audio`."""
    length: int
    """Samples."""
    label: int
    """First frame in the labels; −1 where nothing is known, as of a band."""


@dataclass(frozen=True)
class Material:
    audio: Tensor
    """16-bit samples of all clips."""
    f0: Tensor
    """MIDI number a frame, 0 without pitch."""
    targets: Tensor
    """(frames, 3): voiced, sounding, onset, 0..1."""
    known: Tensor
    """(frames, 3): weight of each target, 0 where it is not known."""
    path: Tensor
    """(frames, 2): pitch and periodicity that the solo tracker found."""
    clips: tuple[Clip, ...]

    def of(self, *kinds: str) -> list[Clip]:
        return [clip for clip in self.clips if clip.kind in kinds]


def singer(clip: Clip) -> str:
    return clip.name.split("_")[0]


def held_out(clip: Clip) -> bool:
    return clip.kind.startswith("mir") and singer(clip) in HELD_OUT_SINGERS


def note_targets(notes: list[list[float]], frames: int, late_seconds: float) -> np.ndarray:
    """(frames, 2): sounding and onset from labelled notes."""
    time = np.arange(frames) / 100
    out = np.zeros((frames, 2))
    for start, end, _ in notes:
        out[(time >= start - late_seconds) & (time < end), 0] = 1
        bump = np.exp(-0.5 * ((time - start + late_seconds) / ONSET_SPREAD_SECONDS) ** 2)
        out[:, 1] = np.maximum(out[:, 1], bump)
    return out


def pitch_targets(voiced: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Sounding and onset, and their weights, where only the pitch is known.

    Where there is pitch a note sounds; within a long break none does, and none starts there. Which breaks a note
    outlasts, and where notes start that are joined, is not known: weight 0.
    """
    targets, known = np.zeros((len(voiced), 2)), np.zeros((len(voiced), 2))
    known[voiced, 0] = targets[voiced, 0] = 1
    edges = np.flatnonzero(np.diff(np.concatenate([[0], (~voiced).astype(int), [0]])))
    for begin, end in edges.reshape(-1, 2):
        if end - begin >= LONG_BREAK:
            known[begin:end, 0] = 1
            known[begin + 3 : end - 6, 1] = 1
    return targets, known


def labels_of(clip: dict, f0: np.ndarray | None, frames: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """f0, targets and weights of one clip."""
    targets, known = np.zeros((frames, 3)), np.zeros((frames, 3))
    pitch = np.zeros(frames)
    if f0 is not None:
        pitch[: min(frames, len(f0))] = f0[:frames] / 100
        targets[:, 0], known[:, 0] = pitch > 0, 1
    if clip["notes"] is not None:
        targets[:, 1:] = note_targets(clip["notes"], frames, LATE_SECONDS.get(clip["kind"], 0))
        known[:, 1:] = 1
    elif f0 is not None:
        targets[:, 1:], known[:, 1:] = pitch_targets(pitch > 0)
    return pitch, targets, known


def load(folders: list[Path], device: str, heard: Path | None = None) -> Material:
    """All clips whose streams are there.

    `heard` is what the solo network made of voices without labelled notes (label_voices.py): it says then where
    their notes sound and start (Hinton, Vinyals & Dean, 2015: a teacher's probabilities as targets).
    """
    taught = np.load(heard) if heard else {}
    streams: list[np.ndarray] = []
    clips: list[Clip] = []
    f0s, targets, knowns, paths = [], [], [], []
    audio_length = label_length = 0
    for folder in folders:
        files = sorted(folder.glob("*.opus"))
        with ProcessPoolExecutor() as pool:
            decoded = list(pool.map(read_opus, files))
        starts: dict[int, int] = {}
        for file, samples in zip(files, decoded):
            starts[int(file.stem)] = audio_length
            streams.append(samples)
            audio_length += len(samples)
        labels = np.load(folder / "labels.npz")
        for index, clip in enumerate(json.loads((folder / "index.json").read_text())):
            if clip["stream"] not in starts:
                continue
            known_label = -1
            if not clip["kind"].endswith("band"):
                frames = clip["length"] // FRAME + 1
                f0 = labels[f"f0_{index}"] if f"f0_{index}" in labels else None
                pitch, target, known = labels_of(clip, f0, frames)
                if clip["name"] in taught and clip["notes"] is None:
                    target[:, 1:] = taught[clip["name"]][:frames] / 255
                    known[:, 1:] = TAUGHT_WEIGHT
                path = np.zeros((frames, 2))
                if f"path_{index}" in labels:
                    found = labels[f"path_{index}"].T[:frames] / 100
                    path[: len(found)] = found
                f0s.append(pitch)
                targets.append(target)
                knowns.append(known)
                paths.append(path)
                known_label, label_length = label_length, label_length + frames
            start = starts[clip["stream"]] + clip["offset"]
            clips.append(Clip(clip["kind"], clip["name"], start, clip["length"], known_label))
    float_tensor = lambda parts: torch.tensor(np.concatenate(parts), dtype=torch.float32, device=device)
    return Material(
        torch.from_numpy(np.concatenate(streams)).to(device),
        float_tensor(f0s),
        float_tensor(targets),
        float_tensor(knowns),
        float_tensor(paths),
        tuple(clips),
    )


def gather(
    material: Material, clips: list[Clip], starts: list[int], samples: int, speeds: list[float] | None = None
) -> tuple[Tensor, Tensor]:
    """Signals (batch, samples) from each clip's own sample on, and the frames of its labels.

    There are samples // 160 + 1 frames of each. What lies beyond the clip's end is silence, and its label frames are
    −1. `speeds` plays each faster or slower.
    """
    device = material.audio.device
    column = lambda values: torch.tensor(values, device=device)[:, None]
    begin, length, start = column([c.start for c in clips]), column([c.length for c in clips]), column(starts)
    speed = column(speeds if speeds else [1.0] * len(clips))
    passed = torch.arange(samples, device=device) * speed
    at = start + passed.long()
    between = passed - passed.floor()
    inside = at < length
    here = (begin + at).clamp_max(len(material.audio) - 2)
    low, high = material.audio[here].float(), material.audio[here + 1].float()
    signal = (low + (high - low) * between) / 32768 * inside
    frame = (start / FRAME + torch.arange(samples // FRAME + 1, device=device) * speed).round().long()
    label = column([c.label for c in clips]) + frame
    last = torch.div(length, FRAME, rounding_mode="floor")
    return signal, torch.where((frame <= last) & (column([c.label for c in clips]) >= 0), label, -1)


def take(values: Tensor, frames: Tensor) -> Tensor:
    """Labels at the frames of `gather`, 0 where there are none."""
    got = values[frames.clamp_min(0)]
    mask = (frames >= 0).to(got)
    return got * (mask[..., None] if got.dim() == 3 else mask)
