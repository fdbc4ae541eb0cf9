"""Reading what the judge goes by: the players' figures, the kits, the weights of the levels.

Each file is looked for beside the book first, then among what travels with the program.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Annotated, Any, Literal, TypeVar

from pydantic import BaseModel, ConfigDict, Field, ValidationError, model_validator

from ..judge.kit import Kit, Target
from ..judge.level import Share, Weights
from ..judge.player import LimbTimes, Player
from ..nearest import meant
from ..pattern.sound import SOUNDS
from ..problem import BookError, Mark, Problem
from ..shipped import shelf
from ..style.reading import Route, Tree, read_tree

PlayerName = Literal["beginner", "intermediate", "advanced"]
PLAYERS: tuple[PlayerName, ...] = ("beginner", "intermediate", "advanced")
KITS = ("three-piece", "four-piece", "five-piece")
MOST_KITS = 50
"""The most kits in a book's folder."""

USUAL_KIT = "five-piece"

Milliseconds = Annotated[float, Field(gt=0, le=5000, allow_inf_nan=False)]
Centimetres = Annotated[float, Field(ge=-500, le=500, allow_inf_nan=False)]
Number = Annotated[float, Field(ge=0, le=1000, allow_inf_nan=False)]


@dataclass(frozen=True)
class Figures:
    """What the judge goes by: players and kits by name, and the weights of the levels.

    `usual` names the player that printed ceilings are for, `usual_kit` the kit that moves are measured on.
    """

    players: dict[str, Player]
    usual: str
    kits: dict[str, Kit]
    weights: Weights
    usual_kit: str = USUAL_KIT

    @property
    def player(self) -> Player:
        """The player that ceilings are printed for."""
        return self.players[self.usual]

    @property
    def kit(self) -> Kit:
        """The kit that moves are measured on, and that the drum key draws."""
        return self.kits[self.usual_kit]

    def at_kit(self, name: str, mark: Mark) -> Figures:
        """The same figures for another kit. Raises BookError, for the place that names it, where there is none."""
        if name not in self.kits:
            known = ", ".join(self.kits)
            raise BookError([Problem(mark, f"'{name}' is no kit; there are {known}{meant(name, self.kits)}")])
        return replace(self, usual_kit=name)


@cache
def standard_figures() -> Figures:
    """The figures that travel with the program, read once."""
    return read_figures(None)


def read_figures(beside: Path | None, player: PlayerName | None = None) -> Figures:
    """Read figures, kits and weights; a file in the folder `beside` takes the place of the shipped one.

    `player` is the one that ceilings are printed for, where it is not the figures' usual one.
    These are `players.yaml`, `levels.yaml` and `kits/NAME.yaml`; kits of other names are read too. Raises
    BookError with all that is wrong.
    """
    problems: list[Problem] = []
    players = _gather(PlayersText, _file("players.yaml", beside), beside, problems)
    levels = _gather(LevelsText, _file("levels.yaml", beside), beside, problems)
    kits = {file.stem: _gather(KitText, file, beside, problems) for file in _kit_files(beside)}
    if players is None or levels is None or problems:
        raise BookError(problems)
    return Figures(
        players={name: players.player(name) for name in PLAYERS},
        usual=player or players.usual,
        kits={name: kit.kit(name) for name, kit in kits.items() if kit},
        weights=levels.weights(),
    )


class _Part(BaseModel):
    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        alias_generator=lambda name: name.replace("_", "-"),
        populate_by_name=True,
        defer_build=True,
    )


class _Figure(_Part):
    beginner: Milliseconds
    intermediate: Milliseconds
    advanced: Milliseconds
    source: Annotated[str, Field(alias="from", min_length=1)]

    def microseconds(self, player: PlayerName) -> int:
        return round(1000 * float(getattr(self, player)))


class _Limb(_Part):
    alternating: _Figure
    rebound: _Figure
    repeated: _Figure
    ghost: _Figure

    def times(self, player: PlayerName) -> LimbTimes:
        return LimbTimes(**{name: getattr(self, name).microseconds(player) for name in type(self).model_fields})


class _Ornaments(_Part):
    grace: _Figure
    drag: _Figure
    buzz: _Figure


class _Moving(_Part):
    reach: _Figure
    bit: _Figure


class PlayersText(_Part):
    """The keys of players.yaml."""

    usual: PlayerName
    hand: _Limb
    kick: _Limb
    hat: _Limb
    ornaments: _Ornaments
    moving: _Moving

    def player(self, name: PlayerName) -> Player:
        """The figures of one player."""
        return Player(
            name=name,
            hand=self.hand.times(name),
            kick=self.kick.times(name),
            hat=self.hat.times(name),
            grace=self.ornaments.grace.microseconds(name),
            drag=self.ornaments.drag.microseconds(name),
            buzz=self.ornaments.buzz.microseconds(name),
            reach=self.moving.reach.microseconds(name),
            bit=self.moving.bit.microseconds(name),
        )


class _Share(_Part):
    begins: Number
    full: Number
    weight: Number


class LevelsText(_Part):
    """The keys of levels.yaml."""

    shares: dict[str, _Share]
    sums: tuple[Number, ...]

    @model_validator(mode="after")
    def _add_up(self) -> LevelsText:
        self.weights()
        return self

    def weights(self) -> Weights:
        """What each feature counts for."""
        shares = {
            name.replace("-", "_"): Share(share.begins, share.full, share.weight)
            for name, share in self.shares.items()
        }
        return Weights(shares, self.sums)


class _Place(_Part):
    x: Centimetres
    y: Centimetres
    z: Centimetres
    width: Annotated[Centimetres, Field(gt=0)]

    def target(self) -> Target:
        return Target(self.x, self.y, self.z, self.width)


class KitText(_Part):
    """The keys of a kit's file."""

    crossing: Annotated[Centimetres, Field(ge=0)]
    small: tuple[str, ...]
    places: dict[str, _Place | str]

    @model_validator(mode="after")
    def _complete(self) -> KitText:
        for name in (*self.places, *self.small):
            if name not in SOUNDS:
                raise ValueError(f"'{name}' is no sound; there are {', '.join(SOUNDS)}")
        self.kit("unnamed")
        return self

    def kit(self, name: str) -> Kit:
        """The kit under this name. Raises ValueError where a sound is played at no place."""
        targets = {sound: self._target(sound) for sound in self.places}
        return Kit(name, targets, self.crossing, frozenset(self.small))

    def _target(self, name: str) -> Target:
        """Where a sound is played: at its own place, or at the place of the sound it names."""
        place = self.places[name]
        if isinstance(place, str):
            stands_in = self.places.get(place)
            if not isinstance(stands_in, _Place):
                raise ValueError(f"'{name}' is played on '{place}', which has no place of its own")
            place = stands_in
        return place.target()


_Model = TypeVar("_Model", bound=_Part)


def _file(name: str, beside: Path | None) -> Path:
    """A file beside the book if there is one, else the shipped one."""
    own = beside / name if beside else None
    return own if own and (own.exists() or own.is_symlink()) else shelf("shared") / name


def _kit_files(beside: Path | None) -> list[Path]:
    """The shipped kits' files, or those that take their place, and the book's further ones.

    Raises BookError where there are too many.
    """
    own = sorted((beside / "kits").glob("*.yaml")) if beside else []
    if len(own) > MOST_KITS:
        what = f"there are {len(own):,} kits in this folder, and {MOST_KITS} is the most"
        raise BookError([Problem(Mark(own[0].parent), what)])
    named = {file.stem for file in own}
    return own + [shelf("shared") / "kits" / f"{name}.yaml" for name in KITS if name not in named]


def _gather(model: type[_Model], file: Path, beside: Path | None, problems: list[Problem]) -> _Model | None:
    """Read one file; what is wrong with it is added to the problems."""
    tree, wrong = read_tree(file, beside if beside and file.is_relative_to(beside) else None)
    problems += wrong
    if tree is None or wrong:
        return None
    try:
        return model.model_validate(tree.data)
    except ValidationError as error:
        problems += sorted((_problem(one, tree, file) for one in error.errors()), key=lambda problem: problem.mark)
        return None


def _problem(error: Any, tree: Tree, file: Path) -> Problem:
    route: Route = error["loc"]
    unknown = error["type"] == "extra_forbidden"
    mark = (tree.mark_of_key(route) if unknown else tree.mark_of_value(route)) or Mark(file)
    key = next((part for part in reversed(route) if isinstance(part, str)), file.stem)
    return Problem(mark, _words(error, key))


def _words(error: Any, key: str) -> str:
    """What is wrong with a figure, in plain words."""
    kind = error["type"]
    if kind == "extra_forbidden":
        return f"'{key}' is no key here"
    if kind == "missing":
        return f"'{key}' is missing here"
    if kind == "value_error":
        return str(error["ctx"]["error"])
    if kind in ("float_parsing", "float_type"):
        return f"{key}: '{error['input']}' is no number"
    if kind == "literal_error":
        return f"{key}: '{error['input']}' is not one of {', '.join(PLAYERS)}"
    return f"{key}: {error['msg'][:1].lower()}{error['msg'][1:]}"
