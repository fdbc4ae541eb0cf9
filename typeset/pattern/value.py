"""Values that work things out of themselves once, and travel without what they have worked out."""

from __future__ import annotations

from typing import Any, ClassVar


class Value:
    """What a dataclass that works out more than it was made of is based on.

    A copy in another process is made of the same parts. So two of them are the same bytes, whatever was asked of
    either before; and a hash that is kept is another in another process.
    """

    __match_args__: ClassVar[tuple[str, ...]]

    def __reduce__(self) -> tuple[type[Value], tuple[Any, ...]]:
        """Its class, and its parts in their order."""
        return type(self), tuple([getattr(self, name) for name in self.__match_args__])
