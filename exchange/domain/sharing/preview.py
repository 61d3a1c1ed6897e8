"""What another setting would change, before anything is settled."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace

from exchange.domain.optimise.programme import Watch
from exchange.domain.sharing.case import Case, Terms
from exchange.domain.sharing.measure import shift
from exchange.domain.sharing.outcome import ShareOut
from exchange.domain.sharing.share_out import work_out


@dataclass(frozen=True, slots=True)
class Preview:
    """What other terms would change.

    Attributes
    ----------
    claims : claims that would be given more or fewer plants, by id, with the difference [plants]
    rules : by rule number, by how much its value would differ; rules skipped on either side are left out
    """

    terms: Terms
    claims: Mapping[int, int]
    rules: Mapping[int, int]
    share_out: ShareOut

    @property
    def changed(self) -> int:
        """Count the claims that would change."""
        return len(self.claims)


def _never(_stage: str, _value: float | None, _bound: float | None) -> bool:
    """Watch without ever stopping."""
    return False


def preview(case: Case, share_out: ShareOut, terms: Terms, watch: Watch = _never) -> Preview:
    """Work the share-out out under other terms and compare.

    Raises
    ------
    Stopped
        when `watch` asks to stop
    """
    other = work_out(replace(case, terms=terms), watch)
    before, after = _given(share_out), _given(other)
    claims = {
        claim.id: after[claim.id] - before[claim.id]
        for claim in case.claims
        if after[claim.id] != before[claim.id]
    }
    rules = {
        one.number: new.value - one.value
        for one, new in zip(share_out.rules, other.rules, strict=True)
        if one.value is not None and new.value is not None and one.value != new.value
    }
    return Preview(terms, claims, rules, other)


def _given(share_out: ShareOut) -> Counter[int]:
    """Count plants by claim."""
    given: Counter[int] = Counter()
    for one in share_out.allocations:
        given[one.claim_id] += one.count
    return given


@dataclass(frozen=True, slots=True)
class Balance:
    """A household's given and received over earlier share-outs.

    Attributes
    ----------
    given, received : plants [plants]
    shift : in the household's favour on the ladder of fairness [steps]
    newcomer : neither gave nor received yet, and so counts as a giver
    """

    household_id: int
    given: int
    received: int
    shift: int
    newcomer: bool


def balances(case: Case) -> tuple[Balance, ...]:
    """Give every household's balance, for the organiser; a member is shown their own."""
    found = []
    for one in case.households:
        given, received = case.given.get(one.id, 0), case.received.get(one.id, 0)
        newcomer = given == 0 and received == 0
        favour = shift(case.terms, given, received)
        found.append(Balance(one.id, given, received, favour, newcomer))
    return tuple(found)
