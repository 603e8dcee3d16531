"""What can go wrong with a server, in sentences for a manager."""

from pmtrack.errors import Refused

LOGIN_HELP = (
    "set PMTRACK_CALDAV_USER and PMTRACK_CALDAV_PASSWORD, or only the user and keep the password "
    "in the keyring"
)
AGAIN = "try again later, or ask who runs the server"
NO_FOLDER = (
    "the folder above it does not exist; check the URL; a server that keeps a folder for each user "
    "may make it only when that user first logs in with a calendar program"
)
OTHER = "give another URL, or another login"
ANSWERS = {
    404: "there is nothing at this URL; check it",
    405: "no calendar server answers at this URL; check it",
    429: "the server asks to wait; try again later",
    501: "no calendar server answers at this URL; check it",
    503: f"the server is busy or being looked after; {AGAIN}",
    507: "the server has no room left; ask who runs it",
}


class NotTaken(Refused):
    """The server answered, but did not take one event; it may take others."""


def missing_extra() -> Refused:
    """The refusal where the libraries for publishing are not installed."""
    return Refused(
        "publishing needs two more libraries; install them with: pip install 'pmtrack[publish]'"
    )


def answered(status: int, user: str | None) -> str:
    """What the status of an answer means (RFC 9110 15, 2022; RFC 4918 11, 2007)."""
    if status == 401 and user is None:
        return f"the server asks for a login; {LOGIN_HELP}"
    if status == 401:
        return f"the server refuses the login of {user}; check the user and the password"
    if status == 403:
        return f"the server does not let {user or 'anybody without a login'} write here; ask for it"
    if status in ANSWERS:
        return ANSWERS[status]
    if status >= 500:
        return f"the server has trouble of its own (status {status}); {AGAIN}"
    return f"the server does not take it (status {status}); ask who runs it"


def unseen(user: str | None) -> str:
    """That there is something at the URL which the server does not show."""
    return f"something is there that the server does not show {user or 'without a login'}; {OTHER}"


def not_taken(status: int) -> str:
    """Why a server that works did not take one event."""
    if status == 412:
        return "somebody changed it on the server just now"
    if status >= 500:
        return f"the server has trouble of its own (status {status})"
    return f"the server does not take it (status {status})"


def failed(error: Exception, user: str | None, seconds: int) -> Refused:
    """The refusal for whatever the client library raised instead of giving an answer."""
    from caldav.lib.error import DAVError
    from caldav.lib.http_sync import requests

    wrong = requests.exceptions
    if isinstance(error, DAVError) and error.status is not None:
        if error.status == 403 and error.preconditions:
            return NotTaken(_precondition(error.preconditions))
        return Refused(answered(error.status, user))
    if isinstance(error, wrong.Timeout):
        return Refused(f"the server did not answer within {seconds} seconds; {AGAIN}")
    if isinstance(error, wrong.SSLError):
        return Refused(_no_tls(str(error)))
    if isinstance(error, wrong.TooManyRedirects):
        return Refused(_elsewhere(error))
    if isinstance(error, wrong.ConnectionError):
        return Refused("the server cannot be reached; check the URL and the network")
    if isinstance(error, NotImplementedError):
        return Refused("the server asks for a kind of login that pmtrack does not know")
    return Refused("what answers there is no calendar server; check the URL")


def _precondition(names: list[str]) -> str:
    """Why an event was not taken, by the conditions of RFC 4791 5.3.2.1 (2007)."""
    if any(name.endswith("}supported-calendar-component") for name in names):
        return "this calendar does not take this kind of entry; use one for both events and to-dos"
    told = ", ".join(name.rpartition("}")[2] for name in names)
    return f"the server does not take it ({told})"


def _no_tls(detail: str) -> str:
    if "certificate" in detail.lower():
        return (
            "the server's certificate is not trusted, so nothing was sent; check the host in the "
            "URL and this computer's date, or ask who runs the server"
        )
    return "no encrypted connection comes about; check the URL, and that its port is for https"


def _elsewhere(error: Exception) -> str:
    """A calendar that has moved is not followed: a changed PUT could pass for done."""
    response = getattr(error, "response", None)
    place = response.headers.get("Location") if response is not None else None
    return f"the server sends on to {place or 'another URL'}; give that one if you trust it"
