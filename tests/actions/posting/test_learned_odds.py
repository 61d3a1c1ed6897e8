"""What arrivals teach of a way: the delivery day they came on, with closures left out."""

from datetime import date

from exchange.actions.posting.plan_facts import facts_of
from exchange.domain.posting.parcel import ParcelState
from exchange.domain.posting.way import Carriage
from exchange.records import PARCELS, WAYS
from tests.app_fixtures import NOW, a_house
from tests.builders.season import a_season

FRIDAY_BEFORE_MAY_DAY = date(2027, 4, 30)
TUESDAY_AFTER_MAY_DAY = date(2027, 5, 4)


def test_an_arrival_over_a_bank_holiday_counts_delivery_days_only(tmp_path):
    with a_house(tmp_path) as house:
        season = a_season(house)
        season.plan()
        parcel = season.parcel_to("Effie")
        with house.books.writing() as tx:
            way = next(
                one for one in WAYS.all(tx, season.circle_id) if one.carriage == Carriage.POST
            )
            PARCELS.change(
                tx,
                season.circle_id,
                parcel.id,
                state=ParcelState.ARRIVED,
                way_id=way.id,
                posted_on=FRIDAY_BEFORE_MAY_DAY,
                arrived_on=TUESDAY_AFTER_MAY_DAY,
            )
            answers = facts_of(tx, season.circle_id, NOW).answers

    # Saturday is the first delivery day; Sunday and May Day, Monday 3 May 2027 (gov.uk bank
    # holidays), deliver nothing; Tuesday is the second.
    assert answers[way.id][:3] == (0, 1, 0)
