"""--board: the board beside a run or a practice."""

from __future__ import annotations

import argparse
import socket
import time
from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path

from assistant.board.certificate import kept_certificate
from assistant.board.hub import Hub, Press
from assistant.board.key_file import KeyFile
from assistant.board.keys import Keys
from assistant.board.server import LOOPBACK, USUAL_PORT, Place, Server
from assistant.commands.output import Out
from assistant.config import paths
from assistant.dialogue.session import Session
from assistant.dialogue.session_config import SessionConfig
from assistant.errors import InputWrongError, WorldFailedError
from assistant.journal.lock import lock_name
from assistant.messages import PRESSED, Effect, Event, Heard
from assistant.recogniser.typed_recogniser import hear_typed

Follow = Callable[[Event, list[Effect]], None]
NOWHERE = ("192.0.2.1", 9)  # a documentation address (RFC 5737): nothing is sent to it


@dataclass(frozen=True, slots=True)
class Book:
    """The book of a run, which its board's keys belong to."""

    path: Path
    engine_name: str
    resumed: bool
    """Whether the run goes on with it."""
    at: float
    """When the run begins [s since the session began]."""


def add(parser: argparse.ArgumentParser) -> None:
    """--board and what belongs to it."""
    parser.add_argument(
        "--board", action="store_true", help="a page on this machine: the picture, and presses"
    )
    parser.add_argument(
        "--board-port", type=int, metavar="N", help=f"its port ({USUAL_PORT}); 0: any"
    )
    parser.add_argument(
        "--board-for", choices=["lan"],
        help="lan: https for a tablet in the same net, with an address and a code to scan",
    )  # fmt: skip


def wanted(given: argparse.Namespace) -> bool:
    """Whether a board was asked for."""
    return bool(given.board or given.board_for or given.board_port is not None)


def port_of(given: argparse.Namespace) -> int:
    """The port asked for; InputWrongError when it is none."""
    port = USUAL_PORT if given.board_port is None else int(given.board_port)
    if not 0 <= port <= 65535:
        raise InputWrongError(f"--board-port: {port} is no port (0 to 65535)")
    return port


def open_board(
    given: argparse.Namespace,
    out: Out,
    stack: ExitStack,
    config: SessionConfig,
    session: Session,
    press: Press,
    book: Book | None = None,
) -> Follow:
    """What keeps a board that serves up to date; nothing is done where none was asked for.

    book: None for a session that is never gone on with. Raises WorldFailedError where it cannot
    serve at all.
    """
    if not wanted(given):
        return lambda event, effects: None
    port = port_of(given)
    hub = Hub(config, session, press, None if book is None else book.at)
    host = _host_in_net() if given.board_for == "lan" else LOOPBACK
    certificate = None
    if given.board_for == "lan":
        certificate = kept_certificate(paths.home_folder() / "board", host)
    keys = Keys(time.monotonic) if book is None else _keys_of(book, out)
    server = Server(hub, Place(host, port, certificate), out.tell, keys)
    stack.callback(server.close)
    out.tell(f"board: {server.address}?key={server.keys.run_key}")
    if certificate is not None:
        out.tell(f"board: certificate, SHA-256: {certificate.fingerprint}")
        pairing = f"{server.address}?code={server.keys.pairing_code()}"
        out.tell(f"board: once, within ten minutes: {pairing}")
        _show_code(pairing, out)
    return _telling_of_trouble(hub, out)


def _telling_of_trouble(hub: Hub, out: Out) -> Follow:
    """Follow the session, and tell once of a picture that cannot be made: it is old then."""
    told = ""

    def follow(event: Event, effects: list[Effect]) -> None:
        nonlocal told
        hub.follow(event, effects)
        if hub.trouble and hub.trouble != told:
            out.tell(f"board: what it shows is old: {hub.trouble}")
        told = hub.trouble

    return follow


def _keys_of(book: Book, out: Out) -> Keys:
    """New keys for a new book, those of before for one that is gone on with."""
    name = lock_name(book.engine_name).removesuffix(".lock") + ".board"
    file = KeyFile(book.path.with_name(name), book.path.name)
    keys = Keys(time.monotonic, file.kept() if book.resumed else None, file.keep)
    try:
        file.keep(keys.kept)
    except WorldFailedError as trouble:
        out.tell(f"board: an open page will not come back after a break: {trouble}")
    return keys


def _show_code(text: str, out: Out) -> None:
    """The address as a QR code, in characters."""
    import io

    import segno

    drawn = io.StringIO()
    segno.make(text, error="m").terminal(out=drawn, compact=True)
    for line in drawn.getvalue().splitlines():
        out.tell(line)


def _host_in_net() -> str:
    """This machine's address in the local net."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
        try:
            asked.connect(NOWHERE)  # sends nothing: it only chooses the interface
            return str(asked.getsockname()[0])
        except OSError as trouble:
            raise WorldFailedError("--board-for lan: this machine is in no net") from trouble


def pressed(said: str, screen: str, session: Session, at: float) -> Heard:
    """What was pressed, as an event: understood as typed words are, told apart in the journal."""
    typed = hear_typed(said, session.expected, at)
    return Heard(at, f"{PRESSED} on {screen}", typed.alternatives, text=said)
