"""Stories of a driver and a list: answers in order, out of order, skipped, taken back, nonsense."""

from __future__ import annotations

import random

import pytest
from procedure_story import ENGINE, PHASES, SHIPPED  # type: ignore[import-not-found]

from assistant.boiler.figures import Engine
from assistant.boiler.scales import PSI_PA
from assistant.messages import ORDERS, Answer, Meaning, Order, Report, Several
from assistant.procedure.checklist import Bound, Checklist, Limits, Phase, Reply, Step
from assistant.procedure.position import (
    Progress,
    can_leave,
    current,
    holds_open,
    mark_due,
    offered,
    open_items,
    put_step,
)
from assistant.procedure.progress import answer, back, leave_out, skip, start_list
from assistant.procedure.scale import level


@pytest.fixture
def engine() -> Engine:
    return ENGINE


@pytest.fixture
def shipped() -> tuple[Checklist, ...]:
    return SHIPPED


@pytest.fixture
def phases() -> dict[Phase, Checklist]:
    return PHASES


READY = Order("ready")


def water(value: float | str) -> Report:
    return Report("water", value, None if isinstance(value, str) else "glass")


def psi(value: float) -> Report:
    return Report("pressure", value, "psi")


def asked(progress: Progress) -> Progress:
    step = current(progress)
    assert step is not None
    return put_step(progress, step)


def act(name: str, **more: object) -> Step:
    replies = (Reply("done", (f"{name} is done",)),)
    return Step(id=name, say=f"Do {name}.", asks=name, kind="act", replies=replies, **more)  # type: ignore[arg-type]


def small(*steps: Step) -> Checklist:
    return Checklist(name="small", title="Small", phase=Phase.PREPARATION, steps=steps)


WATER = Step(
    id="water", say="Where is the water?", asks="water", kind="value", killer=True, hold=True,
    limits=Limits(Bound("lower mark"), Bound("upper mark"), "Too low.", "Too high."),
    replies=(Reply("out of sight", ("no water in sight",), False, "Find it."),),
)  # fmt: skip


def test_steps_come_in_order_and_ready_answers_an_act(engine: Engine) -> None:
    time = 0.0
    p = asked(start_list(small(act("pan"), act("tubes")), engine, time))
    time += 20
    out = answer(p, READY, time)
    assert [d.step for d in out.done] == ["pan"] and out.done[0].at == 20
    step = current(out.progress)
    assert step is not None and step.id == "tubes"
    assert not can_leave(out.progress)
    out = answer(asked(out.progress), Report("tubes", "done"), time + 5)
    assert can_leave(out.progress) and current(out.progress) is None


@pytest.mark.parametrize("meaning", [READY, Answer("yes"), Order("next"), Order("not yet")])
def test_a_killer_is_never_answered_by_ready_or_yes(engine: Engine, meaning: Meaning) -> None:
    p = asked(start_list(small(WATER), engine, 0))
    out = answer(p, meaning, 1)
    assert out.done == () and holds_open(out.progress) == (WATER,)


def test_a_value_passes_only_within_the_engines_own_marks(engine: Engine) -> None:
    p = asked(start_list(small(WATER), engine, 0))
    low = answer(p, water(0.2), 1)
    assert low.say == "Too low." and low.done == ()
    high = answer(low.progress, water(0.9), 2)
    assert high.say == "Too high."
    gone = answer(high.progress, water("out of sight"), 3)
    assert gone.say == "Find it." and holds_open(gone.progress) == (WATER,)
    at_the_mark = answer(gone.progress, water(0.25), 4)
    assert [d.answer for d in at_the_mark.done] == ["water 0.25 glass"]
    in_mm = answer(gone.progress, Report("water", 40, "mm"), 4)  # 40 of 160 mm is a quarter
    assert [d.step for d in in_mm.done] == ["water"]


def test_several_things_reported_at_once_and_out_of_order(engine: Engine) -> None:
    p = asked(start_list(small(WATER, act("pan"), act("tubes"), act("oil")), engine, 0))
    both = Several((Report("pan", "done"), Report("tubes", "done")))
    out = answer(p, both, 30)
    assert [d.step for d in out.done] == ["pan", "tubes"]
    step = current(out.progress)
    assert step is not None and step.id == "water", "the killer is still asked"


def test_a_step_counts_only_after_the_steps_before_it(engine: Engine) -> None:
    p = asked(start_list(small(act("light"), act("wood", after=("light",))), engine, 0))
    early = answer(p, Report("wood", "done"), 1)
    assert early.done == ()
    lit = answer(p, Report("light", "done"), 2)
    assert answer(lit.progress, Report("wood", "done"), 3).done[0].step == "wood"


def test_a_skipped_item_stays_open_and_is_asked_again_at_the_gate(engine: Engine) -> None:
    time = 0.0
    p = start_list(small(WATER, act("pan"), act("tubes")), engine, time)
    p = answer(asked(p), water(0.5), 1).progress
    p = skip(asked(p)).progress
    assert [s.id for s in open_items(p)] == ["pan"]
    time += 60
    p = answer(asked(p), READY, time).progress
    step = current(p)
    assert step is not None and step.id == "pan", "asked again once the rest is done"
    assert not can_leave(p)
    p = skip(asked(p)).progress
    assert can_leave(p) and [s.id for s in open_items(p)] == ["pan"], "left, and still open"

    after = start_list(small(act("oil")), engine, time, carried=open_items(p))
    after = answer(asked(after), READY, time).progress
    step = current(after)
    assert step is not None and step.id == "pan", "and at the gate of the next phase"
    assert answer(asked(after), Report("pan", "done"), time).done[0].step == "pan"


def test_killers_and_holds_are_not_skipped(engine: Engine) -> None:
    hold = act("valve", hold=True)
    for step in (WATER, hold):
        p = asked(start_list(small(step, act("pan")), engine, 0))
        out = skip(p)
        assert out.refused and out.progress == p and open_items(out.progress) == ()


def test_a_step_left_out_is_over_for_the_day_but_no_killer_and_no_hold(engine: Engine) -> None:
    p = asked(start_list(small(act("pan"), act("tubes", after=("pan",))), engine, 0))
    out = leave_out(p, 1.0)
    assert [d.step for d in out.done] == ["pan"] and open_items(out.progress) == ()
    step = current(out.progress)
    assert step is not None and step.id == "tubes", "what waited for it goes on"
    assert can_leave(leave_out(asked(out.progress), 2.0).progress)
    assert leave_out(leave_out(asked(out.progress), 2.0).progress, 3.0).refused
    for must in (WATER, act("valve", hold=True)):
        p = asked(start_list(small(must), engine, 0))
        assert leave_out(p, 1.0).refused and leave_out(p, 1.0).progress == p


def test_back_opens_the_last_answer_again(engine: Engine) -> None:
    p = asked(start_list(small(act("pan"), act("tubes")), engine, 0))
    assert back(p).refused
    p = answer(p, READY, 1).progress
    out = back(p)
    assert [s.id for s in out.reopened] == ["pan"]
    step = current(out.progress)
    assert step is not None and step.id == "pan" and not out.progress.is_done("pan")


def test_a_later_reading_that_contradicts_a_killer_opens_it_again(engine: Engine) -> None:
    p = answer(asked(start_list(small(WATER, act("pan")), engine, 0)), water(0.5), 1).progress
    assert p.is_done("water")
    out = answer(asked(p), water("out of sight"), 2)
    assert out.reopened == (WATER,) and out.say == "Find it."
    assert not can_leave(out.progress)


def test_what_was_acted_on_is_not_asked_anew(engine: Engine) -> None:
    p = start_list(small(WATER, act("light", after=("water",)), act("wood")), engine, 0)
    p = answer(asked(p), water(0.5), 1).progress
    p = answer(asked(p), READY, 2).progress
    out = answer(asked(p), water(0.1), 3)
    assert out.reopened == (), "the fire is lit: low water is the watch's business now"


def test_a_reading_in_passing_does_not_answer_what_must_be_asked(engine: Engine) -> None:
    lift = Step(
        id="lift", say="At what pressure?", asks="pressure", kind="value", hold=True,
        only_when_asked=True,
        limits=Limits(Bound("valve feathers", 0.94), None, "They disagree.", ""),
    )  # fmt: skip
    p = start_list(small(act("pan"), lift), engine, 0)
    p = asked(p)
    assert answer(p, psi(132), 1).done == ()
    p = asked(answer(p, READY, 2).progress)
    assert answer(p, psi(100), 3).say == "They disagree."
    assert [d.step for d in answer(p, psi(132), 3).done] == ["lift"]


def test_a_fill_is_not_asked_for_when_the_water_is_right_already(engine: Engine) -> None:
    fill = Step(
        id="fill", say="Fill.", asks="water", kind="value", if_needed=True, after=("water",),
        limits=Limits(Bound("cold fill", 0.9), Bound("cold fill", 1.3), "More.", "Less."),
    )  # fmt: skip
    right = answer(asked(start_list(small(WATER, fill), engine, 0)), water(0.5), 1)
    assert [d.step for d in right.done] == ["water", "fill"]
    low = answer(asked(start_list(small(WATER, fill), engine, 0)), water(0.3), 1)
    step = current(low.progress)
    assert step is not None and step.id == "fill"


def test_a_killer_comes_back_after_everything_else(engine: Engine) -> None:
    from dataclasses import replace

    p = start_list(small(replace(WATER, again="Water once more?"), act("pan")), engine, 0)
    p = answer(asked(p), water(0.5), 1).progress
    p = answer(asked(p), water(0.5), 2).progress
    assert not p.is_done("water again"), "a reading in passing is not the gate's answer"
    p = asked(answer(p, READY, 3).progress)
    assert p.asked == "water again" and not can_leave(p)
    assert skip(p).refused
    assert can_leave(answer(p, water(0.6), 4).progress)


def nonsense(chance: random.Random, checklist: Checklist) -> Meaning:
    """Something that answers no killer and no hold: wrong values, wrong subjects, orders, yes."""
    bad = [
        water(chance.choice([0.0, 0.1, 0.24, 0.99, "out of sight"])),
        Report("pressure", float("nan"), "psi"),
        Report("water", float("inf"), "glass"),
        Report("water", 0.5, "psi"),
        Report("water", 0.5, None),
        Report("water", "half"),
        Report("kettle", "boiling"),
        Answer(chance.choice(["yes", "no"])),
        Order(chance.choice(sorted(ORDERS))),
        Several((Report("noise", "yes"), Report("water", -1.0, "glass"))),
    ]
    bad += [
        Report(s.asks, r.state)
        for s in checklist.steps
        for r in s.replies
        if not r.passes and not any(
            o.asks == s.asks and r.state in [x.state for x in o.replies if x.passes]
            for o in checklist.steps
        )
    ]  # fmt: skip
    return chance.choice(bad)


@pytest.mark.parametrize("phase", list(Phase), ids=lambda p: p.value)
def test_a_thousand_pieces_of_nonsense_pass_no_hold(
    engine: Engine, phases: dict[Phase, Checklist], phase: Phase
) -> None:
    chance = random.Random(phase.value)
    checklist = phases[phase]
    p = start_list(checklist, engine, 0)
    must = {s.id for s in holds_open(p)}
    assert must
    for i in range(1000):
        # hearing nonsense, skipping, going back, asking again, the gauge moving, time passing
        p = mark_due(p, chance.choice([None, 0.0, 40 * PSI_PA, 130 * PSI_PA]))
        step = current(p)
        p = put_step(p, step) if step and chance.random() < 0.7 else p
        p = answer(p, nonsense(chance, checklist), float(i)).progress
        if chance.random() < 0.2:
            p = skip(p).progress
        passed = must & {d.step for d in p.done}
        assert not passed, f"after {i}: {passed}"
        assert not can_leave(p)


def test_nothing_that_is_heard_can_break_it(engine: Engine, shipped: tuple[Checklist, ...]) -> None:
    chance = random.Random(7)
    for checklist in shipped:
        reports: list[Meaning] = [
            Report(s.asks, r.state) for s in checklist.steps for r in s.replies
        ]
        reports += [water(x / 10) for x in range(11)] + [psi(x) for x in range(0, 200, 20)]
        reports += [Order(name) for name in ORDERS] + [Answer("yes"), Answer("no")]
        p = start_list(checklist, engine, 0)
        for i in range(300):
            before = {d.step for d in p.done}
            out = answer(p, chance.choice(reports), float(i))
            p = chance.choice([out.progress, skip(p).progress, back(p).progress, out.progress])
            step = current(p)
            assert step is None or not p.is_done(step.id)
            ids = [d.step for d in p.done]
            assert len(ids) == len(set(ids)), "no step is done twice"
            assert before >= set() and set(ids) <= {s.id for s in p.steps}
            p = put_step(p, step) if step else p


def good(step: Step, engine: Engine) -> Report:
    """An answer that passes the step."""
    if step.kind != "value":
        return Report(step.asks, next(r.state for r in step.replies if r.passes))
    assert step.limits is not None
    bounds = [b for b in (step.limits.at_least, step.limits.at_most) if b]
    value = sum(level(b, engine) for b in bounds) / len(bounds) + (0.2 if step.gain_on else 0.0)
    return {
        "pressure": Report("pressure", value / 1000, "kPa"),
        "water": Report("water", value, "glass"),
        "tank": Report("tank", value, "tank"),
    }[step.asks]


def test_two_hundred_interruptions_lose_no_step_and_repeat_none(
    engine: Engine, phases: dict[Phase, Checklist]
) -> None:
    """Killed and replayed at random places: the same progress, to the step."""
    chance = random.Random(200)
    interruptions = 0
    while interruptions < 200:
        checklist = phases[chance.choice(list(Phase))]
        book: list[tuple[str, object, float]] = []  # what happened, in order
        p, time, confirmed = start_list(checklist, engine, 0.0), 0.0, []
        while not can_leave(p):
            time += chance.choice([5.0, 30.0, 300.0])
            if chance.random() < 0.3:
                interruptions += 1
                p = replayed(checklist, engine, book)
                assert [d.step for d in p.done] == confirmed
            if (step := current(p) or offered(p)) is None:
                book.append(("gauge", 2e6, time))
                p = mark_due(p, 2e6)
                continue
            assert step.id not in confirmed, "asked again after it was confirmed"
            heard = good(step, engine) if chance.random() < 0.6 else water("out of sight")
            if heard.value == "out of sight" and step.asks != "water":
                heard = Report("noise", "some")
            book += [("ask", step, time), ("hear", heard, time)]
            out = answer(put_step(p, step), heard, time)
            p = out.progress
            confirmed = [d.step for d in p.done]
        assert {s.id for s in p.steps} == set(confirmed)


def replayed(
    checklist: Checklist, engine: Engine, book: list[tuple[str, object, float]]
) -> Progress:
    p = start_list(checklist, engine, 0.0)
    for kind, what, at in book:
        if kind == "ask":
            assert isinstance(what, Step)
            p = put_step(p, what)
        elif kind == "gauge":
            assert isinstance(what, float)
            p = mark_due(p, what)
        else:
            assert isinstance(what, Report)
            p = answer(p, what, at).progress
    return p
