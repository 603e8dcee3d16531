"""The demo: an invented, seeded year of history for the sample shop."""

from pmtrack.demo.build import build_demo

__all__ = ["build_demo"]
