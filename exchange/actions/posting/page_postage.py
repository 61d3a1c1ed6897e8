"""What postage cost in a season: by household for the organiser, one's own for a member; and the tariff."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime

from exchange.actions.kernel.actor import Actor, circle_of, today_in
from exchange.actions.people.labels import household_names
from exchange.actions.posting.gone import day_gone
from exchange.actions.posting.parcel_facts import subject_of
from exchange.actions.posting.postage import postage_version
from exchange.domain.circle.circle_season import CircleSeason, season_of
from exchange.domain.permissions import Permission, may
from exchange.domain.posting.postage import PostageTotal, postage_total
from exchange.domain.posting.way import Carriage
from exchange.records import PARCELS, PLACES, TARIFF_BANDS, WAYS, Tx, parcel_heads
from exchange.records.rows.posting import ParcelRow, TariffBandRow


@dataclass(frozen=True, slots=True)
class HouseholdPostage:
    """Postage of one household's parcels in a season."""

    names: str
    total: PostageTotal


@dataclass(frozen=True, slots=True)
class PostagePage:
    """Postage in a season.

    Attributes
    ----------
    seasons : this one and those in which parcels were posted, the newest first
    households : all for the organiser, else one's own
    parcels : the reader's own, with what is known of their postage
    country, subdivision : of the circle, for its currency and its authority
    """

    season: CircleSeason
    seasons: tuple[CircleSeason, ...]
    households: tuple[HouseholdPostage, ...]
    total: PostageTotal
    parcels: tuple[ParcelRow, ...]
    bands: tuple[TariffBandRow, ...]
    country: str
    subdivision: str
    may_run: bool


@dataclass(frozen=True, slots=True)
class ParcelPostage:
    """What the form of one parcel's postage shows."""

    entry: ParcelRow
    bands: tuple[TariffBandRow, ...]
    country: str
    subdivision: str
    version: str


def postage_page(actor: Actor, year: int | None, now: datetime) -> PostagePage:
    """Show the postage of a season, by the year it begins in; None for the one today lies in."""
    actor.must(Permission.SEE_CIRCLE)
    household_id, may_run = actor.own_household(), may(actor.person, Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        circle = circle_of(actor, tx)
        today = today_in(circle, now)
        latest = season_of(today)
        season = CircleSeason(year) if year is not None else latest
        posted = [
            (one, day)
            for one, day in posted_until(tx, actor.circle_id, today)
            if may_run or one.posted_by == household_id
        ]
        inside = [one for one, day in posted if season.holds(day)]
        names = household_names(tx, actor.circle_id)
        by_household: dict[int, list[ParcelRow]] = {}
        for one in inside:
            by_household.setdefault(one.posted_by, []).append(one)
        return PostagePage(
            season,
            tuple(sorted({latest, *(season_of(day) for _one, day in posted)}, reverse=True)),
            tuple(
                sorted(
                    (
                        HouseholdPostage(names.get(key, ""), _total(own))
                        for key, own in by_household.items()
                    ),
                    key=lambda one: one.names,
                )
            ),
            _total(inside),
            tuple(one for one in inside if one.posted_by == household_id),
            TARIFF_BANDS.all(tx, actor.circle_id),
            circle.country,
            _subdivision(tx, actor),
            may_run,
        )


def parcel_postage(actor: Actor, parcel_id: int, now: datetime) -> ParcelPostage:
    """Show what is known of one parcel's postage to whoever may say it."""
    with actor.books.reading() as tx:
        entry = PARCELS.get(tx, actor.circle_id, parcel_id)
        actor.must(Permission.SAY_POSTED, subject_of(tx, actor, entry, now))
        return ParcelPostage(
            entry,
            TARIFF_BANDS.all(tx, actor.circle_id),
            circle_of(actor, tx).country,
            _subdivision(tx, actor),
            postage_version(entry),
        )


def postage_of_season(tx: Tx, circle_id: int, season: CircleSeason, today: date) -> PostageTotal:
    """Give the postage of a circle's season, for its report."""
    posted = posted_until(tx, circle_id, today)
    return _total([one for one, day in posted if season.holds(day)])


def posted_until(tx: Tx, circle_id: int, today: date) -> Iterator[tuple[ParcelRow, date]]:
    """Give the parcels that were posted, or probably were, each with its day; by hand is not posted."""
    by_hand = {one.id for one in WAYS.all(tx, circle_id, carriage=Carriage.BY_HAND)}
    for one in parcel_heads.heads(tx, circle_id):
        day = day_gone(one, today)
        if day is not None and one.way_id not in by_hand:
            yield one, day


def _total(parcels: list[ParcelRow]) -> PostageTotal:
    return postage_total((one.postage, one.postage_repaid) for one in parcels)


def _subdivision(tx: Tx, actor: Actor) -> str:
    """Give the part of the country in which the reader grows, for the authority to ask."""
    own = PLACES.all(tx, actor.circle_id, household_id=actor.own_household())
    return own[0].subdivision if own else ""
