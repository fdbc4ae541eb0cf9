from typeset.judge.timeline import ACCENT, BUZZ, DRAG_GRACE, FLAM_GRACE, GHOST, SECOND, timeline

RIGHT, LEFT, KICK = 0, 1, 2


def quarters(line, limb):
    return [4 * hit.tick / line.whole for hit in line.hits[limb]]


def test_every_stroke_is_a_hit_of_its_limb_at_its_time(played) -> None:
    line = timeline(played("R L K L", grid="8ths", meter="2/4"))
    assert quarters(line, RIGHT) == [0]
    assert quarters(line, LEFT) == [0.5, 1.5]
    assert quarters(line, KICK) == [1]
    assert 4 * line.length / line.whole == 2


def test_mixed_grids_keep_exact_times(played) -> None:
    line = timeline(played("R R R R R R R R", meter="2/4", grid="quintuplets triplets"))
    fifth, third = line.whole // 20, line.whole // 12
    assert [hit.tick for hit in line.hits[RIGHT]] == [
        *range(0, 5 * fifth, fifth),
        *range(5 * fifth, 5 * fifth + 3 * third, third),
    ]


def test_a_diddle_strikes_again_in_the_middle_of_its_slot(played) -> None:
    line = timeline(played("R . L .", grid="8ths", meter="2/4", ornaments={1: "diddle"}))
    assert quarters(line, RIGHT) == [0, 0.25]
    assert [hit.marks for hit in line.hits[RIGHT]] == [0, SECOND]


def test_the_second_of_a_diddle_is_never_accented_but_stays_a_ghost(played) -> None:
    line = timeline(played("R! . l .", grid="8ths", meter="2/4", ornaments={1: "diddle", 3: "diddle"}))
    assert [hit.marks for hit in line.hits[RIGHT]] == [ACCENT, SECOND]
    assert [hit.marks for hit in line.hits[LEFT]] == [GHOST, SECOND | GHOST]


def test_a_flam_asks_the_other_hand_for_a_grace_stroke_on_the_same_sound(played) -> None:
    line = timeline(played("R . L .", grid="8ths", meter="2/4", voices={"R": "floor-tom"}, ornaments={1: "flam"}))
    assert [(hit.marks, hit.sound) for hit in line.hits[LEFT]] == [(FLAM_GRACE, "floor-tom"), (0, "snare")]


def test_a_drag_asks_for_a_drags_grace_strokes_and_a_buzz_for_nobody(played) -> None:
    line = timeline(played("R . L .", grid="8ths", meter="2/4", ornaments={1: "drag", 3: "buzz"}))
    assert [hit.marks for hit in line.hits[LEFT]] == [DRAG_GRACE, BUZZ]
    assert len(line.hits[RIGHT]) == 1


def test_a_hand_that_plays_itself_plays_no_grace_stroke(played) -> None:
    line = timeline(played("R+L . . .", grid="8ths", meter="2/4", ornaments={1: "flam"}))
    assert [hit.marks for hit in line.hits[LEFT]] == [0]
