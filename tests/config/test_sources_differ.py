"""What sources differ on is asked of the owner, as a caution, until he has said it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from assistant.alarms.rules import BY_NAME
from assistant.config import sources_differ
from assistant.config.checklist_file import shipped_checklists
from assistant.config.cross_checks import cautions_together
from assistant.config.emergencies_file import shipped_emergencies
from assistant.config.engine_file import find_engine
from assistant.procedure.emergency import Emergencies

GENERAL = shipped_emergencies()
ENGINE = replace(find_engine("practice"), invented=False)


def owners(alarm: str, act: str = "", why: str = "") -> Emergencies:
    """The general file as an owner's, with an act or a reason more in one entry."""
    changed = (
        replace(e, acts=(*e.acts, *([act] if act else [])), why=why or e.why)
        if alarm in e.alarms
        else e
        for e in GENERAL.entries
    )
    return replace(GENERAL, entries=tuple(changed), general=False)


def asked(emergencies: Emergencies) -> list[str]:
    return [c.message for c in sources_differ.entries_left_open(emergencies, GENERAL)]


def test_of_an_unchanged_file_everything_is_asked() -> None:
    assert len(asked(owners(""))) == len(sources_differ.IN_EMERGENCIES)


@pytest.mark.parametrize(
    ("alarm", "act", "question"),
    [
        ("water out of sight", "Bank the fire with wet coal.", "drawn, banked or left"),
        ("water out of sight", "Keep her running, gently.", "stopped or kept running"),
        ("water out of sight", "A feed that runs is left on.", "a feed that runs already"),
        ("plug has gone", "Injector on.", "a feed put on or kept off"),
        ("tube has burst", "Blower on.", "the blower on or shut"),
        ("tube has burst", "Both injectors on.", "the injectors on or off"),
        ("over-pressure", "Feed her.", "is she fed"),
        ("over-pressure", "Lift the valve by the cord.", "is the valve lifted"),
        ("engine is running away", "Reverse her.", "reversed against the motion"),
    ],
)
def test_what_the_owner_writes_in_is_asked_no_more(alarm: str, act: str, question: str) -> None:
    assert any(question in text for text in asked(owners("")))
    assert not any(question in text for text in asked(owners(alarm, act)))
    assert not any(question in text for text in asked(owners(alarm, why=act)))


def test_each_names_an_alarm_and_an_entry_that_there_is() -> None:
    for alarm, _, _ in sources_differ.IN_EMERGENCIES:
        assert alarm in BY_NAME and GENERAL.for_alarm(alarm) is not None


def test_with_no_emergencies_of_hers_an_engine_in_use_is_asked_in_one_line() -> None:
    lists = shipped_checklists()
    (caution,) = cautions_together(lists, None, (ENGINE,))
    for question in ("low water: is she fed", "plug has gone: ", "blow-down: at what pressure"):
        assert question in caution.message
    assert cautions_together(lists, None, (find_engine("practice"),)) == (), "of no real engine"
    theirs = cautions_together(lists, owners(""), (ENGINE,))
    assert not any("write an emergencies file" in c.message for c in theirs)


def test_a_list_of_the_owners_is_not_asked_about() -> None:
    lists = [
        replace(each, steps=tuple(replace(s, file="own.yaml") for s in each.steps))
        if each.name == "putting_away"
        else each
        for each in shipped_checklists()
    ]
    (caution,) = cautions_together(lists, None, (ENGINE,))
    assert "blow-down" not in caution.message and "foaming" in caution.message
