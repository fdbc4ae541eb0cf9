"""ISBNs: their check digits.

ISO 2108 and its predecessor, from memory: thirteen digits weighted 1 and 3 in turn add up to a multiple
of 10; ten digits (the last may be X for 10) weighted 10 down to 1 add up to a multiple of 11.
"""

from __future__ import annotations

from typing import Any

from .plain import Wrong, read_line


def read_isbn(value: Any) -> str:
    """An ISBN as its author wrote it, with or without hyphens; raises Wrong where a digit is off."""
    text = read_line(value)
    digits = text.upper().replace("-", "").replace(" ", "")
    if len(digits) == 13 and digits.isascii() and digits.isdigit():
        if not digits.startswith(("978", "979")):
            raise Wrong(f"'{text}' is no ISBN: thirteen digits begin with 978 or 979")
        right = sum(int(digit) * (1, 3)[place % 2] for place, digit in enumerate(digits)) % 10 == 0
    elif (
        len(digits) == 10
        and digits.isascii()
        and digits[:9].isdigit()
        and (digits[9].isdigit() or digits[9] == "X")
    ):
        values = [10 if digit == "X" else int(digit) for digit in digits]
        right = sum(value * weight for value, weight in zip(values, range(10, 0, -1), strict=True)) % 11 == 0
    else:
        raise Wrong(f"'{text}' is no ISBN: it has thirteen digits (older ones ten), with hyphens between")
    if not right:
        raise Wrong(f"'{text}' is no ISBN: its check digit does not fit, so a digit is wrong or two are exchanged")
    return text
