"""Between the session's thread and the server's: the latest picture one way, presses the other.

Knows the session; no network. What fails here stops neither: the session goes on without a board.
"""

from __future__ import annotations

import json
import threading
from collections.abc import Callable, Iterable

from assistant.board.picture_json import Told, picture_json
from assistant.dialogue.session import Session
from assistant.dialogue.session_config import SessionConfig
from assistant.messages import Effect, Event, Heard, Say, Urgency

Press = Callable[[str, str], None]
"""Takes what was pressed, and on which screen."""
EVERY_S = 1.0  # a picture at least so often while somebody looks
LOOKED_WITHIN_S = 15.0


class Hub:
    """The picture as text, made in the session's thread after an event, read from any other.

    press: what a press does; it must not block. at: when it is [s since the session began], for a
    session that goes on after a break; None: when its last event was.
    """

    def __init__(
        self, config: SessionConfig, session: Session, press: Press, at: float | None = None
    ) -> None:
        self._config, self._session = config, session
        self.press = press
        self._told = Told()
        self._lock = threading.Lock()
        self._wakers: list[Callable[[], None]] = []
        self._text = ""
        self._made_at = float("-inf")
        self._looked = threading.Event()
        self.trouble = ""
        """Why the picture cannot be made; empty while it can."""
        self._make(session.state.at if at is None else at)

    def follow(self, event: Event, effects: Iterable[Effect]) -> None:
        """After each event: keep what was said and heard, and make the picture anew."""
        changed = False
        if isinstance(event, Heard) and event.text:
            self._told = Told(self._told.wanted, event.text)
        for effect in effects:
            changed = True
            if isinstance(effect, Say) and effect.urgency is Urgency.PROMPT:
                self._told = Told(effect.text, self._told.heard)
        stale = event.at - self._made_at >= EVERY_S and self._looked.is_set()
        if changed or stale:
            self._looked.clear()
            self._make(event.at)

    def _make(self, at: float) -> None:
        try:
            made = picture_json(self._config, self._session.state, at, self._told)
            text = json.dumps(made, allow_nan=False)
            self.trouble = ""
        except Exception as fault:
            self.trouble = f"{type(fault).__name__}: {fault}"
            return
        with self._lock:
            self._text, self._made_at = text, at
            wakers = list(self._wakers)
        for wake in wakers:
            wake()

    def picture(self) -> str:
        """The latest picture, as JSON."""
        self._looked.set()
        with self._lock:
            return self._text

    def on_change(self, wake: Callable[[], None]) -> Callable[[], None]:
        """Have a function called after each new picture, from the session's thread.

        Returns what ends that.
        """
        with self._lock:
            self._wakers.append(wake)

        def end() -> None:
            with self._lock:
                if wake in self._wakers:
                    self._wakers.remove(wake)

        return end
