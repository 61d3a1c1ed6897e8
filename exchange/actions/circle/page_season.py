"""The season report: what went, what came alive, what was wished for in vain; it names nobody."""

from collections import Counter
from dataclasses import dataclass
from datetime import date, datetime

from exchange.actions.circle.season_parcels import SeasonParcel, sent_until
from exchange.actions.growing.page_varieties import variety_lines
from exchange.actions.kernel.actor import Actor, circle_of, today_in
from exchange.actions.posting.came_alive import origin_of_code
from exchange.actions.posting.page_postage import postage_of_season
from exchange.domain.arriving.season_tally import SentParcel, Tally, by_week, tally, tally_by
from exchange.domain.circle.circle_season import CircleSeason, season_of
from exchange.domain.growing.variety import Variety
from exchange.domain.permissions import Permission
from exchange.domain.posting.postage import PostageTotal
from exchange.domain.sharing.states import STANDING, UNCONFIRMED
from exchange.records import (
    ALLOCATIONS,
    BATCHES,
    CLAIMS,
    MEMBERS,
    SHARE_OUTS,
    VARIETIES,
    Tx,
)
from exchange.words.circle import season_report as words
from exchange.words.kernel import dates
from exchange.words.posting import posting_days

MOST_UNMET = 8
"""Unmet wishes named one by one, so that the report stays one page [varieties]."""

Counted = tuple[tuple[str, Tally], ...]


@dataclass(frozen=True, slots=True)
class Wishes:
    """Claims of the season and what came of them [claims].

    Attributes
    ----------
    unmet : varieties with the plants still lacking, most first [plants]
    """

    made: int
    met: int
    part: int
    unmet: tuple[tuple[Variety, int], ...]

    @property
    def named(self) -> tuple[tuple[Variety, int], ...]:
        return self.unmet[:MOST_UNMET]

    @property
    def others(self) -> int:
        return len(self.unmet) - len(self.named)


@dataclass(frozen=True, slots=True)
class KeptVariety:
    """A variety that must not be lost: where it stands now."""

    variety: Variety
    places: int
    chance: float | None


@dataclass(frozen=True, slots=True)
class SeasonPage:
    """One season in figures.

    Attributes
    ----------
    seasons : this one and those in which parcels went, the newest first
    weeks : by the Monday of the week they went in
    living : of the plants that came alive, alive when last counted [plants]
    postage, country : what it cost in the season, and the country for its currency
    members, households, joined : now, and members who joined in the season
    to_come : names and closing days of share-outs to come
    """

    season: CircleSeason
    seasons: tuple[CircleSeason, ...]
    total: Tally
    by_hand: int
    weeks: tuple[tuple[date, Tally], ...]
    by_way: Counted
    by_weekday: Counted
    by_packing: Counted
    living: int
    wishes: Wishes
    kept: tuple[KeptVariety, ...]
    members: int
    households: int
    joined: int
    postage: PostageTotal
    country: str
    to_come: tuple[tuple[str, date], ...]


def season_page(actor: Actor, year: int | None, now: datetime) -> SeasonPage:
    """Show a season, by the year it begins in; None for the one today lies in."""
    actor.must(Permission.SEE_CIRCLE)
    with actor.books.reading() as tx:
        circle = circle_of(actor, tx)
        today = today_in(circle, now)
        latest = season_of(today)
        season = CircleSeason(year) if year is not None else latest
        everything = list(sent_until(tx, actor.circle_id, today))
        sent = [one for one in everything if season.holds(one.told.day)]
        went = [one.told for one in sent]
        seasons = {latest, *(season_of(one.told.day) for one in everything)}
        members = MEMBERS.all(tx, actor.circle_id, left_at=None)
        return SeasonPage(
            season=season,
            seasons=tuple(sorted(seasons, reverse=True)),
            total=tally(went),
            by_hand=sum(one.by_hand for one in went),
            weeks=by_week(went),
            by_way=_in_order(tally_by(went, lambda one: one.way or words.NOT_KNOWN)),
            by_weekday=_by_weekday(went),
            by_packing=_by_packing(went),
            living=_living(tx, actor.circle_id, sent),
            wishes=_wishes(tx, actor.circle_id, season),
            kept=tuple(
                KeptVariety(line.variety, line.places, line.chance)
                for line in variety_lines(tx, actor.circle_id)
                if line.variety.must_not_be_lost
            ),
            members=len(members),
            households=len({one.household_id for one in members}),
            joined=_joined(tx, actor.circle_id, season),
            postage=postage_of_season(tx, actor.circle_id, season, today),
            country=circle.country,
            to_come=tuple(
                (one.name, one.closes_on)
                for one in SHARE_OUTS.all(tx, actor.circle_id, state=UNCONFIRMED)
                if one.closes_on >= today
            ),
        )


def _in_order(found: dict[str, Tally]) -> Counted:
    """Give the largest first."""
    return tuple(sorted(found.items(), key=lambda one: (-one[1].parcels, one[0])))


def _by_weekday(went: list[SentParcel]) -> Counted:
    """Give the weekdays from Monday; what went by hand lay in no depot, and counts nowhere here."""
    posted = [one for one in went if not one.by_hand]
    found = tally_by(posted, lambda one: one.day.weekday())
    names = {one.day.weekday(): dates.weekday(one.day) for one in posted}
    return tuple((names[number], found[number]) for number in sorted(found))


def _by_packing(went: list[SentParcel]) -> Counted:
    posted = [one for one in went if not one.by_hand and one.packing]
    return _in_order(tally_by(posted, lambda one: posting_days.packing(one.packing)))


def _living(tx: Tx, circle_id: int, sent: list[SeasonParcel]) -> int:
    """Count what still lives of each parcel; plants raised from it since are not counted."""
    origins = {origin_of_code(one.code): one.told.alive or 0 for one in sent}
    living = Counter[str]()
    for batch in BATCHES.all(tx, circle_id, origin=frozenset(origins)):
        living[batch.origin] += batch.plants
    return sum(min(living[origin], alive) for origin, alive in origins.items())


def _wishes(tx: Tx, circle_id: int, season: CircleSeason) -> Wishes:
    """Count the claims made in a season, or said again in it to stand; what was taken back is left out."""
    given = Counter[int]()
    for one in ALLOCATIONS.all(tx, circle_id, state=STANDING):
        given[one.claim_id] += one.count
    made = [
        one
        for one in CLAIMS.all(tx, circle_id, set_aside=False)
        if season.holds((one.wanted_at or one.made_at).date())
        and (one.withdrawn_at is None or one.lapsed_at is not None)
    ]
    varieties, lacking = VARIETIES.by_id(tx, circle_id), Counter[int]()
    for claim in made:
        lacking[claim.variety_id] += max(claim.asked - given[claim.id], 0)
    unmet = [(varieties[key], count) for key, count in lacking.items() if count]
    unmet.sort(key=lambda one: (-one[1], one[0].name))
    return Wishes(
        len(made),
        sum(given[one.id] >= one.asked for one in made),
        sum(0 < given[one.id] < one.asked for one in made),
        tuple(unmet),
    )


def _joined(tx: Tx, circle_id: int, season: CircleSeason) -> int:
    return sum(season.holds(one.joined_at.date()) for one in MEMBERS.all(tx, circle_id))
