"""Each reason for which two parcels stay apart has its sentence."""

from exchange.domain.posting.bundling import Apart
from exchange.words.posting.boxes import apart


def test_every_reason_is_said_and_no_two_alike():
    said = {apart(why) for why in Apart}

    assert len(said) == len(Apart)
    assert all(one.endswith(".") for one in said)
