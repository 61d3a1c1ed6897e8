"""The demo's varieties, batches, spares and claims: every name leads somewhere, every case occurs."""

from collections import Counter
from datetime import date
from difflib import SequenceMatcher
from itertools import combinations

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.growing.variety import Keeps, Species
from tests.demo_data.reading import TODAY, USUAL, households, table

VARIETIES = {row["name"]: row for row in table("varieties.csv")}
BATCHES = table("batches.csv")
SPARES = table("spares.csv")
CLAIMS = table("claims.csv")
FREE = [row for row in SPARES if not row["set_aside_for"]]


def materials(claim: dict[str, str]) -> set[str]:
    return set(claim["materials"].split(";")) if claim["materials"] else USUAL


def offers(claim: dict[str, str]) -> list[dict[str, str]]:
    return [row for row in FREE if row["variety"] == claim["variety"]]


def area(household: str) -> str:
    place = households()[household]["place"][0]
    if place["country"] != "GB":
        return "EU"
    return "NI" if place["subdivision"] == "NIR" else "GB"


def folded(name: str) -> str:
    return "".join(letter for letter in name.lower() if letter.isalnum())


def test_there_is_enough_to_share():
    assert len(VARIETIES) == len(table("varieties.csv")) >= 64
    assert len(SPARES) >= 90
    assert len(CLAIMS) >= 150


def test_varieties_are_mostly_dahlias_with_five_other_kinds():
    kinds = Counter(row["species"] for row in VARIETIES.values())

    assert set(kinds) <= set(Species)
    assert kinds["dahlia"] > len(VARIETIES) / 2
    assert {"pelargonium", "fuchsia", "chrysanthemum", "salvia", "coleus"} <= set(kinds)
    assert {row["keeps"] for row in VARIETIES.values()} == set(Keeps)


def test_names_keep_to_the_rules_for_new_names():
    # ICNCP (9th ed.): at most 30 characters, not the genus; quoted by the dahlia registrar.
    for name in VARIETIES:
        assert len(name) <= 30
        assert not any(kind in name.lower() for kind in Species)
        assert name.replace("'", "").replace(" ", "").isalpha()


def test_two_pairs_of_names_are_nearly_the_same_but_never_fold_together():
    alike = [
        pair
        for pair in combinations(VARIETIES, 2)
        if SequenceMatcher(None, *map(folded, pair)).ratio() >= 0.9
    ]

    assert len({folded(name) for name in VARIETIES}) == len(VARIETIES)
    assert ("Wrenfold Ember", "Wrenfold Embers") in alike
    assert ("Chapel Brass", "Chapel Brasses") in alike


def test_names_in_every_file_lead_somewhere():
    for row in (*BATCHES, *SPARES, *CLAIMS):
        household = households()[row["household"]]
        assert row["variety"] in VARIETIES
        assert row["place"] in {place["name"] for place in household["place"]}
    for row in SPARES:
        assert row["set_aside_for"] in {"", *households()}
        assert row["set_aside_for"] != row["household"]
    for row in CLAIMS:
        alternatives = row["alternatives"].split(";") if row["alternatives"] else []
        assert set(alternatives) <= set(VARIETIES) - {row["variety"]}
        assert {VARIETIES[a]["species"] for a in alternatives} <= {
            VARIETIES[row["variety"]]["species"]
        }


def test_no_row_is_said_twice():
    assert len({(r["variety"], r["household"], r["place"]) for r in BATCHES}) == len(BATCHES)
    assert len({(r["household"], r["variety"], r["material"]) for r in SPARES}) == len(SPARES)
    assert len({(r["household"], r["variety"]) for r in CLAIMS}) == len(CLAIMS)


def test_batches_use_the_words_of_the_craft_and_stand_in_a_shelter_of_their_place():
    for row in BATCHES:
        places = {place["name"]: place for place in households()[row["household"]]["place"]}
        kinds = {shelter["kind"] for shelter in places[row["place"]]["shelter"]}
        assert row["material"] in set(Material)
        assert row["raised"] in set(Raised)
        assert ShelterKind(row["shelter"]) in kinds
        assert int(row["plants"]) >= 1
        assert date.fromisoformat(row["since"]) < TODAY


def test_spares_use_the_words_of_the_craft_and_can_still_be_sent():
    for row in SPARES:
        assert row["material"] in set(Material)
        assert row["raised"] in set(Raised)
        assert int(row["count"]) >= 1
        ready, last = map(date.fromisoformat, (row["ready_from"], row["send_by"]))
        assert TODAY <= ready < last <= date(2027, 6, 30)
        assert row["roots_seen"] in {"yes", "no"}


def test_only_who_grows_a_variety_offers_it():
    holders = {(row["variety"], row["household"]) for row in BATCHES}

    assert {(row["variety"], row["household"]) for row in SPARES} <= holders


def test_a_health_line_names_a_member_of_the_household_and_a_past_day():
    said = [row for row in SPARES if row["health"]]

    assert 0 < len(SPARES) - len(said) < len(SPARES) / 4
    for row in said:
        household = households()[row["household"]]
        names = {f"{m['first_name']} {m['surname']}" for m in household["member"]}
        assert row["health_by"] in names
        assert date.fromisoformat(row["health_on"]) <= TODAY


def test_all_sorts_of_stock_are_offered():
    assert {row["material"] for row in SPARES} >= {*USUAL, "unrooted"}
    assert {row["raised"] for row in SPARES} == set(Raised)
    assert sum(row["raised"] == "in_heat" for row in SPARES) >= 20


def test_claims_ask_for_something_sensible():
    for row in CLAIMS:
        assert 1 <= int(row["asked"]) <= 3
        assert row["choice"] in {"1", "2", "3"}
        assert materials(row) <= set(Material)
        if row["no_use_after"]:
            assert date.fromisoformat(row["no_use_after"]) > TODAY


def test_one_variety_is_down_to_its_last_plant_and_must_not_be_lost():
    living: Counter[str] = Counter()
    for row in BATCHES:
        living[row["variety"]] += int(row["plants"])
    last = [name for name in VARIETIES if living[name] == 1]
    kept = [name for name in last if VARIETIES[name]["must_not_be_lost"] == "yes"]

    assert kept == ["Granny Corriemar"]
    assert any(row["variety"] == kept[0] for row in SPARES)
    assert sum(row["variety"] == kept[0] for row in CLAIMS) >= 3


def test_what_must_not_be_lost_says_why_and_by_whom():
    kept = [row for row in VARIETIES.values() if row["must_not_be_lost"] == "yes"]

    assert 3 <= len(kept) < len(VARIETIES) / 5
    for row in kept:
        assert row["because"]
        holders = {b["household"] for b in BATCHES if b["variety"] == row["name"]}
        assert row["marked_by"] in holders


def test_one_protected_variety_is_offered_and_asked_for():
    protected = [row for row in VARIETIES.values() if row["protected"] == "yes"]

    assert [row["name"] for row in protected] == ["Copper Psalm"]
    assert all(row["authority"] for row in protected)
    assert sum(row["variety"] == "Copper Psalm" for row in SPARES) == 1
    assert any(row["variety"] == "Copper Psalm" for row in CLAIMS)


def test_many_varieties_are_contested():
    asked: Counter[str] = Counter()
    free: Counter[str] = Counter()
    for row in CLAIMS:
        asked[row["variety"]] += int(row["asked"])
    for row in FREE:
        free[row["variety"]] += int(row["count"])

    assert sum(0 < free[name] < asked[name] for name in VARIETIES) >= 10


def test_some_plants_are_set_aside_for_another_household():
    aside = {(row["set_aside_for"], row["variety"]) for row in SPARES if row["set_aside_for"]}

    assert len(aside) >= 3
    assert not aside & {(row["household"], row["variety"]) for row in CLAIMS}


def test_some_claims_find_nobody_who_offers():
    assert sum(not offers(row) for row in CLAIMS) >= 4


def test_some_claims_fail_by_material_alone():
    failing = [
        row
        for row in CLAIMS
        if offers(row) and not any(o["material"] in materials(row) for o in offers(row))
    ]

    assert len(failing) >= 2


def test_some_claims_fail_by_window_alone():
    failing = [
        row
        for row in CLAIMS
        if row["no_use_after"]
        and offers(row)
        and all(o["ready_from"] > row["no_use_after"] for o in offers(row))
    ]

    assert len(failing) >= 2


def test_some_claims_fail_at_a_border_both_ways():
    def every_offer_crosses(row: dict[str, str], into: str, out_of: str) -> bool:
        found = offers(row)
        return (
            area(row["household"]) == into
            and bool(found)
            and all(area(offer["household"]) == out_of for offer in found)
        )

    assert any(every_offer_crosses(row, into="NI", out_of="GB") for row in CLAIMS)
    assert any(every_offer_crosses(row, into="GB", out_of="EU") for row in CLAIMS)


def test_a_cold_greenhouse_asks_for_stock_raised_in_heat_that_it_needs_soon():
    kinds = {shelter["kind"] for shelter in households()["Dunmarrow"]["place"][0]["shelter"]}
    heat_only = [
        row
        for row in CLAIMS
        if row["household"] == "Dunmarrow"
        and row["no_use_after"]
        and offers(row)
        and all(offer["raised"] == "in_heat" for offer in offers(row))
    ]

    assert kinds == {"cold", "open_ground"}
    assert heat_only


def test_the_full_household_claims_too():
    assert sum(row["household"] == "Thirlow" and bool(offers(row)) for row in CLAIMS) >= 3


def test_one_household_only_claims_and_one_only_gives():
    giving = {row["household"] for row in SPARES}
    claiming = {row["household"] for row in CLAIMS}

    assert set(households()) - giving == {"Achterlaw"}
    assert set(households()) - claiming == {"Quarmly"}
