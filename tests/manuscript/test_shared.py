"""Groups of sequences that books share: the shipped ones, and a book's own beside them."""

from collections.abc import Callable, Iterable
from pathlib import Path

import pytest
from sympy.utilities.iterables import necklaces

from typeset.manuscript.shared import SharedSequence, SharedSequences
from typeset.pattern.bar import empty_bar
from typeset.pattern.grid import SIXTEENTHS
from typeset.pattern.limb import Limb
from typeset.pattern.meter import COMMON_TIME
from typeset.pattern.order import Order, write_order, write_played
from typeset.pattern.selection import longest_run
from typeset.shipped import shelf

Group = Callable[[str], SharedSequences]

SHIPPED = SharedSequences(Path("no such folder"))
LENGTHS = range(3, 10)
LIMBS = "R, L, K, H are limbs (small for a ghost stroke), . is a silent slot"
FILES = sorted((shelf("shared") / "sequences").glob("*.yaml"))


@pytest.fixture
def group(tmp_path: Path) -> Group:
    """A book's folder with a group of its own, called `own` or otherwise."""

    def make(text: str, name: str = "own") -> SharedSequences:
        (tmp_path / "sequences").mkdir(exist_ok=True)
        (tmp_path / "sequences" / f"{name}.yaml").write_text(text, encoding="utf-8")
        return SharedSequences(tmp_path)

    return make


def said(shared: SharedSequences, name: str = "own/a") -> list[str]:
    """What is wrong once a sequence was asked for, as LINE:COLUMN: what."""
    shared.find(name)
    return [f"{one.mark.line}:{one.mark.column}: {one.what}" for one in shared.problems]


def found(name: str, shared: SharedSequences = SHIPPED) -> SharedSequence:
    sequence = shared.find(name)
    assert sequence is not None
    return sequence


def order(name: str, shared: SharedSequences = SHIPPED) -> Order:
    read = found(name, shared).order
    assert read is not None
    return read


def names_of(group: str, shared: SharedSequences = SHIPPED) -> list[str]:
    return [name for name in shared.names() if name.startswith(f"{group}/")]


def linear(length: int) -> list[str]:
    return [name for name in names_of("linear") if name.startswith(f"linear/{length}-")]


# What is shipped


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_a_shipped_group_reads_without_a_problem(file: Path, group: Group) -> None:
    shared = group(file.read_text(encoding="utf-8"))
    assert said(shared) == []
    assert all(found(name, shared).order for name in names_of("own", shared))


def test_every_linear_sequence_has_a_length_from_three_to_nine() -> None:
    assert sorted(name for length in LENGTHS for name in linear(length)) == sorted(names_of("linear"))


@pytest.mark.parametrize("length", LENGTHS)
def test_there_are_at_least_eight_linear_sequences_of_a_length(length: int) -> None:
    assert len(linear(length)) >= 8
    assert {len(order(name)) for name in linear(length)} == {length}


@pytest.mark.parametrize("name", names_of("linear"))
def test_a_linear_sequence_is_named_for_what_it_plays(name: str) -> None:
    assert name.partition("-")[2].upper() == write_order(order(name)).replace(" ", "")


@pytest.mark.parametrize("name", names_of("linear"))
def test_a_linear_sequence_is_one_limb_at_a_time_and_hands_and_feet_take_turns(name: str) -> None:
    slots = order(name)
    assert {len(slot) for slot in slots} == {1}
    assert {slot[0].limb.is_hand for slot in slots} == {True, False}
    assert slots[0][0].limb.is_hand
    assert longest_run(slots, goes_round=True) <= 2


@pytest.mark.parametrize("length", LENGTHS)
def test_no_two_linear_sequences_are_the_same_begun_elsewhere(length: int) -> None:
    letters = [write_order(order(name)).replace(" ", "") for name in linear(length)]
    assert len({_least_turn(word) for word in letters}) == len(letters)


def test_the_least_turns_are_those_that_sympy_finds() -> None:
    found_by_sympy = {"".join("HKLR"[limb] for limb in necklace) for necklace in necklaces(5, 4)}
    turns = {_least_turn(write_order(order(name)).replace(" ", "")) for name in linear(5)}
    assert turns <= found_by_sympy


@pytest.mark.parametrize("length", LENGTHS)
def test_no_linear_sequence_is_a_shorter_one_repeated(length: int) -> None:
    words = [write_order(order(name)).replace(" ", "") for name in linear(length)]
    assert all((word + word).find(word, 1) == length for word in words)


@pytest.mark.parametrize("name", names_of("ostinatos"))
def test_an_ostinato_leaves_the_hands_free_and_fills_bars(name: str) -> None:
    slots = order(name)
    assert {stroke.limb for slot in slots for stroke in slot} <= {Limb.KICK, Limb.HAT}
    bar = len(empty_bar(COMMON_TIME, found(name).grid or SIXTEENTHS).slots)
    assert bar % len(slots) == 0


@pytest.mark.parametrize("name", names_of("ostinatos"))
def test_an_ostinato_that_is_not_in_sixteenths_says_so_in_its_name(name: str) -> None:
    grids = {"8ths": "8ths", "threes": "triplets"}
    ending = name.rpartition("-")[2]
    assert str(found(name).grid or SIXTEENTHS) == grids.get(ending, "16ths")


def test_every_rudiment_and_ostinato_says_what_a_sentence_calls_it() -> None:
    assert all(found(name).title for name in (*names_of("rudiments"), *names_of("ostinatos")))


def _least_turn(word: str) -> str:
    return min(_turns(word))


def _turns(word: str) -> Iterable[str]:
    return (word[by:] + word[:by] for by in range(len(word)))


# Finding them


def test_a_books_own_group_is_found_by_its_files_name(group: Group) -> None:
    assert write_order(order("own/stairs", group("stairs: R L R K L\n"))) == "R L R K L"


def test_what_a_books_own_group_lacks_is_looked_for_in_the_shipped_one(group: Group) -> None:
    shared = group("single-paradiddle: L R L L\n", name="rudiments")
    assert write_order(order("rudiments/single-paradiddle", shared)) == "L R L L"
    assert order("rudiments/double-paradiddle", shared) == order("rudiments/double-paradiddle")


def test_a_group_is_not_read_before_it_is_asked_for(group: Group) -> None:
    shared = group("a: R X\n")
    assert said(shared, "rudiments/flam") == []
    assert said(shared, "own/a") != []


def test_a_group_is_read_once(group: Group, tmp_path: Path) -> None:
    shared = group("a: R L\n")
    shared.find("own/a")
    (tmp_path / "sequences" / "own.yaml").write_text("a: K\n")
    assert write_order(order("own/a", shared)) == "R L"


@pytest.mark.parametrize("name", ["own/b", "other/a", "a", "../sequences/own/a", "/a", "own/", "../own/a", ""])
def test_a_name_that_there_is_not_finds_nothing(name: str, group: Group) -> None:
    assert group("a: R L\n").find(name) is None


# What an author may write, and what is wrong with it


def test_a_sequence_says_its_title_its_ornaments_and_how_it_is_usually_set(group: Group) -> None:
    shared = group(
        "a: {title: the example, order: R . L K R+K, flams: [1, 5], buzzes: 3, diddles: 4,\n"
        "  grid: triplets, meter: 3/4}\n"
    )
    sequence = found("own/a", shared)
    assert (sequence.title, str(sequence.grid), str(sequence.meter)) == ("the example", "triplets", "3/4")
    assert write_played(sequence.order or ()) == "R(flam) . L(buzz) K(diddle) R(flam)+K"


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("a: R (L K\n", "1:6: this ( has no )"),
        ("a: {order: R+}\n", "1:14: the end is no stroke; " + LIMBS),
        ("a: {title: the example}\n", "1:4: the key 'order' is missing here"),
        ("a: {order: R, flam: 1}\n", "1:15: there is no key 'flam' here; did you mean 'flams'?"),
        ("a: {order: R L, flams: [1, 3]}\n", "1:28: the order has 2 slots, and no 3"),
        ("a: {order: R L, flams: 0}\n", "1:24: 0 is too small; this is counted from 1"),
        ("a: {order: R ., drags: 2}\n", "1:24: slot 2 of the order is silent"),
        ("a: {order: R K, flams: 2}\n", "1:24: slot 2 of the order is a foot's; a foot plays diddles, and no flam"),
        ("a: {order: R, flams: 1, drags: 1}\n", "1:32: slot 1 of the order has an ornament already"),
        ("a: {order: R, grid: 16th}\n", "1:21: '16th' is no grid; did you mean '16ths'?"),
        ("a: [R, L]\n", "1:4: keys with values are expected here, not a list"),
        ("a: R\na: L\n", "2:1: the key 'a' stands here a second time; the first is on line 1"),
        ("- R L\n", "1:1: a file begins with keys, such as title: or chapter:"),
        ("", "1:1: this file is empty"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told_with_its_place(text: str, what: str, group: Group) -> None:
    assert said(group(text)) == [what]


def test_a_bad_name_is_told_with_its_place(group: Group) -> None:
    (what,) = said(group("b: R\na b: R L\n"))
    assert what.startswith("2:1: 'a b' is no name")


def test_a_file_that_is_no_text_is_told(group: Group, tmp_path: Path) -> None:
    shared = group("")
    (tmp_path / "sequences" / "own.yaml").write_bytes(b"a: R \xff\n")
    assert said(shared) == ["1:6: this is not UTF-8 (a byte 0xff); save the file as UTF-8"]


def test_an_error_in_one_sequence_hides_no_other(group: Group) -> None:
    shared = group("a: R X\nb: R L\nc: {order: K, flams: 1}\n")
    assert [problem.mark.line for problem in _asked(shared).problems] == [1, 3]
    assert found("own/a", shared).order is None
    assert write_order(order("own/b", shared)) == "R L"


def _asked(shared: SharedSequences) -> SharedSequences:
    shared.find("own/b")
    return shared
