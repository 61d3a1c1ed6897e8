"""From one spreadsheet to a confirmed share-out with 10 members, 25 spares and 40 claims, in a dozen pages."""

import io
import re
from urllib.parse import urlsplit

import pytest

from exchange.actions.circle.set_up import NewCircle, set_up
from exchange.actions.people.members import NewMember
from exchange.records import ALLOCATIONS, CLAIMS, MEMBERS, SHARE_OUTS, SPARES
from tests.app_fixtures import NOW, Visitor, site
from tests.builders.forms_sent import fields_of
from tests.builders.workbooks import a_name, xlsx

MOST_PAGES = 12
FIRST = ("Ada", "Bert", "Cora", "Dan", "Edie", "Fred", "Gwen", "Hal", "Ivy")
TOWNS = ("Penzance, Cornwall", "Inverness, Highland", "Norwich, Norfolk")
MEMBERS_SHEET = [
    ["First name", "Surname", "Town"],
    *([one, f"Vole{one[0]}", TOWNS[at % 3]] for at, one in enumerate(FIRST)),
]
SPARES_SHEET = [
    ["Variety", "Kind", "Whose", "How many", "Sent as"],
    *(
        [a_name(at), "Dahlia", f"{FIRST[at % 9]} Vole{FIRST[at % 9][0]}", 2 + at % 3, "young plant"]
        for at in range(25)
    ),
]
WISHES_SHEET = [
    ["Variety", "Whose", "How many", "Choice"],
    *(
        [a_name(at % 25), FIRST[(at * 4 + 1 + at // 25) % 9], 1, 1 + at % 3]
        for at in range(40)
    ),
]  # fmt: skip
BOOK = xlsx(Members=MEMBERS_SHEET, Spares=SPARES_SHEET, Wishes=WISHES_SHEET)


class Walker:
    """Somebody at the pages whose pages and presses are counted."""

    def __init__(self, visitor):
        self.visitor, self.pages, self.presses, self.path, self.text = visitor, 0, 0, "", ""

    def open(self, path):
        answer = self.visitor.get(path)
        assert answer.status_code == 200, path
        self.pages, self.path, self.text = self.pages + 1, path, answer.text

    def press(self, path, data=None):
        """Press a button that stands on the page, and follow where it leads."""
        of_this_page = path == self.path and 'action=""' in self.text
        assert of_this_page or f'"{path}"' in self.text, path
        answer = self.visitor.post(path, data=data)
        assert answer.status_code == 303, answer.text
        self.presses += 1
        self.open(answer.headers["Location"])

    def link(self, pattern):
        """Follow a link of the page."""
        self.presses += 1
        self.open(re.search(rf'href="({pattern})"', self.text).group(1))


@pytest.fixture
def circle(tmp_path):
    with site(tmp_path) as here:
        new = NewMember("Winnie", email="winnie@example.org")
        yield here, set_up(here.house, NewCircle("The Lowmoor Circle"), new, NOW)


def test_one_spreadsheet_becomes_a_confirmed_share_out_in_a_dozen_pages(circle):
    here, invited = circle
    circle_id = invited.member.circle_id
    walker = Walker(Visitor(here))

    walker.open(urlsplit(invited.link).path)
    walker.press(walker.path, {"first_name": "Winnie", "town": "Ludlow, Shropshire"})
    walker.link("/circle")
    walker.link("/read-in")
    walker.press("/read-in", {"file": (io.BytesIO(BOOK), "our circle.xlsx")})
    walker.press(walker.path, fields_of(walker.text))
    walker.press(f"{walker.path}/bring-in", fields_of(walker.text))
    walker.link("/share-out")
    walker.press("/share-out/today")
    walker.link(r"/share-out/\d+/confirm")
    walker.press(walker.path)

    with here.house.books.reading() as tx:
        counts = [len(one.all(tx, circle_id)) for one in (MEMBERS, SPARES, CLAIMS)]
        (share_out,) = SHARE_OUTS.all(tx, circle_id)
        given = len(ALLOCATIONS.all(tx, circle_id))
    assert counts == [10, 25, 40]
    assert share_out.confirmed_at is not None
    assert given > 20
    assert walker.pages <= MOST_PAGES
    assert (walker.pages, walker.presses) == (11, 10)
