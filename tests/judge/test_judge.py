from typeset.judge import judge
from typeset.judge.ceiling import ceiling
from typeset.judge.collisions import collisions
from typeset.judge.level import level
from typeset.manuscript.figures import standard_figures


def test_a_judgement_is_level_ceiling_and_collisions_together(played) -> None:
    figures = standard_figures()
    pattern = played("R+K l R L! R K l R+L", voices={"R": "hi-hat"})
    found = judge(pattern, True, figures.player, figures.kit, figures.weights, linear=True)
    assert found.level == level(pattern, True, figures.kit, figures.weights)
    assert found.ceiling == ceiling(pattern, True, figures.player, figures.kit)
    assert found.collisions == collisions(pattern, figures.kit, linear=True)
    assert found.collisions
