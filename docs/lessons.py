"""The lessons of docs/: pages that teach by YAML which is a whole book, and which the tests and the gallery build.

In such a page a fenced block that begins with `# NAME.yaml` is that file.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

DOCS = Path(__file__).parent
_BLOCK = re.compile(r"```yaml\n# (?P<file>[\w-]+\.yaml)\n(?P<text>.*?)```", re.DOTALL)
_EDITION = re.compile(r"!\[[^]]*left-handed[^]]*\]")


@dataclass(frozen=True)
class Lesson:
    """A page, and the files that it teaches by."""

    name: str
    files: dict[str, str]
    picture: bool
    edition: str | None

    def written_to(self, folder: Path) -> Path:
        """Write the files into a folder; gives the path of their book."""
        for name, text in self.files.items():
            (folder / name).write_text(text, encoding="utf-8")
        return folder / ("book.yaml" if "book.yaml" in self.files else next(iter(self.files)))


def lessons() -> Iterator[Lesson]:
    """Every page of docs/ that has a book in it."""
    for page in sorted(DOCS.glob("*.md")):
        text = page.read_text(encoding="utf-8")
        files = {found["file"]: found["text"] for found in _BLOCK.finditer(text)}
        if any(re.search(r"^(chapter|chapters):", one, re.MULTILINE) for one in files.values()):
            edition = "left-handed" if _EDITION.search(text) else None
            yield Lesson(page.stem, files, f"(pictures/{page.stem}.png)" in text, edition)
