"""What the organiser sees when choosing a spare for a claim, or keeping two apart."""

from collections.abc import Mapping
from dataclasses import dataclass

from exchange.actions.kernel.actor import Actor
from exchange.actions.people.labels import household_labels
from exchange.actions.sharing.share_out_choices import ClaimChoices, choices_for
from exchange.domain.growing.variety import Variety
from exchange.domain.permissions import Permission
from exchange.records import CLAIMS, SHARE_OUTS, SPARES, VARIETIES
from exchange.records.rows.growing import ClaimRow, SpareRow
from exchange.records.rows.sharing import ShareOutRow
from exchange.words.growing import plants


@dataclass(frozen=True, slots=True)
class ChoosingPage:
    """One claim, and the spares that could meet it.

    Attributes
    ----------
    spares : (number, words) of each spare of a variety the claim takes
    settled : what was chosen for the claim before
    """

    share_out: ShareOutRow
    claim: ClaimRow
    variety: Variety
    household: str
    spares: tuple[tuple[int, str], ...]
    settled: ClaimChoices


def choosing_page(actor: Actor, share_out_id: int, claim_id: int) -> ChoosingPage:
    """Show a claim with every spare it takes, whoever lists it."""
    actor.must(Permission.RUN_SHARE_OUT)
    with actor.books.reading() as tx:
        claim = CLAIMS.get(tx, actor.circle_id, claim_id)
        varieties = VARIETIES.by_id(tx, actor.circle_id)
        labels = household_labels(tx, actor.circle_id)
        takes = {claim.variety_id, *claim.alternatives}
        spares = SPARES.all(
            tx, actor.circle_id, withdrawn_at=None, set_aside_for=None, variety_id=takes
        )
        share_out = SHARE_OUTS.get(tx, actor.circle_id, share_out_id)
        return ChoosingPage(
            share_out,
            claim,
            varieties[claim.variety_id],
            labels.get(claim.household_id, ""),
            tuple(
                (one.id, _words(one, varieties[one.variety_id], labels))
                for one in spares
                if one.count > one.allocated and one.household_id != claim.household_id
            ),
            choices_for(share_out, claim_id),
        )


def _words(spare: SpareRow, variety: Variety, labels: Mapping[int, str]) -> str:
    line = plants.so_many(
        spare.count - spare.allocated, spare.material, variety.species, variety.name, spare.raised
    )
    return "{line}, from {who}".format(line=line, who=labels.get(spare.household_id, ""))
