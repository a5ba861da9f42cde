"""An emergencies file becomes acts to be spoken, or is refused with the place of each problem."""

from __future__ import annotations

# ruff: noqa: E501  # a table reads better with one mistake a line
from pathlib import Path

import pytest

from assistant.config.emergencies_file import emergencies_from_text, shipped_emergencies
from assistant.errors import FileWrongError
from assistant.messages import Report

EMERGENCIES = """\
general: no
ending: Then your engine's own instructions. Get a competent person.
emergencies:
  - name: low water
    alarms: [low water]
    acts: [Stop the heat., Keep away.]
    why: Bare plates weaken.
    source: common practice, no source
  - name: hurt
    say: [someone is hurt]
    acts: [Call for help.]
    why: It matters.
    source: common practice, no source
"""


def test_emergencies() -> None:
    emergencies = emergencies_from_text(EMERGENCIES, Path("e.yaml"))
    assert not emergencies.general
    assert emergencies.entries[0].acts == ("Stop the heat.", "Keep away.")
    assert emergencies.entries[1].calls() == (("someone is hurt", Report("emergency", "hurt")),)
    assert shipped_emergencies().general


CALL = """\
general: no
call: {name: Jo, number: +44 1632 960 123}
"""


def test_whom_to_call_is_said_with_the_acts_before_the_ending() -> None:
    emergencies = emergencies_from_text(EMERGENCIES.replace("general: no\n", CALL), Path("e.yaml"))
    said = emergencies.words(emergencies.entries[1])
    assert said == (
        "Call for help.",
        "Call Jo: plus four four, one six three two, nine six zero, one two three.",
        "Then your engine's own instructions. Get a competent person.",
    )
    assert emergencies_from_text(EMERGENCIES, Path("e.yaml")).second_person == ""


def test_a_number_to_call_is_figures() -> None:
    text = EMERGENCIES.replace("general: no\n", CALL.replace("960 123", "ask Jo"))
    with pytest.raises(FileWrongError) as caught:
        emergencies_from_text(text, Path("e.yaml"))
    assert "'number': figures" in str(caught.value)


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ("[Stop the heat., Keep away.]", "[a, b, c, d]", "e.yaml:6:11: 'acts': 4; at most 3 from memory"),
        ("[Stop the heat., Keep away.]", "[]", "e.yaml:6:11: 'acts': at least one is wanted"),
        ("    alarms: [low water]\n", "", "e.yaml:4:5: neither 'say' nor 'alarms'"),
        ("name: hurt", "name: low water", "e.yaml:9:11: 'name': 'low water' is also in line 4"),
        ("general: no", "generl: no", "e.yaml:1:1: unknown key 'generl' (did you mean 'general'?)"),
    ],
)  # fmt: skip
def test_mistakes_in_emergencies(old: str, new: str, expected: str) -> None:
    with pytest.raises(FileWrongError) as caught:
        emergencies_from_text(EMERGENCIES.replace(old, new), Path("e.yaml"))
    assert str(caught.value.problems[0]).startswith(expected), caught.value
