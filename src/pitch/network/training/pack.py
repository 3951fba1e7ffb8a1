"""Packs recordings and their labels into a few small files that a bare machine with a GPU can read.

    python3 pack.py --mir1k DIR --ssvd DIR --tracks DIR --made DIR --bands DIR --out DIR

Every recording becomes mono at 16 kHz; recordings of a kind are joined to streams of about ten minutes and coded
as Opus (32 kbit/s, which leaves the band up to 8 kHz), because a GPU is often lent far from the data. Needs ffmpeg.
`index.json` says where each clip lies and what its notes are ([start s, end s, MIDI number], null where unknown).
`labels.npz` holds, in hundredths, for clip i `f0_i` (MIDI number a frame of 10 ms, 0 = no pitch) and `path_i` (two rows:
pitch and periodicity of the solo tracker), where known.
"""

from __future__ import annotations

import argparse
import json
import math
import subprocess
from pathlib import Path

import numpy as np

RATE = 16_000
STREAM_SECONDS = 600
GAP = 1600
"""Samples of silence between clips: longer than any look-ahead of the coder."""


def decode(path: Path, channel: str = "mono") -> np.ndarray:
    """16-bit samples; channel `mono`, `left` or `right`."""
    fold = {"mono": [], "left": ["-af", "pan=mono|c0=c0"], "right": ["-af", "pan=mono|c0=c1"]}[channel]
    command = ["ffmpeg", "-v", "error", "-i", str(path), *fold, "-ac", "1", "-ar", str(RATE), "-f", "s16le", "-"]
    return np.frombuffer(subprocess.run(command, check=True, capture_output=True).stdout, np.int16)


def midi(hz: np.ndarray) -> np.ndarray:
    return np.where(hz > 0, 69 + 12 * np.log2(np.maximum(hz, 1) / 440), 0)


def from_pv(path: Path, frames: int) -> np.ndarray:
    """Labels of MIR-1K: line n (from 1) is the pitch at 0.02·n s; between two lines, their mean where both sing."""
    coarse = np.array([0.0, *map(float, path.read_text().split())])
    fine = np.zeros(2 * len(coarse))
    fine[::2] = coarse
    between = (coarse[:-1] + coarse[1:]) / 2
    fine[1:-1:2] = np.where((coarse[:-1] > 0) & (coarse[1:] > 0), between, 0)
    out = np.zeros(frames)
    out[: min(frames, len(fine))] = fine[:frames]
    return out


def voiced_in_notes(track: dict, notes: list[list[float]], frames: int) -> np.ndarray:
    """Pitch of the solo tracker where it is voiced within a labelled note, 0 elsewhere."""
    pitch, voiced = np.array(track["pitch"]), np.array(track["voiced"])
    out = np.zeros(frames)
    for start, end, key in notes:
        for i in range(max(0, math.ceil((start - 0.03) * 100)), min(frames, len(pitch), int(end * 100) + 1)):
            if voiced[i] > 0.5 and abs(pitch[i] - key) < 4:
                out[i] = pitch[i]
    return out


def is_voice(name: str) -> bool:
    """Whether a computed recording is of a voice: its name begins so; whistles and pianos are not."""
    return name.startswith(("voice", "sung", "hummed"))


def from_truth(file: Path) -> tuple[np.ndarray | None, list[list[float]]]:
    """f0 and notes of a computed recording, from NAME.json or NAME.truth.json beside it."""
    beside = file.with_suffix(".truth.json")
    truth = json.loads((beside if beside.exists() else file.with_suffix(".json")).read_text())
    f0 = None if truth.get("f0Hz") is None else midi(np.array(truth["f0Hz"], float))
    listed = [n if isinstance(n, list) else [n.get("start", n.get("on")), n.get("end", n.get("off")), n["midi"]] for n in truth["notes"]]
    return f0, listed


class Packer:
    def __init__(self, out: Path):
        self.out, self.clips, self.parts, self.kind, self.length, self.streams = out, [], [], "", 0, 0
        self.labels: dict[str, np.ndarray] = {}
        out.mkdir(parents=True, exist_ok=True)

    def add(self, kind: str, name: str, samples: np.ndarray, **known) -> None:
        if self.parts and (kind != self.kind or self.length > STREAM_SECONDS * RATE):
            self.flush()
        self.kind = kind
        clip = dict(kind=kind, name=name, stream=self.streams, offset=self.length, length=len(samples))
        for label in ("f0", "path"):
            if known.get(label) is not None:
                values = np.nan_to_num(np.asarray(known[label], float))
                self.labels[f"{label}_{len(self.clips)}"] = np.round(values * 100).astype(np.int16)
        self.clips.append(clip | {"notes": known.get("notes")})
        self.parts += [samples, np.zeros(GAP, np.int16)]
        self.length += len(samples) + GAP

    def flush(self) -> None:
        rate = {"made-band": "20k", "made-voice": "24k"}.get(self.kind, "32k")
        target = self.out / f"{self.streams:03d}.opus"
        code = ["-c:a", "libopus", "-b:a", rate, "-vbr", "on", "-application", "audio"]
        command = ["ffmpeg", "-v", "error", "-y", "-f", "s16le", "-ar", str(RATE), "-ac", "1", "-i", "-"]
        subprocess.run([*command, *code, str(target)], input=np.concatenate(self.parts).tobytes(), check=True)
        self.streams += 1
        self.parts, self.length = [], 0

    def close(self) -> None:
        if self.parts:
            self.flush()
        np.savez_compressed(self.out / "labels.npz", **self.labels)
        (self.out / "index.json").write_text(json.dumps(self.clips, separators=(",", ":")))


def read_notes(path: Path) -> list[list[float]]:
    return [[float(v) for v in line.replace(",", " ").split()[:3]] for line in path.read_text().splitlines() if line]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    for name in ("mir1k", "ssvd", "tracks", "bands"):
        parser.add_argument(f"--{name}", type=Path)
    parser.add_argument("--made", type=Path, action="append", help="a folder of computed recordings; may come again")
    parser.add_argument("--out", type=Path, required=True)
    args = parser.parse_args()
    packer = Packer(args.out)
    track_of = lambda name: json.loads((args.tracks / f"{name}.json").read_text()) if args.tracks else None
    path_of = lambda track: track and [track["pitch"], track["strength"]]
    if args.ssvd:
        for file in sorted(args.ssvd.glob("*.flac")):
            samples, track, notes = decode(file), track_of(file.stem), read_notes(file.with_suffix(".txt"))
            f0 = voiced_in_notes(track, notes, len(samples) // 160 + 1)
            packer.add("ssvd", file.stem, samples, f0=f0, notes=notes, path=path_of(track))
    if args.mir1k:
        for channel, kind in (("right", "mir-voice"), ("left", "mir-band")):
            for file in sorted(args.mir1k.glob("*.opus")):
                samples = decode(file, channel)
                f0 = from_pv(file.with_suffix(".pv"), len(samples) // 160 + 1)
                path = path_of(track_of(file.stem)) if kind == "mir-voice" else None
                packer.add(kind, file.stem, samples, f0=f0 if kind == "mir-voice" else None, path=path)
    if args.made:
        files = [file for folder in args.made for file in folder.glob("*.wav")]
        for kind in ("made-voice", "made-other"):
            for file in sorted(f for f in files if is_voice(f.stem) == (kind == "made-voice")):
                f0, notes = from_truth(file)
                packer.add(kind, file.stem, decode(file), f0=f0, notes=notes, path=path_of(track_of(file.stem)))
    if args.bands:
        for file in sorted(args.bands.glob("*.wav")):
            packer.add("made-band", file.stem, decode(file))
    packer.close()
    print(len(packer.clips), "clips in", packer.streams, "streams")


if __name__ == "__main__":
    main()
