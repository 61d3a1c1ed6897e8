"""The first hour in a browser, and how few pages it takes."""

import pytest

from exchange.records import CLAIMS, MEMBERS, SHARE_OUTS, SHELTERS, SPARES, Books
from exchange.records.circles import everyone
from tests.journeys import circle_of_ten as ten
from tests.journeys.first_hour import own_circle, to_a_confirmed_share_out

pytestmark = pytest.mark.browser
MOST_PAGES = 60


def test_from_init_to_a_confirmed_share_out_among_ten_takes_few_pages(page, tmp_path):
    page.set_default_timeout(20_000)
    with own_circle(tmp_path / "ours") as link:
        walk = to_a_confirmed_share_out(page, link)
        said = walk.says()

    books = Books(f"sqlite:///{tmp_path / 'ours' / 'circle.sqlite'}")
    with books.reading() as tx:
        (circle,) = everyone(tx)
        counts = [len(one.all(tx, circle.id)) for one in (MEMBERS, SPARES, CLAIMS, SHELTERS)]
        (share_out,) = SHARE_OUTS.all(tx, circle.id)
    books.close()
    assert counts == [10, 25, 40, 10]
    assert share_out.state == "confirmed"
    assert "plants are given" in said
    assert walk.loads <= MOST_PAGES, walk.seen


def test_the_circle_is_as_large_as_it_says_and_nobody_asks_for_their_own():
    owners = {name: owner for owner, _count, _sent_as, name in ten.SPARES}

    assert (len(ten.PEOPLE) + 1, len(ten.SPARES), len(ten.CLAIMS)) == (10, 25, 40)
    assert all(owners[name] != who for who, name, _rank in ten.CLAIMS)
    assert len(set(ten.CLAIMS)) == len({(who, name) for who, name, _ in ten.CLAIMS}) == 40
