"""Whether the water was out of sight over heat, or the boiler let go, and what has been done about
it since. Pure.

Folded from the reports in their order, so that replay, resume and a retracted report agree. Water
that shows again ends neither: the plates may have been bare, and the level may be a false one. No
more does a word that the danger is over: what let go is still open. A person who looked at her ends
it; no plug is examined under steam, and a word of it counts only of a cold boiler.
"""

from __future__ import annotations

from dataclasses import dataclass

from assistant.boiler.figures import Engine
from assistant.messages import LOOKED_AT, OUT_OF_SIGHT, Report
from assistant.picture.failed_valve import FailedValve
from assistant.picture.heat import Heat
from assistant.picture.readings import Reading, level_step, reading_of
from assistant.picture.report_log import ReportLog, TimedReport, began_warm
from assistant.procedure.emergency import EMERGENCY

FAILURES = frozenset(
    {
        "plug has gone",
        "tube has burst",
        "water in the firebox",
        "plate is red hot",
        "engine is over",
    }
)
# calls after which she is looked at before the next fire, with heat or without. Common practice
WATER_LOST = "no water in sight"
STUCK = "safety valve is stuck"  # the call
FAILED_AT_LIFT = "valve failed at the lift"
WEEPING = Report("firebox", "weeping")
WEEPS = "firebox weeping"  # plug, stay or tube end: what weeps cold opens hot. Common practice
LEAKING, LEAKS = Report("boiler", "leaking"), "boiler leaks"  # a door or a plug of the shell
FED = frozenset({WEEPS, LEAKS, FAILED_AT_LIFT})  # the water is kept up with these
BLOWN_THROUGH = Report("glass", "comes back at once")
APART_S = 60.0  # between two levels that bear each other out. Judgement
COOLED_S = 6 * 3600.0  # from the last word of heat: she is cold by herself. Judgement
HEAT_TOLD = frozenset({"fire", "pressure", "valve"})
MADE = frozenset({"lit", "built", "coal"})  # reports of a fire that is made or made up
KEPT_IN = frozenset({"banked", "burning alone"})  # fires that last the night
GRAIN = 1e-6


@dataclass(frozen=True, slots=True)
class Lost:
    """Why a boiler is to be looked at before she is steamed again."""

    at: float
    """From when [s]."""
    by: str
    """No water in sight, the emergency that was called, a valve that failed, a leak."""

    @property
    def forbids_feed(self) -> bool:
        """Whether the plates may be bare, or what let go is open: not where it only weeps."""
        return self.by not in FED


def is_looked_at(report: Report) -> bool:
    """Whether a person says that the boiler was looked at, with a name or without; never concluded.

    >>> is_looked_at(Report("boiler", "looked at by Ann")), is_looked_at(Report("boiler", "tight"))
    (True, False)
    """
    return report.what == "boiler" and str(report.value).startswith(LOOKED_AT)


def lost(reports: ReportLog, engine: Engine, warm_since: float | None = None) -> Lost | None:
    """Since when and why she is not to be steamed; None: never lost, or looked at since."""
    return _followed(reports, engine, warm_since).lost


def lost_since(reports: ReportLog, engine: Engine, warm_since: float | None = None) -> float | None:
    """Since when she is not to be steamed [s]; None: never lost, or looked at since."""
    found = lost(reports, engine, warm_since)
    return None if found is None else found.at


def may_be_examined(
    reports: ReportLog, engine: Engine, at: float, warm_since: float | None = None
) -> bool:
    """Whether a boiler that is to be looked at is cold enough for it now: a word of it counts."""
    return _followed(reports, engine, warm_since).may_be_examined(at)


def doubted_since(
    reports: ReportLog, engine: Engine, warm_since: float | None = None
) -> float | None:
    """Since when a level that shows is doubted [s]; None when it is not.

    From out of sight over heat until the glass was blown through and two levels a minute apart
    agree.
    """
    name = f"doubted water {warm_since}"
    return reports.once(name, lambda log: _doubted(log, engine, began_warm(log, warm_since)))


class _Following:
    """What was lost, as far as the reports have come."""

    def __init__(self, engine: Engine, warm: bool) -> None:
        self.lost: Lost | None = None
        self._heat, self._valve = Heat(engine, warm), FailedValve(engine)
        self._weeps = self._leaks = self._banked = False
        self._at_rest = False  # the gauge, called since it was lost
        self._unseen = False  # no water in sight when it was last called
        self._hot_at: float | None = 0.0 if warm else None  # the last report that tells of heat

    def hear(self, timed: TimedReport) -> None:
        """The next report."""
        report, at = timed.report, timed.at
        if report.what == WEEPING.what:
            self._weeps = report == WEEPING
        elif is_looked_at(report) and self.may_be_examined(at):
            self.lost, self._weeps, self._leaks = None, False, False
        elif report.what == LEAKING.what and not is_looked_at(report):
            self._leaks = report == LEAKING
        self._heat.hear(report)
        if self._heat.hot and report.what in HEAT_TOLD:
            self._hot_at = at
        if report.what == "pressure":
            self._at_rest = not self._heat.pressed
        elif report.what == "fire":
            self._banked = report.value in KEPT_IN
        if report.what == "water":
            self._unseen = report.value == OUT_OF_SIGHT
        lit = report.what == "fire" and report.value in MADE and self._unseen
        by, failed = _by(report, self._heat.hot), self._valve.hear(timed)
        by = WATER_LOST if lit else by
        if failed or report == Report(EMERGENCY, STUCK):
            by = FAILED_AT_LIFT
        if (
            by
            and (by not in FED or self.lost is None)
            and (self.lost is None or not self.lost.forbids_feed)
        ):
            self._lose(at, by)
        elif self._weeps and self._heat.hot and self.lost is None:
            self._lose(at, WEEPS)
        elif self._leaks and self._heat.hot and self.lost is None:
            self._lose(at, LEAKS)

    def may_be_examined(self, at: float) -> bool:
        """Whether she is cold: never hot; fire out and the gauge at rest since; or long left."""
        if self._hot_at is None:
            return True
        if at - self._hot_at >= COOLED_S and not self._banked:
            return True
        return not self._heat.hot and (self._at_rest or self.lost is None)

    def _lose(self, at: float, by: str) -> None:
        self.lost, self._at_rest = Lost(at, by), False


def _followed(reports: ReportLog, engine: Engine, warm_since: float | None) -> _Following:
    name = f"lost water {warm_since}"
    return reports.once(name, lambda log: _follow(log, engine, began_warm(log, warm_since)))


def _follow(reports: ReportLog, engine: Engine, warm: bool) -> _Following:
    following = _Following(engine, warm)
    for timed in reports:
        following.hear(timed)
    return following


def _by(report: Report, hot: bool) -> str:
    """By what this report makes her a boiler to be looked at; empty: by nothing."""
    if report == Report("water", OUT_OF_SIGHT):
        return WATER_LOST if hot else ""
    return str(report.value) if report.what == EMERGENCY and report.value in FAILURES else ""


def _doubted(reports: ReportLog, engine: Engine, warm: bool) -> float | None:
    heat, step = Heat(engine, warm), level_step(reports, engine)
    doubted_at: float | None = None
    blown, unseen, levels = False, False, list[Reading]()
    for timed in reports:
        report = timed.report
        heat.hear(report)
        if report.what == "water":
            unseen = report.value == OUT_OF_SIGHT
            if unseen:
                if heat.hot or doubted_at is not None:
                    doubted_at = timed.at if doubted_at is None else doubted_at
                    blown, levels = False, []
            elif (reading := reading_of(timed, engine)) is not None:
                levels.append(reading)
        elif report.what == "glass":
            blown = blown or report == BLOWN_THROUGH
        elif report.what == "fire" and report.value in MADE and unseen and doubted_at is None:
            doubted_at, blown, levels = timed.at, False, []
        if doubted_at is not None and blown and _agree(levels, step):
            doubted_at = None
    return doubted_at


def _agree(levels: list[Reading], step: float) -> bool:
    """Whether the last level is borne out by the last one at least a minute before it."""
    if not levels or levels[-1].value is None:
        return False
    last = levels[-1]
    earlier = [r.value for r in levels if r.value is not None and last.at - r.at >= APART_S]
    return bool(earlier) and abs((last.value or 0.0) - earlier[-1]) <= step + GRAIN
