"""A picture as a part of an HTML page that holds several: names of its own, no head of a file."""

import re

_BEFORE = re.compile(r"\A.*?(?=<svg )", re.DOTALL)  # the XML declaration
_COMMENT = re.compile(r"<!--.*?-->\s*", re.DOTALL)
_TAG = re.compile(r"<[A-Za-z][^<>]*>")
_NAMED = re.compile(r'(?<= id=")|(?<=xlink:href="#)|(?<=url\(#)')
_LABELLED = re.compile(r'(?<= aria-labelledby=")([^"]*)')


def inline(picture: bytes, name: str) -> str:
    """The SVG element, each id in it and each mention of one begun with the name of the picture.

    Texts stay as they are, whatever they hold.
    """
    text = _COMMENT.sub("", _BEFORE.sub("", picture.decode()))
    return _TAG.sub(lambda tag: _renamed(tag[0], name), text).rstrip()


def _renamed(tag: str, name: str) -> str:
    labelled = _LABELLED.sub(lambda ids: " ".join(f"{name}-{one}" for one in ids[0].split()), tag)
    return _NAMED.sub(f"{name}-", labelled)
