"""Who logs in: from the environment or the keyring; a refused login says what to do."""

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from uuid import uuid4

import keyring
import pytest
from keyring.errors import KeyringLocked

from pmtrack.errors import Refused
from pmtrack.publishing.address import parse_address
from pmtrack.publishing.collection import Published
from pmtrack.publishing.credentials import PASSWORD, USER, Login, login_for
from tests.publishing.conftest import OwnKeyring
from tests.publishing.loopback import gated
from tests.publishing.remote import Calendar, first_plan, jobs

ENTRIES = first_plan(jobs(2))
THERE = parse_address("https://calendars.example.org:8443/shop")
RIGHT = "Schl\u00fcssel 7"


@pytest.fixture
def own_calendar(guarded_port: int) -> Iterator[Calendar]:
    """A calendar that only the planner may write."""
    with gated(guarded_port) as (gate, url):
        yield Calendar(gate, f"{url}{uuid4()}/")


def test_a_login_from_the_environment_is_taken(
    own_calendar: Calendar, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(USER, "planner")
    monkeypatch.setenv(PASSWORD, RIGHT)
    assert own_calendar.publish(ENTRIES) == Published(2, 0, 0, created=True)
    assert own_calendar.publish(ENTRIES) == Published(0, 0, 2)


def test_a_login_from_the_keyring_is_taken(
    own_calendar: Calendar, monkeypatch: pytest.MonkeyPatch, ring: OwnKeyring
) -> None:
    monkeypatch.setenv(USER, "planner")
    ring.set_password("pmtrack:127.0.0.1", "planner", RIGHT)
    assert own_calendar.publish(ENTRIES) == Published(2, 0, 0, created=True)


def test_a_wrong_password_is_told_without_showing_it(
    own_calendar: Calendar, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(USER, "planner")
    monkeypatch.setenv(PASSWORD, "guess")
    with pytest.raises(Refused, match="refuses the login of planner; check") as refusal:
        own_calendar.publish(ENTRIES)
    assert "guess" not in f"{refusal.value}"


def test_a_server_that_wants_a_login_says_how_to_give_one(own_calendar: Calendar) -> None:
    with pytest.raises(Refused, match="asks for a login; set PMTRACK_CALDAV_USER and"):
        own_calendar.publish(ENTRIES)


def test_no_other_file_logs_in(
    own_calendar: Calendar, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    netrc = tmp_path / "netrc"
    netrc.write_text(f'machine 127.0.0.1 login planner password "{RIGHT}"\n')
    netrc.chmod(0o600)
    monkeypatch.setenv("NETRC", str(netrc))
    with pytest.raises(Refused, match="asks for a login"):
        own_calendar.publish(ENTRIES)
    assert not any("Authorization" in headers for headers in own_calendar.gate.headers)


@pytest.mark.parametrize(
    ("environment", "kept", "expected"),
    [
        ({}, None, None),
        ({USER: "ana", PASSWORD: "x"}, None, Login("ana", "x")),
        ({USER: "ana", PASSWORD: "x"}, "y", Login("ana", "x")),  # the environment goes first
        ({USER: "ana"}, "y", Login("ana", "y")),
    ],
)
def test_the_environment_goes_before_the_keyring(
    monkeypatch: pytest.MonkeyPatch,
    ring: OwnKeyring,
    environment: dict[str, str],
    kept: str | None,
    expected: Login | None,
) -> None:
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    if kept:
        ring.set_password("pmtrack:calendars.example.org", "ana", kept)
    assert login_for(THERE) == expected


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        (PASSWORD, "PMTRACK_CALDAV_PASSWORD is set, but not PMTRACK_CALDAV_USER; set both"),
        (USER, "keep it there with: keyring set pmtrack:calendars.example.org ana"),
    ],
)
def test_half_a_login_is_refused(monkeypatch: pytest.MonkeyPatch, name: str, sentence: str) -> None:
    monkeypatch.setenv(name, "ana")
    with pytest.raises(Refused, match=sentence):
        login_for(THERE)


def test_a_locked_keyring_is_as_good_as_an_empty_one(monkeypatch: pytest.MonkeyPatch) -> None:
    class Locked(OwnKeyring):
        def get_password(self, service: str, username: str) -> str | None:
            raise KeyringLocked("locked")

    keyring.set_keyring(Locked())
    monkeypatch.setenv(USER, "ana")
    with pytest.raises(Refused, match="the keyring holds none"):
        login_for(THERE)


def test_a_login_never_shows_its_password() -> None:
    assert repr(Login("ana", "secret")) == "Login(user='ana')"


@pytest.mark.parametrize("library", ["caldav", "keyring"])
def test_a_missing_library_says_how_to_install_it(library: str) -> None:
    code = f"""
import sys
from datetime import date, datetime, timezone
from pmtrack.errors import Refused
from pmtrack.publishing.collection import publish
from pmtrack.rules.revision import CalendarEntry, CalendarJob
assert not {{"caldav", "keyring"}} & sys.modules.keys()
sys.modules[{library!r}] = None  # as if it were not installed
day = date(2027, 1, 5)
job = CalendarJob("a-1", "TP-1/weekly", day, day, "TP-1", "", 1)
try:
    publish("http://127.0.0.1:9/", [CalendarEntry(job, 0, datetime.now(timezone.utc))])
except Refused as error:
    print(error)
"""
    ended = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60)
    assert ended.stderr == ""
    assert ended.stdout == (
        "publishing needs two more libraries; install them with: pip install 'pmtrack[publish]'\n"
    )
