"""Trains the solo network.

    python3 train_solo.py --material DIR [--material DIR …] --out FILE.npz [--fold 2/5] [--steps 2500] [--seed 1]

DIR comes from pack.py; `--fold k/n` leaves out every n-th recording of SSVD from the k-th on (in order of name), so
that each can be measured by a network that never saw it. MIR-1K singers in material.HELD_OUT_SINGERS are left out.
"""

from __future__ import annotations

import argparse
import copy
import json
import math
import random
import time
from pathlib import Path

import torch
from torch import Tensor, nn

from features import MEL_BANDS, RATE, level_gain, solo_frames
from losses import heads_loss
from material import FRAME, Clip, Material, gather, held_out, load, take
from mixing import between, chance, coloured, draw, in_rooms, start_in
from networks import SoloNetwork
from weights import blend, save

CROP_SECONDS = 8
EDGE_FRAMES = 20
SHARES = {"ssvd": 0.6, "mir-voice": 0.12, "made-voice": 0.16, "made-other": 0.12}
SPEEDS = (0.9, 1.1)
MASKED_BANDS = 8
"""Most mel bands in a row that are hidden, in a third of the crops (Park et al., Interspeech 2019, section 2)."""
PITCH_WOBBLE = 0.15
"""Semitones: most that the pitch of a crop's path is roughened by, as other voices and rooms do."""


def left_out(clip: Clip, order: dict[str, int], fold: str | None) -> bool:
    """Whether a fold k/n is without this recording; `order` has the number of each of SSVD."""
    if fold is None or clip.kind != "ssvd":
        return False
    part, parts = map(int, fold.split("/"))
    return order[clip.name] % parts == part - 1


def inputs(
    material: Material, clips: list[Clip], starts: list[int], samples: int, random_: random.Random | None = None
) -> tuple[Tensor, Tensor]:
    """The network's input for crops, and their label frames; as they are, or roughened where `random_` is given."""
    batch = len(clips)
    speeds = [1.0] * batch if random_ is None else [random_.uniform(*SPEEDS) for _ in clips]
    signal, frames = gather(material, clips, starts, samples, speeds)
    path = take(material.path, frames)
    pitch = torch.where(path[..., 0] > 0, path[..., 0], torch.nan)
    if random_ is None:
        return solo_frames(signal * level_gain(signal), pitch, path[..., 1]), frames
    signal = in_rooms(coloured(signal, 0.6, 4, 0.1), 0.3)
    signal = signal * level_gain(signal)
    noise = 10 ** (between(-80, -38, batch, signal) / 20) * chance(0.5, batch, signal)
    signal = signal + noise * coloured(torch.randn_like(signal), 1, 6, 0)
    signal = signal * level_gain(signal) * 10 ** (between(-4, 2, batch, signal) / 20)
    wobble = between(0, PITCH_WOBBLE, batch, signal) * chance(0.3, batch, signal)
    got = solo_frames(signal, pitch + wobble * torch.randn_like(pitch), path[..., 1])
    for crop in got:
        if random_.random() < 1 / 3:
            low = random_.randrange(MEL_BANDS)
            crop[low : min(MEL_BANDS, low + random_.randint(1, MASKED_BANDS))] = 0
    return got, frames


@torch.no_grad()
def loss_without(network: nn.Module, material: Material, clips: list[Clip]) -> float:
    """The mean loss over whole recordings."""
    total = 0.0
    for clip in clips:
        got, frames = inputs(material, [clip], [0], clip.length // FRAME * FRAME)
        heads = network(got)[:, : frames.shape[1]]
        total += float(heads_loss(heads, take(material.targets, frames), take(material.known, frames)))
    return total / len(clips)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--material", type=Path, action="append", required=True)
    parser.add_argument("--out", type=Path, required=True)
    parser.add_argument("--fold", help="k/n: leave out every n-th recording of SSVD from the k-th on")
    parser.add_argument("--steps", type=int, default=2500)
    parser.add_argument("--batch", type=int, default=48)
    parser.add_argument("--rate", type=float, default=2e-3)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    device = "cuda" if torch.cuda.is_available() else "cpu"
    torch.manual_seed(args.seed)
    random_ = random.Random(args.seed)
    material = load(args.material, device)
    order = {name: i for i, name in enumerate(sorted({c.name for c in material.of("ssvd")}))}
    clips: dict[str, list[Clip]] = {}
    for clip in material.clips:
        if clip.kind in SHARES and not held_out(clip) and not left_out(clip, order, args.fold):
            clips.setdefault(clip.kind, []).append(clip)
    print({kind: len(c) for kind, c in clips.items()}, flush=True)
    network = SoloNetwork().to(device)
    average = copy.deepcopy(network).eval()
    optimiser = torch.optim.AdamW(network.parameters(), lr=args.rate, weight_decay=0.02)
    began, recent = time.monotonic(), []
    for step in range(args.steps):
        rate = args.rate * min(1, (step + 1) / 100) * (0.02 + 0.49 * (1 + math.cos(math.pi * step / args.steps)))
        for group in optimiser.param_groups:
            group["lr"] = rate
        drawn = [draw(SHARES, clips, random_) for _ in range(args.batch)]
        starts = [start_in(clip, CROP_SECONDS * RATE, random_) for clip in drawn]
        with torch.no_grad():
            frames_in, frames = inputs(material, drawn, starts, CROP_SECONDS * RATE, random_)
        network.train()
        heads = network(frames_in)
        inner = slice(EDGE_FRAMES, -EDGE_FRAMES)
        targets, known = take(material.targets, frames)[:, inner], take(material.known, frames)[:, inner]
        loss = heads_loss(heads[:, inner], targets, known)
        optimiser.zero_grad(set_to_none=True)
        loss.backward()
        nn.utils.clip_grad_norm_(network.parameters(), 1.0)
        optimiser.step()
        blend(average, network, min(0.998, (step + 1) / (step + 11)))
        recent.append(loss.detach())
        if step % 500 == 499 or step == args.steps - 1:
            mean = float(torch.stack(recent).mean())
            print(f"{time.monotonic() - began:.0f} s, step {step + 1}: loss {mean:.4f}", flush=True)
            recent = []
            save(average, args.out)
    without = [clip for clip in material.of("ssvd") if left_out(clip, order, args.fold)]
    if without:
        loss = loss_without(average, material, without)
        print(json.dumps({"fold": args.fold, "left out": len(without), "loss": loss}), flush=True)


if __name__ == "__main__":
    main()
