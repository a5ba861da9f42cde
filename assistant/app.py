"""The one loop: an event in, its record, the session's effects, their record, then the deeds.

Knows the order of things and nothing of what they mean.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol

from assistant.messages import Effect, Ended, Event
from assistant.session import Session


class Book(Protocol):
    """Where events and effects are written before anything acts on them."""

    def event(self, event: Event) -> None: ...

    def effect(self, at_s: float, effect: Effect) -> None: ...

    def sync(self) -> None: ...


class Performer(Protocol):
    """Somebody who acts on effects (speaks, sounds a tone, shows, listens)."""

    def perform(self, at_s: float, effect: Effect) -> None: ...


class NoBook:
    """Keeps nothing: for replays and tests."""

    def event(self, event: Event) -> None:
        """Nothing is written."""

    def effect(self, at_s: float, effect: Effect) -> None:
        """Nothing is written."""

    def sync(self) -> None:
        """Nothing to sync."""


class Loop:
    """Hands each event to the session and its effects to the performers, by way of the book."""

    def __init__(self, session: Session, book: Book, performers: Iterable[Performer] = ()) -> None:
        self.session = session
        self._book = book
        self._performers = tuple(performers)
        self.ended: Ended | None = None

    def turn(self, event: Event) -> list[Effect]:
        """One event through the house. The book is on the disk before any effect is performed."""
        self._book.event(event)
        effects = self.session.handle(event)
        for effect in effects:
            self._book.effect(event.at, effect)
        if effects:
            self._book.sync()
        for effect in effects:
            for performer in self._performers:
                performer.perform(event.at, effect)
            if isinstance(effect, Ended):
                self.ended = effect
        return effects
