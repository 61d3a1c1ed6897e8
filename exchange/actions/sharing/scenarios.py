"""What other terms would change in the share-out under review: each is worked out in full."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from exchange.actions.kernel.actor import Actor
from exchange.actions.kernel.tasks import ask
from exchange.actions.kernel.terms_table import SHARING, TERMS, value_of
from exchange.actions.sharing.share_out import NotWorkedOutError
from exchange.actions.sharing.share_out_proposal import share_out_of
from exchange.domain.permissions import Permission
from exchange.domain.sharing.case import SharingTerms
from exchange.domain.sharing.instance import FINGERPRINT, case_from
from exchange.domain.sharing.preview import changed_by
from exchange.records import SHARE_OUTS, TASKS, Tx
from exchange.records.rows.running import TaskState
from exchange.words.circle import terms as words

KIND = "share_out_previews"
GoOn = Callable[[str, float], None]


@dataclass(frozen=True, slots=True)
class OtherTerm:
    """What one other term would change.

    Attributes
    ----------
    more, less : claims that would be given more, and less [claims]
    """

    key: str
    title: str
    said: str
    more: int
    less: int

    @property
    def changed(self) -> int:
        return self.more + self.less


def ask_for_other_terms(actor: Actor, share_out_id: int, now: datetime) -> int:
    """Ask for other terms to be tried on a share-out, and give the task that does it.

    Raises
    ------
    NotWorkedOutError
        When there is nothing to compare with.
    """
    actor.must(Permission.RUN_SHARE_OUT)
    with actor.books.writing() as tx:
        if SHARE_OUTS.get(tx, actor.circle_id, share_out_id).working is None:
            raise NotWorkedOutError("Work the share-out out first.")
        return ask(tx, actor, KIND, share_out_id, now)


def try_other_terms(
    actor: Actor, share_out_id: int, go_on: GoOn, now: datetime
) -> Mapping[str, Any]:
    """Work the share-out out under each other term, one at a time, and give what would change.

    Parameters
    ----------
    go_on : told the stage and how far it is; ends the work by raising
    """
    del now
    actor.must(Permission.RUN_SHARE_OUT)
    with actor.books.reading() as tx:
        share_out = SHARE_OUTS.get(tx, actor.circle_id, share_out_id)
    if share_out.working is None:
        raise NotWorkedOutError("Work the share-out out first.")
    case, found = case_from(share_out.working["case"]), share_out_of(share_out)
    others = list(_others(case.terms))
    lines = []
    for at, (key, said, terms) in enumerate(others):
        go_on(words.title(key), at / len(others))
        changed = changed_by(case, found, terms).values()
        lines.append(
            {
                "key": key,
                "said": said,
                "more": sum(one > 0 for one in changed),
                "less": sum(one < 0 for one in changed),
            }
        )
    return {"of": share_out.working[FINGERPRINT], "lines": lines}


def other_terms(tx: Tx, actor: Actor, share_out_id: int) -> tuple[OtherTerm, ...]:
    """Give what other terms would change, if that was tried on the present proposal."""
    working = SHARE_OUTS.get(tx, actor.circle_id, share_out_id).working or {}
    done = TASKS.all(tx, actor.circle_id, kind=KIND, subject_id=share_out_id, state=TaskState.DONE)
    for task in reversed(done):
        if task.result and task.result["of"] == working.get(FINGERPRINT):
            return tuple(
                OtherTerm(title=words.title(one["key"]), **one) for one in task.result["lines"]
            )
    return ()


def _others(terms: SharingTerms) -> Iterator[tuple[str, str, SharingTerms]]:
    """Give each other value worth trying: a step up and down, yes for no, a number for none."""
    tries: dict[str, tuple[Any, ...]] = {
        "most_contested": (terms.most_contested - 1, terms.most_contested + 1),
        "shift": (terms.shift - 1, terms.shift + 1),
        "first_refusal": (not terms.first_refusal,),
        "target_places": (3, 6) if terms.target_places is None else (terms.target_places + 2, None),
    }
    for term in TERMS:
        if term.part != SHARING:
            continue
        for value in tries[term.key]:
            if value is None or isinstance(value, bool) or term.least <= value <= term.most:
                other = replace(terms, **{term.name: value})
                yield term.key, words.said(term.how, value_of(term, other)), other
