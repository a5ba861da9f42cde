"""The table itself: no field empty, eight words, every row of the trade's list there."""

from __future__ import annotations

import pytest

from assistant.alarms.rules import BY_NAME, RULES, Rule
from assistant.messages import Grade

# The ten fields of a rationalised alarm: ISA-18.2 and IEC 62682 practice.
TEN = (
    "kind", "grade", "group", "when", "action", "consequence", "causes",
    "respond_within_s", "detected_by", "suppression",
)  # fmt: skip

ROWS = {
    Grade.DANGER: {
        "low water", "water out of sight", "over-pressure", "steam escaping", "glass broken",
        "someone hurt", "fire outside",
    },
    Grade.WARNING: {
        "water falling with feed on", "tank empty", "water reading overdue", "glass motionless",
        "pressure above working", "gauge and valve disagree", "microphone lost",
    },
    Grade.CAUTION: {
        "water near the upper mark", "rising too fast", "forecast far from plan",
        "pressure falling", "step left open",
    },
}  # fmt: skip


@pytest.mark.parametrize("rule", RULES, ids=lambda r: r.name)
def test_all_ten_fields_are_filled(rule: Rule) -> None:
    for name in TEN:
        value = getattr(rule, name)
        assert value.strip() if isinstance(value, str) else value, f"{rule.name}: {name}"
    assert rule.respond_within_s > 0


@pytest.mark.parametrize("rule", RULES, ids=lambda r: r.name)
def test_grade_first_then_eight_words(rule: Rule) -> None:
    assert rule.text.startswith(rule.grade.word.capitalize() + ". ")
    assert len(rule.text.split()) <= 1 + 8, rule.text


def test_every_row_of_the_trade_is_there_with_its_grade() -> None:
    for grade, names in ROWS.items():
        assert {n for n in names if BY_NAME[n].grade is not grade} == set()


def test_names_differ_and_graver_alarms_leave_less_time() -> None:
    assert len(BY_NAME) == len(RULES)
    longest = {g: max(r.respond_within_s for r in RULES if r.grade is g) for g in Grade}
    assert longest[Grade.DANGER] < longest[Grade.WARNING] < longest[Grade.CAUTION]


@pytest.mark.parametrize("rule", RULES, ids=lambda r: r.name)
def test_the_end_of_what_is_told_has_words_of_its_own(rule: Rule) -> None:
    told = rule.announces_end and rule.grade is not Grade.CAUTION
    assert bool(rule.end_text) is told
    assert len(rule.end_text.split()) <= 8
