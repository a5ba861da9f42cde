"""The one loop: an event in, its record, the session's effects, their record, then the deeds.

Knows the order of things and nothing of what they mean.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol

from assistant.errors import WorldFailedError
from assistant.messages import Effect, Ended, Event, Say, Urgency
from assistant.session import Session
from assistant.talk.walking import book_back, book_lost

Entry = Event | tuple[float, Effect]


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
    """Hands each event to the session and its effects to the performers, by way of the book.

    A book that cannot be written (a full disk) is told once, aloud; the steam-up goes on, and what
    could not be written is kept and written, in its order, as soon as there is room again.
    """

    def __init__(self, session: Session, book: Book, performers: Iterable[Performer] = ()) -> None:
        self.session = session
        self._book = book
        self._performers = tuple(performers)
        self._unwritten: list[Entry] = []
        self.book_lost = False
        self.ended: Ended | None = None

    @property
    def unwritten(self) -> int:
        """How many records wait for room on the disk."""
        return len(self._unwritten)

    def turn(self, event: Event) -> list[Effect]:
        """One event through the house. The book is on the disk before any effect is performed."""
        effects = self.session.handle(event)
        self._unwritten += [event, *((event.at, effect) for effect in effects)]
        told = self._write(sync=bool(effects))
        for effect in (*told, *effects):
            for performer in self._performers:
                performer.perform(event.at, effect)
            if isinstance(effect, Ended):
                self.ended = effect
        return effects

    def _write(self, sync: bool) -> list[Effect]:
        """Write what is waiting; what is to be told of the book itself."""
        was_lost, self.book_lost = self.book_lost, False
        try:
            while self._unwritten:
                self._enter(self._unwritten[0])
                del self._unwritten[0]
            if sync or was_lost:
                self._book.sync()
        except WorldFailedError:
            self.book_lost = True
        if self.book_lost == was_lost:
            return []
        return [Say(book_lost() if self.book_lost else book_back(), Urgency.ALARM)]

    def _enter(self, entry: Entry) -> None:
        if isinstance(entry, tuple):
            self._book.effect(*entry)
        else:
            self._book.event(entry)
