"""Postage is added up; what was not told is not taken for nothing."""

from exchange.domain.posting.postage import PostageTotal, postage_total


def test_nothing_posted_is_nothing_paid():
    assert postage_total([]) == PostageTotal()


def test_what_was_not_told_counts_as_posted_and_adds_nothing():
    total = postage_total([(349, True), (210, False), (None, False), (0, True)])

    assert (total.parcels, total.told) == (4, 3)
    assert (total.paid, total.repaid, total.open) == (559, 349, 210)
