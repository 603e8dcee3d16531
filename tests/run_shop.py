"""A small invented shop whose programs hit with several tools, for tests of work to come."""

from pathlib import Path

from tests.command import APPLIED, SMALL_SHOP, Command

_TOOLS = """\
materials: [{code: mild}, {code: stainless, wear: 2}]
tooling:
  - {code: RD-10, machine: TP-1, kind: round punch, size: 10 mm, sharpen_every: 60000,
     grind: 0.2, grindable: 3.0, replace_notice: 10 days, price: 85}
  - {code: SQ-5, machine: TP-1, sharpen_every: 50000, grind: 0.2, grindable: 2.0}
  - {code: LV-60, machine: TP-1, sharpen_every: 2000, grind: 0.5, grindable: 0.5}
  - {code: RE-50, machine: TP-1, sharpen_every: 70000, grind: 0.2, grindable: 4.0,
     die: {sharpen_every: 2500, grind: 0.2, grindable: 2.0}}
  - {code: BP-88, machine: PB-1, sharpen_every: 1000}
  - {code: TIP-1, machine: TP-1, sharpen_every: 400, counts: hours}
programs:
  - {code: KIOSK-DOOR, material: mild, hits: {RD-10: 14, SQ-5: 4}}
  - {code: LOUVER, hits: {LV-60: 8}}
  - {code: SIDE, hits: {RE-50: 10}}
  - {code: BRACKET, hits: {RD-10: 2, BP-88: 3}}
  - {code: PLAIN, hits: {}}
"""
_SECOND_PRESS = "  - {code: TP-2, name: Second press}\n"


def store(folder: Path) -> Command:
    """The command line on a store to which the shop was applied."""
    text = SMALL_SHOP.read_text("utf-8")
    machines, rest = text.split("  - {code: FE-1", maxsplit=1)
    described = f"{machines}{_SECOND_PRESS}  - {{code: FE-1{rest}"
    file = folder / "shop.yaml"
    file.write_text(described[: described.index("materials:")] + _TOOLS, "utf-8")
    run = Command(folder / "pmtrack.db")
    told = run("apply", str(file), now=APPLIED)
    assert told.status == 0, told.err
    return run
