"""Is the microphone alive? Counts its blocks and their silence. Knows no card and no thread.

On real sound servers a microphone dies in three ways: blocks stop; the server silently moves the
stream to another source when the chosen one is unplugged, perhaps to the speaker's own output; or
blocks go on as exact zeros. So blocks alone prove nothing, and `probe` (can the chosen one still be
opened?) is called about once a second. Exact zeros count only for a microphone that gave none
before: some microphones gate themselves between words.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

NO_BLOCKS_S = 1.5  # with a check every 0.2 s the loss is reported within 2 s
PROBE_EVERY_S = 0.6
PROBES = 2  # so many failures in a row, at successive checks: a server may be busy once
OPENING_S = 3.0  # the first block may take this long after opening (a suspended server)
UNGATED_S = 20.0  # no exact zeros for this long: the microphone does not gate itself
MUTED_S = 1.5

MUTED = "it gives only digital silence; is it muted or unplugged?"
GONE = "it is gone and cannot be opened"
STOPPED = "sound stopped coming from it"
NEVER_CAME = "no sound has come from it since it was opened"


class Watchdog:
    """Fed with every block through `block`, polled through `check`; all times are of one clock [s].

    probe: True when the device can still be opened, or is present but busy.
    lost: the device is given up for now, for `reason`. gone: it must be opened again.
    """

    def __init__(self, probe: Callable[[], bool], opened_s: float, lost: bool = False) -> None:
        self._probe = probe
        self.lost = lost
        self.reason = ""
        self.opened(opened_s)

    @property
    def gone(self) -> bool:
        """Lost, and not because it is muted."""
        return self.lost and self.reason != MUTED

    def opened(self, at_s: float) -> None:
        """The device was opened (again); a lost one counts as back at its next block."""
        self._opened_s = at_s
        self._lost_stream = False  # the stream in use is the one that was lost
        self._last_block_s: float | None = None
        self._zeros_since_s: float | None = None
        self._sound_since_s: float | None = None
        self._probed_s = at_s
        self._failed_probes = 0
        self._may_gate = True  # exact zeros may be the microphone's own noise gate

    def block(self, at_s: float, loudest: float) -> None:
        """A block came whose largest sample was `loudest` (0: digital silence)."""
        self._last_block_s = at_s
        if loudest == 0.0:
            self._zeros_since_s = at_s if self._zeros_since_s is None else self._zeros_since_s
            self._sound_since_s = None
            return
        self._zeros_since_s = None
        self._sound_since_s = at_s if self._sound_since_s is None else self._sound_since_s
        if at_s - self._sound_since_s >= UNGATED_S:
            self._may_gate = False

    def check(self, at_s: float) -> Literal["lost", "back"] | None:
        """What has changed, if anything."""
        trouble = self._trouble(at_s)
        if trouble and not self.lost:
            self.lost, self.reason, self._lost_stream = True, trouble, True
            return "lost"
        if self.lost and not trouble and self._sound_is_back:
            self.lost, self.reason = False, ""
            return "back"
        return None

    @property
    def _sound_is_back(self) -> bool:
        """Whether sound comes from a stream opened since the loss, or the old one was only muted.

        The lost stream may have been moved to another source, or be about to end.
        """
        return self._last_block_s is not None and not (self._lost_stream and self.gone)

    def _trouble(self, at_s: float) -> str:
        if self._last_block_s is None:
            return NEVER_CAME if at_s - self._opened_s > OPENING_S else ""
        if at_s - self._last_block_s > NO_BLOCKS_S:
            return STOPPED
        silent_s = 0.0 if self._zeros_since_s is None else at_s - self._zeros_since_s
        if silent_s > MUTED_S and not self._may_gate:
            return MUTED
        return GONE if self._unplugged(at_s) else ""

    def _unplugged(self, at_s: float) -> bool:
        if self._failed_probes or at_s - self._probed_s >= PROBE_EVERY_S:
            self._probed_s = at_s
            self._failed_probes = 0 if self._probe() else self._failed_probes + 1
        return self._failed_probes >= PROBES
