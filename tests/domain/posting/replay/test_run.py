import xml.etree.ElementTree as ET

import numpy as np
import pytest
from click.testing import CliRunner

from exchange.actions.weather.replay import UnreadableDailyFileError, read_daily
from exchange.cli.replay import replay as command
from exchange.domain.posting.replay import run
from exchange.domain.posting.replay.run import least_at, replay
from exchange.papers.replay_picture import replay_svg
from exchange.words.weather.replay import bounds_table, prices_table, rules_table
from tests.builders.springs import daily_minima


@pytest.fixture(scope="module")
def found():
    """A few springs of two invented stations, at three prices of waiting."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(run, "PRICES", (0.3, 0.05, 0.01))
        patch.setattr(run, "BOUND_PRICES", (0.05,))
        return replay(daily_minima(years=range(2001, 2011)), np.random.default_rng(1), count=30)


def by_name(found):
    return {one.rule.name: one for one in found.rules}


def test_our_rule_has_far_fewer_frosted_nights_at_the_same_wait(found):
    rules = by_name(found)
    assert rules["Monday to Wednesday"].share < 0.35
    assert rules["Mondays"].share < 0.25


def test_perfect_foresight_is_the_best_and_posting_at_once_the_quickest(found):
    rules = by_name(found)
    assert rules["perfect foresight"].rule.frosted <= 0.5
    assert rules["at once"].rule.wait == min(one.rule.wait for one in found.rules)
    assert rules["at once"].rule.frosted > 10


def test_a_dearer_day_waits_less_and_freezes_more(found):
    waits, nights = [one.wait for one in found.ours], [one.frosted for one in found.ours]
    assert waits == sorted(waits)
    assert nights[0] > nights[-1]


def test_no_rule_goes_under_the_bound_of_the_drawn_process(found):
    (bound,) = found.bounds
    assert 0 < bound.least <= bound.ours
    assert bound.ours < 1.15 * bound.least
    assert 0 < bound.unsure < 0.1 * bound.least
    assert least_at(found.bounds, 0.0) > least_at(found.bounds, 3.0)


def test_the_same_seed_gives_the_same_figures(found):
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(run, "PRICES", (0.3, 0.05, 0.01))
        patch.setattr(run, "BOUND_PRICES", (0.05,))
        stages = []
        again = replay(
            daily_minima(years=range(2001, 2011)),
            np.random.default_rng(1),
            30,
            lambda stage, done, of: stages.append((stage, done, of)),
        )
    assert again == found
    assert {stage for stage, _, _ in stages} == {"other rules", "our rule", "bound"}


def test_the_picture_is_a_drawing_with_title_and_every_rule_named(found):
    root = ET.fromstring(replay_svg(found))  # noqa: S314 - our own drawing
    texts = {element.text for element in root.iter() if element.tag.endswith("text")}
    assert "Monday to Wednesday" in texts
    assert root[0].tag.endswith("title")


def test_the_tables_hold_a_row_a_rule_and_a_price(found):
    assert "Monday to Wednesday" in rules_table(found)
    assert len(prices_table(found).splitlines()) == 2 + len(found.ours)
    assert "0.05" in bounds_table(found)


def test_daily_files_are_read_by_their_columns(tmp_path):
    path = tmp_path / "here.csv"
    path.write_text("rain,date,tmin_c\n1,2020-03-01,-1.5\n2,2020-03-02,\n", encoding="utf-8")
    assert list(read_daily(path).values()) == [-1.5]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("date,low\n2020-03-01,1\n", "no column tmin_c"),
        ("date,tmin_c\n2020-03-01,warm\n", "Line 2"),
        ("date,tmin_c\n01/03/2020,1\n", "Line 2"),
    ],
)
def test_a_daily_file_that_cannot_be_read_is_refused_in_words(tmp_path, text, said):
    path = tmp_path / "here.csv"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(UnreadableDailyFileError, match=said):
        read_daily(path)


def test_the_command_refuses_too_few_springs(tmp_path):
    path = tmp_path / "short.csv"
    path.write_text("date,tmin_c\n2020-03-01,1\n", encoding="utf-8")
    result = CliRunner().invoke(command, [str(path), "--picture", str(tmp_path / "x.svg")])
    assert result.exit_code == 1
    assert "springs" in result.output
