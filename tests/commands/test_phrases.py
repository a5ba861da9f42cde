"""`footplate phrases`: every accepted sentence, filtered, each with its meaning as JSON."""

from __future__ import annotations

import pytest
from shell import records, run


def test_every_sentence_once_with_its_meaning(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = run(capsys, "phrases", "--expect", "answer", "--containing", "FIRE", "--json")
    found = records(out)
    sentences = [record["sentence"] for record in found]
    assert code == 0
    assert "something is on fire" in sentences
    assert len(set(sentences)) == len(sentences)
    assert all("fire" in sentence for sentence in sentences)
    assert all(record["meaning"] for record in found)
    assert err == f"{len(found)} sentences are accepted when 'answer' is expected\n"


def test_none_with_these_words_is_no_trouble(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = run(capsys, "phrases", "--containing", "coffee")
    assert (code, out) == (0, "")
    assert err.startswith("0 sentences are accepted")
