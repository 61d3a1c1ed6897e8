"""Parcels whose day was announced, and plans made of them morning after morning."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from exchange.domain.plan import make_plan
from exchange.domain.posting.parcel import ParcelState
from tests.builders.posting import MONDAY, NOW, a_parcel, an_outlook, facts

TUESDAY, WEDNESDAY = MONDAY + timedelta(days=1), MONDAY + timedelta(days=2)
NEXT_MONDAY = MONDAY + timedelta(days=7)
ISSUED = datetime(2027, 4, 5, 4, tzinfo=UTC)


def plan_one(parcel=None, now=NOW, **more):
    return make_plan(facts([parcel or a_parcel()], **more), now).parcels[0]


def told(parcel, plan):
    """Give the parcel as it is after its plan was recorded."""
    if not plan.announced or plan.day is None:
        return replace(
            parcel,
            state=ParcelState.PLANNED,
            announced_day=None,
            announced_way_id=None,
            announced_loss=None,
            known=None,
        )
    return replace(
        parcel,
        state=ParcelState.ANNOUNCED,
        announced_day=plan.day,
        announced_way_id=plan.way_id,
        announced_loss=plan.told_loss,
        known=plan.known,
    )


def a_told(day=WEDNESDAY, loss=0.01, **more):
    return a_parcel(announced_day=day, announced_way_id=1, announced_loss=loss, **more)


def both(means, **more):
    return {n: an_outlook(n, means=means, issued_at=ISSUED, **more) for n in (1, 2, 3, 4)}


def colder(night_c, nights=slice(3, 4)):
    """Give weather with some nights colder; night 3 is that from Wednesday to Thursday."""
    means = [8.0] * 20
    for n in range(*nights.indices(20)):
        means[n] = night_c
    return both(means)
