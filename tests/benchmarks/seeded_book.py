"""A book of two-bar exercises of all kinds, made from a seed: what the benchmarks engrave."""

from __future__ import annotations

import random
from pathlib import Path

_HANDS = "R L K r l"
_METERS = (
    ("4/4", ("8ths", "triplets", "16ths", "16ths")),
    ("3/4", ("8ths", "16ths")),
    ("6/8", ("8ths", "16ths")),
    ("7/8", ("16ths",)),
)
_TOMS = ("high-tom", "mid-tom", "floor-tom", "ride", "crash")


def write_book(folder: Path, exercises: int, seed: int = 7, a_chapter: int = 50) -> Path:
    """Write a book of so many exercises; the same seed gives the same book. Gives its folder."""
    chance = random.Random(seed)
    folder.mkdir(parents=True, exist_ok=True)
    names: list[str] = []
    for start in range(0, exercises, a_chapter):
        name = f"{start // a_chapter + 1:03}.yaml"
        count = min(a_chapter, exercises - start)
        entries = [_exercise(f"e{start + number}", chance) for number in range(count)]
        (folder / name).write_text(f"chapter: Part {start // a_chapter + 1}\nexercises:\n" + "".join(entries))
        names.append(name)
    about = f"title: Seeded\nauthor: Lantern Yard Studio\ndate: 2026-09-01\nchapters: [{', '.join(names)}]\n"
    (folder / "book.yaml").write_text(about)
    return folder


def write_roster(file: Path, students: int, each: int, seed: int = 0, out_of: int = 300) -> Path:
    """Write a roster of invented students, each with so many exercises of the first ones of a book. Gives its file."""
    chance = random.Random(seed)
    rows = (
        f"Student {number},{chance.choice(('right', 'left'))},"
        f"{' '.join(f'e{place}' for place in sorted(chance.sample(range(out_of), each)))}\n"
        for number in range(students)
    )
    file.write_text("name,hand,exercises\n" + "".join(rows))
    return file


def _exercise(name: str, chance: random.Random) -> str:
    meter, grids = chance.choice(_METERS)
    order = " ".join(chance.choice(_HANDS.split()) for _ in range(chance.randint(3, 9)))
    return (
        f"  - id: {name}\n"
        f"    title: Number {name}\n"
        f"    start: R {order}\n"
        f"    meter: {meter}\n"
        f"    grid: {chance.choice(grids)}\n"
        "    tempo: 60-90\n"
        "    steps:\n"
        "      - fit: 2\n"
        f"      - voice: {{R: hi-hat, L: {chance.choice(('snare', 'cross-stick'))}}}\n"
        f"      - accent: {{every: {chance.randint(2, 5)}}}\n"
        f"      - move: {{limb: R, every: {chance.randint(2, 6)}, to: {chance.choice(_TOMS)}}}\n"
    )
