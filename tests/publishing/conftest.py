"""CalDAV servers for all tests of publishing, a gate before one, and a login of the test's own."""

from collections.abc import Iterator
from uuid import uuid4

import keyring
import pytest
from keyring.backend import KeyringBackend

from pmtrack.publishing.credentials import PASSWORD, USER
from tests.publishing.loopback import gated, radicale
from tests.publishing.remote import Calendar

USERS = "planner:Schl\u00fcssel 7\n"


class OwnKeyring(KeyringBackend):
    """A keyring in memory, empty at first."""

    priority = 1.0

    def __init__(self) -> None:
        self.kept: dict[tuple[str, str], str] = {}

    def get_password(self, service: str, username: str) -> str | None:
        """The password that was kept."""
        return self.kept.get((service, username))

    def set_password(self, service: str, username: str, password: str) -> None:
        """Keep a password."""
        self.kept[service, username] = password


@pytest.fixture(scope="session")
def open_port(tmp_path_factory: pytest.TempPathFactory) -> Iterator[int]:
    """The port of a server that asks for no login."""
    with radicale(tmp_path_factory.mktemp("open")) as port:
        yield port


@pytest.fixture(scope="session")
def guarded_port(tmp_path_factory: pytest.TempPathFactory) -> Iterator[int]:
    """The port of a server that asks for the login of the planner."""
    with radicale(tmp_path_factory.mktemp("guarded"), USERS) as port:
        yield port


@pytest.fixture(autouse=True)
def ring(monkeypatch: pytest.MonkeyPatch) -> OwnKeyring:
    """No login in the environment and an empty keyring, whatever this computer has."""
    for name in (USER, PASSWORD):
        monkeypatch.delenv(name, raising=False)
    own = OwnKeyring()
    keyring.set_keyring(own)
    return own


@pytest.fixture
def calendar(open_port: int) -> Iterator[Calendar]:
    """A calendar that does not exist yet, behind a gate."""
    with gated(open_port) as (gate, url):
        yield Calendar(gate, f"{url}{uuid4()}/")
