"""Nights as they came: typed one by one, or brought in a daily file that is looked over first."""

from datetime import date, timedelta

import pytest

from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.weather.observations import (
    AlreadyKnownError,
    ObservationRefusedError,
    forget_night,
    nights_seen,
    observe,
)
from exchange.actions.weather.outlooks import known_of, outlooks
from exchange.actions.weather.own_daily_file import (
    LARGEST_FILE,
    FileGoneError,
    FileRefusedError,
    drop_file,
    file_seen,
    files_of,
    keep_file,
    look_over,
)
from exchange.actions.weather.page_weather import place_page
from exchange.domain.circle.place import Lie
from exchange.records import DAILY_FILES, PLACES
from tests.app_fixtures import NOW, a_house, both_databases, fresh_database, ring

TODAY = date(2027, 4, 5)


@pytest.fixture(params=both_databases)
def circle(request, tmp_path):
    with (
        fresh_database(request.param, tmp_path) as address,
        a_house(tmp_path, address) as house,
    ):
        yield ring(house, members=("Winnie", "Effie"))


@pytest.fixture
def quick(tmp_path):
    with a_house(tmp_path) as house:
        yield ring(house, members=("Winnie", "Cuthbert", "Effie"))


def some_years(years=6, *, colder_by=0.0):
    """Give a daily file whose minima fall to -5 in winter and rise to 15 in summer."""
    first = date(2020, 1, 1)
    lines = ["date,tmin_c"]
    for offset in range(365 * years):
        day = first + timedelta(days=offset)
        season = abs(day.timetuple().tm_yday - 198) / 183
        lines.append(f"{day},{15 - 20 * season - colder_by + offset % 5 - 2:.1f}")
    return "\n".join(lines).encode()


def bring(circle, content, name="own.csv", who="Effie"):
    return look_over(circle.actor(who), circle.place("Effie").id, name, content, NOW)


def seen(circle):
    return nights_seen(circle.actor("Effie"), circle.place("Effie").id)


def outlook(circle):
    with circle.house.books.reading() as tx:
        return outlooks(tx, circle.circle_id, NOW)[circle.place("Effie").id]


def test_nothing_of_a_file_is_kept_before_somebody_has_looked_it_over(quick):
    before = outlook(quick)
    file_id = bring(quick, some_years())

    preview = file_seen(quick.actor("Effie"), file_id)

    assert (preview.days, preview.new, preview.kept_at) == (2190, 2190, None)
    assert preview.climate is not None
    assert seen(quick).all == 0
    assert outlook(quick) == before


def test_a_file_kept_tells_what_is_usual_and_what_came(circle):
    keep_file(circle.actor("Effie"), bring(circle, some_years()), NOW)

    page = place_page(circle.actor("Effie"), circle.place("Effie").id, NOW)

    assert page.observed == 2190
    assert page.weather.own_climate
    assert page.weather.climate.name == "own.csv"
    assert page.weather.climate.base_period == "2020-2025"
    assert page.frost_dates[1].safe is not None


def test_a_file_taken_away_takes_its_nights_along_and_the_station_speaks_again(quick):
    before = outlook(quick)
    observe(quick.actor("Effie"), quick.place("Effie").id, TODAY, 1.0, NOW)
    file_id = bring(quick, some_years())
    keep_file(quick.actor("Effie"), file_id, NOW)
    assert outlook(quick) != before

    drop_file(quick.actor("Effie"), file_id, NOW)

    assert outlook(quick) == before
    assert [one.day for one in seen(quick).nights] == [TODAY]


def test_a_file_of_the_place_has_its_lie_in_it_already(quick):
    place = quick.place("Effie").id
    keep_file(quick.actor("Effie"), bring(quick, some_years()), NOW)
    open_ground = outlook(quick).nights[0]
    with quick.house.books.writing() as tx:
        PLACES.change(tx, quick.circle_id, place, lie=Lie.HOLLOW, height_m=600.0)

    assert outlook(quick).nights[0] == open_ground


def test_a_night_known_already_is_never_written_over(quick):
    place = quick.place("Effie").id
    observe(quick.actor("Effie"), place, date(2027, 4, 4), 1.5, NOW)
    observe(quick.actor("Effie"), place, date(2027, 4, 3), 2.0, NOW)
    content = b"date,tmin_c\n2027-04-02,7\n2027-04-03,2.0\n2027-04-04,9\n"
    file_id = bring(quick, content)

    preview = file_seen(quick.actor("Effie"), file_id)
    keep_file(quick.actor("Effie"), file_id, NOW)

    assert (preview.new, preview.same, preview.differing) == (1, 1, (date(2027, 4, 4),))
    assert {one.day.day: one.minimum_c for one in seen(quick).nights} == {2: 7.0, 3: 2.0, 4: 1.5}


def test_a_short_file_brings_its_nights_and_leaves_the_climate_alone(quick):
    with quick.house.books.reading() as tx:
        before = known_of(tx, quick.circle_id, [quick.place("Effie")])
    keep_file(quick.actor("Effie"), bring(quick, some_years(2)), NOW)

    with quick.house.books.reading() as tx:
        assert known_of(tx, quick.circle_id, [quick.place("Effie")]) == before
    assert seen(quick).all == 730


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"", "empty"),
        (b"date,rain\n2027-04-01,2\n", "columns"),
        (b"date,tmin_c\n2027-04-01,2\nyesterday,3\n", "1 lines"),
        (b"date,tmin_c\n2027-04-01,2\n2031-04-01,3\n", "still to come"),
        (b"date,tmin_c\n2027-04-01,\n", "minimum|empty"),
        (b"x" * (LARGEST_FILE + 1), "larger than 2 MB"),
        (b"\x89PNG\r\n\x1a\n\xff", "could not be opened"),
    ],
    ids=["empty", "columns", "a line", "to come", "no minimum", "too large", "a picture"],
)
def test_a_file_that_cannot_be_read_whole_is_refused_and_nothing_kept(quick, content, sentence):
    with pytest.raises(FileRefusedError, match=sentence):
        bring(quick, content)

    with quick.house.books.reading() as tx:
        assert DAILY_FILES.all(tx, quick.circle_id) == ()


def test_each_line_that_cannot_be_read_is_named(quick):
    with pytest.raises(FileRefusedError) as refused:
        bring(quick, b"date,tmin_c\n2027-04-01,2\nyesterday,3\n2027-04-02,warm\n")

    assert [one.line for one in refused.value.faults] == [3, 4]


def test_a_file_looked_over_and_left_is_dropped_by_the_next_and_kept_once_only(quick):
    bring(quick, some_years(1))
    second = bring(quick, some_years(2))

    with quick.house.books.reading() as tx:
        (left,) = DAILY_FILES.all(tx, quick.circle_id)
    assert (left.id, len(left.days)) == (second, 730)
    keep_file(quick.actor("Effie"), second, NOW)
    with pytest.raises(FileGoneError):
        keep_file(quick.actor("Effie"), second, NOW)
    assert [one.id for one in files_of(quick.actor("Effie"), quick.place("Effie").id).files] == [
        second
    ]


def test_a_files_name_is_cut_short(quick):
    file_id = bring(quick, some_years(1), name="x" * 500 + ".csv")

    assert len(file_seen(quick.actor("Effie"), file_id).name) == 80


def test_another_member_reaches_neither_files_nor_nights(quick):
    file_id = bring(quick, some_years(1))
    night = observe(quick.actor("Effie"), quick.place("Effie").id, TODAY, 1.0, NOW)
    other = quick.actor("Cuthbert")

    for act in (
        lambda: file_seen(other, file_id),
        lambda: keep_file(other, file_id, NOW),
        lambda: drop_file(other, file_id, NOW),
        lambda: bring(quick, some_years(1), who="Cuthbert"),
        lambda: forget_night(other, night, NOW),
        lambda: nights_seen(other, quick.place("Effie").id),
        lambda: observe(other, quick.place("Effie").id, date(2027, 4, 1), 1.0, NOW),
    ):
        with pytest.raises(NotAllowedError):
            act()
    assert seen(quick).all == 1


def test_a_night_is_typed_once_and_taken_away(quick):
    place = quick.place("Effie").id
    night = observe(quick.actor("Effie"), place, TODAY, -1.5, NOW)
    with pytest.raises(AlreadyKnownError):
        observe(quick.actor("Effie"), place, TODAY, -2.0, NOW)
    assert seen(quick).nights[0].minimum_c == -1.5

    forget_night(quick.actor("Effie"), night, NOW)

    assert seen(quick).all == 0


@pytest.mark.parametrize(
    ("day", "low"), [(date(2027, 4, 6), 1.0), (date(2025, 4, 5), 1.0), (TODAY, -80.0)]
)
def test_a_night_to_come_long_gone_or_beyond_belief_is_refused(quick, day, low):
    with pytest.raises(ObservationRefusedError):
        observe(quick.actor("Effie"), quick.place("Effie").id, day, low, NOW)
