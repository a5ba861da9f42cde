"""The parts of a random day: the engine's arithmetic, the words, the plans, the counts."""

from __future__ import annotations

import random

import pytest
from session_story import parts

from assistant.errors import InputWrongError
from assistant.grammar.phrases import grammar
from assistant.lab.commands import bench, random_days
from assistant.lab.days import day_counts, days_bench, typed_words
from assistant.lab.days.day_counts import DayCounts
from assistant.lab.days.day_engine import DayEngine
from assistant.lab.days.day_plan import MOODS, URGES, plan_of
from assistant.lab.days.day_words import DayWords
from assistant.lab.days.random_day import config_of
from assistant.messages import (
    AlarmChanged,
    Expected,
    Grade,
    Heard,
    PhaseBegan,
    Report,
    Say,
    Started,
    StepAsked,
    Tick,
)
from assistant.procedure.checklist import Phase
from assistant.recogniser.typed_recogniser import hear_typed
from assistant.wording import engine_words, walkthrough


def run(engine: DayEngine, minutes: float) -> DayEngine:
    for _ in range(int(minutes * 12)):
        engine.step(5.0)
    return engine


def warm(fault: str = "") -> DayEngine:
    engine = DayEngine(parts().engine, fault, heat=1.0, pressure=0.6)
    engine.put("fire", "built")
    engine.put("damper", "open")
    return engine


def test_a_fire_raises_steam_and_its_end_lets_it_fall() -> None:
    engine = DayEngine(parts().engine)
    engine.put("fire", "built")
    engine.put("damper", "open")
    assert run(engine, 15.0).gauge_pa == 0.0
    raised = run(engine, 20.0).pressure
    assert raised > 0.2
    engine.put("fire", "drawn")
    assert run(engine, 20.0).pressure < raised


def test_the_valve_holds_the_pressure_unless_it_does_not_lift() -> None:
    lift = parts().engine.valve_lifts_gauge_pa / parts().engine.working_pressure_gauge_pa
    engine, stuck = warm(), warm("valve does not lift")
    for each in (engine, stuck):
        for _ in range(6):
            each.put("fire", "built")
            run(each, 5.0)
    assert engine.pressure <= lift * 1.05
    assert stuck.pressure > lift * 1.05
    assert stuck.valve == "shut"


def test_feed_raises_the_glass_and_a_stuck_feed_does_not() -> None:
    for fault, gains in (("", True), ("stuck feed", False)):
        engine = warm(fault)
        before = engine.level
        engine.put("feed", "on")
        assert (run(engine, 4.0).level > before) is gains


def test_faulty_gauges_show_what_is_not_so() -> None:
    assert warm("dead gauge").gauge_pa == 0.0
    stuck = warm("stuck glass")
    stuck.put("feed", "on")
    shown = stuck.glass
    assert run(stuck, 5.0).glass == shown
    assert stuck.level != shown
    assert run(warm("leak"), 30.0).glass is None


@pytest.mark.parametrize("dial", ["psi", "bar"])
def test_what_a_driver_says_is_understood(dial: str) -> None:
    engine = warm()
    words = DayWords(engine, dial, random.Random(1))
    known = grammar(Expected("state", pressure_unit=dial))
    said = [words.pressure(), words.water(), words.tank(), words.order(), words.emergency()]
    said += [words.yes(), words.no(), words.seen() or "ready", words.named_order("why")]
    for _ in range(40):
        act = words.act()
        said += [words.order(), words.emergency(), act[2] if act else "ready"]
    assert [text for text in said if known.parse(text) is None] == []


def test_typed_words_mean_what_the_keyboard_means() -> None:
    own = (("gear is out", Report("gear", "out")), ("it is shut", Report("regulator", "shut")))
    for expected in (Expected(), Expected("water"), Expected("answer"), Expected("state", own)):
        for text in ("Pressure 75", "water half", "half", "yes", "gear is out", "it is shut",
                     "gear is out it is shut", "gear out", "nonsense", "feed on"):  # fmt: skip
            assert typed_words.heard(text, expected, 3.0) == hear_typed(text, expected, 3.0)


def test_plans_have_every_mood_phase_and_urge() -> None:
    plans = [plan_of(seed) for seed in range(400)]
    assert {p.mood for p in plans} == set(MOODS)
    assert {p.from_phase for p in plans} == {None, *(phase.value for phase in Phase)}
    assert {urge for p in plans for urge in p.wants} == set(URGES)
    assert all(3600.0 <= p.length_s <= 9000.0 for p in plans)
    assert plan_of(5) == plan_of(5)


def test_everything_of_the_tables_is_counted_by_name() -> None:
    names = day_counts.wanted_names(config_of("practice", "psi", False))
    assert {
        "alarm: low water", "phase: pumping", "move done: feed from standing by",
        "remedy: priming", "emergency: over", "order: wait", "state: valve lifting",
    } <= set(names)  # fmt: skip


def test_moves_and_alarms_are_counted() -> None:
    config = config_of("practice", "psi", False)
    counts = DayCounts(config)
    counts.see(Started(0.0, "standing by"), [PhaseBegan("standing by")])
    counts.see(Tick(1.0), [AlarmChanged("low water", Grade.DANGER, "raised")])
    move = hear_typed("moving off again", Expected("state", (
        ("moving off again", Report("move", "move_off")),)), 2.0)  # fmt: skip
    counts.see(move, [])
    counts.see(move, [PhaseBegan("tick-over"), StepAsked("tick-over", "any")])
    counts.see(Heard(4.0, "test", ()), [])
    remedy = config.remedies[0]
    asked = [StepAsked("tick-over", remedy.steps[0].id), Say(engine_words.still_rising())]
    counts.see(Tick(5.0), asked)
    assert counts.counts[f"first act: {remedy.name}"] == 1
    assert counts.counts["need: still rising"] == 1
    assert counts.counts["alarm: low water"] == 1
    assert counts.counts["move refused: move_off"] == 1
    assert counts.counts["move done: move_off from standing by"] == 1
    assert counts.counts["heard: not a sentence"] == 1
    lines = list(day_counts.table_lines(counts.counts, ["alarm: low water", "alarm: other"]))
    assert [line.split()[-1] for line in lines] == ["times", "0", "1"]


def test_every_row_of_the_engine_is_counted_by_the_words_it_has() -> None:
    said = [
        engine_words.does_it_feather(132.0, "psi"), engine_words.does_it_lift(),
        engine_words.still_rising(), engine_words.is_there_fire(capped=True),
        engine_words.blower_down(), engine_words.damper_down(), walkthrough.steam_in_her(),
    ]  # fmt: skip
    found = [[n for n, words in day_counts.NEEDS.items() if words.search(text)] for text in said]
    assert [len(names) for names in found] == [1] * len(said)
    assert len({names[0] for names in found}) == len(said)


def test_what_is_broken_is_the_exit_code() -> None:
    assert random_days.exit_code(["a", "good"]) == 0
    assert random_days.exit_code(["NOT GOOD: 3 violations"]) == 1
    assert random_days.exit_code([]) == 1


def test_one_day_is_printed_as_a_conversation() -> None:
    lines = list(days_bench.aloud_lines(4))
    assert lines[0].startswith("seed 4: ")
    assert any(">> " in line for line in lines)
    assert any("-> " in line for line in lines)
    assert lines[-1].startswith(("good", "NOT GOOD"))


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--days", "0"], "must be 1 or more"),
        (["--aloud"], "--only SEED"),
        (["--engine", "none"], "no shipped engine 'none'"),
    ],
)
def test_wrong_options_are_told(words: list[str], told: str) -> None:
    import argparse

    parser = argparse.ArgumentParser()
    bench.add(parser)
    with pytest.raises(InputWrongError, match=told):
        random_days.bench_days(parser.parse_args(["days", *words]))
