"""How the machines of the sample shop are run: which shifts, which parts, how meters are read."""

# Painting, washing and the smaller machines run on the first shift only.
FIRST_SHIFT_ONLY = frozenset(
    ["SH-1", "MP-1", "MW-2", "TW-1", "PW-1", "SB-1", "SB-2", "AM-1", "CO-1", "BA-1", "DS-1", "DC-2"]
)
# Nobody stands at these: the technician reads their counters on a round.
READ_ON_ROUNDS = frozenset(["CH-1", "DC-1", "DC-2", "FX-1", "AM-1", "AC-1", "AD-1", "LT-1", "CR-1"])
RUN_WITH = {"DC-2": "DS-1"}  # stands still while the other is out of service
STEADY = frozenset(["AC-1", "AD-1"])  # run alike in every season
ON_OVERTIME = frozenset(["TP-1", "LC-1", "PB-1", "CH-1", "DC-1", "AC-1", "AD-1"])

# Counts of the first meter for one part, where no program tells it.
COUNTS_PER_PART = {"PB-1": 6, "PB-2": 5, "SH-1": 2, "MP-1": 3, "HP-1": 8, "SW-1": 12}

FINAL_CHECKS = frozenset(["SB-1/filters-after-use", "SB-2/daily"])  # done when painting is over

# Unplanned stops in a year, and what causes them.
FAILURES: dict[str, tuple[int, tuple[str, ...]]] = {
    "TP-1": (40, ("tool jam", "hydraulic leak", "sheet clamp", "stripper broken", "turret index")),
    "LC-1": (34, ("nozzle crash", "height sensor", "assist gas low", "shuttle table jam")),
    "CH-1": (4, ("water temperature alarm", "low level")),
    "PB-1": (17, ("light curtain", "backgauge drive", "hydraulic leak", "tool clamp")),
    "PB-2": (14, ("light curtain", "backgauge drive", "pedal cable")),
    "SH-1": (5, ("hold-down leak", "backgauge drive", "blade chipped")),
    "MP-1": (7, ("clutch air leak", "two-hand control", "feeder jam")),
    "HP-1": (9, ("bowl feeder jam", "vacuum lost", "ram safety sensor")),
    "DS-1": (9, ("belt torn", "belt tracking", "conveyor drive")),
    "DC-1": (4, ("pulse valve", "spark detector alarm")),
    "DC-2": (3, ("low water cut-out", "fan belt")),
    "SW-1": (7, ("cooling water low", "jumper cable", "two-hand control")),
    "MW-1": (6, ("wire feed", "torch fault")),
    "MW-2": (5, ("wire feed", "torch fault")),
    "TW-1": (4, ("coolant flow low", "torch fault")),
    "FX-1": (2, ("fan overload",)),
    "PW-1": (7, ("pump seal leak", "heater fault", "nozzles blocked")),
    "SB-1": (5, ("fan belt", "airflow interlock")),
    "SB-2": (7, ("gun fault", "pulse valve", "airflow interlock")),
    "AM-1": (4, ("burner lockout", "fan belt")),
    "CO-1": (7, ("burner lockout", "door switch", "fan belt")),
    "AC-1": (5, ("air pressure low", "temperature trip")),
    "AD-1": (2, ("drain stuck",)),
    "LT-1": (5, ("battery flat", "hydraulic leak", "drive fault")),
    "CR-1": (4, ("pendant fault", "limit switch")),
    "BA-1": (2, ("air pressure low",)),
}
OTHER_FAILURES = (5, ("drive fault", "control fault"))

# What is seen during a service and mended later as a job of its own.
FOLLOW_UPS = {
    "TP-1": "Replace the cracked hose at the ram cylinder",
    "LC-1": "Replace the torn bellows on the X axis",
    "PB-1": "Replace the weeping seal at the left cylinder",
    "PB-2": "Replace the frayed pedal cable",
    "CH-1": "Replace the corroded hose clamp at the return",
    "DC-1": "Replace the worn pulse valve membrane",
    "PW-1": "Replace the leaking gland at the pump",
    "CO-1": "Replace the brittle seal of the left door",
    "AC-1": "Replace the sagging intake hose",
    "EW-1": "Replace the missing dust cap at the middle station",
}
