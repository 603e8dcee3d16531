"""A calendar that cannot be created: which of the troubles behind one status it is."""

import threading
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, HTTPServer

import pytest

from pmtrack.errors import Refused
from pmtrack.publishing.collection import publish
from tests.publishing.remote import first_plan, jobs

ENTRIES = first_plan(jobs(1))
THERE = b'<?xml version="1.0"?><error xmlns="DAV:"><resource-must-be-null/></error>'


class _Conflict(BaseHTTPRequestHandler):
    """A server without the calendar asked for, that cannot make it; its path tells why."""

    def log_message(self, format: str, *args: object) -> None:
        """Nothing."""

    def _answer(self, status: int, body: bytes = b"") -> None:
        self.rfile.read(int(self.headers.get("Content-Length", 0)))
        self.send_response(status)
        self.send_header("Content-Type", "text/xml")
        self.send_header("Content-Length", f"{len(body)}")
        self.end_headers()
        self.wfile.write(body)

    def do_PROPFIND(self) -> None:
        """Nothing is at the calendar; a folder called `there` is there, or asks for a login."""
        self._answer({"/there/": 207, "/asks/": 401}.get(self.path, 404))

    def do_MKCALENDAR(self) -> None:
        """A conflict (RFC 4791 5.3.1, 2007)."""
        self._answer(409, THERE if "hidden" in self.path else b"")


@pytest.fixture(scope="module")
def site() -> Iterator[str]:
    """The URL of that server."""
    with HTTPServer(("127.0.0.1", 0), _Conflict) as server:
        thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02})
        thread.start()
        yield f"http://127.0.0.1:{server.server_port}/"
        server.shutdown()
        thread.join()


@pytest.mark.parametrize(
    ("path", "reason"),
    [
        ("gone/pm/", "the folder above it does not exist; check the URL; a server that keeps a "
         "folder for each user may make it only when that user first logs in with a calendar "
         "program"),
        ("there/hidden/", "something is there that the server does not show without a login; "
         "give another URL, or another login"),
        ("there/pm/", "the server does not take it (status 409); ask who runs it"),
    ],
)  # fmt: skip
def test_a_conflict_is_told_by_what_it_is(site: str, path: str, reason: str) -> None:
    with pytest.raises(Refused) as refusal:
        publish(f"{site}{path}", ENTRIES)
    start = f"there is no calendar at {site}{path}, and none could be created: "
    assert f"{refusal.value}" == start + reason


def test_where_the_folder_above_asks_for_a_login_that_is_told(site: str) -> None:
    with pytest.raises(Refused, match="the server asks for a login"):
        publish(f"{site}asks/pm/", ENTRIES)
