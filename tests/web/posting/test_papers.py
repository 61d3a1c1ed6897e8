"""Papers on the screen and as files: the same values, names of files, tags, who may print."""

import re
import subprocess

import pytest

from exchange.actions.people.households import AddressTerms, set_address
from exchange.actions.posting.papers import papers_of
from tests.app_fixtures import NOW, Visitor, site
from tests.builders.season import a_season, tell_weather
from tests.programs import program


@pytest.fixture(scope="module")
def here(tmp_path_factory):
    with site(tmp_path_factory.mktemp("papers")) as made:
        yield made


@pytest.fixture(scope="module")
def season(here):
    made = a_season(here.house, members=("Winnie", "Cuthbert", "Effie", "Odo"))
    set_address(made.ring.actor("Effie"), AddressTerms("9 Hidden Lane\nInverness", ""), NOW)
    tell_weather(made, NOW)
    made.plan()
    return made


@pytest.fixture(scope="module")
def parcel(season):
    return season.parcel_to("Effie")


@pytest.fixture
def winnie(here, season):
    return Visitor(here, season.ring["Winnie"])


def words(text):
    return " ".join(re.sub(r"<[^>]+>", " ", text).replace("\u00a0", " ").split())


def as_read(pdf):
    """Give the words of a PDF as poppler reads them."""
    done = subprocess.run(
        [program("pdftotext"), "-", "-"], input=pdf, capture_output=True, check=True
    )
    return " ".join(done.stdout.decode().replace("\u00a0", " ").split())


def test_page_and_pdf_of_the_slip_say_the_same(season, parcel, winnie):
    slip = papers_of(season.ring.actor("Winnie"), parcel.id, NOW).slip
    page = words(winnie.get(f"/papers/{parcel.id}/slip").text)
    pdf = as_read(winnie.get(f"/papers/{parcel.id}/slip.pdf").data)
    said = [slip.title, slip.when, *slip.weather, *slip.address]
    said += [line.label for line in slip.lines]
    said += [point for one in slip.packing for point in one.points]
    for sentence in said:
        assert words(sentence) in page, sentence
        assert words(sentence) in pdf, sentence


def test_page_and_pdf_of_the_care_sheet_say_the_same(season, parcel, winnie):
    sheet = papers_of(season.ring.actor("Winnie"), parcel.id, NOW).care_sheet
    page = words(winnie.get(f"/papers/{parcel.id}/care").text)
    pdf = as_read(winnie.get(f"/papers/{parcel.id}/care.pdf").data)
    for step in sheet.steps:
        assert words(step.title) in page
        assert words(step.title) in pdf
    for caution in sheet.cautions:
        assert words(caution) in page


@pytest.mark.parametrize(("paper", "width"), [("a4", "595"), ("letter", "612")])
def test_the_sheet_is_chosen(parcel, winnie, paper, width):
    pdf = winnie.get(f"/papers/{parcel.id}/both.pdf?paper={paper}").data
    told = subprocess.run([program("pdfinfo"), "-"], input=pdf, capture_output=True, check=True)
    assert re.search(rf"Page size:\s+{width}", told.stdout.decode())


def test_a_sheet_nobody_knows_is_the_houses_own(parcel, winnie):
    assert winnie.get(f"/papers/{parcel.id}/care.pdf?paper=papyrus").status_code == 200


def test_files_have_plain_names_and_a_tag_for_asking_again(parcel, winnie):
    path = f"/papers/{parcel.id}/slip.pdf"
    first = winnie.get(path)
    code = "-".join(parcel.code.lower().split())
    assert first.headers["Content-Type"] == "application/pdf"
    assert first.headers["Content-Disposition"] == f'inline; filename="{code}-packing-slip.pdf"'
    assert first.headers["Cache-Control"] == "private, no-cache"
    again = winnie.get(path, headers={"If-None-Match": first.headers["ETag"]})
    assert (again.status_code, again.data) == (304, b"")


def test_labels_are_made_and_a_wrong_number_is_put_right(parcel, winnie):
    path = f"/papers/{parcel.id}/labels.pdf"
    assert winnie.get(f"{path}?grid=a4-21&used=3&right_mm=0.5").data.startswith(b"%PDF")
    for wrong in ("grid=none&used=0", "grid=a4-21&used=many", "grid=a4-21&down_mm=99"):
        answer = winnie.get(f"{path}?{wrong}")
        assert answer.status_code == 422, wrong
        assert "to put right" in answer.text


def test_four_lines_for_a_card_stand_to_be_copied(season, parcel, winnie):
    page = words(winnie.get(f"/papers/{parcel.id}").text)
    card = papers_of(season.ring.actor("Winnie"), parcel.id, NOW).card
    assert len(card) == 4
    assert all(words(line) in page for line in card)


def test_a_bundle_begins_each_paper_on_its_own_page(season, winnie):
    assert all(one.code in winnie.get("/papers").text for one in season.parcels())
    pdf = winnie.get("/papers/all.pdf").data
    read = subprocess.run(
        [program("pdftotext"), "-", "-"], input=pdf, capture_output=True, check=True
    )
    pages = read.stdout.decode().split("\f")
    assert len(pages) >= 2 * len(season.parcels())


def test_who_has_nothing_to_post_is_told_so(here, season):
    effie = Visitor(here, season.ring["Effie"])
    assert "Nothing to print yet" in effie.get("/papers").text
    answer = effie.get("/papers/all.pdf")
    assert answer.headers["Location"] == "/papers"


def test_a_third_member_prints_nothing(here, season, parcel):
    third = Visitor(here, season.ring["Cuthbert"])
    for path in ("", "/slip", "/care", "/slip.pdf", "/care.pdf", "/both.pdf", "/labels.pdf"):
        assert third.get(f"/papers/{parcel.id}{path}").status_code == 403, path
    household = season.ring["Winnie"].household_id
    assert third.get(f"/papers?household={household}").status_code == 403
    assert third.get(f"/papers/all.pdf?household={household}").status_code == 403


def test_no_such_parcel(winnie):
    assert winnie.get("/papers/999999").status_code == 404
    assert winnie.get("/papers/999999/slip.pdf").status_code == 404


def test_the_organiser_prints_for_members_without_mail(here, season, winnie):
    household = season.ring["Effie"].household_id
    assert winnie.get(f"/papers?household={household}").status_code == 200
