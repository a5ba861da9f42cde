"""A learner on the footplate: why before each killer, how one act at a time, fewer prompts."""

from __future__ import annotations

from day_story import Day, taken_over

from assistant.messages import Learner, LessonGiven, Say, StepAsked
from assistant.procedure.checklist import Step

OILED = "preparation/oiled round"
WATER = "The plates must be covered, and warm water takes more room than cold."
BRAKE = "On a slope the gear is what holds her. Chocks hold when the brake slips."
PREPARED = (
    "brake on and chocked", "gear is out", "regulator shut", "drains open", "papers in date",
)  # fmt: skip


def morning(learner: Learner | None) -> Day:
    """A cold engine, the water called."""
    day = Day(learner=learner)
    day.reply("water half")
    return day


def learner_of(day: Day) -> Learner:
    learner = day.session.state.lesson.learner
    assert learner is not None
    return learner


def lessons(day: Day) -> list[tuple[str, str]]:
    return [(e.step, e.what) for _, e in day.came if isinstance(e, LessonGiven)]


def test_the_reason_comes_before_a_killer_and_once_only() -> None:
    day = morning(Learner("Ann"))
    assert f"{WATER} Both glass cocks open. Where is the water?" in day.heard
    assert f"{BRAKE} Brake on, chocked both ways, or not yet?" in day.heard
    assert ("preparation/brake and chocks", "reason") in lessons(day)
    day.silence(5.0)
    assert len(day.times_of("on a slope the gear")) == 1, "the question is put again without it"
    again = morning(learner_of(day))
    assert BRAKE not in again.heard and "Brake on, chocked both ways, or not yet?" in again.heard


def test_another_person_is_told_anew_and_nobody_else_at_all() -> None:
    assert BRAKE in morning(Learner("Bob")).heard
    nobody = morning(None)
    assert BRAKE not in nobody.heard and lessons(nobody) == []


def test_no_reason_is_longer_than_two_sentences() -> None:
    day = morning(Learner("Ann"))
    for words in (*PREPARED, "gloves are on", "blow down is shut", "valve is free"):
        day.reply(words)
    told = {step.removeprefix("preparation/") for step, what in lessons(day) if what == "reason"}
    steps: dict[str, Step] = {s.id: s for s in day.session.state.progress.steps}
    assert len(told) >= 4 and all(steps[step].killer for step in told)
    says = [e.text for _, e in day.came if isinstance(e, Say)]
    for step in told:
        said = next(text for text in says if steps[step].say.split("?")[0] in text)
        before = said.partition(steps[step].say)[0]
        assert 1 <= before.count(".") <= 3, "the reason, and a caution"


def test_how_gives_one_act_at_a_time_each_after_next() -> None:
    day = morning(Learner("Ann"))
    assert day.reply("how") == "Brake hard on."
    assert day.silence(0.5) == "", "it waits for next"
    assert day.reply("what next") == "One chock before a wheel, one behind it."
    assert day.reply("what next") == "Both tight against the wheel. That is the last."
    assert "Brake on, chocked both ways, or not yet?" in day.reply("what next")
    assert [what for _, what in lessons(day)].count("act") == 3


def test_how_is_for_everybody_and_over_with_its_step() -> None:
    day = morning(None)
    assert day.reply("show me how") == "Brake hard on."
    day.reply("brake on and chocked")
    assert "chock" not in day.reply("what next"), "the acts were of the step before"


def test_a_step_without_acts_is_told_by_its_caution_and_itself() -> None:
    day = morning(None)
    for words in PREPARED[:-1]:
        day.reply(words)
    assert day.reply("how") == "Certificate in date? That is the last."


def test_beside_a_danger_how_is_the_danger() -> None:
    day = taken_over("raising steam")
    day.reply("how")
    day.tell("2:00 no water in sight\n2:05 that's right")
    for words in ("how", "what next"):
        said = day.reply(words)
        assert "Stop the heat" in said or "Damper shut" in said, said


def test_an_overdue_reading_goes_before_the_acts() -> None:
    day = morning(Learner("Ann"))
    day.reply("fire lit")
    day.silence(20.0)
    assert "water" in day.session.state.asked
    assert "water" in day.reply("how").lower()


def told_early(learner: Learner | None) -> Day:
    """A morning on which the oil is told before it is asked."""
    day = morning(learner)
    day.reply("oiled round")
    return day


def test_what_was_told_unasked_three_times_is_asked_no_more() -> None:
    learner: Learner | None = Learner("Ann")
    for times in (1, 2, 3):
        day = told_early(learner)
        learner = learner_of(day)
        assert dict(learner.anticipated) == {OILED: times}
        assert (OILED, "anticipated") in lessons(day)
    day, plain = through_the_list(learner), through_the_list(None)
    asked = [e.step for _, e in day.came if isinstance(e, StepAsked)]
    always = [e.step for _, e in plain.came if isinstance(e, StepAsked)]
    assert "oiled round" in always
    assert (OILED, "prompt left out") in lessons(day)
    assert asked.index("oiled round") == len(asked) - 1, "at the end of its list, still open"
    assert dict(learner_of(day).anticipated) == {}, "it was left to the end: asked from now on"


def test_a_killer_told_unasked_is_always_asked() -> None:
    learner: Learner | None = Learner("Ann")
    for _ in range(4):
        day = morning(learner)
        day.reply("gear is out")  # a killer, before it is asked
        learner = learner_of(day)
    assert dict(learner.anticipated) == {}


def through_the_list(learner: Learner | None) -> Day:
    """A whole preparation but for the oil."""
    day = morning(learner)
    words = {
        "tank full": "tank is full", "filled to the cold mark": "water half",
        "gauge at zero": "pressure zero",
    }  # fmt: skip
    for _ in range(60):
        step = day.session.state.progress.next_step
        if step is None or day.phase != "preparation" or step.id == "oiled round":
            day.silence(1.2)
            step = day.session.state.progress.next_step
            if step is None or day.phase != "preparation":
                break
            if step.id == "oiled round":
                if learner is None:
                    break
                if step.id in day.session.state.progress.skipped:
                    break
                continue
        passing = [r for r in step.replies if r.passes]
        day.reply(words.get(step.id) or passing[0].spoken[0], 15.0)
    return day


def test_nothing_that_is_said_of_danger_differs_for_a_learner() -> None:
    script = (
        "0:10 fire lit\n6:00\n9:00 no water in sight\n9:10 that's right\n9:30 damper shut\n"
        "12:00 water half\n14:00 pressure ten\n20:00"
    )
    days = [morning(None), morning(Learner("Ann"))]
    alarms = []
    for day in days:
        day.tell(script)
        alarms.append([(at, e.text) for at, e in day.came if isinstance(e, Say) and e.urgency > 1])
    assert alarms[0] == alarms[1] != []
