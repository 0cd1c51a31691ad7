"""A TCP proxy between browser and server that refuses, stalls, cuts, answers in its place, or changes an answer.

Faults are set from the test while connections run; each takes hold of connections made from then on, and `cut_all`
ends those that are open. "Refuse" closes the listening socket, so that the browser sees what it sees when no one is
there.
"""

from __future__ import annotations

import contextlib
import socket
import threading
from collections.abc import Callable

PORTAL = (
    b"HTTP/1.1 200 OK\r\nContent-Type: text/html\r\nConnection: close\r\nContent-Length: 62\r\n\r\n"
    b"<html><title>Guest net</title><body>Accept terms</body></html>"
)
Change = Callable[[bytes], bytes]


class Line:
    """The line between a phone and the office. address is what the browser is given."""

    def __init__(self, office_port: int) -> None:
        self._office_port = office_port
        self._open: set[socket.socket] = set()
        self._lock = threading.Lock()
        self._change: Change | None = None
        self._mode, self._cut_after, self._only, self._told = "pass", 0, b"", b""
        self.asked: list[str] = []
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        self._listener: socket.socket | None = None
        self.mend()

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def mend(self) -> None:
        """Everything passes as it is."""
        self._mode, self._change, self._only = "pass", None, b""
        if self._listener is None:
            self._listen()
        self.cut_all()

    def refuse(self) -> None:
        """Nobody listens, and what was open is closed."""
        if self._listener is not None:
            listener, self._listener = self._listener, None
            with contextlib.suppress(OSError):
                listener.shutdown(socket.SHUT_RDWR)
            listener.close()
        self.cut_all()

    def stall(self) -> None:
        """Connections are taken, and never a byte comes back."""
        self._mode = "stall"
        self.cut_all()

    def portal(self) -> None:
        """Every request is answered with somebody else's page."""
        self._mode = "portal"
        self.cut_all()

    def cut(self, after: int, only: str = "") -> None:
        """Answers end after so many bytes; with `only`, those to requests whose path holds that text."""
        self._mode, self._cut_after, self._only = "cut", after, only.encode()
        self.cut_all()

    def answer(self, status: str, only: str) -> None:
        """Requests whose path holds that text are answered here, e.g. with "503 Service Unavailable"."""
        self._mode, self._only = "answer", only.encode()
        body = f"<html><title>{status}</title><body>{status}</body></html>"
        head = f"HTTP/1.1 {status}\r\nContent-Type: text/html\r\nConnection: close\r\nContent-Length: {len(body)}"
        self._told = f"{head}\r\n\r\n{body}".encode()
        self.cut_all()

    def change(self, change: Change) -> None:
        """Each piece of an answer goes through a function (replace header bytes by as many)."""
        self._mode, self._change = "change", change
        self.cut_all()

    def cut_all(self) -> None:
        """End every open connection, resetting it."""
        with self._lock:
            ending, self._open = self._open, set()
        for one in ending:
            with contextlib.suppress(OSError):
                one.shutdown(socket.SHUT_RDWR)

    def close(self) -> None:
        self.refuse()

    def _listen(self) -> None:
        listener = socket.socket()
        listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listener.bind(("127.0.0.1", self.port))
        listener.listen(64)
        self._listener = listener
        threading.Thread(target=self._accept, args=(listener,), daemon=True).start()

    def _accept(self, listener: socket.socket) -> None:
        while True:
            try:
                browser, _ = listener.accept()
            except OSError:
                return
            with self._lock:
                self._open.add(browser)
            threading.Thread(target=self._serve, args=(browser,), daemon=True).start()

    def _serve(self, browser: socket.socket) -> None:
        with contextlib.suppress(OSError), browser:
            if self._mode == "stall":
                while browser.recv(65536):
                    pass
                return
            if self._mode == "portal":
                browser.recv(65536)
                browser.sendall(PORTAL)
                return
            with socket.create_connection(("127.0.0.1", self._office_port), timeout=30) as office:
                office.settimeout(None)
                with self._lock:
                    self._open.add(office)
                request = _Watched()
                back = threading.Thread(target=self._answers, args=(office, browser, request), daemon=True)
                back.start()
                while piece := browser.recv(65536):
                    request.note(piece, self.asked)
                    if self._mode == "answer" and self._only in request.path:
                        browser.sendall(self._told)
                        browser.shutdown(socket.SHUT_WR)
                        while browser.recv(65536):  # what is left of the request: to close on it would reset the answer
                            pass
                        break
                    office.sendall(piece)
                with contextlib.suppress(OSError):
                    office.shutdown(socket.SHUT_RDWR)
                back.join()

    def _answers(self, office: socket.socket, browser: socket.socket, request: _Watched) -> None:
        with contextlib.suppress(OSError):
            while piece := office.recv(65536):
                if self._mode == "cut" and self._only in request.path:
                    room = max(0, self._cut_after - request.answered)
                    request.answered += len(piece)
                    if len(piece) > room:
                        browser.sendall(piece[:room])
                        break
                elif self._mode == "change" and self._change is not None:
                    piece = self._change(piece)
                browser.sendall(piece)
        for one in (browser, office):
            with contextlib.suppress(OSError):
                one.shutdown(socket.SHUT_RDWR)


class _Watched:
    """The request under way on one connection, and how much of its answer has passed."""

    def __init__(self) -> None:
        self.path, self.answered = b"", 0

    def note(self, piece: bytes, asked: list[str]) -> None:
        words = piece.split(b" ", 2)
        if len(words) == 3 and words[0] in {b"GET", b"POST", b"HEAD"}:
            self.path, self.answered = words[1], 0
            asked.append(f"{words[0].decode()} {words[1].decode('ascii', 'replace')}")
