"""The reference of styles: complete, and the same as the page in docs/."""

from pathlib import Path

from typeset.style import Style, style_names
from typeset.style.part import Part
from typeset.style.reference import reference
from typeset.style.remarks import remarks

PAGE = Path(__file__).parents[2] / "docs" / "styles.md"


def keys(part: type[Part]) -> list[tuple[str, str | None]]:
    """Every key under a part with its sentence, those of its own parts too."""
    found: list[tuple[str, str | None]] = []
    for name, info in part.model_fields.items():
        kind = info.annotation
        if isinstance(kind, type) and issubclass(kind, Part):
            found += keys(kind)
        else:
            found.append((info.alias or name, remarks(part).get(name)))
    return found


def test_every_key_has_a_sentence() -> None:
    assert [key for key, sentence in keys(Style) if not sentence] == []


def test_the_reference_names_every_key_and_every_shipped_style() -> None:
    page = reference()
    assert [
        key for key, _ in keys(Style) if f"`{key}`" not in page and f": {key}`" not in page and key != "name"
    ] == []
    assert [name for name in style_names() if f"`{name}`" not in page] == []


def test_a_row_says_what_a_value_may_be_and_what_it_is_unless_said() -> None:
    assert "| `height` | above 0 to 2000 mm | `6.2` | from the lowest to the highest staff line |" in reference()
    assert "| `stems` | `up`, `split` | `up` |" in reference()
    assert "| `16ths` | a list of syllables | `[e, &, a]` |" in reference()


def test_the_page_in_docs_is_up_to_date() -> None:
    remedy = "write it anew: python -m typeset.style.reference > docs/styles.md"
    assert PAGE.read_text(encoding="utf-8") == reference(), remedy
