"""A LilyPond that fails at whatever has a cowbell in it, and sets everything else as the real one does.

There it `fails`, leaves `half` a file, `hangs`, `leaves a child` and hangs, `spins`, `eats` memory or `fills` the disk.
"""

from __future__ import annotations

import sys
from pathlib import Path

from typeset.engrave import lilypond

_SCRIPT = """\
#!{python} -IS
import os, subprocess, sys, time
real, how = {real!r}, {how!r}
head, *books = open("blocks.ly").read().split("\\\\book {{")
good = 0
while good < len(books) and "cowbell>" not in books[good]:
    good += 1
if good == len(books):
    os.execv(real, [real, *sys.argv[1:]])
if good:
    with open("before.ly", "w") as before:
        before.write("\\\\book {{".join([head, *books[:good]]))
    subprocess.run([real, *sys.argv[1:-1], "before.ly"], check=True)
if how == "half":
    open(f"block{{good}}.pdf", "wb").write(b"%PDF-1.5 half of it")
if how == "hangs":
    time.sleep(600)
if how == "leaves a child":
    subprocess.Popen(["sleep", "601"])
    time.sleep(600)
if how == "spins":
    while True:
        pass
if how == "eats":
    eaten = []
    while True:
        eaten.append(b"x" * 50_000_000)
if how == "fills":
    with open("block.log", "wb") as log:
        while True:
            log.write(b"x" * 1_000_000)
sys.exit("cannot set this")
"""


def failing_lilypond(folder: Path, how: str) -> Path:
    """The program; at a cowbell it does as `how` says."""
    program = folder / "lilypond"
    program.write_text(_SCRIPT.format(python=sys.executable, real=str(lilypond.engraver()), how=how))
    program.chmod(0o755)
    return program
