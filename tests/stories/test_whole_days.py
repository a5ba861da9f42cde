"""Three whole days, kept as conversations that a driver can read from start to end.

A change of what is said shows here as a change of a text: read it, then write it anew with
`python tests/helpers/kept_day.py`.
"""

from __future__ import annotations

import difflib

import pytest
from kept_day import ENGINES, conversation, kept


@pytest.fixture(scope="module", params=ENGINES)
def played(request: pytest.FixtureRequest) -> tuple[str, str]:
    return request.param, conversation(request.param)


def test_the_day_is_told_as_it_is_kept(played: tuple[str, str]) -> None:
    engine, text = played
    was = kept(engine).read_text(encoding="utf-8").splitlines()
    diff = list(difflib.unified_diff(was, text.splitlines(), "kept", "now", lineterm="", n=1))
    assert diff == [], "\n".join(diff[:40])


def test_it_comes_to_its_end_and_is_quiet_after_it(played: tuple[str, str]) -> None:
    _, text = played
    assert "[putting away done]" in text
    after = text[text.index("[putting away done]") :].splitlines()
    assert [line.partition("  ")[2] for line in after[1:]] == [
        "Fire dead, gauge at nothing? Then say: end the session.",
    ]


def test_everything_the_driver_says_is_followed(played: tuple[str, str]) -> None:
    assert "I did not follow" not in played[1]
