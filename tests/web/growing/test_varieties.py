"""Pages of varieties: the list, one of them, a new name, what one grows, what is said of it."""

import pytest

from exchange.actions.growing.varieties import mark_variety
from exchange.domain.growing.variety import Species
from exchange.records import BATCHES, VARIETIES
from tests.app_fixtures import NOW
from tests.builders.offers import a_batch, a_variety, marks, protect, row, rows


def test_the_page_gives_the_name_the_risk_and_the_holders(circle, effie):
    variety_id = a_variety(circle, "Kettle One")
    a_batch(circle, "Cuthbert", variety_id, plants=1)

    page = effie.get(f"/varieties/{variety_id}").text

    assert "<h1>" in page
    assert "37\u00a0in\u00a0100" in page
    assert "37\u00a0in\u00a0100" in page
    assert "Cuthbert, Cornwall" in page
    assert f"{circle['Cuthbert'].surname}, Cornwall" not in page
    assert "Penzance" not in page


def test_why_it_must_not_be_lost_and_whom_to_ask_are_told(circle, effie):
    variety_id = a_variety(circle, "Kettle Two")
    said = marks(must_not_be_lost=True, because="Raised by <Old> Bet")
    mark_variety(circle.actor("Winnie"), variety_id, said, NOW)
    protect(circle, a_variety(circle, "Kettle Psalm"))

    assert "Raised by &lt;Old&gt; Bet" in effie.get(f"/varieties/{variety_id}").text
    assert (
        "Plant Variety Rights Office"
        in effie.get(f"/varieties/{a_variety(circle, 'Kettle Psalm')}").text
    )


def test_a_new_name_is_added_and_a_near_one_asked_about(circle, effie):
    added = effie.post("/varieties/new", {"name": "Lamplighter", "kind": "dahlia"})
    asked = effie.post("/varieties/new", {"name": "Lamplightre", "kind": "dahlia"})
    known = added.location.rpartition("/")[2]
    chosen = effie.post("/varieties/new", {"name": "Lamplightre", "kind": "dahlia", "meant": known})

    assert added.status_code == 303
    assert asked.status_code == 422
    assert 'value="Lamplightre"' in asked.text
    assert chosen.location == added.location
    assert not any(one.name == "Lamplightre" for one in rows(circle, VARIETIES))


@pytest.mark.parametrize("name", ["", "'' ''", "n" * 61])
def test_a_name_that_cannot_be_is_refused_beside_its_field(effie, name):
    page = effie.post("/varieties/new", {"name": name, "kind": "dahlia"})

    assert page.status_code == 422
    assert 'id="name-error"' in page.text


def grown(circle, **more):
    usual = {"plants": "4", "material": "pot_tuber", "raised": "cool", "shelter": "frost_free"}
    return {**usual, "place": str(circle.place("Effie").id), **more}


def test_i_grow_it_too_and_counted_anew(circle, effie):
    variety_id = a_variety(circle, "Kettle Three")

    effie.post(f"/varieties/{variety_id}/grow", grown(circle))
    (batch,) = rows(circle, BATCHES, variety_id=variety_id)
    address = f"/varieties/{variety_id}/batches/{batch.id}"
    form = effie.get(address).text
    effie.post(address, {"plants": "1"})

    assert (batch.plants, batch.shelter.value) == (4, "frost_free")
    assert 'value="4"' in form
    assert row(circle, BATCHES, batch.id).plants == 1


@pytest.mark.parametrize("plants", ["-1", "1000000000", "", "some"])
def test_a_count_that_cannot_be_is_refused_and_the_rest_is_kept(circle, effie, plants):
    variety_id = a_variety(circle, "Kettle Four")

    page = effie.post(
        f"/varieties/{variety_id}/grow", grown(circle, plants=plants, origin="Bet's garden")
    )

    assert page.status_code == 422
    assert "Bet&#39;s garden" in page.text
    assert rows(circle, BATCHES, variety_id=variety_id) == ()


def test_a_place_of_another_household_cannot_be_chosen(circle, effie):
    variety_id = a_variety(circle, "Kettle Five")
    sent = grown(circle, place=str(circle.place("Cuthbert").id))

    assert effie.post(f"/varieties/{variety_id}/grow", sent).status_code == 422


def test_the_plants_of_another_cannot_be_counted(circle, effie):
    variety_id = a_variety(circle, "Kettle Six")
    batch_id = a_batch(circle, "Cuthbert", variety_id)

    assert effie.get(f"/varieties/{variety_id}/batches/{batch_id}").status_code == 404


def test_a_mark_without_a_reason_is_refused_and_the_tick_kept(circle, winnie):
    variety_id = a_variety(circle, "Kettle Seven")
    sent = {"keeps": "badly", "must_not_be_lost": "y", "because": "", "target_places": "3"}

    page = winnie.post(f"/varieties/{variety_id}/marks", sent)
    winnie.post(f"/varieties/{variety_id}/marks", sent | {"because": "The last of Bet's"})

    assert page.status_code == 422
    assert 'id="because-error"' in page.text
    assert row(circle, VARIETIES, variety_id).must_not_be_lost_because == "The last of Bet's"


def test_a_begonia_of_unknown_kind_is_asked_about_until_somebody_says(circle, winnie):
    with circle.house.books.writing() as tx:
        variety_id = VARIETIES.add(
            tx, circle.circle_id, species=Species.BEGONIA, name="Kettle Rex", folded="kettle rex"
        )
    sent = {"keeps": "fairly", "target_places": "3"}

    asked = winnie.get(f"/varieties/{variety_id}").text
    winnie.post(f"/varieties/{variety_id}/marks", sent)
    unsaid = row(circle, VARIETIES, variety_id).species
    winnie.post(f"/varieties/{variety_id}/marks", sent | {"begonia": "foliage_begonia"})
    told = winnie.get(f"/varieties/{variety_id}").text

    assert "grown from a tuber, or for its leaves?" in asked
    assert unsaid is Species.BEGONIA
    assert row(circle, VARIETIES, variety_id).species is Species.FOLIAGE_BEGONIA
    assert "or for its leaves?" not in told


def test_a_dahlia_is_never_told_to_be_a_begonia(circle, winnie):
    variety_id = a_variety(circle, "Kettle Nine")
    sent = {"keeps": "fairly", "target_places": "3", "begonia": "foliage_begonia"}

    page = winnie.post(f"/varieties/{variety_id}/marks", sent)

    assert page.status_code == 422
    assert row(circle, VARIETIES, variety_id).species is Species.DAHLIA


def test_who_does_not_grow_it_is_told_so(circle, effie):
    sent = {"keeps": "badly", "target_places": "3"}

    page = effie.post(f"/varieties/{a_variety(circle, 'Kettle Eight')}/marks", sent)

    assert "Only somebody who grows it" in page.text


def test_the_list_is_searched_and_nothing_found_leads_to_adding(circle, effie):
    a_variety(circle, "Ferry Lamp")

    assert "Ferry Lamp" in effie.get("/varieties?find=ferry").text
    assert "/varieties/new?name=Unheard" in effie.get("/varieties?find=Unheard").text
    assert effie.get("/varieties?kind=cabbage&find=%27%3B--").status_code == 200


def test_a_name_given_here_is_held_against_the_code_and_an_old_one_only_warned_of(circle, effie):
    sent = {"name": "Finest Bucket", "kind": "dahlia"}

    asked = effie.post("/varieties/new", {**sent, "given_now": "y"})
    after_asking = rows(circle, VARIETIES)
    kept = effie.post("/varieties/new", {**sent, "given_now": "y", "anyway": "y"})
    old = effie.post("/varieties/new", {"name": "Kettle Improved", "kind": "dahlia"})

    assert asked.status_code == 422
    assert "does not boast, as “Finest” does (Article 21)" in asked.text
    assert "Keep the name all the same" in asked.text
    assert not any(one.name == "Finest Bucket" for one in after_asking)
    assert kept.status_code == old.status_code == 303
    assert "(Article 21)" in effie.get(old.location).text
