"""pmtrack: preventive maintenance of a sheet-metal fabrication shop, on schedule."""

__version__ = "0.1.0"
