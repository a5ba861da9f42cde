"""How well given texts fit a sound: no search. Knows a tree of beginnings over one sound.

Over silence it is the ear's internal language model: how well it likes a text that nobody said.
"""

from __future__ import annotations

from collections.abc import Sequence

from assistant.recogniser.whisper_decoder import Decoder, PrefixCache
from assistant.recogniser.whisper_weights import Float32Array

MOST_NODES = 3000  # about 40 MB

Prefix = tuple[int, ...]


class Rescorer:
    """Scores of texts over one sound, with one prompt; keeps what it has worked out."""

    def __init__(self, tree: PrefixCache, decoder: Decoder, end: int) -> None:
        self._tree, self._embeddings, self._end = tree, decoder.embeddings, end
        # node, state and log-sum of each beginning: any token's probability is one product away
        first = tree.first
        self._known: dict[Prefix, tuple[int, Float32Array, float]] = {
            (): (0, first.states[0], float(first.sums[0]))
        }
        self._sums: dict[Prefix, float] = {(): 0.0}

    @property
    def full(self) -> bool:
        """Whether it holds so much that it is better begun anew."""
        return len(self._tree) > MOST_NODES

    def scores(self, texts: Sequence[Prefix]) -> list[float]:
        """Nats of each text with its end."""
        for length in range(1, max(map(len, texts), default=0) + 1):
            cut = {text[:length] for text in texts if len(text) >= length}
            self._learn([beginning for beginning in sorted(cut) if beginning not in self._known])
        return [self._sums[text] + self._next(text, self._end) for text in texts]

    def _next(self, beginning: Prefix, token: int) -> float:
        _, state, log_sum = self._known[beginning]
        return float(state @ self._embeddings[token]) - log_sum

    def _learn(self, new: list[Prefix]) -> None:
        if not new:
            return
        parents = [self._known[beginning[:-1]][0] for beginning in new]
        nodes, following = self._tree.grow(parents, [beginning[-1] for beginning in new])
        for at, (beginning, node) in enumerate(zip(new, nodes, strict=True)):
            before = beginning[:-1]
            self._sums[beginning] = self._sums[before] + self._next(before, beginning[-1])
            self._known[beginning] = (node, following.states[at].copy(), float(following.sums[at]))
