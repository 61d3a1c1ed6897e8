import xml.etree.ElementTree as ET
from collections import Counter

import numpy as np
import pytest
from click.testing import CliRunner

from exchange.actions.weather.replay import UnreadableDailyFileError, read_daily
from exchange.cli.replay import replay as command
from exchange.domain.posting.replay import springs
from exchange.domain.posting.replay.process import Process
from exchange.domain.posting.replay.run import MARGINS_C, PRICES, RuleTally, at_wait, replay
from exchange.papers.replay_page import replay_html
from exchange.words.weather.replay import curve_rows, rules_rows, rules_table, share
from tests.builders.springs import daily_minima

APART = np.array([[0.0, 300.0], [300.0, 0.0]])


@pytest.fixture(scope="module")
def found():
    """A few springs of two invented stations, each told by three forecasts."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(springs, "TOLD", 3)
        stages = []
        series = daily_minima(colds=(3.0, 5.0), years=range(2001, 2013))
        done = replay(series, APART, np.random.default_rng(1), lambda *told: stages.append(told))
    assert {stage for stage, _, _ in stages} == set(Process)
    return done


def test_each_process_and_material_has_its_curves(found):
    assert {(one.process, one.material) for one in found.found} == {
        (process, material) for process in Process for material in ("tuber", "rooted")
    }
    for one in found.found:
        assert [tally.at for tally in one.ours] == list(PRICES)
        assert all(len(each) == len(MARGINS_C) for each in one.thumbs.values())


def test_a_wider_margin_or_a_cheaper_day_waits_longer_and_loses_fewer(found):
    for one in found.found:
        for curve in (one.ours, *one.thumbs.values()):
            waits = [tally.wait for tally in curve]
            assert waits == sorted(waits)
            assert curve[0].lost > curve[-1].lost


def test_the_planner_loses_fewer_plants_than_rules_of_thumb_that_wait_as_long(found):
    shares = [one.share for one in found.found]

    assert np.mean(shares) < 0.95
    assert all(one.practised.over_sunday <= 3.4 for one in found.found)


def test_the_practised_rule_is_the_one_at_the_planner_s_own_price(found):
    for one in found.found:
        assert one.practised.at == 0.005
        assert one.practised.least <= one.practised.lost <= one.practised.most


def test_a_rule_is_tuned_to_a_wait_on_straight_lines():
    low, high = RuleTally(1.0, 2.0, *[4.0] * 9), RuleTally(2.0, 4.0, *[1.0] * 9)

    tuned = at_wait((low, high), 3.0)

    assert tuned == RuleTally(1.5, 3.0, *[2.5] * 9)


def test_each_spring_is_told_as_often_with_every_two_files():
    years = range(2001, 2006)
    alone = springs.past_springs(daily_minima(colds=(2.0,), years=years))
    three = springs.past_springs(daily_minima(colds=(2.0, 3.0, 4.0), years=years))

    assert (alone.lows[0] == alone.lows[1]).all()
    assert len(alone.years) == len(three.years) == 6 * len(years)
    told = Counter(zip(three.years, *three.ends.tolist(), strict=True))
    assert told == {(year, *pair): 2 for year in years for pair in ((0, 1), (0, 2), (1, 2))}


def test_the_same_seed_gives_the_same_figures():
    series = daily_minima(colds=(2.0,), years=range(2001, 2004))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(springs, "TOLD", 1)
        one, other = (replay(series, np.zeros((1, 1)), np.random.default_rng(5)) for _ in range(2))

    assert one == other


# The words and the page


def test_the_page_has_a_titled_chart_and_its_tables_for_each(found):
    root = ET.fromstring(replay_html(found))  # noqa: S314 - our own page

    charts = root.findall(".//{http://www.w3.org/2000/svg}svg")
    assert len(charts) == len(found.found)
    for chart in charts:
        said = [element.text for element in chart.iter() if element.tag.endswith("text")]
        assert chart[0].tag.endswith("title")
        assert chart[1].text.startswith("Plants lost in 100")
        assert "as practised" in said
        assert "no frost forecast for two nights at both ends" in said
    assert len(root.findall(".//table")) == 2 * len(found.found)


def test_the_tables_hold_a_row_a_rule_and_a_point(found):
    one = found.found[0]

    assert len(rules_rows(one)) == 2 * len(one.thumbs) + 1
    assert len(curve_rows(one)) == len(PRICES) + 3 * len([at for at in MARGINS_C if at % 1 == 0])
    assert f"{one.practised.lost:.2f}" in rules_table(one)
    assert f"{one.share:.2f} of it" in share(one)


# The files and the command


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


def test_the_command_prints_the_rules_and_writes_the_page(tmp_path, monkeypatch):
    monkeypatch.setattr(springs, "TOLD", 1)
    files = []
    for name, series in daily_minima(years=range(2001, 2005)).items():
        path = tmp_path / f"{name}.csv"
        rows = "\n".join(f"{day},{low}" for day, low in series.items())
        path.write_text(f"date,tmin_c\n{rows}\n", encoding="utf-8")
        files.append(str(path))
    page = tmp_path / "replay.html"
    where = ["--at", "53.4", "-6.2", "--at", "52.7", "6.6"]

    result = CliRunner().invoke(command, [*files, *where, "--page", str(page)])

    assert result.exit_code == 0
    assert "the planner's rule, as practised" in result.output
    assert page.read_text(encoding="utf-8").count("<svg") == 4


@pytest.mark.parametrize(
    ("more", "said"), [((), "springs"), (("--at", "53", "-6", "--at", "52", "6"), "1 files")]
)
def test_the_command_refuses_too_few_springs_and_uneven_positions(tmp_path, more, said):
    path = tmp_path / "short.csv"
    path.write_text("date,tmin_c\n2020-03-01,1\n", encoding="utf-8")

    result = CliRunner().invoke(command, [str(path), *more, "--page", str(tmp_path / "x.html")])

    assert result.exit_code == 1
    assert said in result.output
