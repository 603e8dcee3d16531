"""The CalDAV server as publishing needs it: look, read, create, put; all trouble is a Refused."""

import logging
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any
from urllib.parse import quote, urljoin

from pmtrack.errors import PmtrackError, Refused
from pmtrack.publishing.address import SAFE, Address
from pmtrack.publishing.credentials import Login
from pmtrack.publishing.trouble import (
    NO_FOLDER,
    NotTaken,
    answered,
    failed,
    missing_extra,
    not_taken,
    unseen,
)

if TYPE_CHECKING:
    from caldav.davclient import DAVClient
    from caldav.response import DAVResponse

TIMEOUT = 30  # seconds without a sign of the server
BATCH = 100  # objects asked for at once, so that no answer takes long to make
CALENDAR = "{urn:ietf:params:xml:ns:caldav}calendar"
RESOURCE_TYPE = "{DAV:}resourcetype"
IS_THERE = "{DAV:}resource-must-be-null"


@dataclass(frozen=True)
class Stored:
    """An object as the server holds it: its URL, its version (None if it tells none), its text."""

    url: str
    etag: str | None
    data: str


@contextmanager
def connected(address: Address, login: Login | None) -> Iterator["Server"]:
    """A server to talk to. Raises Refused without the libraries that this takes."""
    try:
        from caldav.davclient import DAVClient
    except ImportError:
        raise missing_extra() from None
    logging.getLogger("caldav").setLevel(logging.CRITICAL)  # what goes wrong is told once, by us
    client = DAVClient(
        url=address.url,
        username=login.user if login else None,
        password=login.password if login else None,
        timeout=TIMEOUT,
        enable_rfc6764=False,
    )
    with client:
        client.session.auth = _as_it_is  # else a .netrc file could log in as somebody else
        client.session.trust_env = not address.loopback  # no proxy for this computer itself
        client.session.max_redirects = 0  # a PUT sent on becomes a GET, and would pass for done
        yield Server(client, address, login)


def _as_it_is(request: Any) -> Any:
    """The request without any login of its own."""
    return request


class Server:
    """One calendar on a server; every method raises Refused with a sentence for a manager."""

    def __init__(self, client: "DAVClient", address: Address, login: Login | None) -> None:
        self._client = client
        self._address = address
        self._user = login.user if login else None

    def has_calendar(self) -> bool:
        """Whether the calendar exists. Raises Refused where the URL is of something else."""
        found = self._listing(0)
        if found is None:
            return False
        if not any(CALENDAR in _types(properties) for properties in found.values()):
            raise Refused(
                f"{self._address.url} is no calendar, but a folder or something else; "
                "add the calendar's name to the URL"
            )
        return True

    def create(self, name: str) -> None:
        """Create the calendar, with a name for people (RFC 4791 5.3.1, 2007)."""
        from caldav.elements import cdav, dav

        body = str(cdav.Mkcalendar() + (dav.Set() + (dav.Prop() + dav.DisplayName(name))))
        try:
            answer = self._ask("MKCALENDAR", self._address.url, body if name else "")
        except NotTaken as error:
            raise self._not_created(f"{error}") from None
        if answer.status == 409:
            raise self._not_created(self._conflict(answer))
        if answer.status >= 300:
            raise self._not_created(answered(answer.status, self._user))

    def _conflict(self, answer: "DAVResponse") -> str:
        """What stands in the way of a calendar (status 409, RFC 4791 5.3.1 and RFC 4918 9.3.1)."""
        if answer.tree is not None and answer.tree.find(IS_THERE) is not None:
            return unseen(self._user)
        above = self._ask("PROPFIND", urljoin(self._address.url, ".."), "", {"Depth": "0"})
        return NO_FOLDER if above.status in (404, 410) else answered(409, self._user)

    def _not_created(self, reason: str) -> Refused:
        return Refused(
            f"there is no calendar at {self._address.url}, and none could be created: {reason}"
        )

    def objects(self, first: Sequence[str]) -> Iterator[Stored]:
        """The objects in the calendar, those at the URLs in `first` ahead of the others."""
        urls = dict.fromkeys(self._object_urls())
        order = list(dict.fromkeys(url for url in (*first, *urls) if url in urls))
        for start in range(0, len(order), BATCH):
            yield from self._read(order[start : start + BATCH])

    def _object_urls(self) -> list[str]:
        listing = self._listing(1)
        if listing is None:
            raise self._refused(404)
        return [url for url, properties in listing.items() if not _types(properties)]

    def _read(self, urls: list[str]) -> list[Stored]:
        """Several objects in one answer (RFC 4791 7.9, 2007)."""
        from caldav.elements import cdav, dav

        wanted = dav.Prop() + dav.GetEtag() + cdav.CalendarData()
        hrefs = [dav.Href(value=url.removeprefix(self._root())) for url in urls]
        query = str(cdav.CalendarMultiGet() + wanted + hrefs)
        response = self._ask("REPORT", self._address.url, query)
        if response.status not in (200, 207):
            raise self._refused(response.status)
        with self._guarded():
            return [
                Stored(self._absolute(found.href), found.etag, found.calendar_data)
                for found in response.parse_calendar_query()
                if found.calendar_data
            ]

    def put(self, url: str, data: bytes, etag: str | None, new: bool) -> None:
        """Put an object, if the server still holds the version `etag`, or none when `new`.

        Raises NotTaken where the server answered but did not take this one.
        """
        headers = {"Content-Type": 'text/calendar; charset="utf-8"'}
        if new:
            headers["If-None-Match"] = "*"
        elif etag and not etag.startswith("W/"):  # a weak one never matches (RFC 9110 13.1.1)
            headers["If-Match"] = etag
        status = self._ask("PUT", url, data.decode(), headers).status
        if status in (429, 503, 507):
            raise self._refused(status)
        if status not in (200, 201, 204):
            raise NotTaken(not_taken(status))

    def _listing(self, depth: int) -> dict[str, Mapping[str, object]] | None:
        """What is at the URL, and in it at depth 1, with its kind; None where there is nothing."""
        from caldav.elements import dav

        body = str(dav.Propfind() + (dav.Prop() + dav.ResourceType()))
        response = self._ask("PROPFIND", self._address.url, body, {"Depth": str(depth)})
        if response.status in (404, 410):
            return None
        if response.status != 207:
            raise self._refused(405 if response.status < 300 else response.status)
        with self._guarded():
            found = response.parse_propfind()
            if not found:
                raise self._refused(405)
            here = [one for one in found if one.status not in (404, 410)]
            return {self._absolute(one.href): one.properties for one in here} if here else None

    def _ask(
        self, method: str, url: str, body: str, headers: Mapping[str, str] | None = None
    ) -> "DAVResponse":
        with self._guarded():
            return self._client.request(url, method, body, headers or {})

    @contextmanager
    def _guarded(self) -> Iterator[None]:
        """The one place where the libraries work: whatever they raise becomes a Refused."""
        try:
            yield
        except PmtrackError:
            raise
        except Exception as error:
            refused = failed(error, self._user, TIMEOUT)
            kind = type(refused)
            raise kind(f"{self._address.url}: {refused}") from None

    def _refused(self, status: int) -> Refused:
        return Refused(f"{self._address.url}: {answered(status, self._user)}")

    def _absolute(self, href: str) -> str:
        """The whole URL of a path as the library hands it out, without its escapes."""
        return urljoin(self._address.url, quote(href, safe=SAFE.replace("%", "")))

    def _root(self) -> str:
        """Scheme and host, which a path in a request leaves out."""
        return urljoin(self._address.url, "/").removesuffix("/")


def _types(properties: Mapping[str, object]) -> Sequence[str]:
    """What kind of thing something is; nothing for a plain object."""
    types = properties.get(RESOURCE_TYPE)
    return types if isinstance(types, list) else []
