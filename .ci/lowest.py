"""Print the oldest versions that pyproject.toml allows, as constraints for pip.

Run: python .ci/lowest.py > lowest.txt; pip install -c lowest.txt -e '.[test]'. What has no lower
bound is left to pip. Tools of the tests are not bound: they check, they are not shipped.
"""

import re
import tomllib
from pathlib import Path

EXTRAS = ("publish", "analysis")
LOWER_BOUND = re.compile(r"([\w.-]+)\s*>=\s*([\w.]+)")


def main() -> None:
    """One line for each requirement with a lower bound."""
    text = (Path(__file__).parents[1] / "pyproject.toml").read_text()
    project = tomllib.loads(text)["project"]
    extras = project["optional-dependencies"]
    for told in [*project["dependencies"], *(one for name in EXTRAS for one in extras[name])]:
        if found := LOWER_BOUND.match(told):
            print(f"{found[1]}=={found[2]}")


if __name__ == "__main__":
    main()
