"""The URL of a calendar on a CalDAV server, checked before anything is sent there."""

from dataclasses import dataclass
from ipaddress import ip_address
from urllib.parse import SplitResult, quote, urlsplit

from pmtrack.errors import Refused, UnreadableInput

LIKE = "write one like https://calendars.example.org/shop/maintenance/"
SAFE = "/%:@!$&'()*+,;=~"  # what a path may hold as it is (RFC 3986 3.3, 2005), and what is escaped


@dataclass(frozen=True)
class Address:
    """Where a calendar is: its URL with a slash at the end, and the host in it."""

    url: str
    host: str
    loopback: bool

    def of(self, uid: str) -> str:
        """The URL of the object that is kept for a UID."""
        return f"{self.url}{quote(uid, safe='')}.ics"


def parse_address(text: str) -> Address:
    """The address in a URL; what it says is never shown, since it may hold a password.

    Raises UnreadableInput for what is no URL of a calendar, Refused for one that is not safe.
    """
    parts = _split(text)
    host = parts.hostname or ""
    if "@" in parts.netloc:
        raise Refused(
            "the URL holds a user or a password, which others can see on the command line; leave "
            "it out and set PMTRACK_CALDAV_USER and PMTRACK_CALDAV_PASSWORD instead"
        )
    if parts.query or parts.fragment:
        raise UnreadableInput("the URL of a calendar has no ? or # in it; leave out what follows")
    loopback = _is_loopback(host)
    if parts.scheme == "http" and not loopback:
        raise Refused(
            f"http://{host} is not encrypted, so anybody on the way could read the password and "
            "the plan; write https:// instead"
        )
    path = quote(parts.path.rstrip("/") + "/", safe=SAFE)
    return Address(f"{parts.scheme}://{parts.netloc}{path}", host, loopback)


def _split(text: str) -> SplitResult:
    try:
        parts = urlsplit(text.strip())
        whole = parts.scheme in ("http", "https") and bool(parts.hostname) and parts.port != 0
    except ValueError:  # a bad port or a broken IPv6 address
        whole = False
    if not whole:
        raise UnreadableInput(f"this is no URL of a calendar; {LIKE}")
    return parts


def _is_loopback(host: str) -> bool:
    """Whether what is sent to the host stays on this computer."""
    try:
        return host == "localhost" or ip_address(host).is_loopback
    except ValueError:
        return False
