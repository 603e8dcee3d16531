"""A strict reader of our HTML: every element closed in its order, nothing that runs or fetches."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser

INLINE = {"span", "b", "i", "abbr", "code"}
VOID = {"meta", "col"}
HARMLESS = {
    *("html", "head", "meta", "title", "style", "body", "main", "header", "article", "section"),
    *("h1", "h2", "p", "div", "span", "b", "i", "abbr", "code", "ul", "li"),
    *("figure", "figcaption"),
    *("table", "colgroup", "col", "thead", "tbody", "tr", "th", "td"),
}
ATTRIBUTES = {
    *("lang", "charset", "name", "content", "http-equiv", "class", "style", "title", "scope"),
    *("colspan", "role", "aria-label", "aria-hidden"),
}


@dataclass
class Element:
    """An element with its attributes, and its texts and elements in order."""

    name: str
    attributes: dict[str, str] = field(default_factory=dict)
    content: list[Element | str] = field(default_factory=list)

    @property
    def text(self) -> str:
        """All text in it, on one line."""
        return " ".join(self._raw.split())

    @property
    def _raw(self) -> str:
        """All text in it; what is no part of a line stands apart."""
        raw = "".join(part if isinstance(part, str) else part._raw for part in self.content)
        return raw if self.name in INLINE else f" {raw} "

    def all(self, name: str = "", class_: str = "") -> list[Element]:
        """The elements inside of that name and that class, in the order of the document."""
        return [
            element
            for element in self._inside()
            if name in ("", element.name) and class_ in ("", *element.classes)
        ]

    @property
    def classes(self) -> list[str]:
        """Its classes."""
        return self.attributes.get("class", "").split()

    def _inside(self) -> Iterator[Element]:
        for part in self.content:
            if isinstance(part, Element):
                yield part
                yield from part._inside()


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.open = [Element("document")]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        assert tag in HARMLESS, f"<{tag}> does not belong here"
        assert {name for name, _ in attrs} <= ATTRIBUTES, attrs
        element = Element(tag, {name: value or "" for name, value in attrs})
        self.open[-1].content.append(element)
        if tag not in VOID:
            self.open.append(element)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop().name == tag, f"</{tag}> closes something else"

    def handle_data(self, data: str) -> None:
        self.open[-1].content.append(data)

    def handle_comment(self, data: str) -> None:
        raise AssertionError(f"a comment: {data}")


def read(document: str) -> Element:
    """The document as elements. Fails unless it is well formed, harmless and stands alone."""
    reader = _Reader()
    reader.feed(document)
    reader.close()
    assert [element.name for element in reader.open] == ["document"], "something is left open"
    root = reader.open[0]
    style = root.all("style")[0].text
    assert "url(" not in style
    assert "@import" not in style
    return root
