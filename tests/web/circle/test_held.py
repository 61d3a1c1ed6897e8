"""What is held of a member, on its page and as a file."""

import json

from tests.app_fixtures import Visitor


def test_it_is_read_on_a_page_and_kept_as_a_file(effie, circle):
    page = effie.get("/garden/held").text
    file = effie.get("/garden/held/held.json")

    assert f"What is held of {circle['Effie'].full_name}" in page
    assert circle["Effie"].email in page
    assert file.headers["Content-Disposition"] == 'attachment; filename="held.json"'
    assert json.loads(file.data)["tables"]["member"][0]["first_name"] == "Effie"


def test_my_garden_leads_there(effie):
    assert 'href="/garden/held"' in effie.get("/garden").text


def test_who_is_not_signed_in_gets_neither(here):
    nobody = Visitor(here)

    assert nobody.get("/garden/held").status_code == 303
    assert nobody.get("/garden/held/held.json").status_code == 303
