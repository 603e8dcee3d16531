"""Pictures put into a page: their names are told apart, their texts left alone."""

from xml.etree import ElementTree

from pmtrack.pictures.inline import inline

FILE = b"""<?xml version="1.0" encoding="utf-8" standalone="no"?>
<svg role="img" aria-labelledby="title description" width="9pt" viewBox="0 0 9 9"
 xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink">
<title id="title">Say id="title" or url(#p1) or xlink:href="#m1"</title>
<!-- a remark -->
<desc id="description">words</desc>
<g id="p1"/><g id="m1"/>
<use xlink:href="#m1" clip-path="url(#p1)" style="fill: url(#p1)"/>
</svg>
"""
TOLD = """<svg role="img" aria-labelledby="a-title a-description" width="9pt" viewBox="0 0 9 9"
 xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink">
<title id="a-title">Say id="title" or url(#p1) or xlink:href="#m1"</title>
<desc id="a-description">words</desc>
<g id="a-p1"/><g id="a-m1"/>
<use xlink:href="#a-m1" clip-path="url(#a-p1)" style="fill: url(#a-p1)"/>
</svg>"""


def test_each_name_and_each_mention_of_it_begins_with_the_pictures_own() -> None:
    assert inline(FILE, "a") == TOLD


def test_what_comes_out_is_one_element() -> None:
    assert ElementTree.fromstring(inline(FILE, "b")).attrib["role"] == "img"  # noqa: S314
