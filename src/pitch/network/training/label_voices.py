"""Lets the solo network say where notes sound and start in voices whose notes nobody labelled.

    python3 label_voices.py --material DIR [--material DIR …] --weights SOLO.npz --out FILE.npz

FILE.npz holds for each clip of MIR-1K, by name, (frames of 10 ms, 2): sounding and onset, 0 to 255.
"""

from __future__ import annotations

import argparse
from pathlib import Path

import numpy as np
import torch

from material import FRAME, load
from networks import SoloNetwork
from train_solo import inputs
from weights import restore


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--material", type=Path, action="append", required=True)
    parser.add_argument("--weights", type=Path, required=True)
    parser.add_argument("--out", type=Path, required=True)
    args = parser.parse_args()
    device = "cuda" if torch.cuda.is_available() else "cpu"
    network = SoloNetwork().to(device).eval()
    restore(network, args.weights)
    material = load(args.material, device)
    said = {}
    with torch.no_grad():
        for clip in material.of("mir-voice"):
            frames, _ = inputs(material, [clip], [0], clip.length // FRAME * FRAME)
            heads = torch.sigmoid(network(frames)[0, :, 1:])
            said[clip.name] = (heads * 255).round().byte().cpu().numpy()
    np.savez_compressed(args.out, **said)
    print(len(said), "voices labelled")


if __name__ == "__main__":
    main()
