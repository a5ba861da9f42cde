"""A session fed with the events of its journal: the same for going on with it and for replaying it.

Knows events and the end of a session; reads no file.
"""

from __future__ import annotations

from assistant.dialogue.session import Session
from assistant.dialogue.state import SessionState
from assistant.messages import Effect, Event, Resumed


class ReplayedSession:
    """A session that goes on where it was before its end when it is resumed after that.

    A signal (Ctrl-C, a closed terminal, a machine that is shut down) ends a session in order, and
    yet the fire burns on: what goes on is the session as it was then.
    """

    def __init__(self, session: Session) -> None:
        self.session = session
        self._before_end: SessionState | None = None

    def handle(self, event: Event) -> list[Effect]:
        """The effects of the next event of the journal."""
        if isinstance(event, Resumed):
            self.reopen()
        before = self.session.state
        effects = self.session.handle(event)
        if self.session.state.clock.over and not before.clock.over:
            self._before_end = before
        return effects

    def reopen(self) -> None:
        """Undo the end, if it has ended."""
        if self._before_end is not None:
            self.session.state, self._before_end = self._before_end, None
