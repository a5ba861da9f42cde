"""The decoder against the library's own, and prefixes extended together."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.mel import log_mel
from assistant.recogniser.whisper_decoder import Decoder, PrefixCache
from assistant.recogniser.whisper_weights import Vocabulary, bundled_model, read_weights


@pytest.mark.ear
def test_the_decoder_scores_a_text_as_the_library_does() -> None:
    """Greedy text and mean log-probability of ctranslate2, without its suppressions."""
    import ctranslate2

    folder = bundled_model()
    model = ctranslate2.models.Whisper(str(folder), device="cpu", compute_type="float32")
    rng = np.random.default_rng(2)
    sound = (0.1 * rng.standard_normal(2 * SPEECH_RATE_HZ)).astype(np.float32)
    view = model.encode(ctranslate2.StorageView.from_array(log_mel(sound, 400)[None]))
    tokens = Vocabulary(folder / "tokenizer.json")
    begin = [tokens.marks.start, tokens.marks.no_timestamps]
    (theirs,) = model.generate(
        view, [begin], beam_size=1, return_scores=True, suppress_blank=False, suppress_tokens=[]
    )
    text = theirs.sequences_ids[0]
    decoder = Decoder(read_weights(folder / "model.bin", "decoder/"))
    cache = PrefixCache(decoder, np.asarray(view)[0], begin)
    node, after, total = 0, cache.first, 0.0
    for token in [*text, tokens.marks.end]:
        logits = after.states[0] @ decoder.embeddings.T
        assert int(logits.argmax()) == token
        total += float(logits[token] - logits.max() - np.log(np.exp(logits - logits.max()).sum()))
        (node,), after = cache.extend([node], [token])
    assert total / len(text) == pytest.approx(theirs.scores[0], abs=1e-3)


@pytest.mark.ear
def test_prefixes_extended_together_are_as_if_extended_alone() -> None:
    folder = bundled_model()
    decoder = Decoder(read_weights(folder / "model.bin", "decoder/"))
    sound = np.random.default_rng(5).standard_normal((80, 384)).astype(np.float32)
    together, alone = (
        PrefixCache(decoder, sound, [50257, 50362]),
        PrefixCache(decoder, sound, [50257, 50362]),
    )
    nodes, _ = together.extend([0, 0], [5441, 3598])
    _, both = together.extend([nodes[1], nodes[0], nodes[1]], [1936, 13, 13])
    (node,), _ = alone.extend([0], [3598])
    _, one = alone.extend([node], [13])
    assert np.abs(both.frequent[2] - one.frequent[0]).max() < 1e-3
    assert np.abs(both.frequent[2] - both.frequent[1]).max() > 0.01


@pytest.mark.ear
def test_a_token_that_is_included_counts_among_the_frequent_and_keeps_its_probability() -> None:
    folder = bundled_model()
    decoder = Decoder(read_weights(folder / "model.bin", "decoder/"))
    sound = np.random.default_rng(5).standard_normal((80, 384)).astype(np.float32)
    rare = np.flatnonzero(decoder.frequent_column < 0)[[5, 500, 5000]]
    before = PrefixCache(decoder, sound, [50257, 50362]).first
    count = len(decoder.frequent)
    for token in rare:  # one after the other, and one of them twice
        decoder.include([int(token), int(rare[0])])
    after = PrefixCache(decoder, sound, [50257, 50362]).first
    assert [*decoder.frequent[count:]] == [*rare]
    assert decoder.frequent_embeddings.shape == (decoder.embeddings.shape[1], count + len(rare))
    shift = float(after.log_sums[0] - before.log_sums[0])
    probabilities = after.log_probs(0, rare) + shift
    assert probabilities == pytest.approx(before.log_probs(0, rare), abs=1e-4)
    assert float(np.exp(after.frequent[0]).sum()) == pytest.approx(1.0, abs=1e-4)
