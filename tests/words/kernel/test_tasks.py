import pytest

from exchange.jobs.kinds import KINDS
from exchange.words.kernel.tasks import kind_words, solver_words, stage_words


def test_every_kind_of_task_has_words_of_its_own():
    said = [kind_words(kind) for kind in KINDS]

    assert len(set(said)) == len(said)
    assert kind_words("unheard of") not in said


def test_a_task_that_waits_tells_no_stage():
    waiting, under_way, at_first = (
        stage_words(state, stage)
        for state, stage in (
            ("waiting", "weighing the days"),
            ("running", "weighing the days"),
            ("running", ""),
        )
    )

    assert "weighing" not in waiting
    assert under_way == "It is under way: weighing the days."
    assert at_first == "It is under way."


@pytest.mark.parametrize(
    ("value", "bound", "told"),
    [
        (-3115.0, -3104.99, "fewest parcels, 3,115 so far, 3,105 at best"),
        (7.0, 9.2, "fewest parcels, 7 so far, 9 at best"),
        (None, -4.0, "fewest parcels"),
        (-4.0, None, "fewest parcels"),
    ],
)
def test_the_solver_tells_value_against_bound_once_it_knows_both(value, bound, told):
    assert solver_words("fewest parcels", value, bound) == told
