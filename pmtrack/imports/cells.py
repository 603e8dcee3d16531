"""What the texts of one column say; a text that comes again is not read again."""

from typing import Any

from pmtrack.errors import PmtrackError, UnreadableInput
from pmtrack.imports.kinds import Column
from pmtrack.rules.shop import Shop

_REMEMBERED = 4096  # texts of a column, so that memory does not grow with the file


class Said(dict[str, Any]):
    """By text, what a cell says; UnreadableInput, with the column's name, where it says nothing."""

    def __init__(self, column: Column, shop: Shop, blank: Any) -> None:
        super().__init__()
        self._column = column
        self._shop = shop
        self._blank = blank  # what an empty cell means

    def __missing__(self, text: str) -> Any:
        value = self._read(text.strip())
        if len(self) >= _REMEMBERED:
            self.clear()
        self[text] = value
        return value

    def _read(self, text: str) -> Any:
        if text:
            try:
                return self._column.form.read(text, self._shop)
            except PmtrackError as error:
                raise UnreadableInput(f"{self._column.name}: {error}") from None
        if self._column.may_be_empty:
            return self._blank
        raise UnreadableInput(f"{self._column.name} is empty; fill it in")

    def kept(self, text: str) -> str | int | None:
        """What a cell says, in the form that the store keeps."""
        value = self[text]
        return None if value is None else self._column.form.kept(value, self._shop)


class Kept(dict[str, str | int | None]):
    """By text, what a cell of a column says in the form that the store keeps."""

    def __init__(self, said: Said) -> None:
        super().__init__()
        self._said = said

    def __missing__(self, text: str) -> str | int | None:
        if len(self) >= _REMEMBERED:
            self.clear()
        self[text] = kept = self._said.kept(text)
        return kept
