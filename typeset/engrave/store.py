"""The store: finished blocks kept between runs, found again by what they depend on."""

from __future__ import annotations

import hashlib
import inspect
import json
from dataclasses import dataclass
from pathlib import Path

from .. import notation
from ..compose.engraving import Engraving
from ..kept import Shelf, read_with
from ..shipped import engraver_version, store_folder
from ..style.music import Staff
from .block import Block, Finish
from .printed import printed


def default_folder() -> Path:
    """Where blocks are kept: in the folder that SHEDBOOK_STORE names, else in the user's cache folder."""
    return Shelf.under(store_folder(), "block").folder


def key_of(engraving: Engraving, staff: Staff, maker: str) -> str:
    """The name a block is kept under: a hash of the visible music, the staff, and what makes blocks of them.

    Which hand plays is not visible on the staff and so is not in it. `maker` is the answer of `maker_of`.
    """
    parts = (repr(printed(engraving)), staff.model_dump_json(), maker)
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()


def maker_of(finish: Finish) -> str:
    """What makes blocks: the engraver's version, and a hash of what writes music and of the module of `finish`."""
    digest = hashlib.sha256(engraver_version().encode())
    rooms = (Path(__file__).parent, Path(notation.__path__[0]))
    files = [path for room in rooms for path in sorted(room.iterdir()) if path.suffix in (".py", ".ily")]
    finisher = inspect.getsourcefile(finish)
    for path in (*files, *([Path(finisher)] if finisher else ())):
        digest.update(path.name.encode() + b"\0" + path.read_bytes() + b"\0")
    return digest.hexdigest()


@dataclass(frozen=True, slots=True)
class Store:
    """A folder of finished blocks, each a file of its own that is checked when it is read."""

    folder: Path

    @property
    def is_new(self) -> bool:
        """Whether nothing was ever kept in it."""
        try:
            return not self.folder.exists()
        except OSError:
            return False  # it is somebody else's

    def get(self, key: str) -> Block | None:
        """The block kept under a key; None when there is none, or it is damaged."""
        return read_with(_unpacked, self._shelf.get(key))

    def put(self, key: str, block: Block) -> None:
        """Keep a block. Nobody ever reads half of one. Raises OSError when the folder cannot be written."""
        self._shelf.put(key, _packed(block))

    @property
    def _shelf(self) -> Shelf:
        return Shelf(self.folder, "block")


def _packed(block: Block) -> bytes:
    """A line of numbers, then the PDF."""
    numbers = {
        name: getattr(block, name) for name in ("width", "height", "left", "right", "bottom", "top", "ink", "slots")
    }
    return json.dumps(numbers).encode() + b"\n" + block.pdf


def _unpacked(body: bytes) -> Block:
    """What was packed. Of anything else it raises what `read_with` passes over."""
    line, _, pdf = body.partition(b"\n")
    numbers = json.loads(line)
    return Block(pdf=pdf, **{**numbers, "ink": tuple(numbers["ink"]), "slots": tuple(numbers["slots"])})
