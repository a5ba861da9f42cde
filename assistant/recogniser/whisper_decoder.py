"""Whisper's decoder over a tree of token prefixes, in numpy. Knows tokens; knows no grammar.

A prefix shares the keys and values of the prefixes it continues; all prefixes of one length are one
pass.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
import numpy.typing as npt

from assistant.recogniser.whisper_blocks import (
    HEADS,
    SCALE,
    Block,
    Linear,
    Norm,
    join_heads,
    softmax,
    split_heads,
)
from assistant.recogniser.whisper_weights import Float32Array

# Byte-pair tokens are numbered by how early, so how often, their pieces were joined. Leaving the
# rare rest out of the normalisation makes a step several times faster.
FREQUENT = 12_000
SPARE = 2_000  # tokens that may be included before the frequent ones are copied again
FIRST_MARK = 50_256  # the end of text and all other tokens that are no text


class NextTokens:
    """Log-probabilities of the token after each of some prefixes.

    frequent: [prefixes, frequent tokens], over which the probabilities add up to one; the tens of
    thousands of rare ones are worked out only when asked for.
    """

    def __init__(self, decoder: Decoder, states: Float32Array) -> None:
        logits = states @ decoder.frequent_embeddings
        tops = logits.max(axis=1)
        self.log_sums = tops + np.log(np.exp(logits - tops[:, None]).sum(axis=1))
        self.frequent = logits - self.log_sums[:, None]
        self.states = states
        self._decoder = decoder

    def log_probs(self, row: int, tokens: npt.NDArray[np.int64]) -> Float32Array:
        """Log-probabilities of these tokens after one of the prefixes."""
        columns = self._decoder.frequent_column[tokens]
        rare = (columns < 0) | (columns >= self.frequent.shape[1])  # so are those included later
        log_probs = self.frequent[row][np.where(rare, 0, columns)]
        if rare.any():
            rare_embeddings = self._decoder.embeddings[tokens[rare]]
            log_probs[rare] = rare_embeddings @ self.states[row] - self.log_sums[row]
        return np.asarray(log_probs)

    def log_prob(self, row: int, token: int) -> float:
        """Log-probability of one token."""
        return float(self.log_probs(row, np.array([token]))[0])


class _Layer(Block):
    """Self-attention, cross-attention to the sound, feed-forward."""

    def __init__(self, weights: dict[str, Float32Array], stem: str) -> None:
        super().__init__(weights, stem)
        self.cross_norm = Norm(weights, f"{stem}/attention/layer_norm")
        self.cross_query = Linear(weights, f"{stem}/attention/linear_0")
        self.cross_key_value = Linear(weights, f"{stem}/attention/linear_1")
        self.cross_out = Linear(weights, f"{stem}/attention/linear_2")


class Decoder:
    """The decoder's weights, ready for use."""

    def __init__(self, weights: dict[str, Float32Array]) -> None:
        self.embeddings = np.ascontiguousarray(weights["decoder/embeddings/weight"])
        self.positions = weights["decoder/position_encodings/encodings"]
        self._final_norm = Norm(weights, "decoder/layer_norm")
        numbers = {name.split("/")[1] for name in weights if name.startswith("decoder/layer_")}
        count = len(numbers - {"layer_norm"})
        self.layers = [_Layer(weights, f"decoder/layer_{number}") for number in range(count)]
        self.frequent_column = np.full(len(self.embeddings), -1)
        self.frequent = np.zeros(0, np.int64)
        self._columns = np.zeros((self.embeddings.shape[1], 0), np.float32)
        self.include([*range(FREQUENT), *range(FIRST_MARK, len(self.embeddings))])

    def include(self, tokens: Iterable[int]) -> None:
        """Count these tokens among the frequent ones from now on, as a grammar's own must be."""
        new = np.array(sorted({t for t in tokens if self.frequent_column[t] < 0}), np.int64)
        if not len(new):
            return
        before, count = len(self.frequent), len(self.frequent) + len(new)
        if count > self._columns.shape[1]:  # with room to spare: to copy them all takes long
            columns = np.zeros((len(self._columns), count + SPARE), np.float32)
            columns[:, :before] = self._columns[:, :before]
            self._columns = columns
        self._columns[:, before:count] = self.embeddings[new].T
        self.frequent = np.concatenate([self.frequent, new])
        self.frequent_column[new] = np.arange(before, count)

    @property
    def frequent_embeddings(self) -> Float32Array:
        """Of each frequent token, a column."""
        return self._columns[:, : len(self.frequent)]

    def next_tokens(self, x: Float32Array) -> NextTokens:
        """From the last layer's output [rows, width]."""
        return NextTokens(self, self._final_norm(x))


class PrefixCache:
    """The prefixes worked out for one sound, with their keys and values.

    Node 0 is the prompt with the start marks.
    """

    def __init__(self, decoder: Decoder, encoded: Float32Array, prompt: Sequence[int]) -> None:
        self._decoder = decoder
        width = encoded.shape[1]
        self._cross_keys_values: list[tuple[Float32Array, Float32Array]] = []
        for layer in decoder.layers:
            both = layer.cross_key_value(encoded)
            self._cross_keys_values.append(
                (split_heads(both[:, :width]), split_heads(both[:, width:]))
            )
        self._prompt_keys_values: list[tuple[Float32Array, Float32Array]] = []
        self._node_keys: list[Float32Array] = []  # a layer's [nodes, heads, 64], grown as needed
        self._node_values: list[Float32Array] = []
        self._paths: list[tuple[int, ...]] = [()]
        self._prompt_length = len(prompt)
        self.first = self._run_prompt(prompt)

    def _cross(self, number: int, x: Float32Array) -> Float32Array:
        layer = self._decoder.layers[number]
        keys, values = self._cross_keys_values[number]
        queries = split_heads(layer.cross_query(layer.cross_norm(x))) * SCALE
        attended = softmax(queries @ keys.transpose(0, 2, 1)) @ values
        x = x + layer.cross_out(join_heads(attended))
        return layer.feed_forward(x)

    def _run_prompt(self, prompt: Sequence[int]) -> NextTokens:
        """The prompt in one pass, and its next tokens."""
        decoder = self._decoder
        count = len(prompt)
        x = decoder.embeddings[list(prompt)] + decoder.positions[:count]
        causal_mask = np.triu(np.full((count, count), -np.inf, np.float32), 1)
        for number, layer in enumerate(decoder.layers):
            queries, keys, values = map(
                split_heads, np.split(layer.self_qkv(layer.self_norm(x)), 3, axis=1)
            )
            self._prompt_keys_values.append((keys, values))
            attended = softmax(queries * SCALE @ keys.transpose(0, 2, 1) + causal_mask) @ values
            x = x + layer.self_out(join_heads(attended))
            x = self._cross(number, x)
            self._node_keys.append(np.zeros((64, HEADS, keys.shape[2]), np.float32))
            self._node_values.append(np.zeros((64, HEADS, keys.shape[2]), np.float32))
        return decoder.next_tokens(x[-1:])

    @property
    def frequent(self) -> npt.NDArray[np.int64]:
        """The tokens that `NextTokens.frequent` is over."""
        return self._decoder.frequent

    def __len__(self) -> int:
        return len(self._paths)

    def _reserve(self, count: int) -> None:
        for pool in (self._node_keys, self._node_values):
            for number, array in enumerate(pool):
                if len(array) < count:
                    larger = np.zeros((max(count, 2 * len(array)), *array.shape[1:]), np.float32)
                    larger[: len(array)] = array
                    pool[number] = larger

    def extend(self, parents: Sequence[int], tokens: Sequence[int]) -> tuple[range, NextTokens]:
        """New prefixes, all of one length: each a parent node continued by a token.

        Returns their node numbers and their next tokens.
        """
        decoder = self._decoder
        first, count = len(self._paths), len(parents)
        nodes = range(first, first + count)
        self._paths += [(*self._paths[p], n) for p, n in zip(parents, nodes, strict=True)]
        self._reserve(first + count)
        paths = np.array([self._paths[n] for n in nodes])  # [prefixes, length]
        position = self._prompt_length + paths.shape[1] - 1
        x = decoder.embeddings[list(tokens)] + decoder.positions[position]
        for number, layer in enumerate(decoder.layers):
            x = self._self_attention(number, layer, x, paths)
            x = self._cross(number, x)
        return nodes, decoder.next_tokens(x)

    def _self_attention(
        self, number: int, layer: _Layer, x: Float32Array, paths: npt.NDArray[np.int64]
    ) -> Float32Array:
        """Attention to the prompt, shared by all, and to each prefix's own tokens."""
        count = len(x)
        queries, keys, values = np.split(layer.self_qkv(layer.self_norm(x)), 3, axis=1)
        self._node_keys[number][paths[:, -1]] = keys.reshape(count, HEADS, -1)
        self._node_values[number][paths[:, -1]] = values.reshape(count, HEADS, -1)
        own_keys = self._node_keys[number][paths]  # [prefixes, length, heads, 64]
        own_values = self._node_values[number][paths]
        prompt_keys, prompt_values = self._prompt_keys_values[number]
        by_head = split_heads(queries) * SCALE  # [heads, prefixes, 64]
        to_prompt = by_head @ prompt_keys.transpose(0, 2, 1)
        to_own = np.einsum("hbd,blhd->hbl", by_head, own_keys)
        weights = softmax(np.concatenate([to_prompt, np.asarray(to_own, np.float32)], axis=2))
        split = to_prompt.shape[2]
        attended = weights[:, :, :split] @ prompt_values
        attended += np.einsum("hbl,blhd->hbd", weights[:, :, split:], own_values)
        return np.asarray(x + layer.self_out(join_heads(attended)))
