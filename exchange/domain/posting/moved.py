"""What became of a posting day that had been announced to members, or what its chooser is asked."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from exchange.domain.posting.announced import DayOutcome, Ground, Verdict, judge
from exchange.domain.posting.choose_days import option_cost
from exchange.domain.posting.circumstances import Circumstances
from exchange.domain.posting.held_days import DayChoices, announced_option, journey_known
from exchange.domain.posting.options import Option
from exchange.domain.posting.reasons import DayWord, PostingReason, Stop, Topic
from exchange.domain.posting.strip import figure
from exchange.domain.weather.forecast import Knowledge


@dataclass(frozen=True, slots=True)
class Moved:
    """An announced day that no longer stands, or that whoever chose it is asked to leave.

    Attributes
    ----------
    to_day : the new day, None where the parcel waits
    stop : what forbids the old day, be it a hard stop or the weather; None where it does not
    old_loss, new_loss : chance of loss on the old and the new day as they are weighed now, None where unknown
    ground : why the old day is left; None in plans of before grounds were kept
    told_loss : chance of loss on the old day when it was announced, None where unknown
    announced : whether the new day is announced; else it is "about the week of"
    """

    from_day: date
    to_day: date | None
    stop: Stop | None
    old_loss: float | None
    new_loss: float | None
    ground: Ground | None = None
    told_loss: float | None = None
    announced: bool = True


@dataclass(frozen=True, slots=True)
class Kept:
    """What is to be kept of a parcel's announced day.

    Attributes
    ----------
    announced : whether its day is announced
    moved : what became of the day announced before, None where it stands or none was
    asked : what whoever chose the announced day is asked, None where nothing speaks against it
    told_loss : chance of loss as the day was announced, None where none is or it is unknown
    known : what the forecasts told of the announced day when it was last weighed
    reasons : why an announced day stands though the weather has changed
    """

    announced: bool
    moved: Moved | None = None
    asked: Moved | None = None
    told_loss: float | None = None
    known: Knowledge | None = None
    reasons: tuple[PostingReason, ...] = ()


def kept(
    choice: DayChoices,
    chosen: Option | None,
    options: Sequence[Option],
    around: Circumstances,
    *,
    is_out: bool,
) -> Kept:
    """Say what becomes of a parcel's day.

    Parameters
    ----------
    options : all of them, with the days that other parcels have taken marked
    is_out : whether other parcels took up the day that was announced
    """
    parcel = choice.case.parcel
    to = _proposal(choice, options, around) if choice.is_persons else chosen
    verdict = _verdict(choice, to, around, is_out=is_out)
    change = _moved(choice, verdict, to, options) if verdict.ground else None
    if verdict.told is None or chosen is None:
        return Kept(announced=False, moved=change)
    if verdict.told != choice.told:
        known = journey_known(choice.case, chosen, around)
        return Kept(True, change, None, figure(chosen.loss), known)
    less = choice.weighed.less_known
    told_loss = parcel.announced_loss
    return Kept(
        announced=True,
        asked=change,
        told_loss=figure(chosen.loss) if told_loss is None else told_loss,
        known=parcel.known if less else choice.known,
        reasons=_standing(choice, chosen, less_known=less),
    )


def _verdict(
    choice: DayChoices, to: Option | None, around: Circumstances, *, is_out: bool
) -> Verdict:
    weighed, told = choice.weighed, choice.told
    ahead = None if to is None else (to.day - choice.case.today).days
    if told is not None and ahead == told.ahead:
        return Verdict(DayOutcome.STANDS, told, ahead)
    if is_out and told is not None:
        stopped = weighed.stopped.copy()
        stopped[told.ahead] = True
        weighed = replace(weighed, stopped=stopped)
    return judge(told, weighed, ahead, around.terms.announcing)


def _proposal(
    choice: DayChoices, options: Sequence[Option], around: Circumstances
) -> Option | None:
    """Give the day whoever chose the announced one is asked to take, None where none is better."""
    free = {(one.day, one.way.id) for one in choice.free}
    open_ones = [one for one in options if one.allowed and (one.day, one.way.id) in free]
    old = choice.old
    if old is not None and not choice.stands:
        open_ones = [one for one in open_ones if one.day != old.day]
    best = min(open_ones, key=lambda one: option_cost(choice.case, one, around), default=None)
    return None if best is None or (old is not None and best.day == old.day) else best


def _moved(
    choice: DayChoices, verdict: Verdict, to: Option | None, options: Sequence[Option]
) -> Moved | None:
    parcel, old = choice.case.parcel, choice.old
    if parcel.announced_day is None:
        return None
    gone = old is None and parcel.announced_day < choice.case.today
    marked = announced_option(parcel, options)
    stop = choice.stop or (marked.stop if marked else None)
    return Moved(
        from_day=parcel.announced_day,
        to_day=to.day if to else None,
        stop=None if verdict.ground is Ground.SAFER else stop or _past(gone=gone),
        old_loss=figure(old.loss) if old else None,
        new_loss=figure(to.loss) if to else None,
        ground=verdict.ground,
        told_loss=parcel.announced_loss,
        announced=verdict.outcome is DayOutcome.MOVED,
    )


def _past(*, gone: bool) -> Stop | None:
    return Stop(DayWord.PAST) if gone else None


def _standing(choice: DayChoices, chosen: Option, *, less_known: bool) -> tuple[PostingReason, ...]:
    """Say why a day stands that would not be chosen today."""
    if less_known:
        return (PostingReason(Topic.LESS_KNOWN, chosen.day),)
    if choice.stands and choice.stop is not None:
        return (PostingReason(Topic.STANDS, chosen.day, number=figure(chosen.loss)),)
    return ()
