"""The calendar on the server made to say what the plan says, changing only what differs."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from pmtrack.errors import Refused
from pmtrack.exports.icalendar_file import single_file
from pmtrack.publishing.address import Address, parse_address
from pmtrack.publishing.comparison import Content, content
from pmtrack.publishing.credentials import login_for
from pmtrack.publishing.server import Server, Stored, connected
from pmtrack.publishing.trouble import NotTaken
from pmtrack.rules.revision import CalendarEntry

IN_A_ROW = 3  # so many entries refused one after another: it is the server, not the entry

Progress = Callable[[int, int], None]


@dataclass(frozen=True)
class Published:
    """How many entries were new on the server, differed and were replaced, and said the same.

    An entry that was cancelled before it was ever put there is in none of the three; `created`
    tells that the calendar itself is new.
    """

    added: int
    changed: int
    unchanged: int
    created: bool = False


@dataclass(frozen=True)
class _Put:
    """An entry to put, over the object of the server that it replaces."""

    title: str
    data: bytes
    url: str
    old: Stored | None


def publish(
    url: str,
    entries: Sequence[CalendarEntry],
    todos: bool = False,
    name: str = "",
    progress: Progress = lambda done, total: None,
) -> Published:
    """Put the entries onto the CalDAV calendar at the URL; what is not ours there stays as it is.

    A calendar that does not exist is created and called `name`. Our entries are known by their
    UID, whatever the server calls them; one that somebody edited or took away is put back.
    Repeating it puts only what is missing or differs. Raises Refused with a sentence that tells
    how many were put where not all could be.
    """
    address = parse_address(url)
    if not entries:
        raise Refused("no job to publish; plan a quarter that has jobs")
    with connected(address, login_for(address)) as server:
        created = not server.has_calendar()
        if created:
            server.create("".join(char for char in name if char.isprintable()))
        stored = {} if created else _ours(server, address, entries)
        puts, unchanged = _to_put(address, entries, todos, stored)
        _put_all(server, puts, progress)
    added = sum(put.old is None for put in puts)
    return Published(added, len(puts) - added, unchanged, created)


Found = tuple[Stored, Content | None]


def _ours(server: Server, address: Address, entries: Sequence[CalendarEntry]) -> dict[str, Found]:
    """What the server holds of the entries, by UID; stops reading once all are found."""
    ours = {address.of(entry.job.uid): entry.job.uid for entry in entries}
    missing = set(ours.values())
    found: dict[str, Found] = {}
    for stored in server.objects(list(ours)):
        said = content(stored.data)
        uid = said.uid if said else ours.get(stored.url)  # what cannot be read goes by its name
        if uid in missing:
            found[uid] = stored, said
            missing.remove(uid)
            if not missing:
                break
    return found


def _to_put(
    address: Address, entries: Sequence[CalendarEntry], todos: bool, found: dict[str, Found]
) -> tuple[list[_Put], int]:
    """The entries that the server lacks or holds otherwise, and how many it holds as they are."""
    puts, unchanged = list[_Put](), 0
    for entry in entries:
        data = single_file(entry, todos)
        old, said = found.get(entry.job.uid, (None, None))
        wanted = content(data)
        if old and said and wanted and said.still_says(wanted):
            unchanged += 1
        elif old or not entry.cancelled:
            place = old.url if old else address.of(entry.job.uid)
            puts.append(_Put(f"{entry.job.summary}, {entry.job.day}", data, place, old))
    return puts, unchanged


def _put_all(server: Server, puts: list[_Put], progress: Progress) -> None:
    """Put one after another; an entry that is not taken does not hold up the others."""
    refused, in_a_row = list[str](), 0
    for number, put in enumerate(puts):
        try:
            etag = put.old.etag if put.old else None
            server.put(put.url, put.data, etag, new=put.old is None)
            in_a_row = 0
        except NotTaken as error:
            refused.append(f"{put.title}: {error}")
            in_a_row += 1
            if in_a_row == IN_A_ROW:
                raise _unfinished(refused, number + 1 - len(refused), len(puts)) from None
        except Refused as error:
            raise _unfinished([*refused, f"{error}"], number - len(refused), len(puts)) from None
        progress(number + 1, len(puts))
    if refused:
        raise _unfinished(refused, len(puts) - len(refused), len(puts))


def _unfinished(reasons: list[str], done: int, total: int) -> Refused:
    """What went wrong, how far it came, and that repeating the command goes on from there."""
    told = f"{done} of {total} entries were put; repeat the command to put the rest"
    return Refused("\n".join([*reasons, told]))
