"""Random circles for the share-out: small, and full of everything that can get in the way."""

import random
from dataclasses import replace
from datetime import date, timedelta

from exchange.domain.circle.border import BorderRow, Passage
from exchange.domain.circle.household import Household
from exchange.domain.circle.place import Place
from exchange.domain.growing.batch import Batch, Material, Raised
from exchange.domain.growing.fit import OutFrom
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.growing.variety import Keeps, Species, Variety
from exchange.domain.optimise.programme import never_stop
from exchange.domain.sharing import share_out
from exchange.domain.sharing.case import ShareOutCase, SharingTerms
from exchange.domain.sharing.claim import Claim
from exchange.domain.sharing.spare import Spare

CLOSES = date(2027, 4, 5)
OUT_FROM = OutFrom(date(2027, 5, 20), date(2027, 6, 15))
MATERIALS = (Material.ROOTED, Material.YOUNG_PLANT, Material.POT_TUBER, Material.UNROOTED)


def a_place(number=1, household=1):
    return Place(number, household, f"Plot {number}", "", "", "GB", "", 51.0, 0.0, "Europe/London")


def a_variety(number=1, **more):
    return Variety(**{"id": number, "species": Species.DAHLIA, "name": f"Variety {number}", **more})


def a_spare(number=1, household=1, variety=1, **more):
    usual = {
        "place_id": household,
        "material": Material.ROOTED,
        "raised": Raised.COOL,
        "count": 1,
        "ready_from": CLOSES,
        "send_by": CLOSES + timedelta(days=40),
    }
    return Spare(
        **{"id": number, "household_id": household, "variety_id": variety, **usual, **more}
    )


def a_claim(number=1, household=2, variety=1, **more):
    usual = {"place_id": household}
    return Claim(
        **{"id": number, "household_id": household, "variety_id": variety, **usual, **more}
    )


def a_case(**more):
    """A circle whose households each have one place of the same number, varieties as needed."""
    spares, claims = more.get("spares", ()), more.get("claims", ())
    households = {one.household_id for one in (*spares, *claims)}
    varieties = {one.variety_id for one in (*spares, *claims)}
    for claim in claims:
        varieties |= set(claim.alternatives)
    usual = {
        "closes_on": CLOSES,
        "draw_number": "481516",
        "households": tuple(Household(one, f"Household {one}") for one in sorted(households)),
        "places": tuple(a_place(one, one) for one in sorted(households)),
        "varieties": tuple(a_variety(one) for one in sorted(varieties)),
        "safe_from": dict.fromkeys(sorted(households), OUT_FROM),
    }
    return ShareOutCase(**{**usual, **more})


def tiny_circle(number, **terms):
    """A random circle of at most five households, few enough plants to list every share-out."""
    chance = random.Random(number)
    return random_circle(
        chance,
        households=chance.randint(2, 5),
        varieties=chance.randint(1, 3),
        spares=chance.randint(1, 5),
        claims=chance.randint(1, 6),
        terms=terms,
    )


def middling_circle(number, members=None, **terms):
    """A random circle of 5 to 60 households."""
    chance = random.Random(number)
    size = members or chance.randint(5, 60)
    return random_circle(
        chance,
        households=size,
        varieties=2 * size,
        spares=4 * size,
        claims=5 * size,
        terms=terms,
        precious=0.1,
    )


def hindered_circle(number):
    """A random circle of 5 to 14 households in which somebody has left, some are kept apart, some varieties are held.

    In every third one the organiser has chosen two that are to be given.
    """
    chance = random.Random(number)
    case = middling_circle(number + 70_000, chance.choice((5, 6, 8, 10, 14)))
    gone = chance.randint(0, 9)
    case = replace(
        case,
        forbids=tuple(
            (spare.id, claim.id)
            for spare in case.spares
            for claim in case.claims
            if chance.random() < 0.03
        ),
        households=tuple(replace(one, left=one.id == gone) for one in case.households),
        varieties=tuple(
            replace(one, protected=chance.random() < 0.05, authority="the rights office")
            for one in case.varieties
        ),
    )
    if number % 3:
        return case
    other = share_out.find(replace(case, draw_number="other"), never_stop)
    return replace(case, pins=other.allocations[:2])


def random_circle(chance, *, households, varieties, spares, claims, terms, precious=0.4):
    homes = range(1, households + 1)
    kinds = tuple(_variety(chance, one, precious) for one in range(1, varieties + 1))
    offered = tuple(_spare(chance, one, households, varieties) for one in range(1, spares + 1))
    wishes = tuple(_claim(chance, one, households, varieties) for one in range(1, claims + 1))
    shelters = tuple(one for home in homes for one in _shelters(chance, home))
    small = range(1, households + 1 if households <= 60 else 1)
    tariffs = {(one, two): chance.choice((300, 450, 700)) for one in small for two in small}
    blocked = BorderRow("GB", "NI", Passage.BLOCKED, "Ask first.", "the plant health service")
    return ShareOutCase(
        closes_on=CLOSES,
        draw_number=str(chance.randrange(10**6)),
        households=tuple(Household(one, f"Household {one}") for one in homes),
        places=tuple(a_place(one, one) for one in homes),
        shelters=shelters,
        varieties=kinds,
        batches=_batches(chance, households, varieties),
        spares=offered,
        claims=wishes,
        passage={(one, two): blocked for one in homes for two in homes if chance.random() < 0.03},
        safe_from=dict.fromkeys(homes, OUT_FROM),
        terms=SharingTerms(**{"most_contested": chance.choice((1, 2, 2, 3)), **terms}),
        given={one: chance.randint(0, 6) for one in homes},
        received={one: chance.randint(0, 6) for one in homes},
        postage=tariffs if households <= 60 and chance.random() < 0.7 else None,
    )


def _variety(chance, number, precious):
    return a_variety(
        number,
        species=chance.choice((Species.DAHLIA, Species.DAHLIA, Species.FUCHSIA)),
        keeps=chance.choice(tuple(Keeps)),
        must_not_be_lost=chance.random() < precious,
    )


def _popular(chance, most):
    """Some varieties are wanted far more than others."""
    return min(chance.randint(1, most), chance.randint(1, most))


def _spare(chance, number, households, varieties):
    ready = CLOSES + timedelta(days=chance.randint(-20, 20))
    return a_spare(
        number,
        household=chance.randint(1, households),
        variety=chance.randint(1, varieties),
        count=chance.choice((1, 1, 2, 2, 3)),
        material=chance.choice(MATERIALS),
        raised=chance.choice(tuple(Raised)),
        ready_from=ready,
        send_by=ready + timedelta(days=chance.randint(5, 50)),
    )


def _claim(chance, number, households, varieties):
    others = chance.sample(
        range(1, varieties + 1), k=min(varieties, chance.choice((0, 0, 0, 1, 2)))
    )
    variety = _popular(chance, varieties)
    return a_claim(
        number,
        household=chance.randint(1, households),
        variety=variety,
        asked=chance.choice((1, 1, 1, 2, 3)),
        choice=chance.randint(1, 3),
        materials=frozenset(chance.sample(MATERIALS, k=chance.choice((2, 3, 4)))),
        no_use_after=None
        if chance.random() < 0.7
        else CLOSES + timedelta(days=chance.randint(0, 60)),
        alternatives=tuple(one for one in others if one != variety),
    )


def _shelters(chance, home):
    if chance.random() < 0.2:
        return []
    kinds = chance.sample(tuple(ShelterKind), k=chance.choice((1, 2, 2)))
    rooms = (None, None, 1, 2, 4, 8)
    return [Shelter(home, kind, chance.choice(rooms), chance.random() < 0.2) for kind in kinds]


def _batches(chance, households, varieties):
    return tuple(
        Batch(number, variety, home, home, Material.POT_TUBER, Raised.COOL, chance.randint(1, 4))
        for number, (variety, home) in enumerate(
            (chance.randint(1, varieties), chance.randint(1, households))
            for _ in range(2 * varieties)
        )
    )


def working_of(case, watch=never_stop):
    """The working of a case without the reasons of its claims, which take longest."""
    found = share_out.find(case, watch)
    return share_out._working(case, found)
