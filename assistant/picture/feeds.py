"""The feeds as they stand: tried, proved, failed, running. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from assistant.picture.feed_fold import FailedBy, FeedsTold, Run, Tried, feeds_told
from assistant.picture.feed_names import FeedName, delivery_per_s
from assistant.picture.feed_proof import Proof, tells_after_s
from assistant.picture.given import Given
from assistant.picture.part import ago
from assistant.picture.readings import level_step

FeedState = Literal["untried", "taken", "proved today", "failed", "running"]


@dataclass(frozen=True, slots=True)
class Feed:
    """One feed."""

    value: FeedState
    """The gravest that is known of it; one that failed or is proved may run as well."""
    running_since: float | None
    """From when it runs [s]; None: it does not, as far as is known."""
    proof: Proof | None
    """Of its last run by the glass; None: no reading tells of it yet."""
    look_again_s: float | None
    """In how long a reading will tell [s]; None: it has told, or the feed does not run."""
    age_s: float | None
    """How long ago its state was told or proved [s]; None: never."""
    witnesses: tuple[str, ...]
    failed_by: FailedBy = ""
    """By what it failed: a word, or readings that showed no gain, or too little."""


@dataclass(frozen=True, slots=True)
class Feeds:
    """All feeds of the engine."""

    by_name: Mapping[FeedName, Feed]
    working: FeedName | None
    """One that was tried and has not failed, proved ones first."""
    none_works: bool
    """Whether every feed that was tried has failed, and one was tried; one that gives little does
    not count as failed."""
    running_since: float | None
    """From when any of them runs [s]."""
    may_run_since: float | None = None
    """From when one was told to run, by no name, while a pump has stopped with the engine [s]."""

    def values(self, value: FeedState) -> tuple[FeedName, ...]:
        """The names of the feeds in a state."""
        return tuple(name for name, feed in self.by_name.items() if feed.value == value)


def feeds_of_engine(given: Given) -> Feeds:
    """The feeds now."""
    fold = feeds_told(given)
    feeds = {name: _feed(given, fold, name, tried) for name, tried in fold.feeds.items()}
    by_state = {feed.value: name for name, feed in reversed(feeds.items())}
    works: tuple[FeedState, ...] = ("proved today", "running", "taken")
    working = next((by_state[state] for state in works if state in by_state), None)
    running = [feed.running_since for feed in feeds.values() if feed.running_since is not None]
    little = any(feed.failed_by == "little gain" for feed in feeds.values())
    none_works = "failed" in by_state and working is None and not little
    since = min(running, default=None)
    return Feeds(feeds, working, none_works, since, fold.may_run_since)


def _feed(given: Given, fold: FeedsTold, name: FeedName, tried: Tried) -> Feed:
    run = next((r for r in fold.runs if r.feed == name and r.ended is None), None)
    times = (tried.failed_at, tried.proved_at, run.began if run else None, tried.taken_at)
    values: tuple[FeedState, ...] = ("failed", "proved today", "running", "taken")
    found = ((value, at) for value, at in zip(values, times, strict=True) if at is not None)
    untried: tuple[FeedState, float | None] = "untried", None
    value, at = next(found, untried)
    age_s = None if at is None else given.at - at
    return Feed(
        value,
        None if run is None else run.began,
        tried.proof,
        _look_again_s(given, name, run, tried),
        age_s,
        _witnesses(given, name, run, tried, age_s),
        tried.failed_by,
    )


def _look_again_s(given: Given, name: FeedName, run: Run | None, tried: Tried) -> float | None:
    if run is None or tried.proof in ("yes", "no"):
        return None
    step = level_step(given.reports, given.engine)
    began = run.levels[0].at if run.levels else given.at
    after_s = tells_after_s(step, delivery_per_s(given.engine, name))
    return max(max(began, run.began) + after_s - given.at, 0.0)


def _witnesses(
    given: Given, name: FeedName, run: Run | None, tried: Tried, age_s: float | None
) -> tuple[str, ...]:
    found = [tried.words] if tried.words else []
    if run is not None:
        found.append(f"{name} on, {ago(given.at - run.began)}")
    if tried.words and run is None and age_s is not None:
        found[0] = f"{tried.words}, {ago(age_s)}"
    return tuple(found)
