"""The layers of a transformer, in numpy. Knows arrays only."""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt

from assistant.recogniser.whisper_weights import Float32Array

HEADS = 6  # tiny.en: 384 wide, 64 a head
SCALE = np.float32(0.125)  # one over the root of a head's width


class Norm:
    """Layer normalisation: to mean 0 and deviation 1 along the width, then scaled and shifted."""

    def __init__(self, weights: dict[str, Float32Array], stem: str) -> None:
        self._gamma, self._beta = weights[f"{stem}/gamma"], weights[f"{stem}/beta"]

    def __call__(self, x: Float32Array) -> Float32Array:
        centred = x - x.mean(axis=-1, keepdims=True)
        squares = np.einsum("...i,...i->...", centred, centred)[..., None] / x.shape[-1]
        centred /= np.sqrt(squares + np.float32(1e-5))
        return np.asarray(centred * self._gamma + self._beta, dtype=np.float32)


class Linear:
    """x @ weight + bias; stored as [out, in], kept as [in, out]."""

    def __init__(self, weights: dict[str, Float32Array], stem: str) -> None:
        self._weight = np.ascontiguousarray(weights[f"{stem}/weight"].T)
        self._bias = weights[f"{stem}/bias"]

    def __call__(self, x: Float32Array) -> Float32Array:
        y = x @ self._weight
        y += self._bias
        return np.asarray(y)


class Block:
    """What every layer of encoder and decoder has: self-attention and feed-forward."""

    def __init__(self, weights: dict[str, Float32Array], stem: str) -> None:
        self.self_norm = Norm(weights, f"{stem}/self_attention/layer_norm")
        self.self_qkv = Linear(weights, f"{stem}/self_attention/linear_0")
        self.self_out = Linear(weights, f"{stem}/self_attention/linear_1")
        self._ffn_norm = Norm(weights, f"{stem}/ffn/layer_norm")
        self._ffn_up = Linear(weights, f"{stem}/ffn/linear_0")
        self._ffn_down = Linear(weights, f"{stem}/ffn/linear_1")

    def feed_forward(self, x: Float32Array) -> Float32Array:
        """With the residual."""
        return np.asarray(x + self._ffn_down(gelu(self._ffn_up(self._ffn_norm(x)))))


def gelu(x: Float32Array) -> Float32Array:
    """The exact form, by the error function."""
    from scipy.special import erf

    y = erf(x * np.float32(0.7071067811865476))
    y += 1
    y *= x
    y *= np.float32(0.5)
    return np.asarray(y)


def softmax(x: npt.NDArray[np.floating[Any]]) -> Float32Array:
    """Along the last axis."""
    exponentials = np.exp(x - x.max(axis=-1, keepdims=True))
    exponentials /= exponentials.sum(axis=-1, keepdims=True)
    return np.asarray(exponentials)


def split_heads(x: Float32Array) -> Float32Array:
    """[rows, width] -> [heads, rows, width / heads]."""
    return np.ascontiguousarray(x.reshape(len(x), HEADS, -1).transpose(1, 0, 2))


def join_heads(x: Float32Array) -> Float32Array:
    """[heads, rows, width / heads] -> [rows, width]."""
    return x.transpose(1, 0, 2).reshape(x.shape[1], -1)
