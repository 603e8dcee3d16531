"""The sample file that comes with the product is a good file."""

from pathlib import Path

from pmtrack.shopfile import read_shop

SAMPLE = Path(__file__).parents[2] / "sample_shop.yaml"


def test_sample_file_has_no_fault() -> None:
    shop, faults = read_shop(SAMPLE.read_bytes(), SAMPLE.name)

    assert faults == []
    assert shop is not None
    assert {task.machine for task in shop.tasks} == {machine.code for machine in shop.machines}


def test_fault_in_the_sample_file_names_its_line() -> None:
    lines = SAMPLE.read_text(encoding="utf-8").split("\n")
    number = next(n for n, line in enumerate(lines, 1) if line.strip() == "every: 1 month")
    lines[number - 1] = lines[number - 1].replace("1 month", "1 monht")
    _, faults = read_shop("\n".join(lines).encode(), SAMPLE.name)

    assert [fault.split(" ")[0] for fault in faults] == [f"sample_shop.yaml:{number}:"]
    assert "'monht' is no meter of TP-1" in faults[0]


def test_every_machine_of_the_sample_has_a_kind_and_those_that_make_parts_a_rate() -> None:
    shop, _ = read_shop(SAMPLE.read_bytes(), SAMPLE.name)
    assert shop is not None
    kinds = {machine.kind for machine in shop.machines}
    assert None not in kinds
    assert len(kinds) < len(shop.machines) / 2
    rated = {machine.code for machine in shop.machines if machine.hourly_rate}
    assert {"TP-1", "LC-1", "PB-1", "MW-1", "SB-2"} <= rated
    assert not rated & {"FE-SHOP", "LOTO", "SL-1"}
    assert shop.crew_rate
