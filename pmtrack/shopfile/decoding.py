"""From bytes to text that YAML can hold: UTF-8, no control characters, no tabs as indentation."""

import codecs
import re

from pmtrack.shopfile.fault import Fault

LARGEST = 5_000_000  # bytes

_LINE_END = re.compile(r"\r\n|\r|\n")
# U+0085, U+2028 and U+2029 end a line for some programs only, so that line numbers would differ.
_CONTROL = re.compile(
    "[^\t\n\r\x20-\x7e\xa0-\u2027\u202a-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]"
)
_TAB_INDENT = re.compile(r"^ *\t[ \t]*\S", re.MULTILINE)
_OTHER_MARKS = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE, codecs.BOM_UTF32_BE)


def decode(raw: bytes) -> str | Fault:
    """The text of the file, or the fault that makes it unreadable as a whole."""
    if len(raw) > LARGEST:
        return _whole(1, f"over {LARGEST // 10**6} MB; split off what is no shop description")
    if raw.startswith(_OTHER_MARKS):
        return _whole(1, "saved as UTF-16 or UTF-32; save it as UTF-8")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        return _bad_byte(raw, error.start)
    return _control(text) or _tab(text) or text


def _whole(line: int, text: str) -> Fault:
    return Fault(line, (), text)


def line_after(before: str) -> int:
    """The line on which a text goes on after what stands before."""
    return len(_LINE_END.findall(before)) + 1


def _bad_byte(raw: bytes, at: int) -> Fault:
    # error.start counts from behind a byte order mark, which holds no line end
    at += len(codecs.BOM_UTF8) if raw.startswith(codecs.BOM_UTF8) else 0
    line = line_after(raw[:at].decode("latin-1"))
    return _whole(line, f"byte 0x{raw[at]:02X} is not UTF-8; save the file as UTF-8")


def _control(text: str) -> Fault | None:
    found = _CONTROL.search(text)
    if found is None:
        return None
    name = "NUL character" if found[0] == "\0" else f"control character U+{ord(found[0]):04X}"
    return _whole(line_after(text[: found.start()]), f"a {name}; delete it, save it as UTF-8 text")


def _tab(text: str) -> Fault | None:
    found = _TAB_INDENT.search(text)
    if found is None:
        return None
    more = sum(1 for _ in _TAB_INDENT.finditer(text, found.end()))
    also = f" and {more} more" if more else ""
    return _whole(
        line_after(text[: found.start()]), f"a tab indents this line{also}; indent with spaces"
    )
