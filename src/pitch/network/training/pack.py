"""Packs recordings and their labels into a few small files that a bare machine with a GPU can read.

    python3 pack.py --mir1k DIR --karaoke-voices OUT
    python3 pack.py --mir1k DIR --ssvd DIR --tracks DIR --made DIR [--made DIR …] --bands DIR --out DIR

The first only writes the voices of MIR-1K, which are the right channels, as mono WAV files, so that the solo tracker
can hear them (tests/train/tracks.ts); the second packs, any of the kinds alone as well as all.

Every recording becomes mono at 16 kHz; recordings of a kind are joined to streams of about ten minutes and coded
as Opus (20 to 32 kbit/s, which leaves the band up to 8 kHz), because the GPU is often far from the data. Needs ffmpeg.
`index.json` says where each clip lies and what its notes are ([start s, end s, MIDI number], null where unknown).
`labels.npz` holds, in hundredths, for clip i `f0_i` (MIDI number a frame of 10 ms, 0 = no pitch) and `path_i` (two
rows: pitch and periodicity of the solo tracker), where known.
"""

from __future__ import annotations

import argparse
import json
import math
import subprocess
from pathlib import Path

import numpy as np

from wave_file import RATE, write_wave

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
    """Whether a computed recording is of a voice: its name begins so. Those of whistles and pianos do not."""
    return name.startswith(("voice", "sung", "hummed"))


def note_of(note: list | dict) -> list[float]:
    """Start, end and MIDI number of a note that is a list of them, or calls them start and end, or on and off."""
    if isinstance(note, list):
        return note
    start, end = ("start", "end") if "start" in note else ("on", "off")
    return [note[start], note[end], note["midi"]]


def from_truth(file: Path) -> tuple[np.ndarray | None, list[list[float]]]:
    """f0 and notes of a computed recording, from NAME.json or NAME.truth.json beside it."""
    beside = file.with_suffix(".truth.json")
    truth = json.loads((beside if beside.exists() else file.with_suffix(".json")).read_text())
    f0 = None if truth.get("f0Hz") is None else midi(np.array(truth["f0Hz"], float))
    return f0, [note_of(note) for note in truth["notes"]]


class Packer:
    """Takes clips one after the other and writes them as streams, each of one kind."""

    def __init__(self, out: Path):
        self.out, self.clips, self.parts, self.kind, self.length, self.streams = out, [], [], "", 0, 0
        self.labels: dict[str, np.ndarray] = {}
        out.mkdir(parents=True, exist_ok=True)

    def add(self, kind: str, name: str, samples: np.ndarray, **known: object) -> None:
        """Adds a clip; `known` of it are f0, path and notes."""
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
        """Writes the stream that is being filled."""
        rate = {"made-band": "20k", "made-voice": "24k"}.get(self.kind, "32k")
        target = self.out / f"{self.streams:03d}.opus"
        code = ["-c:a", "libopus", "-b:a", rate, "-vbr", "on", "-application", "audio"]
        command = ["ffmpeg", "-v", "error", "-y", "-f", "s16le", "-ar", str(RATE), "-ac", "1", "-i", "-"]
        subprocess.run([*command, *code, str(target)], input=np.concatenate(self.parts).tobytes(), check=True)
        self.streams += 1
        self.parts, self.length = [], 0

    def close(self) -> None:
        """Writes what is left, and what is known of all clips."""
        if self.parts:
            self.flush()
        np.savez_compressed(self.out / "labels.npz", **self.labels)
        (self.out / "index.json").write_text(json.dumps(self.clips, separators=(",", ":")))


def read_notes(path: Path) -> list[list[float]]:
    """Labels of SSVD: start s, end s and MIDI number a line."""
    return [[float(v) for v in line.replace(",", " ").split()[:3]] for line in path.read_text().splitlines() if line]


def read_track(tracks: Path, name: str) -> dict:
    """What tests/train/tracks.ts wrote of a recording."""
    return json.loads((tracks / f"{name}.json").read_text())


def path_in(track: dict) -> list[list[float]]:
    """Pitch and periodicity, a row each."""
    return [track["pitch"], track["strength"]]


def write_karaoke_voices(mir1k: Path, out: Path) -> None:
    """The right channel of every clip of MIR-1K as OUT/NAME.wav."""
    out.mkdir(parents=True, exist_ok=True)
    for file in sorted(mir1k.glob("*.opus")):
        write_wave(out / f"{file.stem}.wav", decode(file, "right") / 32767)


def add_ssvd(packer: Packer, folder: Path, tracks: Path) -> None:
    """Sight-singing: labelled notes, and the pitch that the solo tracker found in them."""
    for file in sorted(folder.glob("*.flac")):
        samples, track, notes = decode(file), read_track(tracks, file.stem), read_notes(file.with_suffix(".txt"))
        f0 = voiced_in_notes(track, notes, len(samples) // 160 + 1)
        packer.add("ssvd", file.stem, samples, f0=f0, notes=notes, path=path_in(track))


def add_mir1k(packer: Packer, folder: Path, tracks: Path) -> None:
    """Karaoke: voices with labelled pitch, and their bands."""
    files = sorted(folder.glob("*.opus"))
    for file in files:
        samples = decode(file, "right")
        f0 = from_pv(file.with_suffix(".pv"), len(samples) // 160 + 1)
        packer.add("mir-voice", file.stem, samples, f0=f0, path=path_in(read_track(tracks, file.stem)))
    for file in files:
        packer.add("mir-band", file.stem, decode(file, "left"))


def add_made(packer: Packer, folders: list[Path], tracks: Path) -> None:
    """Computed recordings: voices first, then the others."""
    files = sorted(file for folder in folders for file in folder.glob("*.wav"))
    for kind in ("made-voice", "made-other"):
        for file in files:
            if is_voice(file.stem) == (kind == "made-voice"):
                f0, notes = from_truth(file)
                path = path_in(read_track(tracks, file.stem))
                packer.add(kind, file.stem, decode(file), f0=f0, notes=notes, path=path)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--mir1k", type=Path, help="NAME.opus, band left and voice right, with NAME.pv")
    parser.add_argument("--ssvd", type=Path, help="NAME.flac with NAME.txt")
    parser.add_argument("--made", type=Path, action="append", default=[], help="computed recordings; may come again")
    parser.add_argument("--bands", type=Path, help="computed bands, NAME.wav")
    parser.add_argument("--tracks", type=Path, help="what tests/train/tracks.ts wrote of all but the bands")
    parser.add_argument("--karaoke-voices", type=Path, help="only write the voices of --mir1k here")
    parser.add_argument("--out", type=Path, help="folder of the pack")
    args = parser.parse_args()
    if args.karaoke_voices:
        if not args.mir1k:
            parser.error("--karaoke-voices needs --mir1k")
        write_karaoke_voices(args.mir1k, args.karaoke_voices)
        return
    if not args.out:
        parser.error("--out is needed")
    if (args.ssvd or args.mir1k or args.made) and not args.tracks:
        parser.error("--ssvd, --mir1k and --made need --tracks")
    packer = Packer(args.out)
    if args.ssvd:
        add_ssvd(packer, args.ssvd, args.tracks)
    if args.mir1k:
        add_mir1k(packer, args.mir1k, args.tracks)
    add_made(packer, args.made, args.tracks)
    for file in sorted(args.bands.glob("*.wav")) if args.bands else ():
        packer.add("made-band", file.stem, decode(file))
    packer.close()
    print(len(packer.clips), "clips in", packer.streams, "streams")


if __name__ == "__main__":
    main()
