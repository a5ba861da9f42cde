"""Whisper's decoder over a tree of beginnings, in numpy. Knows tokens; knows no grammar.

A beginning shares the work of every beginning it continues; a whole layer of the tree is one pass.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
import numpy.typing as npt

from assistant.recogniser.whisper_blocks import (
    HEADS,
    SCALE,
    Linear,
    Norm,
    gelu,
    join_heads,
    softmax,
    split_heads,
)
from assistant.recogniser.whisper_weights import Float32Array

# The byte-pair vocabulary is numbered by how early, so how often, its pieces were joined. The rest
# is hardly ever written; leaving it out of the sum makes a step several times faster.
FREQUENT = 12_000
FIRST_MARK = 50_256  # the end of text and all tokens that are no text


class NextTokens:
    """What may follow some beginnings: log-probabilities over the vocabulary.

    frequent: [beginnings, frequent tokens], over which the probabilities add up to one; the others,
    tens of thousands that are hardly ever written, are worked out only when asked for.
    """

    def __init__(self, decoder: Decoder, states: Float32Array) -> None:
        logits = states @ decoder.frequent_embeddings
        tops = logits.max(axis=1)
        self.sums = tops + np.log(np.exp(logits - tops[:, None]).sum(axis=1))
        self.frequent = logits - self.sums[:, None]
        self.states = states
        self._decoder = decoder

    def of(self, beginning: int, tokens: npt.NDArray[np.int64]) -> Float32Array:
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


class _Layer:
    """One block of the decoder: attention to itself, to the sound, then the two wide layers."""

    def __init__(self, weights: dict[str, Float32Array], stem: str) -> None:
        self.own_norm = Norm(weights, f"{stem}/self_attention/layer_norm")
        self.own = Linear(weights, f"{stem}/self_attention/linear_0")
        self.own_out = Linear(weights, f"{stem}/self_attention/linear_1")
        self.cross_norm = Norm(weights, f"{stem}/attention/layer_norm")
        self.cross = Linear(weights, f"{stem}/attention/linear_0")
        self.sound = Linear(weights, f"{stem}/attention/linear_1")
        self.cross_out = Linear(weights, f"{stem}/attention/linear_2")
        self.wide_norm = Norm(weights, f"{stem}/ffn/layer_norm")
        self.wide = Linear(weights, f"{stem}/ffn/linear_0")
        self.narrow = Linear(weights, f"{stem}/ffn/linear_1")


class Decoder:
    """The decoder's numbers, ready for use."""

    def __init__(self, weights: dict[str, Float32Array]) -> None:
        self.embeddings = np.ascontiguousarray(weights["decoder/embeddings/weight"])
        self.positions = weights["decoder/position_encodings/encodings"]
        self._last = Norm(weights, "decoder/layer_norm")
        numbers = {name.split("/")[1] for name in weights if name.startswith("decoder/layer_")}
        count = len(numbers - {"layer_norm"})
        self.layers = [_Layer(weights, f"decoder/layer_{number}") for number in range(count)]
        self.places = np.full(len(self.embeddings), -1)
        self.frequent = np.zeros(0, np.int64)
        self.include([*range(FREQUENT), *range(FIRST_MARK, len(self.embeddings))])

    def include(self, tokens: Iterable[int]) -> None:
        """Count these tokens among the frequent ones from now on: a grammar's own must be."""
        new = sorted({token for token in tokens if self.places[token] < 0})
        if new:
            self.frequent = np.sort(np.concatenate([self.frequent, np.array(new)]))
            self.frequent_embeddings = np.ascontiguousarray(self.embeddings[self.frequent].T)
            self.places[self.frequent] = np.arange(len(self.frequent))

    def following(self, x: Float32Array) -> NextTokens:
        """What follows, from the last layer's output [rows, width]."""
        return NextTokens(self, self._last(x))


class PrefixCache:
    """All beginnings looked at for one sound. Node 0 is the prompt with the start marks."""

    def __init__(self, decoder: Decoder, encoded: Float32Array, begin: Sequence[int]) -> None:
        self._decoder = decoder
        width = encoded.shape[1]
        self._sound: list[tuple[Float32Array, Float32Array]] = []
        for layer in decoder.layers:
            both = layer.sound(encoded)
            self._sound.append((split_heads(both[:, :width]), split_heads(both[:, width:])))
        self._begin_keys: list[tuple[Float32Array, Float32Array]] = []
        self._node_keys: list[Float32Array] = []  # a layer's [nodes, heads, 64], grown as needed
        self._node_values: list[Float32Array] = []
        self._paths: list[tuple[int, ...]] = [()]
        self._begin_length = len(begin)
        self.first = self._run_begin(begin)

    def _cross(self, number: int, x: Float32Array) -> Float32Array:
        layer = self._decoder.layers[number]
        keys, values = self._sound[number]
        asks = split_heads(layer.cross(layer.cross_norm(x))) * SCALE
        seen = softmax(asks @ keys.transpose(0, 2, 1)) @ values
        x = x + layer.cross_out(join_heads(seen))
        return np.asarray(x + layer.narrow(gelu(layer.wide(layer.wide_norm(x)))))

    def _run_begin(self, begin: Sequence[int]) -> NextTokens:
        """The prompt in one pass, and what follows it."""
        decoder = self._decoder
        count = len(begin)
        x = decoder.embeddings[list(begin)] + decoder.positions[:count]
        later = np.triu(np.full((count, count), -np.inf, np.float32), 1)
        for number, layer in enumerate(decoder.layers):
            asks, keys, values = map(split_heads, np.split(layer.own(layer.own_norm(x)), 3, axis=1))
            self._begin_keys.append((keys, values))
            seen = softmax(asks * SCALE @ keys.transpose(0, 2, 1) + later) @ values
            x = x + layer.own_out(join_heads(seen))
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

    def grow(self, parents: Sequence[int], tokens: Sequence[int]) -> tuple[range, NextTokens]:
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

    def _own(
        self, number: int, layer: _Layer, x: Float32Array, paths: npt.NDArray[np.int64]
    ) -> Float32Array:
        """Attention to the prompt, shared by all, and to each beginning's own tokens."""
        count = len(x)
        asks, keys, values = np.split(layer.own(layer.own_norm(x)), 3, axis=1)
        self._node_keys[number][paths[:, -1]] = keys.reshape(count, HEADS, -1)
        self._node_values[number][paths[:, -1]] = values.reshape(count, HEADS, -1)
        own_keys = self._node_keys[number][paths]  # [beginnings, length, heads, 64]
        own_values = self._node_values[number][paths]
        begin_keys, begin_values = self._begin_keys[number]
        by_head = split_heads(asks) * SCALE  # [heads, beginnings, 64]
        to_begin = by_head @ begin_keys.transpose(0, 2, 1)
        to_own = np.einsum("hbd,blhd->hbl", by_head, own_keys)
        weights = softmax(np.concatenate([to_begin, np.asarray(to_own, np.float32)], axis=2))
        split = to_begin.shape[2]
        seen = weights[:, :, :split] @ begin_values
        seen += np.einsum("hbl,blhd->hbd", weights[:, :, split:], own_values)
        return np.asarray(x + layer.own_out(join_heads(seen)))
