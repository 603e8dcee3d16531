"""What can go wrong for a user: one base, one leaf for each exit status, each with a sentence."""


class PmtrackError(Exception):
    """A user's slip or a refusal; `exit_status` is what the process ends with."""

    exit_status = 3


class UnreadableInput(PmtrackError):
    """An argument, date or number that cannot be parsed."""

    exit_status = 2


class Refused(PmtrackError):
    """Understood, but not accepted: impossible entry, bad file, unknown code, damaged store."""


class MayBeConfirmed(Refused):
    """Hard to believe; accepted when somebody confirms it."""


class FaultyFile(Refused):
    """A file with faults, each a line that names the place and the mend."""

    def __init__(self, faults: list[str]) -> None:
        self.faults = faults
        super().__init__("\n".join(faults))
