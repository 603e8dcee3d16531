"""The cheapest age for planned renewal, read from a curve of the share alive, without any law."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from math import sqrt

from pmtrack.statistics.age_replacement import Costs, Renewal
from pmtrack.statistics.kaplan_meier import Step

type Point = tuple[float, float]
