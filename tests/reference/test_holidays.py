"""Holidays against the official lists."""

from datetime import date

import pytest

from exchange.reference.holidays import SubdivisionNeededError, closures_of, holidays_of


def days_of(country, part, year):
    return set(holidays_of(country, part, date(year, 1, 1), date(year, 12, 31)))


# gov.uk/bank-holidays, as published; weekday substitutes included
OFFICIAL = {
    ("ENG", 2026): "01-01 04-03 04-06 05-04 05-25 08-31 12-25 12-28",
    ("ENG", 2027): "01-01 03-26 03-29 05-03 05-31 08-30 12-27 12-28",
    ("WLS", 2027): "01-01 03-26 03-29 05-03 05-31 08-30 12-27 12-28",
    ("SCT", 2026): "01-01 01-02 04-03 05-04 05-25 06-15 08-03 11-30 12-25 12-28",
    ("SCT", 2027): "01-01 01-04 03-26 05-03 05-31 08-02 11-30 12-27 12-28",
    ("NIR", 2026): "01-01 03-17 04-03 04-06 05-04 05-25 07-13 08-31 12-25 12-28",
    ("NIR", 2027): "01-01 03-17 03-26 03-29 05-03 05-31 07-12 08-30 12-27 12-28",
    ("ENG", 2022): "01-03 04-15 04-18 05-02 06-02 06-03 08-29 09-19 12-26 12-27",
    ("ENG", 2023): "01-02 04-07 04-10 05-01 05-08 05-29 08-28 12-25 12-26",
}


@pytest.mark.parametrize(("key", "official"), OFFICIAL.items())
def test_british_weekday_holidays_are_the_official_ones(key, official):
    part, year = key
    expected = {date.fromisoformat(f"{year}-{day}") for day in official.split()}

    assert {day for day in days_of("GB", part, year) if day.weekday() < 5} == expected


def test_britain_without_its_part_is_refused():
    with pytest.raises(SubdivisionNeededError, match="part of the United Kingdom"):
        holidays_of("GB", "", date(2027, 1, 1), date(2027, 12, 31))


def test_the_span_is_kept_on_both_sides_and_over_the_new_year():
    found = holidays_of("GB", "SCT", date(2026, 12, 26), date(2027, 1, 4))

    assert list(found) == [
        date(2026, 12, 26),
        date(2026, 12, 28),
        date(2027, 1, 1),
        date(2027, 1, 2),
        date(2027, 1, 4),
    ]


def test_labels_are_our_own():
    found = holidays_of("GB", "SCT", date(2027, 1, 1), date(2027, 12, 31))

    assert found[date(2027, 1, 4)] == "2 January (day in lieu)"
    assert found[date(2027, 5, 3)] == "Early May bank holiday"


def test_saint_brigids_day_is_a_monday_or_the_first_of_february():
    # Organisation of Working Time (Workplace Relations) Act 2022: first Monday, or the 1st if Friday
    found = [
        day
        for year in (2025, 2026, 2027, 2028)
        for day in days_of("IE", "", year)
        if day.month == 2
    ]

    assert found == [date(2025, 2, 3), date(2026, 2, 2), date(2027, 2, 1), date(2028, 2, 7)]


def test_the_irish_post_rests_after_a_weekend_holiday():
    closed = closures_of("IE", "", date(2027, 12, 20), date(2028, 1, 5))

    assert date(2027, 12, 27) in closed
    assert date(2027, 12, 28) in closed
    assert date(2028, 1, 3) in closed
    assert date(2028, 1, 4) not in closed


def test_closures_elsewhere_are_the_holidays():
    span = (date(2027, 4, 1), date(2027, 6, 30))

    assert closures_of("GB", "ENG", *span) == holidays_of("GB", "ENG", *span)


def test_dutch_liberation_day_is_a_holiday_every_fifth_year_only():
    assert date(2025, 5, 5) in days_of("NL", "", 2025)
    assert date(2027, 5, 5) not in days_of("NL", "", 2027)


def test_a_country_the_package_does_not_know_has_none():
    assert holidays_of("XX", "", date(2027, 1, 1), date(2027, 12, 31)) == {}
