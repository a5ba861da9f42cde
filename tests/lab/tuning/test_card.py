"""The model card: sources, licences, recipe, figures and limits."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from assistant.enrolment.clip_corpus import LabelledClip
from assistant.enrolment.spec_augment import SpecAugment
from assistant.enrolment.training import TrainingSettings
from assistant.lab.benches.recorded_noise import NoiseRecording
from assistant.lab.tuning import card
from assistant.lab.tuning.training_corpus import READER, TrainingCorpus

NOTHING = np.zeros(8, np.float32)


def test_the_card_names_sources_licences_recipe_and_limits(tmp_path: Path) -> None:
    corpus = TrainingCorpus(
        (
            LabelledClip(NOTHING, ("latte",), "one.wav", "orders", ""),
            LabelledClip(NOTHING, ("ready",), "flite:slt", "statistical", ""),
            LabelledClip(NOTHING, ("horse",), "flite:slt", "statistical", "", in_grammar=False),
            LabelledClip(NOTHING, ("sixty",), READER, READER, ""),
            LabelledClip(NOTHING, ("six",), "gsc/a", "gsc", ""),
            LabelledClip(NOTHING, ("five",), "gsc/b", "gsc", ""),
        ),
        digits={"anna": {}, "statistical/flite:slt": {}, f"{READER}/{READER} 1": {}},
    )
    made = card.Card(
        card.Recipe(
            "footplate train --seed 3", "2026-11-25",
            [TrainingSettings(seed=3), TrainingSettings(seed=3, rank=32, masking=SpecAugment(0.1))],
            0.75, 48,
        ),
        corpus,
        [NoiseRecording(tmp_path, "wind", "a", "Anna", "CC-BY-3.0"),
         NoiseRecording(tmp_path, "rain", "b", "Bert", "CC0")],
        ["anna 0:2.000 10:1.000"], ["digits 95 %"],
    )  # fmt: skip
    text = card.write(tmp_path / "some.npz", made).read_text(encoding="utf-8")
    assert (tmp_path / "some.md").is_file()
    for wanted in (
        "CC BY 4.0", "Apache-2.0", "flite", "espeak-ng", "2 takes of 2 people", "1 spoken orders",
        "MIT licence", "CC-BY-3.0: Anna", "1 in the public domain or CC0",
        "1 sentences of this program's own grammar and 1 that are none", "seed 3", "2026-11-25",
        "rank 48 at most", "2 side by side", "75% of their mean",
        "1 more people joined to 1 numbers",
        "0:2.000 10:1.000", "digits 95 %", "Known limits", "footplate train --seed 3",
    ):  # fmt: skip
        assert wanted in text, wanted
