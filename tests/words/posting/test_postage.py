"""What is said of postage, and the caution beside it."""

import pytest

from exchange.domain.posting.postage import PostageTotal
from exchange.words.posting import postage


@pytest.mark.parametrize(
    ("total", "said"),
    [
        (PostageTotal(), "Nothing has been posted yet in this season."),
        (PostageTotal(3), "3 parcels posted; of none is it said what it cost."),
        (
            PostageTotal(3, 2, 559, 349),
            "£5.59 in all, told of 2 of 3 parcels. £2.10 is still to be paid back.",
        ),
        (
            PostageTotal(1, 1, 349, 349),
            "£3.49 in all, told of 1 of 1 parcel. All of it has been paid back.",
        ),
    ],
)
def test_a_season_is_said_with_of_how_many_it_is_known(total, said):
    assert postage.lead(total, "GB").replace("\u00a0", " ") == said


def test_the_caution_names_the_authority_of_the_place():
    assert "APHA" in postage.caution("GB", "ENG")
    assert "DAERA" in postage.caution("GB", "NIR")
    assert "a plant never has a price" in postage.caution("IE", "")


def test_one_parcel_is_paid_back_or_not_or_not_told():
    assert postage.said(None, "GB", repaid=False) == "not told yet"
    assert postage.said(349, "GB", repaid=True) == "£3.49, paid back"
    assert postage.said(349, "IE", repaid=False) == "€3.49, not paid back yet"
