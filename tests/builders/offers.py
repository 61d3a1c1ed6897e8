"""Plain builders of what is offered and asked for, by the members' own acts: varieties, spares, claims."""

from datetime import date
from secrets import token_hex

from exchange.actions.circle.set_up import NewCircle, record_circle
from exchange.actions.growing.batches import NewBatch, grow_too
from exchange.actions.growing.varieties import Marks, mark_variety, name_variety
from exchange.actions.sharing.claims import NewClaim, claim
from exchange.actions.sharing.spares import NewSpare, list_spare
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Keeps, Species
from exchange.records import ALLOCATIONS, HOUSEHOLDS, MEMBERS, PLACES
from exchange.records.spares import take
from tests.app_fixtures import NOW, Ring

TODAY = date(2027, 4, 5)
COUNTIES = {"Winnie": "Shropshire", "Cuthbert": "Cornwall", "Effie": "Highland"}


def a_ring(house):
    """Make a circle of three households without accounts, the first its organiser."""
    people = {}
    with house.books.writing() as tx:
        circle_id = record_circle(tx, NewCircle(f"ring {token_hex(4)}"), NOW)
        for first, county in COUNTIES.items():
            household_id = HOUSEHOLDS.add(tx, circle_id, name=first, posting_weekdays=(0, 1, 2))
            PLACES.add(
                tx, circle_id, household_id=household_id, name="home", town="Ludlow",
                county=county, country="GB", subdivision="ENG", latitude=52.4, longitude=-2.7,
                zone="Europe/London",
            )  # fmt: skip
            member_id = MEMBERS.add(
                tx,
                circle_id,
                household_id=household_id,
                first_name=first,
                organiser=not people,
                joined_at=NOW,
            )
            people[first] = MEMBERS.get(tx, circle_id, member_id)
    return Ring(circle_id, people, house)


def a_variety(ring, name="Tin Kettle", species=Species.DAHLIA):
    return name_variety(ring.actor("Winnie"), name, species, NOW).id


def new_spare(variety_id, **more):
    usual = {
        "material": Material.ROOTED,
        "raised": Raised.COOL,
        "count": 3,
        "ready_from": TODAY,
        "send_by": date(2027, 5, 17),
        "may_go": True,
    }
    return NewSpare(variety_id, **{**usual, **more})


def a_spare(ring, who="Cuthbert", variety_id=None, **more):
    return list_spare(ring.actor(who), new_spare(variety_id or a_variety(ring), **more), NOW)


def a_claim(ring, who="Effie", variety_id=None, **more):
    return claim(ring.actor(who), NewClaim(variety_id or a_variety(ring), **more), NOW)


def a_batch(ring, who="Cuthbert", variety_id=None, plants=2, **more):
    return grow_too(ring.actor(who), NewBatch(variety_id or a_variety(ring), plants, **more), NOW)


def marks(**more):
    usual = {
        "keeps": Keeps.FAIRLY,
        "must_not_be_lost": False,
        "because": "",
        "target_places": 3,
        "protected": False,
        "authority": "",
    }
    return Marks(**{**usual, **more})


def protect(ring, variety_id):
    mark_variety(ring.actor("Winnie"), variety_id, marks(protected=True), NOW)


def give(ring, spare_id, claim_id, count=1):
    """Give plants as a confirmed share-out does."""
    with ring.house.books.writing() as tx:
        take(tx, ring.circle_id, spare_id, count)
        return ALLOCATIONS.add(
            tx, ring.circle_id, share_out_id=None, spare_id=spare_id, claim_id=claim_id,
            count=count, made_at=NOW,
        )  # fmt: skip


def row(ring, repository, row_id):
    with ring.house.books.reading() as tx:
        return repository.get(tx, ring.circle_id, row_id)


def rows(ring, repository, **where):
    with ring.house.books.reading() as tx:
        return repository.all(tx, ring.circle_id, **where)
