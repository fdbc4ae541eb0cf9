"""Writes docs/licences.md: what is installed with the program, and under which licences. `make licences` runs it.

It reads what each installed package says of itself. A package that is installed elsewhere alone, on another
Python or another system, keeps the line that it has.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib.metadata import PackageNotFoundError, distribution
from pathlib import Path

from packaging.requirements import Requirement

PAGE = Path(__file__).with_name("licences.md")
EXTRAS = ("sound", "cluster")

KINDS = {
    "MIT License": "MIT",
    "BSD License": "BSD",
    "BSD": "BSD",
    "Apache Software License": "Apache-2.0",
    "ISC License (ISCL)": "ISC",
    "Python Software Foundation License": "PSF-2.0",
    "Mozilla Public License 2.0 (MPL 2.0)": "MPL-2.0",
    "Mozilla Public License 1.1 (MPL 1.1)": "MPL-1.1",
    "GNU General Public License (GPL)": "GPL-3.0-or-later",
    "GNU General Public License v2 or later (GPLv2+)": "GPL-2.0-or-later",
    "GNU Lesser General Public License v2 or later (LGPLv2+)": "LGPL-2.1-or-later",
    "SIL Open Font License 1.1 (OFL-1.1)": "OFL-1.1",
    "Zope Public License": "ZPL-2.1",
    "Public Domain": "public domain",
    "Apache License 2.0": "Apache-2.0",
}
"""What packages say in their older ways, by SPDX's names."""

FREE = {
    *("MIT", "MIT-0", "MIT-CMU", "BSD", "BSD-2-Clause", "BSD-3-Clause", "0BSD", "ISC", "Zlib", "CC0-1.0"),
    *("PSF-2.0", "Apache-2.0", "MPL-2.0", "MPL-1.1", "LGPL-2.1-or-later", "ZPL-2.1", "OFL-1.1", "public domain"),
    *("GPL-2.0-or-later", "GPL-3.0-or-later", "dependency licenses"),
}
"""Licences that go together with each other and with ours, as the FSF lists them (from memory)."""

_HEAD = """\
# Licences

<!-- Written by `make licences` from what is installed; run that again instead of changing the table. -->

Shedbook's own files are under the MIT licence. It is used together with the packages below, which are installed
beside it and not copied into it. All of their licences go together with MIT. Two things to know:

- **LilyPond** (GPL-3.0-or-later) is a program of its own. Shedbook starts it, hands it files and reads its files;
  nothing of it is linked or copied. What it engraves is yours.
- **Abjad**, and Unidecode below it, are libraries under the GPL, and the engraving room (`typeset/engrave/`)
  imports Abjad. MIT goes together with the GPL. Whoever passes on Shedbook *together with Abjad*, as one program,
  passes the whole on under the GPL's terms; whoever passes on Shedbook alone, under MIT's. Books that are made with
  it are touched by neither.

The typefaces (OFL-1.1) may be embedded in any book. This page is a list and no legal advice.

The project's own builds install what `requirements/` names, file by file, by their hashes; `make lock` names the
newest that `pyproject.toml` allows. Whether anything in there has known faults is asked with
`pip-audit -r requirements/book.txt`, where the network reaches a list of faults: it did not where this was written
(November 2026: the package mirror has no list, and osv.dev could not be reached), so that was not done.

| package | licence | comes with |
| --- | --- | --- |
"""

_ROW = re.compile(r"^\| ([^|]+) \| ([^|]+) \| ([^|]+) \|$", re.MULTILINE)


def rows() -> dict[str, tuple[str, str]]:
    """The licence of each installed package that the program needs, and what it comes with."""
    found: dict[str, tuple[str, str]] = {}
    waiting = [("shedbook", frozenset(EXTRAS), "")]
    while waiting:
        name, extras, above = waiting.pop(0)
        key = re.sub(r"[-_.]+", "-", name).lower()
        if key in found:
            continue
        try:
            package = distribution(name)
        except PackageNotFoundError:
            continue
        found[key] = (_licence(package.metadata), above)
        for line in package.requires or ():
            needed = Requirement(line)
            if not needed.marker or any(needed.marker.evaluate({"extra": extra}) for extra in ("", *extras)):
                waiting.append((needed.name, frozenset(needed.extras), key))
    del found["shedbook"]
    return found


def _licence(about: object) -> str:
    """What a package says: its SPDX expression, else its classifiers, else its own words."""
    said = about.get("License-Expression")  # type: ignore[attr-defined]
    if said:
        return str(said)
    classifiers = (one for one in about.get_all("Classifier", []) if one.startswith("License ::"))  # type: ignore[attr-defined]
    kinds = [one.split("::")[-1].strip() for one in classifiers if not one.endswith(":: OSI Approved")]
    words = kinds or [str(about.get("License") or "not said").split("\n")[0]]  # type: ignore[attr-defined]
    return " OR ".join(KINDS.get(word, word) for word in words)


def parts(licence: str) -> Iterator[str]:
    """The single licences that an expression names."""
    yield from (part.strip("() ") for part in re.split(r" AND | OR |, ", licence))


def listed(page: str) -> dict[str, tuple[str, str]]:
    """The rows of the page."""
    return {name: (licence, above) for name, licence, above in _ROW.findall(page)[1:] if name != "---"}


def main() -> None:
    """Write the page."""
    before = listed(PAGE.read_text(encoding="utf-8")) if PAGE.exists() else {}
    together = {**before, **rows()}
    table = (f"| {name} | {licence} | {above} |\n" for name, (licence, above) in sorted(together.items()))
    PAGE.write_text(_HEAD + "".join(table), encoding="utf-8")


if __name__ == "__main__":
    main()
