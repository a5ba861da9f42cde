"""The table of phases: every legal move, every illegal one, the drawing."""

from __future__ import annotations

import itertools

import pytest
from procedure_story import ENGINE, PHASES  # type: ignore[import-not-found]

from assistant.boiler.figures import Engine
from assistant.grammar.conflicts import clash
from assistant.grammar.states import moves
from assistant.messages import Report
from assistant.procedure import phases as flow
from assistant.procedure.checklist import Checklist, Phase
from assistant.procedure.phases import (
    MOVES,
    MOVES_TABLE,
    Facts,
    IllegalMoveError,
    facts,
    move,
    next_phase,
)
from assistant.procedure.position import current, put_step
from assistant.procedure.progress import answer, start_list


@pytest.fixture
def engine() -> Engine:
    return ENGINE


@pytest.fixture
def phases() -> dict[Phase, Checklist]:
    return PHASES


ALL = Facts(all_answered=True, water_known=True, steam_known=True)


@pytest.mark.parametrize(("name", "source", "dest", "guards"), MOVES_TABLE)
def test_every_move_of_the_table_can_be_made_and_its_guard_can_stop_it(
    name: str, source: Phase, dest: Phase, guards: tuple[str, ...]
) -> None:
    assert move(source, name, ALL) is dest
    for guard in guards:
        shut = Facts(**{g: g != guard for g in ("all_answered", "water_known", "steam_known")})
        with pytest.raises(IllegalMoveError):
            move(source, name, shut)
        assert next_phase(source, shut, name) is None


def test_every_other_move_raises_and_changes_nothing() -> None:
    legal = {(name, source) for name, source, *_ in MOVES_TABLE}
    for name, phase in itertools.product((*MOVES, "to_firing", "fly", ""), Phase):
        if (name, phase) not in legal:
            with pytest.raises(IllegalMoveError):
                move(phase, name, ALL)
            assert next_phase(phase, ALL, name) is None


def test_every_phase_is_reached_and_every_phase_but_the_last_is_left() -> None:
    reached = {Phase.PREPARATION}
    for _ in Phase:
        reached |= {dest for _, source, dest, _ in MOVES_TABLE if source in reached}
    assert reached == set(Phase)
    assert {source for _, source, *_ in MOVES_TABLE} == set(Phase) - {Phase.PUTTING_AWAY}


def test_a_lit_engine_can_always_be_put_away_or_stood_by_without_asking() -> None:
    for phase in set(Phase) - {Phase.PUTTING_AWAY}:
        assert move(phase, "put_away", Facts()) is Phase.PUTTING_AWAY


def test_the_facts_come_from_the_progress(engine: Engine, phases: dict[Phase, Checklist]) -> None:
    p = start_list(phases[Phase.STANDING_BY], engine, 0)
    assert facts(p) == Facts(False, False)
    step = current(p)
    assert step is not None
    p = answer(put_step(p, step), Report("water", 0.6, "glass"), 1).progress
    assert facts(p).water_known


def test_moves_are_asked_for_in_words_that_collide_with_nothing() -> None:
    anytime = dict(moves())
    for phase in Phase:
        for form, report in flow.move_calls(phase):
            assert next_phase(phase, ALL, str(report.value)) is not None
            assert clash(form, report) is None
            assert anytime[tuple(form.split())] == report
    assert {r.value for r in anytime.values()} == set(MOVES) - {"go_on", "overtake"}


def test_a_move_that_the_table_has_leads_where_it_is_said_to() -> None:
    for phase in Phase:
        for name in flow.MOVE_FORMS:
            there = next_phase(phase, ALL, name)
            assert flow.has_move(phase, name) is (there is not None)
            assert there in (None, flow.leads_to(name))


def test_the_drawing_shows_every_phase_and_every_move() -> None:
    lines = flow.diagram().splitlines()
    assert lines[0] == "stateDiagram-v2"
    arrows = [line for line in lines if "-->" in line and "[*]" not in line]
    assert len(arrows) == len(MOVES_TABLE)
    assert all(any(p.name.lower() in line for line in lines) for p in Phase)
    assert 'state "raising steam" as raising_steam' in lines
    assert "firing --> raising_steam: go on [all answered]" in lines
