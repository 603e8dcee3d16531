"""Our own sentences for what the YAML parser cannot read."""

from yaml import MarkedYAMLError

from pmtrack.shopfile.building import DEEPEST
from pmtrack.shopfile.fault import Fault

_BRACKET = "a bracket or brace is not closed, or a comma is missing; close it, or add the comma"
_OTHERWISE = "this cannot be read as YAML; check colons, quotes, brackets and indentation"

# What the parser says, by a part of its sentence, and what we say; the first that fits.
_SENTENCES = (
    (
        "mapping values are not allowed",
        "a colon where none can stand; put text with a colon in quotes, or check the indentation",
    ),
    (
        "found character that cannot start any token",
        "a value cannot begin with this character; put the value in quotes",
    ),
    (
        "expected ':'",
        "a key without its colon, or none of the space behind it; write it like key: value",
    ),
    (
        "block sequence entries are not allowed",
        "a dash where no list can begin; put it on a line of its own below the key",
    ),
    ("unexpected end of stream", "a quote is opened and never closed; close it"),
    (
        "unknown escape character",
        "a backslash in double quotes begins no known sign; use single quotes",
    ),
    ("expected ',' or ']'", _BRACKET),
    ("expected ',' or '}'", _BRACKET),
    (
        "did not find expected '-' indicator",
        "this line does not line up with the list above it; check the indentation",
    ),
    (
        "did not find expected key",
        "this line does not line up with the keys above it; check the indentation",
    ),
    (
        "did not find expected alphabetic or numeric character",
        "& and * begin an anchor or alias, which are not taken; put the value in quotes",
    ),
    (
        "exceeded maximum nesting depth",  # the parser looks ahead of what it has told us
        f"nested over {DEEPEST} levels deep; the shop needs far fewer",
    ),
    (
        "did not find expected node content",
        "a value is missing, or a bracket is not closed; write the value, or close the bracket",
    ),
    ("undefined tag handle", "a tag is not taken; write the plain value, or put it in quotes"),
    ("incompatible YAML document", "not YAML version 1; delete the line that begins with %YAML"),
)
# Here the beginning tells more than the place where the parser gave up.
_FROM_BEGINNING = ("unexpected end of stream", "expected ',' or", "expected ':'")


def syntax_fault(error: Exception, last_line: int) -> Fault:
    """The parser's complaint in our words, on the line where the mend is to be made."""
    problem = getattr(error, "problem", None) or str(error)
    sentence = next((ours for theirs, ours in _SENTENCES if theirs in problem), _OTHERWISE)
    return Fault(min(_line(error, problem), last_line), (), sentence)


def _line(error: Exception, problem: str) -> int:
    if not isinstance(error, MarkedYAMLError):
        return 1
    marks = [error.problem_mark, error.context_mark]
    if any(words in problem for words in _FROM_BEGINNING):
        marks.reverse()
    return next((mark.line + 1 for mark in marks if mark), 1)
