"""Trains the mix network.

    python3 train_mix.py --material DIR [--material DIR …] --out FILE.npz [--heard FILE.npz] [--minutes 16] [--seed 1]

DIR comes from pack.py, `--heard` from label_voices.py. A training may be cut in two where a GPU is to be had for a few
minutes at a time: `--state FILE --until 0.5` keeps all there is to keep, the same without `--until` goes on. The
singers of MIR-1K in material.HELD_OUT_SINGERS are left out, and scored at the end where they are there. The same seed
gives the same crops; the weights differ a little from run to run, as sums on a GPU do and as minutes hold more or
fewer steps.
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

from features import RATE, level_gain, mix_inputs
from losses import BINS_PER_SEMITONE, LOWEST_MIDI, by_half_frames, heads_loss, pitch_loss
from material import Material, gather, held_out, load, take
from mixing import mixed
from networks import MixNetwork
from weights import blend, restore, save

CROP_SECONDS = 6
EDGE_FRAMES = 5
"""Frames of 20 ms at the ends of a crop that do not count: their surroundings are cut off."""
SHIFT_BINS = 25
"""The music is moved by up to five semitones."""


def step_loss(network: nn.Module, material: Material, batch: int, random_: random.Random, device: str) -> Tensor:
    """The loss over one batch of new crops, all moved by as many bins."""
    crops = mixed(material, batch, CROP_SECONDS * RATE, random_)
    shift = random_.randint(-SHIFT_BINS, SHIFT_BINS)
    with torch.no_grad():
        harmonics, fine = mix_inputs(crops.signal, shift)
    targets, known = take(material.targets, crops.frames), take(material.known, crops.frames)
    # Where nobody sings, nothing sounds: that is known too.
    nobody = (crops.frames < 0)[..., None]
    known = torch.where(nobody, torch.ones_like(known), known)
    midi = take(material.f0, crops.frames)
    midi = torch.where(midi > 0, midi + shift / BINS_PER_SEMITONE, midi)
    with torch.autocast(device, torch.bfloat16, enabled=device == "cuda"):
        salience, heads = network(harmonics, fine)
    inner = slice(EDGE_FRAMES, -EDGE_FRAMES)
    fine_inner = slice(2 * EDGE_FRAMES, -2 * EDGE_FRAMES - 1)
    heads = by_half_frames(heads)[:, : targets.shape[1]]
    return pitch_loss(salience[:, inner], midi[:, ::2][:, inner]) + heads_loss(
        heads[:, fine_inner], targets[:, fine_inner], known[:, fine_inner]
    )


@torch.no_grad()
def scores(network: nn.Module, material: Material, voice_db: float | None) -> dict[str, float]:
    """Raw pitch and overall accuracy (Poliner et al. 2007) on the held-out singers, frames of 20 ms."""
    own = {clip.name: clip for clip in material.of("mir-band")}
    raw = right = frames = sung = false = 0.0
    for clip in filter(held_out, material.of("mir-voice")):
        length = clip.length // 320 * 320
        signal, label = gather(material, [clip], [0], length)
        if voice_db is not None:
            band, _ = gather(material, [own[clip.name]], [0], length)
            power = lambda x: x.square().mean().sqrt().clamp_min(1e-6)
            signal = signal / power(signal) + band / power(band) * 10 ** (-voice_db / 20)
        salience, heads = network(*mix_inputs(signal * level_gain(signal)))
        truth = take(material.f0, label)[0, ::2]
        pitch = LOWEST_MIDI + salience[0].float().argmax(-1) / BINS_PER_SEMITONE
        voiced = by_half_frames(heads)[0, ::2, 0] > 0
        count = min(len(truth), len(pitch))
        truth, pitch, voiced = truth[:count], pitch[:count], voiced[:count]
        good = ((pitch - truth).abs() <= 0.5) & (truth > 0)
        raw += float(good.sum())
        right += float((good & voiced).sum() + ((truth == 0) & ~voiced).sum())
        false += float(((truth == 0) & voiced).sum())
        frames, sung = frames + count, sung + float((truth > 0).sum())
    return dict(RPA=raw / sung, OA=right / frames, VFA=false / (frames - sung))


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--material", type=Path, action="append", required=True)
    parser.add_argument("--out", type=Path, required=True)
    parser.add_argument("--heard", type=Path, help="sounding and onsets of voices without labelled notes")
    parser.add_argument("--start", type=Path, help="weights to start from, as --out wrote them; lower --rate with it")
    parser.add_argument("--state", type=Path, help="where an unfinished training is kept")
    parser.add_argument("--until", type=float, default=1, help="share of the training after which to stop")
    parser.add_argument("--minutes", type=float, default=16, help="of the whole training")
    parser.add_argument("--steps", type=int, help="fixed number of steps instead of minutes")
    parser.add_argument("--batch", type=int, default=32)
    parser.add_argument("--rate", type=float, default=3e-3)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    device = "cuda" if torch.cuda.is_available() else "cpu"
    torch.manual_seed(args.seed)
    random_ = random.Random(args.seed)
    began = time.monotonic()
    material = load(args.material, device, args.heard)
    print(f"material after {time.monotonic() - began:.0f} s: {len(material.audio) / RATE / 60:.0f} minutes", flush=True)
    network = MixNetwork()
    if args.start:
        restore(network, args.start)
    network = network.to(device)
    if device == "cuda":
        network = network.to(memory_format=torch.channels_last)
    average = copy.deepcopy(network).eval()
    optimiser = torch.optim.AdamW(network.parameters(), lr=args.rate, weight_decay=0.01)
    step, before, recent, told = 0, 0.0, [], 0.0
    if args.state and args.state.exists():
        kept = torch.load(args.state, map_location=device)
        network.load_state_dict(kept["network"])
        average.load_state_dict(kept["average"])
        optimiser.load_state_dict(kept["optimiser"])
        step, before = kept["step"], kept["seconds"]
        random_.seed(args.seed + step)
    began = time.monotonic() - before
    while True:
        spent = time.monotonic() - began
        done = step / args.steps if args.steps else spent / (60 * args.minutes)
        if done >= min(1, args.until):
            break
        # A short warm-up, then down along a cosine (Loshchilov & Hutter, ICLR 2017).
        rate = args.rate * min(1, step / 200) * (0.02 + 0.49 * (1 + math.cos(math.pi * done)))
        for group in optimiser.param_groups:
            group["lr"] = rate
        network.train()
        loss = step_loss(network, material, args.batch, random_, device)
        optimiser.zero_grad(set_to_none=True)
        loss.backward()
        nn.utils.clip_grad_norm_(network.parameters(), 1.0)
        optimiser.step()
        step += 1
        blend(average, network, min(0.999, step / (step + 10)))
        recent.append(loss.detach())
        if spent - told > 30 or step in (20, 100):
            told = spent
            print(f"{spent:.0f} s, step {step}: loss {float(torch.stack(recent).mean()):.4f}", flush=True)
            recent = []
            save(average, args.out)
    save(average, args.out)
    if args.state:
        kept = dict(network=network.state_dict(), average=average.state_dict(), optimiser=optimiser.state_dict())
        torch.save(kept | dict(step=step, seconds=time.monotonic() - began), args.state)
    for db in (None, 0.0, -5.0) if any(map(held_out, material.of("mir-voice"))) else ():
        print(json.dumps({"voice_db": db, "step": step} | scores(average, material, db)), flush=True)


if __name__ == "__main__":
    main()
