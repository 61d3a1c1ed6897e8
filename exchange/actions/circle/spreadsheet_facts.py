"""What the circle knows when a spreadsheet is read."""

from collections import Counter
from collections.abc import Callable
from datetime import datetime
from functools import cache

from exchange.actions.kernel.actor import Actor, circle_of, today_in
from exchange.actions.people.towns import (
    Town,
    TownNotClearError,
    TownNotFoundError,
    TownWanted,
    find_town,
    key_of,
    name_of,
)
from exchange.domain.growing.batch import Material
from exchange.domain.growing.last_plant import PlantsKept
from exchange.domain.growing.variety import Variety
from exchange.domain.sharing.states import STANDING
from exchange.domain.spreadsheet.known import KnownCircle, KnownMember, TownRead
from exchange.records import (
    ALLOCATIONS,
    BATCHES,
    CLAIMS,
    MEMBERS,
    PLACES,
    SPARES,
    SPREADSHEETS,
    VARIETIES,
    Tx,
)
from exchange.records.rows.growing import SpareRow


def known_of(tx: Tx, actor: Actor, now: datetime) -> KnownCircle:
    """Give what stands in the circle, for a file to be read beside."""
    circle = circle_of(actor, tx)
    here = actor.circle_id
    placed = {one.household_id for one in PLACES.all(tx, here)}
    today = today_in(circle, now)
    spares = [one for one in SPARES.all(tx, here, withdrawn_at=None) if one.send_by >= today]
    batches = BATCHES.all(tx, here)
    living: Counter[int] = Counter()
    stock: Counter[tuple[int, int, Material]] = Counter()
    for one in batches:
        living[one.variety_id] += one.plants
        if one.plants:
            stock[one.household_id, one.variety_id, one.material] += one.plants
    return KnownCircle(
        today=today,
        varieties=tuple(
            Variety(one.id, one.species, one.name, one.keeps)
            for one in VARIETIES.all(tx, here, removed_at=None, merged_into=None)
        ),
        members=tuple(
            KnownMember(
                one.id,
                one.household_id,
                one.first_name,
                one.full_name,
                one.email or "",
                one.household_id in placed,
            )
            for one in MEMBERS.all(tx, here, left_at=None)
        ),
        spares={(one.household_id, one.variety_id, one.material): one.count for one in spares},
        claims=open_claims(tx, here),
        stock=stock,
        kept=_kept(stock, living, spares),
        living=living,
        earlier=_earlier(tx, here),
        town=town_reader(circle.country),
    )


def open_claims(tx: Tx, circle_id: int) -> frozenset[tuple[int, int]]:
    """Give the open claims that have been given nothing yet [household, variety]."""
    claims = CLAIMS.all(tx, circle_id, withdrawn_at=None, set_aside=False)
    given = {one.claim_id for one in ALLOCATIONS.all(tx, circle_id, state=STANDING)}
    return frozenset((one.household_id, one.variety_id) for one in claims if one.id not in given)


def _kept(
    stock: Counter[tuple[int, int, Material]], living: Counter[int], spares: list[SpareRow]
) -> dict[tuple[int, int], PlantsKept]:
    """Count what each household has beside what it has listed."""
    own: Counter[tuple[int, int]] = Counter()
    for (household, variety, _material), plants in stock.items():
        own[household, variety] += plants
    listed: Counter[tuple[int, int]] = Counter()
    for one in spares:
        if one.material is not Material.UNROOTED:
            listed[one.household_id, one.variety_id] += one.count
    return {
        key: PlantsKept(max(0, plants - listed[key]), living[key[1]]) for key, plants in own.items()
    }


def _earlier(tx: Tx, circle_id: int) -> frozenset[str]:
    """Give the hashes of all rows that went in before."""
    files = SPREADSHEETS.all(tx, circle_id)
    return frozenset(sha for one in files for sha in one.went_in.values())


def town_reader(country: str) -> Callable[[str], TownRead]:
    """Give what looks towns up, each name once; towns of the circle's own country go before others."""

    @cache
    def read(text: str) -> TownRead:
        for wanted in (TownWanted(text, country=country), TownWanted(text)):
            try:
                found = find_town(wanted)
            except TownNotClearError as several:
                return TownRead("", tuple((key_of(one), name_of(one)) for one in several.towns))
            except TownNotFoundError:
                continue
            return TownRead(key_of(found), ((key_of(found), name_of(found)),))
        return TownRead()

    return read


def town_of(text: str, key: str) -> Town:
    """Give the town that was looked up and chosen."""
    return find_town(TownWanted(text, chosen=key))
