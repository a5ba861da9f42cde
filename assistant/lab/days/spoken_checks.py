"""The promises about single sentences: P2 (no proof without witnesses), P5 (no contradiction).

Words are found by patterns over what is said, so that a new wording with the same claim is found,
too. A sentence is judged by the log as it is after its own event.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from assistant.lab.days.day_log import MOVING, DayLog
from assistant.messages import Grade
from assistant.wording.alarm_words import plain

FEATHER_FROM, LIFT_TO = 0.7, 1.1  # of feather and lift: where a gauge may agree with the valve
AGREE_WITHIN_S = 900.0
GAIN = 0.005  # of the glass
FRESH_S = 120.0
OPENED_S = 900.0
LOW_MARGIN = 0.15  # of the glass over the lower mark: nobody calls that low
FAR = 0.22  # of the glass from a mark: nobody calls that near it
STEAM_FROM = 0.1  # of working pressure

Claim = tuple[str, re.Pattern[str], Callable[[DayLog], bool]]


def _feed_gained(log: DayLog) -> bool:
    """Whether the glass was called higher with a feed on than some reading before."""
    on = log.feed_runs()
    waters = [n for n in log.all_of("water") if n.number is not None]
    for begun, ended in on:
        before = [n for n in waters if n.at <= ended + FRESH_S]
        for later in before:
            if later.at <= begun:
                continue
            if any(e.at < later.at and _gains(e.number, later.number) for e in before):
                return True
    return False


def _gains(before: float | None, after: float | None) -> bool:
    return before is not None and after is not None and after - before > GAIN


def _agree(log: DayLog) -> bool:
    """Whether a gauge reading and a report of the valve, near each other, fit."""
    feather, lift = log.engine.valve_moves_gauge_pa, log.engine.valve_lifts_gauge_pa
    valves, gauges = log.all_of("valve"), log.all_of("pressure")
    return any(
        FEATHER_FROM * feather <= (g.number or 0.0) <= LIFT_TO * lift
        and abs(g.at - v.at) <= AGREE_WITHIN_S
        for v in valves[-4:]
        for g in gauges[-6:]
    )


def _over_reported(log: DayLog) -> bool:
    """Called over, now or before where it is only repeated, and no danger stands."""
    over = any(n.report.value == "over" for n in log.all_of("emergency"))
    return over and not log.dangers()


def _water_shown(log: DayLog) -> bool:
    last = log.last("water")
    fresh = last is not None and (log.at - last.at <= FRESH_S or log.corrected == "water")
    return fresh and last is not None and last.number is not None


def _above_mark(log: DayLog) -> bool:
    return _water_shown(log) and (log.number("water") or 0.0) > log.engine.glass.lower_mark


def _glass_moved(log: DayLog) -> bool:
    waters = [n.number for n in log.all_of("water") if n.number is not None]
    return len(set(waters[-3:])) > 1


def _under_lift(log: DayLog) -> bool:
    pressure = log.number("pressure")
    return pressure is not None and pressure <= log.engine.valve_lifts_gauge_pa


def _nothing_stands(log: DayLog) -> bool:
    return not log.dangers() and not log.out_of_sight


CLAIMS: tuple[Claim, ...] = (
    ("feed", re.compile(r"(?<!not )\bfeed (is |was )?(proved|proven)\b"), _feed_gained),
    ("danger over", re.compile(r"\bdanger is over\b"), _over_reported),
    ("gauge and valve", re.compile(
        r"\bno longer disagree|gauge fits the valve|gauge and valve (now )?agree"
    ), _agree),
    ("water shows", re.compile(r"\bwater (is )?in sight again|^water shows\b"), _water_shown),
    ("above the mark", re.compile(r"\bwater above the mark again"), _above_mark),
    ("glass moves", re.compile(r"\bglass moves again"), _glass_moved),
    ("under the lift", re.compile(r"\bpressure under the lift"), _under_lift),
    ("safe", re.compile(r"\b(all safe|is safe now|safe to (go|move|steam|light|stand|raise))\b"),
     _nothing_stands),
)  # fmt: skip


OFFERED = re.compile(
    r"^((in trouble|also|you can say|say|taken back|[a-z ]*open items?): |now: [^;]+;)"
)
"""A sentence that lists what may be said or is open, or what was taken back: it claims nothing."""


def unproved(log: DayLog) -> Iterator[tuple[str, str]]:
    """P2: what is said to be proved, over or settled has its witnesses."""
    for say in log.said_now():
        for sentence in sentences(say.text):
            if OFFERED.search(sentence):
                continue
            for name, words, witnessed in CLAIMS:
                if words.search(sentence) and not witnessed(log):
                    yield f"P2 {name}", f"said {say.text!r}"


PASSED = frozenset({"comes back at once", "new", "new glass proved"})  # reports of the glass

DIFFER = {"gauge and valve unsettled", "gauge and valve disagree", "valve over a dead gauge"}
"""Alarms of one trouble, of which one stands at a time."""

ENDS: tuple[tuple[re.Pattern[str], Callable[[DayLog], bool]], ...] = (
    (re.compile(r"^low water$"), lambda log: _above_mark(log) or log.out_of_sight),
    (re.compile(r"out of sight"), _water_shown),
    # with the heat stopped it goes on as a warning of its own name, and a warning as the danger
    (re.compile(r"dead gauge|valve disagree"), lambda log: (
        _agree(log) or not DIFFER.isdisjoint(log.alarms))),
    (re.compile(r"^over-pressure$"), _under_lift),
    (re.compile(r"broken"), lambda log: _another_glass(log)),
    (re.compile(r"hurt|outside$|escaping"), lambda log: _called_over(log)),
)  # fmt: skip


def _called_over(log: DayLog) -> bool:
    return any(n.at == log.at and n.report.value == "over" for n in log.all_of("emergency"))


def _another_glass(log: DayLog) -> bool:
    """A new glass was told of, or one passed its test: now, or before it was called over now."""
    broken = [n.at for n in log.all_of("emergency") if n.report.value == "glass broken"]
    tested = [n.at for n in log.all_of("glass") if n.report.value in PASSED]
    since = [at for at in tested if at >= max(broken, default=0.0)]
    return bool(since) and (since[-1] == log.at or _called_over(log))


def unfounded_end(log: DayLog) -> Iterator[tuple[str, str]]:
    """P2: a danger ends only with its witnesses, not by silence nor by another word."""
    for name, alarm in log.cleared.items():
        if alarm.grade is Grade.CAUTION or log.taken_back:
            continue
        for words, witnessed in ENDS:
            if words.search(name) and not witnessed(log):
                yield f"P2 end of {name}", f"{name} ended after {log.heard!r}"


def sentences(text: str) -> list[str]:
    """The sentences of what is said, in lower case."""
    return [part.strip().lower() for part in re.findall(r"[^.?!]+[.?!]?", text) if part.strip()]


# --- P5

LOW = re.compile(r"\bwater (is )?low\b|\blow water\b")
NONE_IN_SIGHT = re.compile(r"^no water in sight")
NEAR_LOW = re.compile(r"water near (the )?lower mark")
NEAR_TOP = re.compile(r"water near (the )?upper mark|glass full")
MINUTES = re.compile(r"minutes? to (wanted pressure|[a-z ]+(pounds|bar)\b)|to wanted pressure")
NO_MINUTES = re.compile(r"\bno\b|cannot|not\b")
FEED = re.compile(
    r"\bfeed now|feed to the|put the feed on|work the hand pump|injector on|start the feed"
    r"|feed in good time|shut the bypass"
)
COLD = re.compile(
    r"drain the glass, shut the drain|on the pin|cold mark|cold gauge|too high cold|cold fill"
)
COMMAND = re.compile(
    r"^(then: |now: )?(shut|open) the (blower|damper|regulator|drain cocks|bypass)\b(?! less\b)"
)
NUMBER = r"\b(half a|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|point \w+|\d+)"
UNITS = {
    "psi": re.compile(NUMBER + r" bars?\b|kilopascal"),  # the bars of the grate are not counted
    "bar": re.compile(r"\bpounds?\b|\bpsi\b"),
}


def _names_what_stands(log: DayLog, sentence: str) -> bool:
    """Whether it only names alarms that stand by the book: in an answer, or to the next watch."""
    names = {*log.alarms, *map(plain, log.alarms)}
    if named := re.fullmatch(r"(.+) still stands?\.", sentence):
        return set(named[1].split(", ")) <= names
    if named := re.fullmatch(r"not with a danger standing: (.+)\.", sentence):
        return named[1] in names
    if sentence[:-1] in names:
        return True  # its name alone: it was put off
    if named := re.fullmatch(r"stands?: (.+)\.", sentence):
        grades = ("warning", "caution", "danger")
        rest = named[1]
        for name in sorted(names, key=len, reverse=True):
            rest = rest.replace(name, "")
        return not set(re.findall(r"\w+", rest)) - set(grades)
    return False


def contradictions(log: DayLog) -> Iterator[tuple[str, str]]:
    """P5: nothing that is said contradicts what was last reported."""
    for say in log.said_now():
        for sentence in sentences(say.text):
            if _names_what_stands(log, sentence):
                continue
            for key in _contradicts(log, sentence):
                yield f"P5 {key}", f"said {say.text!r}; {_picture(log)}"


def _contradicts(log: DayLog, sentence: str) -> Iterator[str]:
    water, mark = log.number("water"), log.engine.glass.lower_mark
    broken = any("broken" in name for name in log.alarms)
    if water is not None and not broken:  # what is called from a broken glass witnesses nothing
        if LOW.search(sentence) and water >= mark + LOW_MARGIN:
            yield "water low"
        if NONE_IN_SIGHT.search(sentence) and "?" not in sentence:
            yield "no water in sight"
        if NEAR_LOW.search(sentence) and water >= mark + FAR:
            yield "near lower mark"
        if NEAR_TOP.search(sentence) and water <= log.engine.glass.upper_mark - FAR:
            yield "near upper mark"
    if MINUTES.search(sentence) and not NO_MINUTES.search(sentence) and _no_minutes(log):
        yield "minutes"
    unknown = log.out_of_sight or broken
    conditional = re.search(r"\bno feed|stop|in sight|only if|if your", sentence)
    if unknown and FEED.search(sentence) and not conditional:
        yield "feed"
    yield from _open_shut(log, sentence)
    pressure = log.number("pressure") or 0.0
    hot = pressure >= STEAM_FROM * log.engine.working_pressure_gauge_pa
    if hot and COLD.search(sentence):
        yield "cold words"
    if UNITS[log.dial].search(sentence) and not log.other_unit_heard:
        yield "units"


def _no_minutes(log: DayLog) -> bool:
    conflict = any("gauge" in name and "valve" in name for name in log.alarms)
    return conflict or log.out_of_sight or bool(log.dangers())


def _open_shut(log: DayLog, sentence: str) -> Iterator[str]:
    command = COMMAND.search(sentence)
    if command is None:
        return
    subject = "drains" if command[3] == "drain cocks" else command[3]
    last = log.last(subject)
    if last is None or log.at - last.at > OPENED_S:
        return
    if last.report.value == command[2]:
        yield "open or shut"


def _picture(log: DayLog) -> str:
    pressure = (log.number("pressure") or 0.0) / log.engine.working_pressure_gauge_pa
    water = log.last("water")
    level = "never called" if water is None else str(water.report.value)
    valve = log.state("valve") if log.state("valve") in MOVING else ""
    stand = ", ".join(log.alarms) or "nothing"
    return f"pressure {pressure:.2f} of working, water {level} {valve}; {stand} stands"
