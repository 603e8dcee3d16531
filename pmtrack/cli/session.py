"""One run of a command: which store, what time it is, who records. The clock is read here alone."""

import getpass
import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from pmtrack.errors import UnreadableInput

if TYPE_CHECKING:
    from zoneinfo import ZoneInfo

    import typer

    from pmtrack.actions.recorder import Recorder
    from pmtrack.actions.view import View
    from pmtrack.rules.facts import Moment


@dataclass
class Session:
    """What the options before the command say."""

    store: Path
    now_text: str | None = None

    @classmethod
    def of(cls, context: "typer.Context") -> "Session":
        """The session that the options before the command describe, where no command runs yet."""
        told = context.find_root().params
        return cls(Path(told.get("store") or "pmtrack.db"), told.get("now"))

    def now(self, zone: "ZoneInfo") -> datetime:
        """The present instant, or the one that `--now` puts in its place, in shop time."""
        if self.now_text is None:
            return datetime.now(UTC).replace(microsecond=0)
        from pmtrack.rules.dates import parse_moment

        moment = parse_moment(self.now_text, zone)
        if moment.at is None:
            raise UnreadableInput(
                f"--now {self.now_text}: give the time too, like 2026-11-25T14:05"
            )
        return moment.at

    def check_now(self) -> None:
        """Raises UnreadableInput where `--now` is no time, also for what never asks for it."""
        if self.now_text is not None:
            from zoneinfo import ZoneInfo

            self.now(ZoneInfo("UTC"))

    @contextmanager
    def view(self, on: str | None = None) -> Iterator[tuple["View", datetime]]:
        """The shop as of the end of a date (today without one), and the present instant."""
        from pmtrack.actions.view import View
        from pmtrack.rules.dates import parse_date
        from pmtrack.rules.shoptime import local_date
        from pmtrack.store import open_store
        from pmtrack.store.damage import told_as_damage
        from pmtrack.store.stored_shop import load_shop

        day = None if on is None else parse_date(on)
        store = open_store(self.store)
        try:
            with told_as_damage(store), store.reading():
                stored = load_shop(store)
                now = self.now(stored.bare.zone)
                yield View(store, day or local_date(now, stored.bare.zone), stored), now
        finally:
            store.close()

    @contextmanager
    def recording(self, by: str | None) -> Iterator["Recorder"]:
        """One transaction in which facts are added; all of them or none."""
        from pmtrack.actions.recorder import Recorder
        from pmtrack.actions.view import View
        from pmtrack.rules.shoptime import local_date
        from pmtrack.store import open_store
        from pmtrack.store.damage import told_as_damage
        from pmtrack.store.stored_shop import load_shop

        store = open_store(self.store)
        try:
            with told_as_damage(store), store.writing():
                stored = load_shop(store)
                now = self.now(stored.bare.zone)
                view = View(store, local_date(now, stored.bare.zone), stored)
                yield Recorder(view, now, by or who())
        finally:
            store.close()


def moment_of(recorder: "Recorder", at: str | None) -> "Moment":
    """When a fact happened: `--at`, or now."""
    from pmtrack.rules.dates import parse_moment
    from pmtrack.rules.facts import Moment
    from pmtrack.rules.shoptime import local_date

    zone = recorder.bare.zone
    if at is None:
        return Moment(local_date(recorder.now, zone), recorder.now)
    return parse_moment(at, zone)


def date_of(text: str | None) -> date | None:
    """A date option, or None."""
    from pmtrack.rules.dates import parse_date

    return None if text is None else parse_date(text)


def who() -> str:
    """Who records: PMTRACK_BY, or the name of the login."""
    try:
        return os.environ.get("PMTRACK_BY") or getpass.getuser()
    except (OSError, KeyError):  # no login name, as in some containers
        return "unknown"
