"""The bundled ear: our decoder against the library's own, and what it makes of people."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from assistant.errors import WorldFailedError
from assistant.hearing.bench_orders import Orders, as_meaning
from assistant.hearing.ear import RATE_HZ
from assistant.hearing.held_whisper import HeldWhisper
from assistant.hearing.mel import log_mel
from assistant.hearing.whisper_decoder import Decoder, Tree
from assistant.hearing.whisper_weights import Tokens, bundled_model, read_weights


@pytest.mark.ear
def test_our_decoder_scores_a_text_as_the_library_does() -> None:
    """Greedy text and mean log-probability of ctranslate2, without its suppressions."""
    import ctranslate2

    folder = bundled_model()
    model = ctranslate2.models.Whisper(str(folder), device="cpu", compute_type="float32")
    rng = np.random.default_rng(2)
    sound = (0.1 * rng.standard_normal(2 * RATE_HZ)).astype(np.float32)
    view = model.encode(ctranslate2.StorageView.from_array(log_mel(sound, 400)[None]))
    tokens = Tokens(folder / "tokenizer.json")
    begin = [tokens.marks.start, tokens.marks.no_timestamps]
    (theirs,) = model.generate(
        view, [begin], beam_size=1, return_scores=True, suppress_blank=False, suppress_tokens=[]
    )
    text = theirs.sequences_ids[0]
    decoder = Decoder(read_weights(folder / "model.bin", "decoder/"))
    tree = Tree(decoder, np.asarray(view)[0], begin)
    node, following, total = 0, tree.first, 0.0
    for token in [*text, tokens.marks.end]:
        logits = following.states[0] @ decoder.embeddings.T
        assert int(logits.argmax()) == token
        total += float(logits[token] - logits.max() - np.log(np.exp(logits - logits.max()).sum()))
        (node,), following = tree.grow([node], [token])
    assert total / len(text) == pytest.approx(theirs.scores[0], abs=1e-3)


@pytest.mark.ear
def test_beginnings_grown_together_are_as_if_grown_alone(ear: HeldWhisper) -> None:
    folder = bundled_model()
    decoder = Decoder(read_weights(folder / "model.bin", "decoder/"))
    sound = np.random.default_rng(5).standard_normal((80, 384)).astype(np.float32)
    together, alone = Tree(decoder, sound, [50257, 50362]), Tree(decoder, sound, [50257, 50362])
    nodes, _ = together.grow([0, 0], [5441, 3598])
    _, both = together.grow([nodes[1], nodes[0], nodes[1]], [1936, 13, 13])
    (node,), _ = alone.grow([0], [3598])
    _, one = alone.grow([node], [13])
    assert np.abs(both.frequent[2] - one.frequent[0]).max() < 1e-3
    assert np.abs(both.frequent[2] - both.frequent[1]).max() > 0.01


@pytest.mark.ear
def test_noise_and_silence_are_none_of_our_sentences(ear: HeldWhisper, small: object) -> None:
    rng = np.random.default_rng(7)
    for level in (0.0, 0.01, 0.2):
        noise = (level * rng.standard_normal(2 * RATE_HZ)).astype(np.float32)
        opinion = ear.hear(noise, small)  # type: ignore[arg-type]
        assert opinion.log_ratio is not None
        assert opinion.average is not None
        assert opinion.log_ratio < -1 or opinion.average < -1
    assert ear.hear(np.zeros(10, np.float32), small).alternatives == ()  # type: ignore[arg-type]


def test_a_missing_or_strange_model_is_told_in_one_line(tmp_path: Path) -> None:
    (tmp_path / "model.bin").write_bytes(b"\x06\x00\x00\x00no")
    for name in ("model.bin", "none.bin"):
        with pytest.raises(WorldFailedError, match="not a speech model"):
            read_weights(tmp_path / name, "decoder/")


@pytest.mark.ear
@pytest.mark.speech
def test_human_orders(
    ear: HeldWhisper, recordings: Path, order_labels: dict[str, dict[str, str]]
) -> None:
    """20 orders of a grammar of 2 x 10^8; 100 % of 155 were right in a first measurement."""
    import soundfile

    names = sorted(order_labels)[::16][:20]
    grammar = Orders()
    right = 0
    for name in names:
        sound, rate = soundfile.read(recordings / "commands" / name, dtype="float32")
        assert rate == RATE_HZ
        heard = ear.hear(sound, grammar).alternatives
        right += bool(heard) and heard[0].meaning == as_meaning(order_labels[name])
    assert right >= 19
