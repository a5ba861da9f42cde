"""The ear in torch is our ear, and a small course on the CPU learns. Needs torch, which is no part
of what is installed for the tests: get the extra `tune` to run these."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from assistant.enrolment.augmentation import Augmentation
from assistant.enrolment.clip_corpus import Corpus, LabelledClip
from assistant.enrolment.examples import Examples, MixtureWeights, with_texts
from assistant.enrolment.teacher import Teacher
from assistant.enrolment.training import TrainingSettings, batches, best_evaluation, train
from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.adapter import apply_adapter, read_adapter, write_adapter
from assistant.recogniser.base import Sound
from assistant.recogniser.mel import log_mel
from assistant.recogniser.whisper_decoder import Decoder, PrefixCache
from assistant.recogniser.whisper_encoder import Encoder
from assistant.recogniser.whisper_weights import Float32Array, bundled_model, read_weights

torch = pytest.importorskip("torch", reason="no torch here: learning itself is not tested")
pytestmark = pytest.mark.ear

WORDS = (("water", "half"), ("say", "again"), ("pressure", "seventy", "five"), ("what", "next"))


@pytest.fixture(scope="module")
def teacher() -> Teacher:
    return Teacher("cpu", {word for words in WORDS for word in words}, ("Water half.",))


@pytest.fixture(scope="module")
def weights() -> dict[str, Float32Array]:
    return read_weights(bundled_model() / "model.bin", "")


def chirp(seed: int, seconds: float = 0.8) -> Sound:
    """Something with a shape in time and pitch, other for every seed."""
    rng = np.random.default_rng(seed)
    at = np.arange(int(seconds * SPEECH_RATE_HZ)) / SPEECH_RATE_HZ
    hz = np.interp(at, np.linspace(0, seconds, 5), rng.uniform(150, 2500, 5))
    return (0.3 * np.sin(2 * np.pi * np.cumsum(hz) / SPEECH_RATE_HZ)).astype(np.float32)


def test_the_torch_ear_is_our_ear(teacher: Teacher, weights: dict[str, Float32Array]) -> None:
    sound = chirp(1)
    laid, lengths = teacher.ear.sounds([sound])
    picture = log_mel(sound, 1000)
    assert np.abs(teacher.ear.log_mel(laid)[0].numpy() - picture).max() < 1e-3
    ours = Encoder(weights).encode(picture)
    encoded = teacher.ear.encode(torch.from_numpy(picture)[None])
    assert np.abs(encoded[0].numpy() - ours).max() < 2e-3 * np.abs(ours).max()

    begin = teacher.begin("Water half.")
    text = [*teacher.tokens.of(" What next"), teacher.tokens.marks.end]
    within = teacher.ear.within(lengths)
    losses, _ = teacher.ear.losses([begin], [text], encoded, within)
    decoder = Decoder({name: w for name, w in weights.items() if name.startswith("decoder")})
    decoder.include(text)
    tree = PrefixCache(decoder, ours[: int(within.sum())], begin)
    following, parent, told = tree.first, 0, []
    for token in text:
        told.append(-following.one(0, token))
        nodes, following = tree.grow([parent], [token])
        parent = nodes[0]
    assert losses.numpy() == pytest.approx(told, abs=0.02)


def small_corpus() -> Corpus:
    return Corpus(
        tuple(
            LabelledClip(chirp(number), words, "nobody", "spliced", "Water half.")
            for number, words in enumerate(WORDS)
        )
    )


def course(teacher: Teacher, seed: int, steps: int = 10) -> list:  # type: ignore[type-arg]
    corpus = with_texts(small_corpus(), teacher.best, 0, 0)
    gentle = Augmentation(pace=(1.0, 1.0), talk=0, snr_db=(15, 30))
    examples = Examples(corpus, gentle, MixtureWeights(nothing=0.0), seed)
    settings = TrainingSettings(
        steps=steps,
        batch=4,
        rank=4,
        adapter_rate=3e-3,
        full_rate=1e-3,
        warm_up=2,
        look=5,
        last_layers=2,
        seed=seed,
    )
    kept_out = Examples(corpus, gentle, MixtureWeights(nothing=0.0), 77).batch(0, 8)
    return train(teacher, batches(examples, 4, 0), settings, kept_out)


def test_a_small_course_learns_and_its_file_makes_our_ear_do_the_same(
    teacher: Teacher, weights: dict[str, Float32Array], tmp_path: Path
) -> None:
    looks = course(teacher, seed=0)
    assert [look.step for look in looks] == [0, 5, 10]
    assert looks[-1].kept_out < 0.8 * looks[0].kept_out, "noise it never saw, and still better"
    assert best_evaluation(looks) is looks[-1]

    adapter = looks[-1].adapter
    write_adapter(tmp_path / "small.npz", adapter)
    bent = apply_adapter(weights, read_adapter(tmp_path / "small.npz"))
    picture = log_mel(chirp(2), 1000)
    by_torch = teacher.ear.encode(
        torch.from_numpy(picture)[None], {n: torch.from_numpy(v) for n, v in adapter.items()}
    )[0].numpy()
    ours, untaught = Encoder(bent).encode(picture), Encoder(weights).encode(picture)
    assert np.abs(ours - by_torch).max() < 0.05 * np.abs(untaught - by_torch).max()


def test_the_same_seed_learns_the_same(teacher: Teacher) -> None:
    first, again, other = (course(teacher, seed, 2)[-1] for seed in (1, 1, 2))
    for name, value in first.adapter.items():
        assert value == pytest.approx(again.adapter[name], abs=1e-5)
    assert first.learning != other.learning


def test_begun_from_differences_it_stands_where_they_end(tmp_path: Path) -> None:
    stem = "encoder/layer_norm/beta"
    write_adapter(tmp_path / "moved.npz", {stem: np.ones(384, np.float32)})
    moved = Teacher("cpu", changes=tmp_path / "moved.npz")
    plain = read_weights(bundled_model() / "model.bin", "encoder/layer_norm")[stem]
    assert moved.ear.weights[stem].numpy() == pytest.approx(plain + 1, abs=1e-3)
