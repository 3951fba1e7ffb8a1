"""Writes trained weights (.npz) as an ONNX file: python3 export_network.py mix|solo WEIGHTS.npz FILE.onnx"""

from __future__ import annotations

import sys

import numpy as np
import torch

from networks import MixNetwork, SoloNetwork


def main(kind: str, weights: str, target: str) -> None:
    network = {"mix": MixNetwork, "solo": SoloNetwork}[kind]()
    network.load_state_dict({k: torch.from_numpy(v) for k, v in np.load(weights).items()})
    network.eval()
    if kind == "mix":
        inputs: dict[str, torch.Tensor] = {"harmonics": torch.zeros(1, 8, 50, 300), "fine": torch.zeros(1, 80, 50)}
        axes = {"harmonics": {2: "frames"}, "fine": {2: "frames"}, "salience": {1: "frames"}, "heads": {1: "frames"}}
    else:
        inputs = {"frames": torch.zeros(1, 52, 50)}
        axes = {"frames": {2: "count"}, "heads": {1: "count"}}
    outputs = [name for name in axes if name not in inputs]
    torch.onnx.export(
        network,
        tuple(inputs.values()),
        target,
        opset_version=14,
        input_names=list(inputs),
        output_names=outputs,
        dynamic_axes=axes,
    )


if __name__ == "__main__":
    main(*sys.argv[1:])
