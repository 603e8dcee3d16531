"""Who works in the invented shop."""

MANAGER = "Hollis"
TECHNICIANS = ("Lena", "Ruben")
TOOL_GRINDER = "Anselm"

_OPERATORS = (
    ("Mara", "Dov", "Ines", "Tomas", "Yuki", "Bea", "Kofi", "Petra", "Sami", "Odile"),
    ("Jonas", "Lucia", "Emre", "Wanda", "Niko", "Rosa"),
)


def operator(place: int, shift: int) -> str:
    """Who runs the machine at that place in the shop file, on the first shift or a later one."""
    names = _OPERATORS[min(shift, len(_OPERATORS) - 1)]
    return names[place % len(names)]


def technician(number: int) -> str:
    """One of the technicians."""
    return TECHNICIANS[number % len(TECHNICIANS)]
