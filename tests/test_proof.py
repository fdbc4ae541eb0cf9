from pathlib import Path

from typeset import pipeline


def test_a_character_that_no_face_has_is_told_by_its_name_and_place(tmp_path: Path) -> None:
    file = tmp_path / "chapter.yaml"
    file.write_text(
        "chapter: C\nexercises:\n  - id: a\n    title: Drums \N{DRUM WITH DRUMSTICKS}\n    start: R L\n"
    )
    (problem,) = pipeline.check(file).problems
    assert (problem.mark.line, problem.mark.column) == (4, 12)
    assert "DRUM WITH DRUMSTICKS, U+1F941" in problem.what


def test_accents_and_quotes_of_western_languages_are_printed(tmp_path: Path) -> None:
    file = tmp_path / "chapter.yaml"
    file.write_text("chapter: „Übung“ – façade, mañana, às vezes\nexercises:\n  - {id: a, start: R L}\n")
    assert pipeline.check(file).problems == ()


def test_a_misspelt_hand_in_braces_is_warned_of(tmp_path: Path) -> None:
    file = tmp_path / "chapter.yaml"
    file.write_text(
        "chapter: C\nexercises:\n  - {id: a, start: R L, say: 'Begin with the {rigth} hand, {right}.'}\n"
    )
    (problem,) = pipeline.check(file).problems
    assert str(problem).endswith("warning: '{rigth}' is printed as it stands; did you mean '{right}'?")
