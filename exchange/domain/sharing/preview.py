"""What another setting would change, before anything is settled."""

from collections import Counter
from dataclasses import replace

from exchange.domain.sharing.case import ShareOutCase, SharingTerms
from exchange.domain.sharing.outcome import ShareOut
from exchange.domain.sharing.share_out import find, never_stop


def changed_by(case: ShareOutCase, share_out: ShareOut, terms: SharingTerms) -> dict[int, int]:
    """Work the share-out out under other terms, and compare.

    Returns
    -------
    claims that would be given more or fewer plants, by id, with the difference [plants]

    Raises
    ------
    WrongQuantity, PinRefused, Disagreement
        as for working out a share-out
    """
    change: Counter[int] = Counter()
    for one in find(replace(case, terms=terms), never_stop).allocations:
        change[one.claim_id] += one.count
    for one in share_out.allocations:
        change[one.claim_id] -= one.count
    return {claim: plants for claim, plants in sorted(change.items()) if plants}
