"""What there is to learn from: who is kept out stays out, and what was gathered comes back."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from assistant.enrolment.augmentation import Augmentation
from assistant.enrolment.clip_corpus import (
    DIGIT,
    PEAK,
    Corpus,
    LabelledClip,
    people_digits,
    read_clips,
    trimmed,
    write_clips,
)
from assistant.enrolment.digit_joining import drawn_digits, joined_digits, words_of
from assistant.enrolment.examples import Examples, MixtureWeights, number_text, with_texts
from assistant.enrolment.spellings import spellings, style_of
from assistant.errors import InputWrongError, WorldFailedError
from assistant.grammar import numbers
from assistant.grammar.phrases import EXPECTED_KINDS, grammar
from assistant.lab.benches.talk_trials import OTHER_TALK
from assistant.lab.tuning import synthetic_voices
from assistant.lab.tuning.gather import corpus
from assistant.lab.tuning.sentences import form_of, others, ours
from assistant.messages import SPEECH_RATE_HZ, Expected
from assistant.recogniser.base import Sound


def hum(hz: float, seconds: float = 0.5) -> Sound:
    at = np.arange(int(seconds * SPEECH_RATE_HZ)) / SPEECH_RATE_HZ
    return (0.2 * np.sin(2 * np.pi * hz * at)).astype(np.float32)


DIGITS = {digit: [hum(200 + 40 * digit)] for digit in range(10)}
SMALL = Corpus(
    (
        LabelledClip(hum(300), ("water", "half"), "flite:slt", "statistical", "Water half."),
        LabelledClip(hum(400), ("say", "again"), "espeak-ng:en-us", "formant", ""),
        LabelledClip(hum(500), ("a", "latte"), "one.wav", "orders", "Can I get a latte."),
    ),
    {"anna": DIGITS, "bert": DIGITS, "formant/espeak-ng:en-us": DIGITS},
    ("Pressure.",),
)


@pytest.mark.parametrize("who", ["anna", "formant", "espeak-ng:en-us", "orders"])
def test_who_is_kept_out_is_nowhere_in_the_rest(who: str) -> None:
    full_rate, own = SMALL.without(who), SMALL.only(who)
    assert all(who not in (clip.speaker, clip.group) for clip in full_rate.clips)
    assert not any(who in (name, *name.split("/")) for name in full_rate.digits)
    assert len(full_rate.clips) + len(own.clips) == len(SMALL.clips)
    assert set(full_rate.digits) | set(own.digits) == set(SMALL.digits)
    assert own.clips or own.digits


def test_a_part_of_the_clips_is_drawn_and_the_digits_stay() -> None:
    part = SMALL.some(2, seed=1)
    assert len(part.clips) == 2 and set(part.clips) < set(SMALL.clips)
    assert part.clips == SMALL.some(2, seed=1).clips
    assert part.digits == SMALL.digits


def test_a_gathered_folder_comes_back(tmp_path: Path) -> None:
    spoken = [
        *SMALL.clips[:2],
        LabelledClip(hum(250), ("five",), "flite:slt", "statistical", DIGIT),
    ]
    write_clips(tmp_path, spoken, {"one.wav": ["a", "latte"]})
    clips, orders = read_clips(tmp_path)
    assert [(c.words, c.speaker, c.group, c.prompt) for c in clips] == [
        (c.words, c.speaker, c.group, c.prompt) for c in spoken
    ]
    assert orders == {"one.wav": ("a", "latte")}
    assert float(np.corrcoef(clips[0].sound, spoken[0].sound)[0, 1]) > 0.9  # Vorbis loses a little
    found = corpus(tmp_path, None)
    assert [clip.words for clip in found.clips] == [("water", "half"), ("say", "again")]
    assert list(found.digits["statistical/flite:slt"]) == [5]


def test_a_folder_that_is_none_and_recordings_that_are_not_there_are_clear(tmp_path: Path) -> None:
    with pytest.raises(InputWrongError, match="not a gathered folder"):
        read_clips(tmp_path)
    with pytest.raises(InputWrongError, match="no recordings of people"):
        people_digits(tmp_path)
    with pytest.raises(InputWrongError, match="nothing to learn from"):
        corpus(None, None)


def test_trimming_leaves_the_speech_and_a_little_around() -> None:
    quiet = np.zeros(SPEECH_RATE_HZ, np.float32)
    cut = trimmed(np.concatenate([quiet, hum(300), quiet]), around_s=0.1)
    assert len(cut) / SPEECH_RATE_HZ == pytest.approx(0.7, abs=0.03)


def test_sentences_of_ours_are_all_ours_and_of_many_forms() -> None:
    said = list(ours(600, np.random.default_rng(0)))
    assert all(grammar(Expected(kind)).meaning(words) is not None for kind, words in said)
    assert {kind for kind, _ in said} == set(EXPECTED_KINDS)
    assert len({form_of(words) for _, words in said}) > 150
    numbers = sum("#" in form_of(words) for _, words in said)
    assert 0.2 < numbers / len(said) < 0.8


def test_sentences_that_are_not_ours_are_none_of_ours() -> None:
    said = list(others(300, np.random.default_rng(0)))
    assert len(said) > 250
    assert all(
        grammar(Expected(one)).meaning(words) is None for one in EXPECTED_KINDS for _, words in said
    )
    many = {" ".join(words) for _, words in others(3000, np.random.default_rng(1))}
    assert not many & set(OTHER_TALK), "the bench's own sentences must not be learnt"


def test_joined_digits_are_in_order_and_may_begin_faintly() -> None:
    rng = np.random.default_rng(0)
    faint = 0
    for _ in range(60):
        sound = joined_digits(DIGITS, (1, 9), rng)
        assert 1.1 < len(sound) / SPEECH_RATE_HZ < 2.3
        half = len(sound) // 2
        first, second = np.abs(sound[:half]).max(), np.abs(sound[half:]).max()
        faint += first < second / 2
    assert 3 <= faint <= 30
    many = [drawn_digits(rng) for _ in range(200)]
    assert {len(digits) for digits in many} == {1, 2, 3}
    assert not any(len(digits) > 1 and digits[0] == 0 for digits in many)


def test_ways_of_writing_hold_figures_words_and_both_ends() -> None:
    texts = spellings(words_of((1, 2, 0)))
    assert {" 120", " 120.", " 1-2-0", " One two zero.", " one, two, zero"} <= set(texts)
    assert style_of(" One, two, zero.") == "words comma capital stop"
    assert all(text.startswith(" ") for text in texts)


def first_text(sounds: object, prompts: object, texts: list[tuple[str, ...]]) -> list[str]:
    return [own[0] for own in texts]


def test_batches_are_the_same_for_the_same_seed_and_number() -> None:
    told = with_texts(SMALL, first_text, seed=0, numbers=20)
    first, again, other = (
        Examples(told, Augmentation(), MixtureWeights(), seed) for seed in (3, 3, 4)
    )
    one, two, three = first.batch(5, 8), again.batch(5, 8), other.batch(5, 8)
    assert [(e.prompt, e.text) for e in one] == [(e.prompt, e.text) for e in two]
    assert all(np.array_equal(a.sound, b.sound) for a, b in zip(one, two, strict=True))
    assert [e.text for e in one] != [e.text for e in three]
    assert [e.text for e in first.batch(6, 8)] != [e.text for e in one]


def test_a_batch_has_numbers_orders_sentences_and_nothing() -> None:
    told = with_texts(SMALL, first_text, seed=0, numbers=20)
    texts = [
        e.text for e in Examples(told, Augmentation(), MixtureWeights(nothing=0.2), 0).batch(0, 80)
    ]
    assert "" in texts
    assert any("latte" in text for text in texts)
    assert any(any(c.isdigit() for c in text) for text in texts)
    assert any("again" in text or "ater" in text for text in texts)


def test_a_number_is_written_in_the_manner_the_ear_prefers() -> None:
    manners = {("Pressure.", 2): {"figures stop": 5}}
    lm_weight = Corpus((), {}, ("Pressure.",), manners)
    rng = np.random.default_rng(0)
    assert number_text(lm_weight, ("seven", "five"), "Pressure.", rng) == " 75."


def test_without_a_synthesiser_it_says_what_to_install() -> None:
    def dumb(program: str, voice: str, text: str, speed: float) -> Sound:
        raise WorldFailedError("none")

    with pytest.raises(WorldFailedError, match="install flite or espeak-ng"):
        synthetic_voices.usable(dumb)


def test_voices_speak_in_turn_and_at_one_level() -> None:
    def speak(program: str, voice: str, text: str, speed: float) -> Sound:
        return hum(200.0 + len(voice), 0.3 / speed)

    groups = synthetic_voices.usable(speak)
    said = list(ours(12, np.random.default_rng(1)))
    clips = list(synthetic_voices.spoken_clips(said, speak, groups, np.random.default_rng(1), True))
    assert {clip.group for clip in clips} == set(synthetic_voices.GROUPS)
    assert all(np.abs(clip.sound).max() == pytest.approx(PEAK) for clip in clips)
    digits = list(synthetic_voices.spoken_digits(speak, {"spliced": groups["spliced"]}))
    assert len(digits) == 10 * len(synthetic_voices.PACES) * len(groups["spliced"])
    accented = list(synthetic_voices.spoken_digits(speak, {"formant": groups["formant"]}))
    own = [clip for clip in accented if clip.speaker == "espeak-ng:hi+f2"]
    assert [clip.words[0] for clip in own[::2]] == list(numbers.DIGITS), "two paces of each digit"
    judges = {name for _, name in synthetic_voices.JUDGES}
    learnt = {name for own in synthetic_voices.GROUPS.values() for _, name in own} | {
        *synthetic_voices.DIGIT_VOICES
    }
    assert not judges & learnt, "whoever judges is not learnt from"
