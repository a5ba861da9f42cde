"""One practice judged: when its fault showed and was told, false alarms, rates. Pure."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.alarms.condition import PRESSURE_DEADBAND
from assistant.lab.alarms.alarm_day import AlarmDay
from assistant.lab.alarms.alarm_truth import is_false
from assistant.lab.alarms.called import Called
from assistant.lab.alarms.fault_names import TROUBLES
from assistant.messages import Grade, Report
from assistant.procedure.scale import measure

UPSET_S = 600.0  # "the ten minutes after an upset"
_CHATTER_TIMES, _CHATTER_S = 3, 60.0
_TICK_S = 10.0  # between two looks of the watch
_SETTLES_S = 60.0  # after the second right reading a false danger is to be over
_RIGHT_AGAIN = 2  # readings that end an alarm of the water, as the table of alarms has it

Raised = tuple[float, str, bool]  # when [s], its name, whether it is a danger


@dataclass(frozen=True, slots=True)
class Verdict:
    """What is counted of one practice; times in seconds of its own clock."""

    fault: str
    operator: str
    engine: str
    seed: int
    seconds: float
    ended: str
    shown: tuple[float, ...]
    """The first two reports by which a careful person knows the fault, of those that are right."""
    told_at: float | None
    """When it was first named, if it was."""
    raised: tuple[Raised, ...]
    false: tuple[Raised, ...]
    """Those that the truth denies; on healthy days only."""
    unjudged: tuple[str, ...]
    """Alarms for which no truth is written down."""
    outliving: int
    """False dangers that outlive the correction of a wrong reading."""
    mark_at: float | None
    """When the true water reached the lower mark after the fault began."""
    unseen_s: float | None
    """From the last call of the water to the mark, where most of that fall was a loss that no
    report shows; None: it was not."""
    danger_at: float | None
    """The first danger after the fault began, or that stood when it did."""
    danger_due_at: float | None
    """Two intervals after the last call of the water."""
    after_upset: int | None
    """Alarms in the ten minutes after the fault began; None without one."""
    standing: float
    """Alarms standing, on average."""
    most_standing: int
    chattering: tuple[str, ...]
    """Raised three times within a minute."""
    errors: int

    @property
    def name(self) -> str:
        """Which practice it was."""
        return f"{self.engine}, {self.fault or 'healthy'}, {self.operator}, seed {self.seed}"

    @property
    def in_time(self) -> bool:
        """Told by the second report that shows it; by the end where there was no second."""
        if not self.shown or self.told_at is None:
            return False
        return len(self.shown) < 2 or self.told_at <= self.shown[1]

    @property
    def wait_s(self) -> float | None:
        """From showing to telling; 0 where it was told before."""
        if not self.shown or self.told_at is None:
            return None
        return max(self.told_at - self.shown[0], 0.0)

    @property
    def is_danger_before_mark(self) -> bool:
        """A danger by the time the water reached the lower mark; or it never came so low."""
        if self.mark_at is None:
            return True
        return self.danger_at is not None and self.danger_at <= self.mark_at

    @property
    def is_mark_unseen(self) -> bool:
        """No danger by the mark, and no report shows the loss that brought the water there."""
        return not self.is_danger_before_mark and self.unseen_s is not None

    @property
    def is_danger_in_two_intervals(self) -> bool:
        """A danger by two intervals after the last call of the water."""
        due, began = self.danger_due_at, self.danger_at
        return due is not None and began is not None and began <= due

    @property
    def most_in_ten_minutes(self) -> int:
        """Alarms in the fullest ten minutes."""
        times = [at for at, _, _ in self.raised]
        return max((sum(0 <= t - at <= UPSET_S for t in times) for at in times), default=0)


def judge(day: AlarmDay, engine: str) -> Verdict:
    """The whole verdict. engine: the stem of its file."""
    raised = tuple(
        (at, change.name, change.grade is Grade.DANGER)
        for at, change in day.alarms
        if change.state == "raised"
    )
    false, unjudged = _judged(day, raised)
    begun = day.begun_at if day.fault else None
    shown, told = _shown_and_told(day, begun) if begun is not None else ((), None)
    upset = shown[0] if begun == 0.0 and shown else begun  # there from cold: from when it shows
    standing, most = _standing(day)
    # A silent operator is judged on healthy days, too: from when he falls silent.
    since = begun if begun is not None else day.trouble_at
    mark_at = _mark_at(day, since)
    return Verdict(
        day.fault, day.operator, engine, day.seed, day.seconds, day.ended, shown, told, raised,
        false, unjudged, _outliving(day, false),
        mark_at, _unseen_s(day, mark_at, shown), _danger_at(day, raised, since),
        _danger_due_at(day),
        sum(upset <= at <= upset + UPSET_S for at, _, _ in raised) if upset else None,
        standing, most, _chattering(raised), len(day.errors),
    )  # fmt: skip


def _first(times: list[float], since: float | None) -> float | None:
    return next((at for at in times if since is not None and at >= since), None)


def _danger_at(day: AlarmDay, raised: tuple[Raised, ...], since: float | None) -> float | None:
    dangers = {name for _, name, danger in raised if danger}
    stood = any(
        begin < since < end and name in dangers
        for begin, end, name in _spans(day)
        if since is not None
    )
    return since if stood else _first([at for at, _, danger in raised if danger], since)


def _danger_due_at(day: AlarmDay) -> float | None:
    called = [at for at, report in day.reports if report.what == "water"]
    return max(called) + 2.0 * day.engine.water_interval_s + _TICK_S if called else None


def _mark_at(day: AlarmDay, since: float | None) -> float | None:
    mark = day.engine.glass.lower_mark
    return _first([each.at for each in day.truth if each.height <= mark], since)


def _unseen_s(day: AlarmDay, mark_at: float | None, shown: tuple[float, ...]) -> float | None:
    """The loss that is the greater part of the fall from the last call of the water to the mark."""
    called = [at for at, report in day.reports if report.what == "water"]
    if mark_at is None or not called or (shown and shown[0] <= max(called)):
        return None
    then = next(each for each in day.truth if each.at >= max(called))
    now = next(each for each in day.truth if each.at >= mark_at)
    litres = [litre for _, litre in day.engine.glass.points]
    lost = (now.lost_kg - then.lost_kg) / (litres[-1] - litres[0])
    return mark_at - max(called) if lost >= 0.5 * (then.height - now.height) > 0.0 else None


def _judged(
    day: AlarmDay, raised: tuple[Raised, ...]
) -> tuple[tuple[Raised, ...], tuple[str, ...]]:
    if day.fault:
        return (), ()
    denied = [(one, is_false(day, one[1], one[0])) for one in raised]
    return (
        tuple(one for one, false in denied if false),
        tuple(sorted({one[1] for one, false in denied if false is None})),
    )


def _shown_and_told(day: AlarmDay, begun: float) -> tuple[tuple[float, ...], float | None]:
    trouble = TROUBLES[day.fault]
    right = [each for each in day.reports if (each[0], each[1].what) not in day.misread]
    shown = [at for at in trouble.shows(Called(day.engine, right)) if at >= begun]
    named = [
        at for at, change in day.alarms
        if change.state == "raised" and change.name in trouble.alarms and at >= begun
    ]  # fmt: skip
    named += [at for at, text in day.said if at >= begun and trouble.is_named_in(text)]
    return tuple(sorted(set(shown))[:2]), min(named, default=None)


def _spans(day: AlarmDay) -> list[tuple[float, float, str]]:
    """From when until when each alarm stood."""
    spans, open_since = [], {}
    for at, change in day.alarms:
        if change.state == "raised":
            open_since[change.name] = at
        elif change.state == "cleared" and change.name in open_since:
            spans.append((open_since.pop(change.name), at, change.name))
    return spans + [(at, day.seconds, name) for name, at in open_since.items()]


def _standing(day: AlarmDay) -> tuple[float, int]:
    spans = _spans(day)
    total = sum(end - begin for begin, end, _ in spans)
    most = max((sum(b <= at < e for b, e, _ in spans) for at, _, _ in spans), default=0)
    return total / max(day.seconds, 1.0), most


def _chattering(raised: tuple[Raised, ...]) -> tuple[str, ...]:
    names = set()
    for at, name, _ in raised:
        near = [t for t, other, _ in raised if other == name and 0.0 <= t - at <= _CHATTER_S]
        if len(near) >= _CHATTER_TIMES:
            names.add(name)
    return tuple(sorted(names))


def _outliving(day: AlarmDay, false: tuple[Raised, ...]) -> int:
    """False dangers still standing a minute after the second right reading running of the gauge
    that was misread before them. A gauge called at the lift takes no pressure over it back.
    """
    spans, count = _spans(day), 0
    for at, name, is_danger in false:
        wrong = [each for each in day.misread if each[0] <= at]
        if not is_danger or not wrong:
            continue
        corrected_at = _corrected_at(day, *wrong[-1])
        if corrected_at is None:
            continue
        over_by = corrected_at + _SETTLES_S
        count += any(begin == at and n == name and end > over_by for begin, end, n in spans)
    return count


def _corrected_at(day: AlarmDay, misread_at: float, what: str) -> float | None:
    """When a misreading was taken back by right readings, so many running [s]; None: never."""
    running = 0
    for then, report in day.reports:
        if then <= misread_at or report.what != what:
            continue
        wrong = (then, what) in day.misread or _at_the_lift(day, report)
        running = 0 if wrong else running + 1
        if running == _RIGHT_AGAIN:
            return then
    return None


def _at_the_lift(day: AlarmDay, report: Report) -> bool:
    if report.what != "pressure":
        return False
    called_pa = measure(report, day.engine)
    under_pa = PRESSURE_DEADBAND * day.engine.working_pressure_gauge_pa
    return called_pa is not None and called_pa > day.engine.valve_lifts_gauge_pa - under_pa
