"""How well given texts fit a sound: no search. Knows a KV-cache prefix tree over one sound.

Over silence the scores are the internal language model's.
"""

from __future__ import annotations

from collections.abc import Sequence

from assistant.recogniser.whisper_decoder import Decoder, PrefixCache
from assistant.recogniser.whisper_weights import Float32Array

MOST_NODES = 3000  # about 40 MB

Prefix = tuple[int, ...]


class Rescorer:
    """Scores of texts over one sound, with one prompt; keeps what it has worked out."""

    def __init__(self, cache: PrefixCache, decoder: Decoder, end: int) -> None:
        self._cache, self._embeddings, self._end = cache, decoder.embeddings, end
        # node, state and log-sum of each prefix: any token's probability is one product away
        first = cache.first
        self._known: dict[Prefix, tuple[int, Float32Array, float]] = {
            (): (0, first.states[0], float(first.log_sums[0]))
        }
        self._scores: dict[Prefix, float] = {(): 0.0}

    @property
    def full(self) -> bool:
        """Whether it holds so much that a new one should be begun."""
        return len(self._cache) > MOST_NODES

    def scores(self, texts: Sequence[Prefix]) -> list[float]:
        """Nats of each text with its end."""
        for length in range(1, max(map(len, texts), default=0) + 1):
            prefixes = {text[:length] for text in texts if len(text) >= length}
            self._extend([prefix for prefix in sorted(prefixes) if prefix not in self._known])
        return [self._scores[text] + self._next(text, self._end) for text in texts]

    def _next(self, prefix: Prefix, token: int) -> float:
        _, state, log_sum = self._known[prefix]
        return float(state @ self._embeddings[token]) - log_sum

    def _extend(self, new: list[Prefix]) -> None:
        if not new:
            return
        parents = [self._known[prefix[:-1]][0] for prefix in new]
        nodes, after = self._cache.extend(parents, [prefix[-1] for prefix in new])
        for row, (prefix, node) in enumerate(zip(new, nodes, strict=True)):
            parent = prefix[:-1]
            self._scores[prefix] = self._scores[parent] + self._next(parent, prefix[-1])
            self._known[prefix] = (node, after.states[row].copy(), float(after.log_sums[row]))
