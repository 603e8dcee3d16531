"""Lines are folded where the library folds them, whatever they hold."""

from hypothesis import given
from hypothesis import strategies as st
from icalendar.parser import Contentline

from pmtrack.exports.shared_lines import folded

# lines long enough to be folded, with characters of one to four octets where they are full
LONG = st.text("ab\\^", min_size=60, max_size=90)
ANY = st.text(st.sampled_from("\\^é€😀") | st.characters(codec="utf-8", exclude_characters="\n"))


@given(words=st.lists(LONG | ANY, max_size=12))
def test_a_line_is_folded_where_the_library_folds_it(words: list[str]) -> None:
    line = "".join(words)
    by_library: bytes = Contentline(line).to_ical()  # type: ignore[no-untyped-call]
    assert folded(line.encode()) == by_library
