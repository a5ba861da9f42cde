"""Steps whose time is over, what takes their place, and steps that are proved without asking."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from procedure_story import ENGINE, PHASES, SHIPPED  # type: ignore[import-not-found]

from assistant.messages import Report
from assistant.procedure.checklist import Bound, Checklist, Limits, Phase, Reply, Step
from assistant.procedure.conditions import (
    CONDITIONS,
    PROOFS,
    WHILE,
    over,
    wants_warm_form,
    with_conditions,
)
from assistant.procedure.lapsing import lapse, left_over, satisfy, warm_form, warm_wanted
from assistant.procedure.position import (
    Progress,
    can_leave,
    current,
    holds_open,
    in_hand,
    open_items,
    open_steps,
    put_step,
)
from assistant.procedure.progress import answer, skip, start_list

STEAM, FIRE_OUT = frozenset({"steam", "fire in"}), frozenset({"fire out", "cold"})


def begin(phase: Phase) -> Progress:
    return start_list(PHASES[phase], ENGINE, 0.0)


def ids(steps: tuple[Step, ...]) -> list[str]:
    return [s.id for s in steps]


@pytest.mark.parametrize(
    ("while_", "conditions", "ended"),
    [
        ("cold", set(), False),
        ("cold", {"fire in"}, False),
        ("cold", {"steam"}, True),
        ("fire in", {"steam"}, False),
        ("fire in", {"fire out"}, True),
        ("fire in", {"fire out", "fire in"}, False),  # contradicted: not known to be out
        ("steam", {"cold"}, False),  # before there is any
        ("steam", {"fire out"}, False),  # steam is left in her
        ("steam", {"fire out", "cold"}, True),
        ("steam", {"fire out", "cold", "steam"}, False),
        ("motion", {"steam"}, False),
        ("motion", {"stopped"}, True),
        ("motion", {"stopped", "motion"}, False),
        ("motion", {"fire out", "cold"}, True),
        ("always", CONDITIONS, False),
        ("", CONDITIONS, False),
    ],
)
def test_the_table_of_what_is_over_when(while_: str, conditions: set[str], ended: bool) -> None:
    assert over(while_, frozenset(conditions)) is ended


def test_nothing_known_ends_nothing() -> None:
    for phase in Phase:
        p = begin(phase)
        assert lapse(p, frozenset()) == (p, ())


def test_steam_overtakes_the_cold_steps_at_once_whatever_was_answered() -> None:
    p = begin(Phase.PREPARATION)
    p = answer(p, Report("water", 0.5, "glass"), 10.0).progress
    p, lapsed = lapse(p, STEAM)
    assert {"gauge at zero", "glass proved cold", "ash pan and bars"} <= set(ids(lapsed))
    assert "water in the glass" not in ids(lapsed), "answered already"
    assert set(p.overtaken) == set(ids(lapsed))
    assert not set(p.overtaken) & p.answered, "never done"
    assert not set(p.overtaken) & set(ids(open_steps(p)))
    assert lapse(p, STEAM) == (p, ()), "told once"


def test_what_is_still_wanted_with_steam_in_her_stays_open() -> None:
    p, _ = lapse(begin(Phase.PREPARATION), STEAM)
    kept = ids(open_steps(p))
    assert {"brake and chocks", "out of gear", "regulator shut", "blow-down shut"} <= set(kept)
    assert "brake and chocks" in ids(holds_open(p))
    assert not can_leave(p)


def test_an_overtaken_step_is_not_in_hand_and_holds_nothing_up() -> None:
    p = begin(Phase.FIRING)
    p = put_step(p, p.step("water before the match"))
    assert in_hand(p) is not None
    p, _ = lapse(p, STEAM)
    assert in_hand(p) is None
    assert ids(open_steps(p)) == ["water with the fire in"]
    step = current(p)
    assert step is not None and step.id == "water with the fire in", "what it waited for is over"


def test_a_step_left_open_aloud_lapses_too() -> None:
    p = begin(Phase.PREPARATION)
    p = skip(put_step(p, p.step("ash pan and bars"))).progress
    assert ids(open_items(p)) == ["ash pan and bars"]
    p, _ = lapse(p, STEAM)
    assert open_items(p) == ()


def test_a_fall_of_the_pressure_brings_no_overtaken_step_back() -> None:
    p, _ = lapse(begin(Phase.PREPARATION), STEAM)
    before = p.overtaken
    p, lapsed = lapse(p, frozenset({"cold", "fire in"}))
    assert (p.overtaken, lapsed) == (before, ())


def test_the_warm_forms_are_wanted_in_their_place() -> None:
    p, _ = lapse(begin(Phase.PREPARATION), STEAM)
    assert ids(warm_wanted(p, SHIPPED)) == [
        "water under steam", "valve moves", "first movement", "glass blown through",
    ]  # fmt: skip
    assert left_over(p, SHIPPED) == ()


def test_a_warm_form_is_not_wanted_where_it_is_proved_or_guards_nothing() -> None:
    p, _ = lapse(begin(Phase.PREPARATION), STEAM)
    proved = frozenset({"glass proved", "water seen"})
    assert ids(warm_wanted(p, SHIPPED, STEAM, proved)) == ["valve moves", "first movement"]
    assert warm_wanted(p, SHIPPED, FIRE_OUT) == ()


def test_a_warm_form_in_the_same_list_is_asked_there_and_not_twice() -> None:
    warm = replace(PHASES[Phase.RAISING_STEAM].step("first movement"), id="warm one", after=())
    cold = replace(PHASES[Phase.PREPARATION].step("gauge at zero"), warm="warm one")
    own = Checklist(name="own", title="Own", phase=Phase.PREPARATION, steps=(cold, warm))
    p, lapsed = lapse(start_list(own, ENGINE, 0.0), STEAM)
    assert ids(lapsed) == ["gauge at zero"]
    assert warm_form(cold, (own,), own) == warm
    assert warm_wanted(p, (own,)) == ()
    assert ids(open_steps(p)) == ["warm one"]
    assert left_over(p, (own,)) == ()


def test_a_killer_that_nothing_takes_the_place_of_is_left_over() -> None:
    plain = replace(PHASES[Phase.PREPARATION].step("gauge at zero"), warm="")
    own = Checklist(name="own", title="Own", phase=Phase.PREPARATION, steps=(plain,))
    p, _ = lapse(start_list(own, ENGINE, 0.0), STEAM)
    assert ids(left_over(p, SHIPPED)) == ["gauge at zero"]
    assert warm_wanted(p, SHIPPED) == ()
    assert open_steps(p) == (), "it blocks nothing"


LEVEL = Step(
    id="level", say="Where is the water?", asks="water", kind="value", killer=True,
    limits=Limits(Bound("lower mark"), Bound("upper mark"), "Too low.", "Too high."),
    proves="water seen",
)  # fmt: skip
GEAR = Step(
    id="gear", say="Gear: in or out?", asks="gear", kind="state", hold=True, proves="gear out",
    replies=(Reply("out", ("gear is out",)),), after=("level",),
)  # fmt: skip
ONE = Checklist(name="one", title="One", phase=Phase.TICK_OVER, steps=(LEVEL, GEAR))


def test_what_is_proved_is_done_without_a_question() -> None:
    p = start_list(ONE, ENGINE, 0.0)
    p, done = satisfy(p, frozenset({"water seen", "gear out"}), 7.0, {"water": 0.5})
    assert [(d.step, d.answer, d.at) for d in done] == [
        ("level", "proved: water seen", 7.0), ("gear", "proved: gear out", 7.0),
    ]  # fmt: skip
    assert can_leave(p)


def test_a_level_outside_the_limits_satisfies_nothing_nor_does_an_unknown_one() -> None:
    p = start_list(ONE, ENGINE, 0.0)
    assert satisfy(p, frozenset({"water seen"}), 7.0, {"water": 0.1}) == (p, ())
    assert satisfy(p, frozenset({"water seen"}), 7.0) == (p, ())
    p = answer(p, Report("water", 0.5, "glass"), 1.0).progress
    assert satisfy(p, frozenset(), 7.0) == (p, ())


def test_nothing_is_satisfied_before_its_turn() -> None:
    p = start_list(ONE, ENGINE, 0.0)
    assert satisfy(p, frozenset({"gear out"}), 7.0) == (p, ())


def test_what_asks_on_purpose_is_asked() -> None:
    asking = replace(LEVEL, only_when_asked=True)
    again = replace(LEVEL, again="Once more. Where is the water?")
    for steps, left in (((asking,), ["level"]), ((again,), ["level again"])):
        p = start_list(replace(ONE, steps=steps), ENGINE, 0.0)
        p, _ = satisfy(p, frozenset({"water seen"}), 7.0, {"water": 0.5})
        assert ids(open_steps(p)) == left


def test_a_phase_gives_its_condition_to_steps_that_name_none() -> None:
    firing = PHASES[Phase.FIRING]
    bare = replace(firing, steps=tuple(replace(s, while_="") for s in firing.steps))
    given = {s.id: s.while_ for s in with_conditions(bare).steps}
    assert given["water before the match"] == given["fire lit"] == "cold"
    assert given["wood bed"] == given["water with the fire in"] == "fire in"
    cure = replace(bare, phase=None, symptom=("it fails",))
    assert {s.while_ for s in with_conditions(cure).steps} == {"always"}
    expected = {
        Phase.PREPARATION: "cold", Phase.RAISING_STEAM: "steam", Phase.TICK_OVER: "steam",
        Phase.PUMPING: "steam", Phase.STANDING_BY: "steam", Phase.PUTTING_AWAY: "always",
    }  # fmt: skip
    for phase, usual in expected.items():
        assert {s.while_ for s in with_conditions(replace(bare, phase=phase)).steps} == {usual}


def feeding() -> Progress:
    p = begin(Phase.PUMPING)
    for report in (
        Report("water", 0.5, "glass"), Report("tank", 0.9, "tank"),
        Report("regulator", "open"), Report("bypass", "shut"),
    ):  # fmt: skip
        p = answer(p, report, 0.0).progress
    return p


def test_a_word_proves_no_feed_and_two_equal_readings_do_not_either() -> None:
    p = answer(feeding(), Report("delivery", "cool and gaining"), 60.0).progress
    assert not p.is_done("feed proved") and not can_leave(p)
    p = put_step(p, p.step("feed proved"))
    out = answer(p, Report("water", 0.5, "glass"), 90.0)
    assert not out.done and out.say == "No gain shows yet. Keep it on, look again."
    out = answer(out.progress, Report("water", 0.625, "glass"), 300.0)
    assert [d.step for d in out.done] == ["feed proved"]


@pytest.mark.parametrize("listed", SHIPPED, ids=lambda c: c.name)
def test_every_shipped_step_says_for_what_it_is_meant(listed: Checklist) -> None:
    for step in listed.steps:
        assert step.while_ in WHILE, step.id
        if step.must:
            assert step.proves in PROOFS, f"{step.id} proves nothing"
        if wants_warm_form(step):
            assert warm_form(step, SHIPPED, listed) is not None, f"{step.id} lapses into nothing"


def test_every_shipped_step_names_its_condition_in_the_file() -> None:
    for listed in SHIPPED:
        text = Path(listed.file).read_text(encoding="utf-8")
        assert text.count("\n    while: ") == len(listed.steps), listed.file


def test_the_same_question_has_the_same_field_whichever_list_asks() -> None:
    fields: dict[str, set[str]] = {}
    for listed in SHIPPED:
        for step in listed.steps:
            if step.must and step.asks in ("water", "brake", "gear", "people"):
                fields.setdefault(step.asks, set()).add(step.proves)
    assert fields == {
        "water": {"water seen", "feed proved"}, "brake": {"brake on"}, "gear": {"gear out"},
        "people": {"people clear"},
    }  # fmt: skip
