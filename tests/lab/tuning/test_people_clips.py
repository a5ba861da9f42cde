"""People who say numbers: who is learnt from, and what may be joined of their words."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import soundfile
from small_corpus import hum

from assistant.enrolment.augmentation import Augmentation
from assistant.enrolment.clip_corpus import LabelledClip
from assistant.lab.benches.number_takes import fold_of, number_takes, pressure_takes
from assistant.lab.tuning.number_examples import TrainingExamples, TrainingMixture
from assistant.lab.tuning.people_clips import (
    clip_weight,
    clips_to_learn,
    numbers_of,
    words_to_learn,
)
from assistant.lab.tuning.training_corpus import TrainingCorpus
from assistant.messages import SPEECH_RATE_HZ

TAKES = (
    ("fejs", "an4", "six", "cut"), ("fejs", "an4", "fifty one", "utterance"),
    ("fejs", "an4", "yes", "command"), ("p04", "coswara", "fifteen", "cut"),
)  # fmt: skip
"""The first speaker is learnt from, the second is judged by."""


def recorded(folder: Path) -> Path:
    (folder / "numbers").mkdir()
    rows = []
    for at, (speaker, source, words, kind) in enumerate(TAKES):
        soundfile.write(folder / "numbers" / f"{at}.flac", hum(300, 0.4), SPEECH_RATE_HZ)
        rows.append(
            {"file": f"{at}.flac", "source": source, "speaker": speaker, "words": words,
             "kind": kind}
        )  # fmt: skip
    with (folder / "numbers" / "labels.csv").open("w", newline="") as opened:
        writer = csv.DictWriter(opened, list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)
    return folder


def test_nobody_who_is_judged_by_is_learnt_from(tmp_path: Path) -> None:
    folder = recorded(tmp_path)
    clips = clips_to_learn(folder)
    assert [clip.words for clip in clips] == [("six",), ("fifty", "one"), ("yes",)]
    assert {(clip.speaker, clip.group) for clip in clips} == {("an4/fejs", "an4")}
    assert {who: set(words) for who, words in words_to_learn(folder).items()} == {
        "an4/fejs": {"six"}
    }
    assert [take.speaker for take, _ in pressure_takes(folder, "judge")] == ["p04"]
    assert len(number_takes(folder)) == 4


def test_people_are_split_by_name_in_three() -> None:
    folds = [fold_of("gsc", f"{number:08x}") for number in range(2000)]
    shares = {fold: folds.count(fold) / 2000 for fold in set(folds)}
    assert 0.22 < shares["judge"] < 0.30 and 0.09 < shares["calibrate"] < 0.15


def test_numbers_consist_of_the_words_that_a_person_said() -> None:
    of_two = numbers_of(frozenset({"one", "fifteen", "twenty", "five"}))[1]
    assert ("one", "fifteen") in of_two and ("twenty", "five") in of_two
    assert ("five", "twenty") in of_two and ("fifteen", "one") not in of_two


def test_a_batch_has_numbers_joined_of_peoples_words_and_takes_as_spoken() -> None:
    takes = {"coswara/x": {"one": [hum(300)], "fifteen": [hum(500)]}}
    clip = LabelledClip(hum(400), ("stop",), "gsc/y", "gsc", "", texts=(" Stop.", " stop"))
    corpus = TrainingCorpus((clip,), ("",), {}, takes)
    made = TrainingExamples(corpus, Augmentation(), TrainingMixture(), 0).batch(0, 60)
    texts = {example.text for example in made}
    assert texts & {" Stop.", " stop"} and any("15" in text for text in texts)


def test_teens_and_tens_and_single_digits_are_drawn_oftener() -> None:
    def weight(*words: str, group: str) -> float:
        return clip_weight(LabelledClip(np.zeros(1, np.float32), words, "", group, ""))

    assert weight("fifteen", group="coswara") > weight("five", group="coswara")
    assert weight("five", group="gsc") > weight("stop", group="gsc")
