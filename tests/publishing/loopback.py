"""A CalDAV server on loopback, and a gate before it that counts, fails and recovers at will."""

import http.client
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

RIGHTS = "[all of them]\nuser: {}\ncollection: .*\npermissions: RrWw\n"
OWN_HEADERS = {"transfer-encoding", "content-length", "connection", "server", "date"}


def free_port() -> int:
    """A port that nobody uses just now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
    return port


@contextmanager
def radicale(folder: Path, users: str = "") -> Iterator[int]:
    """The port of a server that keeps its files in the folder; without users anybody may write."""
    port = free_port()
    (folder / "rights").write_text(RIGHTS.format(".+" if users else ".*"))
    (folder / "users").write_text(users)
    login = ["--auth-type", "htpasswd", "--auth-htpasswd-filename", str(folder / "users"),
             "--auth-htpasswd-encryption", "plain", "--auth-delay", "0"]  # fmt: skip
    options = {
        "--config": "",
        "--server-hosts": f"127.0.0.1:{port}",
        "--storage-filesystem-folder": str(folder / "collections"),
        "--rights-type": "from_file",
        "--rights-file": str(folder / "rights"),
        "--logging-level": "critical",
    }
    words = [word for pair in options.items() for word in pair]
    words += login if users else ["--auth-type", "none"]
    process = subprocess.Popen(
        [sys.executable, "-m", "radicale", *words], stderr=subprocess.DEVNULL
    )
    try:
        _wait_for(port, process)
        yield port
    finally:
        process.terminate()
        process.wait(10)


def _wait_for(port: int, process: "subprocess.Popen[bytes]") -> None:
    until = time.monotonic() + 30
    while time.monotonic() < until:
        assert process.poll() is None, "the server ended"
        try:
            socket.create_connection(("127.0.0.1", port), 0.2).close()
        except OSError:
            time.sleep(0.02)
        else:
            return
    raise AssertionError("the server did not come up")


class Gate:
    """What passes between client and server: each request as method and path, and the PUTs left.

    `answer` is what a request gets once no PUTs are left: a status, "closed" or "silence".
    """

    def __init__(self, port: int) -> None:
        self.port = port
        self.seen: list[tuple[str, str]] = []
        self.headers: list[dict[str, str]] = []
        self.puts_left: int | None = None
        self.answer: int | str = 500
        self.only: str | None = None  # the path of the one PUT that is refused

    def blocks(self, method: str, path: str) -> bool:
        """Whether this request is to fail; counts the PUTs."""
        if method != "PUT":
            return False
        if self.only is not None:
            return path.endswith(self.only)
        if self.puts_left is None:
            return False
        self.puts_left -= 1
        return self.puts_left < 0

    def count(self, method: str) -> int:
        """How many requests with a method came by."""
        return [seen for seen, _ in self.seen].count(method)


def _door(gate: Gate) -> type[BaseHTTPRequestHandler]:
    class Door(BaseHTTPRequestHandler):
        """Hands a request on, unless the gate says that it is to fail."""

        wbufsize = -1  # an answer in one piece

        def log_message(self, format: str, *args: object) -> None:
            """Nothing: the test looks at the gate."""

        def _pass(self) -> None:
            body = self.rfile.read(int(self.headers.get("Content-Length", 0)))
            gate.seen.append((self.command, self.path))
            gate.headers.append(dict(self.headers))
            if gate.blocks(self.command, self.path):
                self._fail()
            else:
                self._hand_on(body)

        def _fail(self) -> None:
            if gate.answer == "silence":
                time.sleep(1.5)
            elif isinstance(gate.answer, int):
                self.send_response(gate.answer)
                self.send_header("Content-Length", "0")
                self.send_header("Location", "https://elsewhere.example.org/")
                self.end_headers()
            self.close_connection = True

        def _hand_on(self, body: bytes) -> None:
            server = http.client.HTTPConnection("127.0.0.1", gate.port, timeout=20)
            server.request(self.command, self.path, body, dict(self.headers))
            answer = server.getresponse()
            data = answer.read()
            server.close()
            self.send_response(answer.status)
            for name, value in answer.getheaders():
                if name.lower() not in OWN_HEADERS:
                    self.send_header(name, value)
            self.send_header("Content-Length", str(len(data)))
            self.end_headers()
            self.wfile.write(data)

        do_GET = do_PUT = do_DELETE = do_OPTIONS = _pass
        do_PROPFIND = do_REPORT = do_MKCALENDAR = do_PROPPATCH = _pass

    return Door


@contextmanager
def gated(port: int) -> Iterator[tuple[Gate, str]]:
    """A gate before the server at a port, and the URL of the gate."""
    gate = Gate(port)
    with ThreadingHTTPServer(("127.0.0.1", 0), _door(gate)) as door:
        door.daemon_threads = True
        thread = threading.Thread(target=door.serve_forever, kwargs={"poll_interval": 0.02})
        thread.start()
        try:
            yield gate, f"http://127.0.0.1:{door.server_port}/"
        finally:
            door.shutdown()
            thread.join()
