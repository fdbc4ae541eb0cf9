"""What is made of a book's pages."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from pathlib import Path


class Kind(Enum):
    """A book to read, a file for a printing house, a booklet to fold, or two pages side by side."""

    BOOK = "book"
    PRESS = "press"
    BOOKLET = "booklet"
    TWO_UP = "two-up"


ON_SHEETS = (Kind.BOOKLET, Kind.TWO_UP)


class Flip(Enum):
    """The edge of the sheet that a printer turns it over, to print its other side."""

    SHORT = "short"
    LONG = "long"


class NotForPress(Exception):
    """Something that a printing house needs is missing. The message says what, and what would be right."""


@dataclass(frozen=True, slots=True)
class Output:
    """What is made of a book's pages, and how.

    `profile` is the ICC profile of the printing condition that a press file is meant for. `sheet` names the
    paper in the printer where it is not the style's. `flip` matters where two pages stand side by side.
    """

    kind: Kind = Kind.BOOK
    profile: bytes | None = None
    sheet: str | None = None
    flip: Flip = Flip.SHORT

    @property
    def ending(self) -> str:
        """What the file's name ends with, before `.pdf`."""
        return "" if self.kind is Kind.BOOK else f"-{self.kind.value}"

    def sheets(self, pages: int) -> int:
        """How many sheets so many pages are printed on, two on each side; none where pages stand alone."""
        return -(-pages // 4) if self.kind in ON_SHEETS else 0


AS_BOOK = Output()


def asked_output(kinds: Sequence[str], flip: str, sheet: str | None, profile: Path | None) -> Output:
    """What was asked for on a command line. Raises ValueError, which says what does not go together."""
    if len(kinds) > 1:
        raise ValueError(f"--{kinds[0]} and --{kinds[1]} are two files; build one after the other")
    kind = Kind(kinds[0]) if kinds else Kind.BOOK
    if flip not in {one.value for one in Flip}:
        raise ValueError(f"--flip is short or long, not '{flip}'")
    if profile and kind is not Kind.PRESS:
        raise ValueError("--profile goes with --press")
    if sheet and kind not in ON_SHEETS:
        raise ValueError("--sheet goes with --booklet or --two-up")
    return Output(kind, _profile(profile) if profile else None, _sheet(sheet) if sheet else None, Flip(flip))


def _profile(file: Path) -> bytes:
    from .profile import components_of

    try:
        profile = file.read_bytes()
        components_of(profile)
    except OSError as error:
        raise ValueError(f"{file} cannot be read: {error.strerror}") from error
    except ValueError as error:
        raise ValueError(f"{file}: {error}") from error
    return profile


def _sheet(name: str) -> str:
    from ..style.paper import PAPERS

    if name not in PAPERS:
        raise ValueError(f"there is no paper '{name}'; there are {', '.join(PAPERS)}")
    return name
