"""What a session is made of: symptoms call remedies, every phase has its list."""

from __future__ import annotations

from session_story import parts

from assistant.messages import Report
from assistant.procedure.checklist import Phase
from assistant.procedure.conditions import COLD, FIRE_IN, STEAM


def test_every_symptom_calls_a_remedy_that_is_there() -> None:
    config = parts()
    names = {remedy.name for remedy in config.remedies}
    assert config.remedy_calls
    assert {report.value for _, report in config.remedy_calls} <= names
    forms = [form for form, _ in config.remedy_calls]
    assert len(forms) == len(set(forms)), "a symptom calls one remedy"


def test_the_list_of_a_phase_is_its_own() -> None:
    config = parts()
    assert [config.list_of(phase).phase for phase in Phase] == list(Phase)


def test_forms_of_the_bypass_name_it() -> None:
    """A bare "it is shut" counts only as the answer to the question."""
    assert parts().bypass_forms
    assert all("bypass" in form for form, _ in parts().bypass_forms)


def test_what_wants_steam_or_fire_that_is_not_there_is_impossible() -> None:
    config = parts()
    picks_up, swept = Report("injector", "works"), Report("tubes", "swept")
    assert {picks_up, swept} <= {report for _, report in config.named_forms}
    for true, past, missing in (
        (frozenset(), False, False),  # what is not known ends nothing
        (frozenset({COLD}), False, True),
        (frozenset({FIRE_IN, STEAM}), True, False),
    ):
        another_phase, impossible = config.out_of_phase(true)
        assert (swept in another_phase, picks_up in impossible) == (past, missing)
        assert not another_phase & impossible
