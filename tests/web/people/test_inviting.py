"""Inviting from the box: at once where all is clear, by the table where something is asked."""

import re
from dataclasses import replace
from html import unescape

import pytest

from exchange.actions.people.inviting import PersonWanted, invite_people
from exchange.records import MEMBERS, PLACES
from tests.app_fixtures import NOW, Visitor, path_of, ring, site_with_mail
from tests.builders.offers import rows


def names(circle):
    return {one.full_name for one in rows(circle, MEMBERS)}


def table_of(page):
    """Give what the table of a page would send if it were pressed as it stands."""
    sent = {}
    for tag in re.findall(r"<input[^>]*people-[^>]*>", page.text):
        name = re.search(r'name="([^"]*)"', tag).group(1)
        value = re.search(r'value="([^"]*)"', tag)
        if 'type="checkbox"' not in tag:
            sent[name] = unescape(value.group(1)) if value else ""
    return sent


def test_where_all_is_clear_one_press_invites_everybody_and_shows_the_links(circle, winnie):
    lines = "Morag Ross, Oban, morag@example.org\nHob <hob@example.org>\nAlan Pugh, Oban"

    page = winnie.post("/people/invite", {"lines": lines})

    assert page.status_code == 200
    assert {"Morag Ross", "Hob", "Alan Pugh"} <= names(circle)
    assert len(re.findall(r"http://circle.example/join/", page.text)) == 2
    assert "2\u00a0people are invited; 1\u00a0person is in the circle without mail" in page.text


def test_a_doubtful_line_brings_the_table_and_choosing_invites_all(circle, winnie):
    page = winnie.post("/people/invite", {"lines": "Morag, Oban\nHob, Ludlwo"})
    assert page.status_code == 422
    assert "1\u00a0line is asked about; nobody is invited yet." in page.text
    assert not {"Morag", "Hob"} & names(circle)
    key = re.search(r'<option value="([\d.,-]+)">Ludlow, Shropshire', page.text).group(1)

    kept = winnie.post("/people/invite/table", {**table_of(page), "people-1-chosen": key})

    assert kept.status_code == 303
    hob = next(one for one in rows(circle, MEMBERS) if one.first_name == "Hob")
    towns = {one.household_id: one.town for one in rows(circle, PLACES)}
    assert towns[hob.household_id] == "Ludlow"
    assert "Morag" in names(circle)


def test_the_table_comes_back_with_all_that_was_typed(circle, winnie):
    page = winnie.post("/people/invite", {"lines": "Morag, Oban, m@example.org\nHob, Xyzzyton"})

    again = winnie.post("/people/invite/table", {**table_of(page), "people-0-name": "Morag Ross"})

    assert again.status_code == 422
    assert 'value="Morag Ross"' in again.text
    assert 'value="m@example.org"' in again.text
    assert 'value="Xyzzyton"' in again.text


def test_a_line_left_out_is_not_invited(circle, winnie):
    page = winnie.post("/people/invite", {"lines": "Morag, Oban\nHob, Xyzzyton"})

    winnie.post("/people/invite/table", {**table_of(page), "people-1-leave_out": "y"})

    assert "Morag" in names(circle)
    assert "Hob" not in names(circle)


@pytest.mark.parametrize("lines", ["", "  \n", "--\n", "Odo\n" * 201])
def test_nobody_or_too_many_is_said_beside_the_box(circle, winnie, lines):
    page = winnie.post("/people/invite", {"lines": lines})

    assert page.status_code == 422
    assert 'class="error"' in page.text
    assert "Odo" not in names(circle)


def test_with_a_mail_server_the_links_are_mailed_and_not_shown(tmp_path):
    with site_with_mail(tmp_path) as (here, _box):
        circle = ring(here.house)
        winnie = Visitor(here, circle["Winnie"])

        answer = winnie.post("/people/invite", {"lines": "Morag, Oban, morag@example.org"})

        assert answer.status_code == 303
        assert "1\u00a0person is invited." in winnie.get(answer.location).text


def test_who_joins_is_not_asked_for_a_town_the_organiser_has_said(here, circle):
    wanted = [PersonWanted("Hob", "Hob", "Oban", email=f"hob.{circle.circle_id}@example.org")]
    wanted.append(
        replace(wanted[0], name="Odo", town="", email=f"o.{circle.circle_id}@example.org")
    )
    hob, odo = invite_people(circle.actor("Winnie"), wanted, NOW).invited

    said, unsaid = (Visitor(here).get(path_of(one.link)).text for one in (hob, odo))
    joined = Visitor(here).post(path_of(hob.link), {"first_name": "Hob"})
    asked = Visitor(here).post(path_of(odo.link), {"first_name": "Odo"})

    assert ('name="town"' in said, 'name="town"' in unsaid) == (False, True)
    assert (joined.status_code, asked.status_code) == (303, 422)
    assert "Write the town you grow in" in asked.text
