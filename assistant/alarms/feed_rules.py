"""Alarm conditions for the feeds: one that gives nothing, one that gives little, none. Pure."""

from __future__ import annotations

from assistant.alarms.condition import GRAIN, LEVEL_DEADBAND, PRESSURE_DEADBAND
from assistant.alarms.inputs import AlarmInputs
from assistant.alarms.water_rules import (
    NEAR_LOWER,
    UNREAD,
    falls,
    hot,
    level_over_heat,
    tank_empty,
)
from assistant.picture.feed_fold import FailedBy
from assistant.picture.feeds import Feed
from assistant.picture.picture import Picture

FEED_SHOWS_S = 60.0  # the glass needs this long to show a feed. Judgement
TRIED_S = 300.0  # so long after it failed by a word nobody is known to feed. Judgement
FALL_WITH_FEED = 0.02  # of the glass, twice the error of a reading. Judgement


def _failing(inputs: AlarmInputs, by: FailedBy) -> Feed | None:
    """A feed that is on, and that readings of this run have shown to give nothing, or little."""
    seen = inputs.picture
    if seen is None or not hot(seen):
        return None
    return next(
        (
            feed
            for feed in seen.feeds.by_name.values()
            if feed.failed_by == by and _in_this_run(feed, seen.at)
        ),
        None,
    )


def _in_this_run(feed: Feed, at: float) -> bool:
    """Whether what is known of it was seen since it was last put on."""
    if feed.running_since is None or feed.age_s is None:
        return False
    return at - feed.age_s >= feed.running_since - GRAIN


def feed_dead(inputs: AlarmInputs, at: float) -> str | None:
    """A feed is on, and the level is no higher though it should be by now."""
    return None if _unread(inputs) else _no_gain(inputs)


def feed_weak(inputs: AlarmInputs, at: float) -> str | None:
    """A feed is on, and gave less than half of what was expected."""
    feed = None if _unread(inputs) else _failing(inputs, "little gain")
    return None if feed is None else "; ".join(feed.witnesses)


def falling_with_feed(inputs: AlarmInputs, at: float) -> str | None:
    """A reading with the feed on is clearly below the one before."""
    return None if _unread(inputs) else _falls_fed(inputs)


def _unread(inputs: AlarmInputs) -> bool:
    """Whether no level is read from the glass: it judges no feed."""
    return inputs.picture is not None and inputs.picture.water.value in UNREAD


def _no_gain(inputs: AlarmInputs) -> str | None:
    feed = _failing(inputs, "no gain")
    return None if feed is None else "; ".join(feed.witnesses)


def _falls_fed(inputs: AlarmInputs) -> str | None:
    since = None if inputs.picture is None else inputs.picture.feeds.running_since
    if since is None or falls(inputs) < FALL_WITH_FEED - GRAIN:
        return None
    last, before = inputs.water[-1], inputs.water[-2]
    if last.at < since + FEED_SHOWS_S or before.at < since - 2 * FEED_SHOWS_S:
        return None
    if _steam_taken(inputs, before.at):
        return None
    return f"water {before.value:.2f} then {last.value:.2f} with the feed on"


def _steam_taken(inputs: AlarmInputs, since: float) -> bool:
    """The valve blew or the regulator was opened, after which the level swells and falls back."""
    valve, regulator = inputs.states.get("valve"), inputs.states.get("regulator")
    blew = valve is not None and valve.value != "feathering" and valve.at >= since
    drawn = regulator is not None and regulator.value == "open" and regulator.at >= since
    return blew or drawn


def not_falling_or_unfed(inputs: AlarmInputs, at: float) -> bool:
    """No feed on, or the last level no lower: whether it gains is another alarm's."""
    seen = inputs.picture
    if seen is None or seen.feeds.running_since is None:
        return seen is not None
    numbers = inputs.number("water"), inputs.number("water", 2)
    return None not in numbers and falls(inputs) <= GRAIN


def failing_near_the_mark(inputs: AlarmInputs, at: float) -> str | None:
    """The feed that is on gives nothing, or was just said to fail and no other runs, and the water
    is within an eighth above the mark.
    """
    level, mark = level_over_heat(inputs), inputs.engine.glass.lower_mark
    if level is None or not mark + GRAIN < level <= mark + NEAR_LOWER:
        return None
    seen = inputs.picture
    if seen is None or seen.feeds.none_works:
        return None
    if _another_tried(seen) or (seen.feeds.running_since is not None and _rises(inputs)):
        return None
    failing = _falls_fed(inputs) or _no_gain(inputs) or _said_to_fail(seen)
    return failing and f"{failing}; water {level:.2f}, lower mark {mark:.2f}"


def _rises(inputs: AlarmInputs) -> bool:
    """Whether the last level is the higher of two by a deadband, or the highest of three by two."""
    now, before, first = (inputs.number("water", back) for back in (1, 2, 3))
    if now is None or before is None or now <= before + GRAIN:
        return False
    if now >= before + LEVEL_DEADBAND - GRAIN:
        return True
    return first is not None and before > first and now >= first + 2.0 * LEVEL_DEADBAND - GRAIN


def _another_tried(seen: Picture) -> bool:
    """Whether a feed was put on after the one that fails, and is not known to fail."""
    on = [(f.running_since, f.value == "failed") for f in seen.feeds.by_name.values()]
    began = [(at, failed) for at, failed in on if at is not None]
    return len({failed for _, failed in began}) == 2 and not max(began)[1]


def _said_to_fail(seen: Picture) -> str:
    """The witness for a feed that a word made fail, while no other runs; empty for none."""
    feeds = seen.feeds.by_name.values()
    if any(feed.running_since is not None and feed.value != "failed" for feed in feeds):
        return ""
    by_word = [f for f in feeds if f.failed_by == "word" and _is_tried(f)]
    return "; ".join(witness for feed in by_word for witness in feed.witnesses)


def _is_tried(feed: Feed) -> bool:
    """Whether it is on, or failed a short time ago."""
    return feed.running_since is not None or (feed.age_s or 0.0) <= TRIED_S


def gains_or_over_the_mark(inputs: AlarmInputs, at: float) -> bool:
    """The water stands well above the mark again, or the last level was higher."""
    water, before = inputs.number("water"), inputs.number("water", 2)
    if water is None or before is None:
        return False
    high = water >= inputs.engine.glass.lower_mark + NEAR_LOWER + LEVEL_DEADBAND - GRAIN
    rises = water > before + GRAIN and failing_near_the_mark(inputs, at) is None
    return high or rises or water >= before + LEVEL_DEADBAND - GRAIN


def no_feed(inputs: AlarmInputs, at: float) -> str | None:
    """Every feed that was tried has failed, with fire or steam."""
    seen = inputs.picture
    if seen is None or not hot(seen) or not seen.feeds.none_works:
        return None
    failed = seen.feeds.values("failed")
    return "; ".join(f"{name}: {', '.join(seen.feeds.by_name[name].witnesses)}" for name in failed)


def a_feed_works(inputs: AlarmInputs, at: float) -> bool:
    return inputs.picture is not None and (
        not inputs.picture.feeds.none_works or not hot(inputs.picture)
    )


def _nothing_to_feed(inputs: AlarmInputs, at: float) -> str | None:
    """No feed works, or over fire or steam there is no water to feed."""
    seen = inputs.picture
    dry = _dry(inputs, at) if seen is not None and hot(seen) else None
    return no_feed(inputs, at) or dry


def _can_feed(inputs: AlarmInputs, at: float) -> bool:
    return a_feed_works(inputs, at) and _dry(inputs, at) is None


def _dry(inputs: AlarmInputs, at: float) -> str | None:
    """The tank was called empty, and no feed was proved by the glass since."""
    called, seen = inputs.last("tank"), inputs.picture
    feeds = () if seen is None else seen.feeds.by_name.values()
    proved = (at - f.age_s for f in feeds if f.value == "proved today" and f.age_s is not None)
    if called is not None and max(proved, default=called.at) > called.at:
        return None
    return tank_empty(inputs, at)


def no_feed_and_worse(inputs: AlarmInputs, at: float) -> str | None:
    """No feed works, and the pressure rises; or none and an empty tank near the mark."""
    failed, seen = _nothing_to_feed(inputs, at), inputs.picture
    level, mark = level_over_heat(inputs), inputs.engine.glass.lower_mark
    if failed is None or seen is None or level is None or level <= mark + GRAIN:
        return None  # low water has rows of its own
    now, before = seen.gauge.pressure_pa, seen.gauge.before_pa
    least = PRESSURE_DEADBAND * inputs.engine.working_pressure_gauge_pa
    rises = now is not None and before is not None and now - before >= least * (1.0 - GRAIN)
    if rises and no_feed(inputs, at) is not None:
        return f"{failed}; pressure rising"
    near = level <= mark + NEAR_LOWER
    return f"{failed}; water {level:.2f}, lower mark {mark:.2f}" if near else None


def no_feed_but_calm(inputs: AlarmInputs, at: float) -> bool:
    """A feed works, or the pressure has come down and there is water in hand."""
    if _can_feed(inputs, at):
        return True
    seen = inputs.picture
    level, mark = level_over_heat(inputs), inputs.engine.glass.lower_mark
    if seen is None or level is None or level < mark + NEAR_LOWER + LEVEL_DEADBAND - GRAIN:
        return False
    now, before = seen.gauge.pressure_pa, seen.gauge.before_pa
    least = PRESSURE_DEADBAND * inputs.engine.working_pressure_gauge_pa
    return now is not None and before is not None and now <= before - least * (1.0 - GRAIN)


def no_feed_and_falling(inputs: AlarmInputs, at: float) -> str | None:
    """No feed works, and the water falls within an eighth above the lower mark."""
    failed = _nothing_to_feed(inputs, at)
    level, mark = level_over_heat(inputs), inputs.engine.glass.lower_mark
    if failed is None or level is None or falls(inputs) <= GRAIN:
        return None
    near = mark + GRAIN < level <= mark + NEAR_LOWER
    return f"{failed}; water {level:.2f}, lower mark {mark:.2f}" if near else None


def no_feed_but_water(inputs: AlarmInputs, at: float) -> bool:
    """A feed works, or the water stands well above the mark again."""
    water, mark = inputs.number("water"), inputs.engine.glass.lower_mark
    high = water is not None and water >= mark + NEAR_LOWER + LEVEL_DEADBAND - GRAIN
    return _can_feed(inputs, at) or high
