"""Scores of given texts are those of a search, in whatever order they are asked for."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.recogniser.rescoring import MOST_NODES, Rescorer
from assistant.recogniser.whisper_decoder import Decoder, PrefixCache
from assistant.recogniser.whisper_weights import bundled_model, read_weights

pytestmark = pytest.mark.ear
END = 50256
PROMPT = [50257, 50362]
ENCODED = np.random.default_rng(5).standard_normal((80, 384)).astype(np.float32)


@pytest.fixture(scope="module")
def decoder() -> Decoder:
    return Decoder(read_weights(bundled_model() / "model.bin", "decoder/"))


def rescorer(decoder: Decoder) -> Rescorer:
    return Rescorer(PrefixCache(decoder, ENCODED, PROMPT), decoder, END)


def step_by_step(decoder: Decoder, text: tuple[int, ...]) -> float:
    cache = PrefixCache(decoder, ENCODED, PROMPT)
    node, after, score = 0, cache.first, 0.0
    for token in text:
        score += after.log_prob(0, token)
        (node,), after = cache.extend([node], [token])
    return score + after.log_prob(0, END)


TEXTS = [(5441,), (5441, 1936), (3598, 13, 1936)]


def test_a_text_scores_the_sum_of_its_steps_and_its_end(decoder: Decoder) -> None:
    scores = rescorer(decoder).scores(TEXTS)
    assert scores == pytest.approx([step_by_step(decoder, text) for text in TEXTS], abs=1e-3)
    assert all(score < 0 for score in scores)


def test_it_does_not_matter_what_was_asked_before(decoder: Decoder) -> None:
    one_by_one = rescorer(decoder)
    scores = [one_by_one.scores([text])[0] for text in reversed(TEXTS)]
    assert scores[::-1] == pytest.approx(rescorer(decoder).scores(TEXTS), abs=1e-3)
    assert one_by_one.scores([TEXTS[0], ()])[0] == scores[-1]


def test_it_is_full_after_so_many_prefixes(decoder: Decoder) -> None:
    scorer = rescorer(decoder)
    assert not scorer.full
    scorer.scores([(token,) for token in range(MOST_NODES + 1)])
    assert scorer.full
