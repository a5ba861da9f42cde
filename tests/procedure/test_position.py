"""Where we are in a list: what is due, offered, and may be said."""

from __future__ import annotations

from dataclasses import replace

import pytest
from procedure_story import ENGINE  # type: ignore[import-not-found]

from assistant.boiler.figures import Engine
from assistant.boiler.scales import PSI_PA
from assistant.messages import Order, Report
from assistant.procedure.checklist import Bound, Checklist, Phase, Reply, Step
from assistant.procedure.position import (
    Progress,
    current,
    mark_due,
    next_due,
    next_waiting,
    offered,
    possible_answers,
    put_step,
)
from assistant.procedure.progress import answer, start_list


@pytest.fixture
def engine() -> Engine:
    return ENGINE


READY = Order("ready")


@pytest.mark.parametrize(
    ("lifts", "feathers", "due_psi"),
    [(145, 132, 120), (125, 118, 118), (120, None, 120 / 1.03), (130, None, 120)],
)
def test_a_step_is_due_where_the_valve_moves_at_the_latest(
    engine: Engine, lifts: float, feathers: float | None, due_psi: float
) -> None:
    """A valve set at the working pressure may lift a little below it."""
    as_set = replace(
        engine,
        valve_lifts_gauge_pa=lifts * PSI_PA,
        valve_feathers_gauge_pa=feathers and feathers * PSI_PA,
    )
    progress = start_list(small(act("valve", due=Bound("working pressure"))), as_set, 0.0)
    assert next_due(progress) == pytest.approx(due_psi * PSI_PA)
    assert mark_due(progress, 0.999 * due_psi * PSI_PA).due == frozenset()
    assert mark_due(progress, 1.001 * due_psi * PSI_PA).due == {"valve"}


def asked(progress: Progress) -> Progress:
    step = current(progress)
    assert step is not None
    return put_step(progress, step)


def act(name: str, **more: object) -> Step:
    replies = (Reply("done", (f"{name} is done",)),)
    return Step(id=name, say=f"Do {name}.", asks=name, kind="act", replies=replies, **more)  # type: ignore[arg-type]


def small(*steps: Step) -> Checklist:
    return Checklist(name="small", title="Small", phase=Phase.PREPARATION, steps=steps)


def test_a_step_waits_for_its_pressure_and_something_else_is_offered(engine: Engine) -> None:
    coal = act("coal", due=Bound("wood until"))
    p = start_list(small(coal, act("oil", waiting=True)), engine, 0)
    assert current(p) is None
    waits, offer = next_waiting(p), offered(p)
    assert waits is not None and waits.id == "coal"
    assert offer is not None and offer.id == "oil"
    assert next_due(p) == 35 * PSI_PA
    assert current(mark_due(p, 34 * PSI_PA)) is None
    assert current(mark_due(p, None)) is None
    p = mark_due(p, 35 * PSI_PA)
    step = current(p)
    assert step is not None and step.id == "coal" and offered(p) is None
    assert next_due(p) is None
    assert current(mark_due(p, 20 * PSI_PA)) == step, "once due it stays due"
    p = answer(asked(p), READY, 5).progress
    step = current(p)
    assert step is not None and step.id == "oil", "what was only offered is asked in the end"


def test_answers_list_the_step_in_hand_and_whatever_else_names_its_subject(engine: Engine) -> None:
    bare = Reply("done", ("pan is done", "that is done"))
    steps = (
        Step(id="pan", say="Do it.", asks="pan", kind="act", replies=(bare,)),
        act("tubes", pause=True),
        act("oil", after=("tubes",)),
    )
    p = asked(start_list(small(*steps), engine, 0))
    assert set(dict(possible_answers(p))) == {"pan is done", "that is done", "tubes is done"}
    p = answer(p, Report("tubes", "done"), 1).progress
    assert dict(possible_answers(p))["oil is done"] == Report("oil", "done")
    p = asked(answer(p, READY, 2).progress)
    assert set(dict(possible_answers(p))) == {"oil is done"}
