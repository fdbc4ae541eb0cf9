"""`python -m typeset` does the same as the command `shedbook`."""

from .cli import main

main()
