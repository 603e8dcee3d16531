"""Who logs in at the CalDAV server: from the environment or the keyring, nowhere else."""

import os
from dataclasses import dataclass, field

from pmtrack.errors import Refused
from pmtrack.publishing.address import Address
from pmtrack.publishing.trouble import missing_extra

USER = "PMTRACK_CALDAV_USER"
PASSWORD = "PMTRACK_CALDAV_PASSWORD"  # noqa: S105  the name of the variable


@dataclass(frozen=True)
class Login:
    """A user and the password, which is never shown."""

    user: str
    password: str = field(repr=False)


def login_for(address: Address) -> Login | None:
    """The login to use at a server; None where no user is named, since a server may need none.

    Raises Refused for half a login.
    """
    user, password = os.environ.get(USER, ""), os.environ.get(PASSWORD, "")
    if password and not user:
        raise Refused(f"{PASSWORD} is set, but not {USER}; set both")
    if user and password:
        return Login(user, password)
    kept = _from_keyring(address, user or None)
    if user and kept is None:
        raise Refused(
            f"no password for {user}: {PASSWORD} is not set, and the keyring holds none; "
            f"keep it there with: keyring set {service(address)} {user}"
        )
    return kept


def service(address: Address) -> str:
    """The name under which the keyring keeps the passwords for a server."""
    return f"pmtrack:{address.host}"


def _from_keyring(address: Address, user: str | None) -> Login | None:
    """The login that the keyring holds for the user, or for any; None without a keyring."""
    try:
        import keyring
    except ImportError:
        raise missing_extra() from None
    try:
        found = keyring.get_credential(service(address), user)
    except Exception:  # a keyring of any maker, which may be locked or not there at all
        return None
    return Login(found.username, found.password) if found and found.password else None
