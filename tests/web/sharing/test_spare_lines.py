"""The box on the page: read, asked about in one table, listed whole, nothing lost."""

import html
import re

import pytest

from exchange.records import CLAIMS, SPARES, VARIETIES
from tests.builders.offers import a_variety, rows

DAYS = {"ready_from": "2027-04-05", "send_by": "2027-05-17"}


def fields(page):
    """Give what a browser would send back from the table, as it stands."""
    form = page[page.index('action="/spares/box/list"') :]
    form = form[: form.index("</form>")]
    sent = {}
    for tag in re.findall(r"<input[^>]*>", form):
        known = dict(re.findall(r'([a-z_-]+)="([^"]*)"', tag))
        is_tick = known.get("type") == "checkbox"
        if "name" in known and not (is_tick and "checked" not in tag):
            sent[known["name"]] = html.unescape(known.get("value", ""))
    for name, inside in re.findall(
        r'<select[^>]*name="([^"]+)"[^>]*>(.*?)</select>', form, re.DOTALL
    ):
        chosen = re.search(r'<option selected value="([^"]*)"', inside)
        sent[name] = html.unescape(
            chosen.group(1) if chosen else re.search(r'value="([^"]*)"', inside).group(1)
        )
    sent.pop("csrf_token", None)
    return sent


def read(visitor, text, **more):
    return visitor.post(
        "/spares/box", {"lines": text, "raised": "cool", "material": "", **DAYS, **more}
    )


def test_sure_lines_are_listed_with_one_more_press(circle, cuthbert):
    variety_id = a_variety(circle, "Sure Kettle")
    page = read(cuthbert, "3 rooted Sure Kettle\n2 clumps Sure Kettle", raised="in_heat").text

    done = cuthbert.post("/spares/box/list", fields(page))

    found = rows(circle, SPARES, variety_id=variety_id)
    assert "Every line was understood" in page
    assert done.location == "/spares?mine=yes"
    assert [(one.count, one.material.value, one.raised.value) for one in found] == [
        (3, "rooted", "in_heat"),
        (2, "clump", "in_heat"),
    ]


def test_a_doubtful_name_must_be_decided_and_nothing_is_lost_until_then(circle, cuthbert):
    known = a_variety(circle, "Café Noir")
    page = read(cuthbert, "3 rooted Cafe Noir").text
    sent = fields(page) | {"rows-0-count": "7"}

    undecided = cuthbert.post("/spares/box/list", sent)
    decided = cuthbert.post("/spares/box/list", sent | {"rows-0-variety": str(known)})

    assert (sent["rows-0-variety"], undecided.status_code) == ("", 422)
    assert "Say which plant is meant" in undecided.text
    assert fields(undecided.text)["rows-0-count"] == "7"
    assert decided.status_code == 303
    assert [one.count for one in rows(circle, SPARES, variety_id=known)] == [7]


def test_a_new_name_is_kept_in_the_kind_that_was_chosen(circle, cuthbert):
    sent = fields(read(cuthbert, "2 rooted Wholly Unheard").text)

    cuthbert.post("/spares/box/list", sent | {"rows-0-variety": "new:fuchsia"})

    (variety,) = [one for one in rows(circle, VARIETIES) if one.name == "Wholly Unheard"]
    assert variety.species == "fuchsia"


def test_a_greeting_and_a_line_that_cannot_be_are_left_out(circle, cuthbert):
    variety_id = a_variety(circle, "Third Kettle")
    page = read(cuthbert, "Dear friends,\n0 rooted Nothing\n2 rooted Third Kettle").text
    before = len(rows(circle, SPARES))

    cuthbert.post("/spares/box/list", fields(page))

    assert "The number must be from 1 to 1000." in page
    assert len(rows(circle, SPARES)) == before + 1
    assert rows(circle, SPARES)[-1].variety_id == variety_id


@pytest.mark.parametrize("count", ["-1", "0", "1000000000", "", "many"])
def test_a_wrong_number_is_said_beside_its_row(circle, cuthbert, count):
    a_variety(circle, "Fourth Kettle")
    sent = fields(read(cuthbert, "3 rooted Fourth Kettle").text) | {"rows-0-count": count}

    page = cuthbert.post("/spares/box/list", sent)

    assert page.status_code == 422
    assert 'id="rows-0-count-error"' in page.text


def test_a_plant_that_was_not_offered_is_not_taken(circle, cuthbert):
    other = a_variety(circle, "Not Meant At All")
    sent = fields(read(cuthbert, "3 rooted Fifth Kettle").text)

    assert (
        cuthbert.post("/spares/box/list", sent | {"rows-0-variety": str(other)}).status_code == 422
    )


def test_going_back_keeps_the_text_and_the_days(circle, cuthbert):
    sent = fields(read(cuthbert, '3 rooted "Odd" & <Even>', send_by="2027-06-01").text)

    page = cuthbert.post("/spares/box", sent | {"again": "yes"}).text

    assert "3 rooted &#34;Odd&#34; &amp; &lt;Even&gt;" in page
    assert 'value="2027-06-01"' in page


def test_days_in_the_wrong_row_are_said_beside_the_day(circle, cuthbert):
    a_variety(circle, "Sixth Kettle")
    sent = fields(read(cuthbert, "3 rooted Sixth Kettle").text) | {"send_by": "2027-04-01"}

    page = cuthbert.post("/spares/box/list", sent)

    assert page.status_code == 422
    assert 'id="send_by-error"' in page.text


def test_an_empty_box_and_an_endless_one_are_refused_with_a_sentence(cuthbert):
    assert "Write at least one line" in read(cuthbert, " ").text
    assert "list at most 200 at a time" in read(cuthbert, "1 rooted Kettle\n" * 201).text


def test_a_table_sent_without_its_box_leads_back_to_the_box(cuthbert):
    assert cuthbert.post("/spares/box/list", {}).location == "/spares/box"


def test_a_last_plant_is_asked_about_in_its_row_and_listed_once_ticked(circle, cuthbert):
    variety_id = a_variety(circle, "Lone Kettle")
    sent = fields(read(cuthbert, "1 rooted Lone Kettle").text)

    asked = cuthbert.post("/spares/box/list", sent)

    assert asked.status_code == 422
    assert "the circle’s only plant of Lone Kettle: may it go?" in asked.text
    assert 'name="rows-0-may_go"' in asked.text
    cuthbert.post("/spares/box/list", fields(asked.text) | {"rows-0-may_go": "y"})
    assert len(rows(circle, SPARES, variety_id=variety_id)) == 1


def test_a_field_in_doubt_begins_empty_and_must_be_answered_by_itself(circle, cuthbert):
    known = a_variety(circle, "Seventh Kettle")
    sent = fields(read(cuthbert, "about 4 cuttings Seventh Kettel").text)

    page = cuthbert.post("/spares/box/list", sent | {"rows-0-variety": str(known)})

    assert (sent["rows-0-count"], sent["rows-0-material"]) == ("", "")
    assert page.status_code == 422
    assert 'id="rows-0-count-error"' in page.text
    assert 'id="rows-0-material-error"' in page.text
    assert 'id="rows-0-variety-error"' not in page.text


def test_what_is_sent_may_be_said_once_for_all_lines_that_do_not_say(circle, cuthbert):
    a_variety(circle, "Eighth Kettle")

    sent = fields(
        read(cuthbert, "3 Eighth Kettle\n3 cuttings Eighth Kettle", material="clump").text
    )

    assert (sent["rows-0-material"], sent["rows-1-material"]) == ("clump", "")


def test_a_name_that_is_put_right_is_shown_again_before_it_is_kept(circle, cuthbert):
    known = a_variety(circle, "Ninth Kettle")
    sent = fields(read(cuthbert, "3 rooted Smudged").text) | {"rows-0-name": "ninth kettle"}
    sent |= {"rows-0-variety": "new:dahlia"}

    again = cuthbert.post("/spares/box/list", sent)
    kept = cuthbert.post("/spares/box/list", fields(again.text))

    assert again.status_code == 422
    assert "The name was changed" in again.text
    assert kept.status_code == 303
    assert len(rows(circle, SPARES, variety_id=known)) == 1


def test_a_wish_is_kept_and_one_press_takes_the_whole_box_back(circle, cuthbert):
    known = a_variety(circle, "Tenth Kettle")
    wished = a_variety(circle, "Eleventh Kettle")
    sent = fields(read(cuthbert, "3 rooted Tenth Kettle\nAny spare Eleventh Kettle?").text)

    after = cuthbert.get(cuthbert.post("/spares/box/list", sent).location).text
    (address,) = re.findall(r'action="(/spares/box/undo/[^"]+)"', after)
    cuthbert.post(address, {})

    (spare,) = rows(circle, SPARES, variety_id=known)
    (claim,) = rows(circle, CLAIMS, variety_id=wished)
    assert "1\u00a0spare on the list and 1\u00a0wish noted." in after
    assert None not in {spare.withdrawn_at, claim.withdrawn_at}


@pytest.mark.parametrize("told", ["none/none", "x/y", "1-999999/none"])
def test_an_undo_of_nothing_changes_nothing(circle, cuthbert, told):
    before = rows(circle, SPARES)

    cuthbert.post(f"/spares/box/undo/{told}", {})

    assert rows(circle, SPARES) == before
