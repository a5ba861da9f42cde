"""Whisper's encoder in numpy: log-mel spectrograms to what the decoder attends to.

Knows arrays and sound only. Source: Radford et al. 2022, 2.2; the arrays' names are the
converter's.
"""

from __future__ import annotations

import numpy as np

from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Sound
from assistant.recogniser.mel import FRAMES_PER_S, log_mel
from assistant.recogniser.whisper_blocks import (
    SCALE,
    Block,
    Norm,
    gelu,
    join_heads,
    softmax,
    split_heads,
)
from assistant.recogniser.whisper_weights import Float32Array

LONGEST_S = 30.0  # what it was trained on


class _Layer(Block):
    """Self-attention, then feed-forward."""

    def __call__(self, x: Float32Array) -> Float32Array:
        projected = np.split(self.self_qkv(self.self_norm(x)), 3, axis=1)
        queries, keys, values = map(split_heads, projected)
        attended = softmax(queries @ keys.transpose(0, 2, 1) * SCALE) @ values
        x = x + self.self_out(join_heads(attended))
        return self.feed_forward(x)


class Encoder:
    """The encoder's weights, ready for use."""

    def __init__(self, weights: dict[str, Float32Array]) -> None:
        self._convolutions = [
            (
                np.ascontiguousarray(weights[f"encoder/{name}/weight"].transpose(2, 1, 0)),
                weights[f"encoder/{name}/bias"],
            )
            for name in ("conv1", "conv2")
        ]
        self._positions = weights["encoder/position_encodings/encodings"]
        numbers = {name.split("/")[1] for name in weights if name.startswith("encoder/layer_")}
        count = len(numbers - {"layer_norm"})
        self._layers = [_Layer(weights, f"encoder/layer_{number}") for number in range(count)]
        self._final_norm = Norm(weights, "encoder/layer_norm")

    def encode(self, mel: Float32Array) -> Float32Array:
        """[positions, width] from [bands, frames]; two frames make one position."""
        x = np.ascontiguousarray(mel.T)
        for stride, (weight, bias) in zip((1, 2), self._convolutions, strict=True):
            x = gelu(_convolved(x, weight, stride) + bias)
        x += self._positions[: len(x)]
        for layer in self._layers:
            x = layer(x)
        return self._final_norm(x)

    def of_sound(self, sound: Sound, window_s: float, after_s: float) -> Float32Array:
        """What the decoder may attend to: no further than `after_s` past the end of the sound.

        window_s: the least that the encoder sees, filled with silence; at most `LONGEST_S`.
        """
        length_s = len(sound) / SPEECH_RATE_HZ
        seen_s = min(LONGEST_S, max(window_s, length_s + after_s))
        encoded = self.encode(log_mel(sound, 2 * int(seen_s * FRAMES_PER_S / 2)))
        return encoded[: int((length_s + after_s) * FRAMES_PER_S / 2)]


def _convolved(x: Float32Array, weight: Float32Array, stride: int) -> Float32Array:
    """[frames, in] with a kernel [3, in, out], one frame of zeros at each side."""
    padded = np.pad(x, ((1, 1), (0, 0)))
    count = len(x)
    parts = [padded[at : at + count : stride] @ weight[at] for at in range(3)]
    return np.asarray(parts[0] + parts[1] + parts[2])
