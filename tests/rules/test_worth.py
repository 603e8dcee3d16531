"""What to change first."""

from pmtrack.rules.worth import Matter, Thing, first_things


def thing(
    matter: Matter, machine: str, what: str, saved: float | None = None, **more: int
) -> Thing:
    """Something to change."""
    money, days = bool(more.get("money", 1)), more.get("days", 0)
    return Thing(matter, machine, what, "today", saved, money, days)


def test_the_law_goes_before_money_money_before_hours_and_calls_come_last() -> None:
    things = [
        thing(Matter.CALL, "A", "call", days=9),
        thing(Matter.CALL, "G", "older call", days=12),
        thing(Matter.INTERVAL, "B", "hours", 900.0, money=0),
        thing(Matter.INTERVAL, "H", "few hours", 5.0, money=0),
        thing(Matter.CAUSE, "C", "less", 100.0),
        thing(Matter.INTERVAL, "D", "more", 101.0),
        thing(Matter.LAW, "E", "late", days=2),
        thing(Matter.LAW, "F", "later", days=3),
    ]
    told = [one.what for one in first_things(things, 8)]
    assert told == [
        "later", "late", "more", "less", "hours", "few hours", "older call", "call",
    ]  # fmt: skip
    assert [one.what for one in first_things(things)] == ["later", "late", "more"]


def test_a_machine_is_named_once_but_each_job_late_by_law() -> None:
    things = [
        thing(Matter.CAUSE, "A", "best", 300.0),
        thing(Matter.INTERVAL, "A", "second", 200.0),
        thing(Matter.TREND, "B", "other", 100.0),
    ]
    assert [one.what for one in first_things(things)] == ["best", "other"]
    law = [thing(Matter.LAW, "A", name) for name in ("one", "two")]
    assert [one.what for one in first_things([*law, *things])] == ["one", "two", "other"]


def test_what_is_saved_is_money_unless_it_is_told_to_be_hours() -> None:
    plain = Thing(Matter.CAUSE, "A", "money", "today", 5.0)
    hours = thing(Matter.CAUSE, "B", "hours", 900.0, money=0)
    assert [one.what for one in first_things([hours, plain])] == ["money", "hours"]


def test_nothing_to_change() -> None:
    assert first_things([]) == []
