"""Whisper's decoder over a tree of beginnings, in numpy. Knows tokens; knows no grammar.

A beginning shares the work of every beginning it continues; a whole layer of the tree is one pass.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from assistant.hearing.whisper_weights import Array

HEADS = 6  # tiny.en: 384 wide, 64 a head
# The byte-pair vocabulary is numbered by how early, so how often, its pieces were joined. The rest
# is hardly ever written; leaving it out of the sum makes a step several times faster.
FREQUENT = 12_000
FIRST_MARK = 50_256  # the end of text and all tokens that are no text


def _norm(x: Array, gamma: Array, beta: Array) -> Array:
    centred = x - x.mean(axis=-1, keepdims=True)
    spread = np.sqrt(np.mean(centred**2, axis=-1, keepdims=True) + 1e-5)
    return np.asarray(centred / spread * gamma + beta, dtype=np.float32)


def _gelu(x: Array) -> Array:
    from scipy.special import erf

    return np.asarray(x * 0.5 * (1 + erf(x * np.float32(0.7071067811865476))), dtype=np.float32)


def _softmax(x: npt.NDArray[np.floating[Any]]) -> Array:
    raised = np.exp(x - x.max(axis=-1, keepdims=True))
    return np.asarray(raised / raised.sum(axis=-1, keepdims=True))


class Following:
    """What may follow some beginnings: log-probabilities over the vocabulary.

    frequent: [beginnings, frequent tokens], over which the probabilities add up to one; the others,
    tens of thousands that are hardly ever written, are worked out only when asked for.
    """

    def __init__(self, decoder: Decoder, states: Array) -> None:
        logits = states @ decoder.frequent_embeddings.T
        tops = logits.max(axis=1)
        self.sums = tops + np.log(np.exp(logits - tops[:, None]).sum(axis=1))
        self.frequent = logits - self.sums[:, None]
        self.states = states
        self._decoder = decoder

    def of(self, beginning: int, tokens: npt.NDArray[np.int64]) -> Array:
        """Log-probabilities of these tokens after one of the beginnings."""
        places = self._decoder.places[tokens]
        found = self.frequent[beginning][places]
        rare = places < 0
        if rare.any():
            rows = self._decoder.embeddings[tokens[rare]]
            found[rare] = rows @ self.states[beginning] - self.sums[beginning]
        return np.asarray(found)

    def one(self, beginning: int, token: int) -> float:
        """Log-probability of one token."""
        return float(self.of(beginning, np.array([token]))[0])


@dataclass(frozen=True, slots=True)
class _Linear:
    weight: Array  # [in, out]
    bias: Array

    def __call__(self, x: Array) -> Array:
        return np.asarray(x @ self.weight + self.bias)


class _Layer:
    """One block of the decoder: attention to itself, to the sound, then the two wide layers."""

    def __init__(self, weights: dict[str, Array], number: int) -> None:
        def linear(name: str) -> _Linear:
            stem = f"decoder/layer_{number}/{name}"
            return _Linear(
                np.ascontiguousarray(weights[f"{stem}/weight"].T), weights[f"{stem}/bias"]
            )

        def norm(name: str) -> tuple[Array, Array]:
            stem = f"decoder/layer_{number}/{name}/layer_norm"
            return weights[f"{stem}/gamma"], weights[f"{stem}/beta"]

        self.own_norm, self.own, self.own_out = (
            norm("self_attention"), linear("self_attention/linear_0"),
            linear("self_attention/linear_1"),
        )  # fmt: skip
        self.cross_norm, self.cross, self.sound, self.cross_out = (
            norm("attention"), linear("attention/linear_0"),
            linear("attention/linear_1"), linear("attention/linear_2"),
        )  # fmt: skip
        self.wide_norm, self.wide, self.narrow = (
            norm("ffn"), linear("ffn/linear_0"), linear("ffn/linear_1"),
        )  # fmt: skip


class Decoder:
    """The decoder's numbers, ready for use."""

    def __init__(self, weights: dict[str, Array]) -> None:
        self.embeddings = np.ascontiguousarray(weights["decoder/embeddings/weight"])
        self.positions = weights["decoder/position_encodings/encodings"]
        self.final_norm = (weights["decoder/layer_norm/gamma"], weights["decoder/layer_norm/beta"])
        count = len({name.split("/")[1] for name in weights if name.startswith("decoder/layer_")})
        blocks = [
            name for name in range(count) if f"decoder/layer_{name}/ffn/linear_0/bias" in weights
        ]
        self.layers = [_Layer(weights, number) for number in blocks]

        self.frequent = np.concatenate(
            [np.arange(FREQUENT), np.arange(FIRST_MARK, len(self.embeddings))]
        )
        self.frequent_embeddings = np.ascontiguousarray(self.embeddings[self.frequent])
        self.places = np.full(len(self.embeddings), -1)
        self.places[self.frequent] = np.arange(len(self.frequent))

    def following(self, x: Array) -> Following:
        """What follows, from the last layer's output [rows, width]."""
        return Following(self, _norm(x, *self.final_norm))


def _heads(x: Array) -> Array:
    """[rows, width] -> [heads, rows, width / heads]."""
    return np.ascontiguousarray(x.reshape(len(x), HEADS, -1).transpose(1, 0, 2))


class Tree:
    """All beginnings looked at for one sound. Node 0 is the prompt with the start marks."""

    def __init__(self, decoder: Decoder, encoded: Array, begin: Sequence[int]) -> None:
        self._decoder = decoder
        width = encoded.shape[1]
        self._sound: list[tuple[Array, Array]] = []
        for layer in decoder.layers:
            both = layer.sound(encoded)
            self._sound.append((_heads(both[:, :width]), _heads(both[:, width:])))
        self._begin_keys: list[tuple[Array, Array]] = []
        self._node_keys: list[Array] = []  # a layer's [nodes, heads, 64], grown as needed
        self._node_values: list[Array] = []
        self._paths: list[tuple[int, ...]] = [()]
        self._begin_length = len(begin)
        self.first = self._run_begin(begin)

    def _cross(self, number: int, x: Array) -> Array:
        layer = self._decoder.layers[number]
        keys, values = self._sound[number]
        asks = _heads(layer.cross(_norm(x, *layer.cross_norm))) * np.float32(0.125)
        seen = _softmax(asks @ keys.transpose(0, 2, 1)) @ values
        x = x + layer.cross_out(seen.transpose(1, 0, 2).reshape(len(x), -1))
        return np.asarray(x + layer.narrow(_gelu(layer.wide(_norm(x, *layer.wide_norm)))))

    def _run_begin(self, begin: Sequence[int]) -> Following:
        """The prompt in one pass, and what follows it."""
        decoder = self._decoder
        count = len(begin)
        x = decoder.embeddings[list(begin)] + decoder.positions[:count]
        later = np.triu(np.full((count, count), -np.inf, np.float32), 1)
        for number, layer in enumerate(decoder.layers):
            asks, keys, values = map(
                _heads, np.split(layer.own(_norm(x, *layer.own_norm)), 3, axis=1)
            )
            self._begin_keys.append((keys, values))
            seen = _softmax(asks * np.float32(0.125) @ keys.transpose(0, 2, 1) + later) @ values
            x = x + layer.own_out(seen.transpose(1, 0, 2).reshape(count, -1))
            x = self._cross(number, x)
            self._node_keys.append(np.zeros((64, HEADS, keys.shape[2]), np.float32))
            self._node_values.append(np.zeros((64, HEADS, keys.shape[2]), np.float32))
        return decoder.following(x[-1:])

    @property
    def frequent(self) -> npt.NDArray[np.int64]:
        """The tokens that `Following.frequent` is over."""
        return self._decoder.frequent

    def __len__(self) -> int:
        return len(self._paths)

    def _room(self, count: int) -> None:
        for pool in (self._node_keys, self._node_values):
            for number, held in enumerate(pool):
                if len(held) < count:
                    more = np.zeros((max(count, 2 * len(held)), *held.shape[1:]), np.float32)
                    more[: len(held)] = held
                    pool[number] = more

    def grow(self, parents: Sequence[int], tokens: Sequence[int]) -> tuple[range, Following]:
        """New beginnings, all of one length: each a parent node continued by a token.

        Returns their node numbers and what follows them.
        """
        decoder = self._decoder
        first, count = len(self._paths), len(parents)
        nodes = range(first, first + count)
        self._paths += [(*self._paths[p], n) for p, n in zip(parents, nodes, strict=True)]
        self._room(first + count)
        paths = np.array([self._paths[n] for n in nodes])  # [beginnings, length]
        position = self._begin_length + paths.shape[1] - 1
        x = decoder.embeddings[list(tokens)] + decoder.positions[position]
        for number, layer in enumerate(decoder.layers):
            x = self._own(number, layer, x, paths)
            x = self._cross(number, x)
        return nodes, decoder.following(x)

    def _own(self, number: int, layer: _Layer, x: Array, paths: npt.NDArray[np.int64]) -> Array:
        """Attention to the prompt, shared by all, and to each beginning's own tokens."""
        count = len(x)
        asks, keys, values = np.split(layer.own(_norm(x, *layer.own_norm)), 3, axis=1)
        self._node_keys[number][paths[:, -1]] = keys.reshape(count, HEADS, -1)
        self._node_values[number][paths[:, -1]] = values.reshape(count, HEADS, -1)
        own_keys = self._node_keys[number][paths]  # [beginnings, length, heads, 64]
        own_values = self._node_values[number][paths]
        begin_keys, begin_values = self._begin_keys[number]
        by_head = _heads(asks) * np.float32(0.125)  # [heads, beginnings, 64]
        to_begin = by_head @ begin_keys.transpose(0, 2, 1)
        to_own = np.einsum("hbd,blhd->hbl", by_head, own_keys)
        weights = _softmax(np.concatenate([to_begin, np.asarray(to_own, np.float32)], axis=2))
        split = to_begin.shape[2]
        seen = weights[:, :, :split] @ begin_values
        seen += np.einsum("hbl,blhd->hbd", weights[:, :, split:], own_values)
        return np.asarray(x + layer.own_out(seen.transpose(1, 0, 2).reshape(count, -1)))
