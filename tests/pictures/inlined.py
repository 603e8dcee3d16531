"""A page that holds pictures, taken apart: the strict tree of its HTML, and each SVG by itself."""

import re
from typing import NamedTuple
from xml.etree import ElementTree

from tests.exports.html_tree import Element, read

SVG = "{http://www.w3.org/2000/svg}"
XLINK = "{http://www.w3.org/1999/xlink}href"
UNWANTED = {f"{SVG}{name}" for name in ("script", "image", "foreignObject", "a", "animate", "set")}
_PICTURE = re.compile(r"<svg .*?</svg>", re.DOTALL)
_OWN = re.compile(r"url\((?!#)|@import|https?://(?!www\.w3\.org/)")


class Page(NamedTuple):
    """The page without its pictures, and the pictures in order."""

    html: Element
    pictures: list[ElementTree.Element]

    @property
    def titles(self) -> list[str]:
        """The title of each picture."""
        return [picture.findtext(f"{SVG}title") or "" for picture in self.pictures]

    def words(self, title: str) -> list[str]:
        """All texts drawn in the picture whose title begins so."""
        picture = self.pictures[[t.startswith(title) for t in self.titles].index(True)]
        return ["".join(one.itertext()) for one in picture.iter(f"{SVG}text")]


def taken_apart(document: str) -> Page:
    """The page; fails unless it is harmless, stands alone, and names nothing twice."""
    pictures = [ElementTree.fromstring(one) for one in _PICTURE.findall(document)]  # noqa: S314
    named = [name for picture in pictures for name in ids(picture)]
    assert len(named) == len(set(named)), "an id stands twice on the page"
    for picture in pictures:
        _check(picture)
    assert not _OWN.search(document), "something is fetched"
    return Page(read(_PICTURE.sub("", document)), pictures)


def ids(picture: ElementTree.Element) -> list[str]:
    """All names in a picture."""
    return [element.attrib["id"] for element in picture.iter() if "id" in element.attrib]


def mentioned(picture: ElementTree.Element) -> set[str]:
    """All names that a picture points at."""
    found = set(picture.attrib.get("aria-labelledby", "").split())
    for element in picture.iter():
        found |= {v.removeprefix("#") for k, v in element.attrib.items() if k == XLINK}
        found |= set(re.findall(r"url\(#([^)]*)\)", " ".join(element.attrib.values())))
    return found


def _check(picture: ElementTree.Element) -> None:
    assert not UNWANTED & {element.tag for element in picture.iter()}
    handlers = [name for e in picture.iter() for name in e.attrib if name.startswith("on")]
    assert not handlers, handlers
    assert mentioned(picture) <= set(ids(picture)), "it points at what is not in it"
    assert picture.attrib["role"] == "img"
    assert picture.findtext(f"{SVG}desc"), "it cannot be read aloud"
