"""Sentences on posting: the answer for a parcel, the days of its strip, and what moved."""

from datetime import date

from exchange.domain.growing.variety import Species
from exchange.domain.plan import ParcelPlan
from exchange.domain.posting.announced import Ground, week_of
from exchange.domain.posting.answer import PostingAnswer
from exchange.domain.posting.moved import Moved
from exchange.domain.posting.reasons import DayWord, PostingReason, Topic
from exchange.domain.posting.strip import StripDay
from exchange.domain.weather.forecast import WeatherSource
from exchange.words.growing import plants
from exchange.words.kernel.chances import in_hundred, range_in_hundred
from exchange.words.kernel.dates import day, degrees, span, week_of_month
from exchange.words.kernel.phrase import as_sentence

THURSDAY = 3
_WITHOUT_DAY = {
    PostingAnswer.POST: "No day yet.",
    PostingAnswer.WAIT: "Wait.",
    PostingAnswer.NOT_READY: "Not ready yet.",
    PostingAnswer.NO_WAY: "There is no way to send it yet.",
}
_PACKINGS = {
    "envelope": "a padded envelope",
    "shoe_box": "a shoe box with crumpled newspaper",
    "bubble_wrap": "a shoe box lined with bubble wrap",
    "box_in_box": "a box in a box with newspaper between",
    "foam_box": "a foam box",
}
_WORDS = {
    DayWord.POST: "post",
    DayWord.GOOD: "good",
    DayWord.RISKY: "too slow",
    DayWord.FROST_HERE: "frost here",
    DayWord.FROST_THERE: "frost there",
    DayWord.COLD_HERE: "cold here",
    DayWord.COLD_THERE: "cold there",
    DayWord.COLDER_HERE: "colder here",
    DayWord.COLDER_THERE: "colder there",
    DayWord.COLD_DEPOT: "cold depot",
    DayWord.HEAT: "too hot",
    DayWord.MAY_WAIT: "would lie over Sunday",
    DayWord.UNKNOWN: "not known",
    DayWord.NO_POST: "no post",
    DayWord.HOLIDAY: "holiday",
    DayWord.CLOSED: "closed season",
    DayWord.OWN_DAYS: "not their posting days",
    DayWord.AWAY_HERE: "does not suit the sender",
    DayWord.AWAY: "does not suit there",
    DayWord.ROOM_FULL: "no room where it goes",
    DayWord.DAY_FULL: "as many as can be packed",
    DayWord.ONE_A_DAY: "another of its kind goes",
    DayWord.NOT_READY: "not ready yet",
    DayWord.TOO_LATE: "past the last day to send it",
    DayWord.BORDER: "a border lies between",
    DayWord.PAST: "gone",
}
_STOPS = {
    DayWord.POST: "{days}: the posting day",
    DayWord.GOOD: "{days}: would do as well, {chance} lost",
    DayWord.RISKY: "{days}: too long on the way, {chance} lost",
    DayWord.FROST_HERE: "{days}: frost at the sender’s end, {chance} lost",
    DayWord.FROST_THERE: "{days}: frost at the receiver’s end, {chance} lost",
    DayWord.COLD_HERE: "{days}: cold at the sender’s end, {chance} lost",
    DayWord.COLD_THERE: "{days}: cold at the receiver’s end, {chance} lost",
    DayWord.COLDER_HERE: "{days}: colder at the sender’s end, {chance} lost",
    DayWord.COLDER_THERE: "{days}: colder at the receiver’s end, {chance} lost",
    DayWord.COLD_DEPOT: "{days}: cold in the depot on the way, {chance} lost",
    DayWord.HEAT: "{days}: too hot on the way, {chance} lost",
    DayWord.MAY_WAIT: "{days}: it could lie in a depot over Sunday or a holiday",
    DayWord.UNKNOWN: "{days}: the weather is not known all the way",
    DayWord.NO_POST: "{days}: this way takes nothing in",
    DayWord.HOLIDAY: "{days}: {label}, no post",
    DayWord.CLOSED: "{days}: the circle’s closed season",
    DayWord.OWN_DAYS: "{days}: not one of the sender’s posting days",
    DayWord.AWAY_HERE: "{days}: does not suit the sender",
    DayWord.AWAY: "{days}: the day it would come does not suit",
    DayWord.ROOM_FULL: "{days}: no room for it where it goes",
    DayWord.DAY_FULL: "{days}: as many parcels as the sender can pack on a day",
    DayWord.ONE_A_DAY: "{days}: another piece of a variety that must not be lost goes that day",
    DayWord.NOT_READY: "{days}: not ready yet",
    DayWord.TOO_LATE: "{days}: past the day by which it should go",
    DayWord.BORDER: "a border lies between; ask {label}",
    DayWord.PAST: "{days}: too late for that now",
}
_FREEING = {
    DayWord.HOLIDAY: "an ordinary working day",
    DayWord.CLOSED: "the end of the closed season, or a chance to hand it over",
    DayWord.OWN_DAYS: "another posting day of the sender",
    DayWord.AWAY_HERE: "a day that suits the sender",
    DayWord.AWAY: "a day that suits the receiver",
    DayWord.ROOM_FULL: "more room for pots where it goes",
    DayWord.NOT_READY: "the day on which it is ready",
    DayWord.TOO_LATE: "a later day to send it by",
    DayWord.BORDER: "another receiver, or word from the authority",
    DayWord.MAY_WAIT: "a way that is quicker, or handing it over",
}
_ABOUT = {
    Topic.CHOSEN: "post on {days} by {label}: {chance} would be lost",
    Topic.ABOUT: "about the week of {days} by {label}: as things stand {chance} lost",
    Topic.STANDS: "the day was told and stands, though {chance} lost now",
    Topic.LESS_KNOWN: "less is known of the weather than when the day was told, so it stands",
    Topic.CLIMATE_ONLY: "without a forecast: reckoned from the climate of past years",
    Topic.LATER_NIGHTS_CLIMATE: "the later nights are reckoned from the climate of past years",
    Topic.READY_LATER: "it is ready on {days}; nothing to do until then",
    Topic.NO_GOOD_DAY: "no day from {days} is good enough",
    Topic.LEAST_RISKY: "if it cannot wait, the least risky day is {days}: {chance} would be lost",
    Topic.LONG_WAIT: (
        "it has waited {number} days: hand it over, grow it on, let the reserve have it, or later"
    ),
    Topic.NO_WAY: "no way of sending is known in the sender’s country",
    Topic.CROWDED: "the days that would do are taken up by other parcels",
    Topic.NOTED_BORDER: "a border lies between: look at the caution and ask {label}",
    Topic.NO_SHELTER_GIVEN: (
        "no shelter is given where it goes, so a window sill indoors is reckoned with"
    ),
    Topic.NO_ROOM_GIVEN: "no room for pots is given where it goes, so no limit is kept",
}


def packing(key: str) -> str:
    """Name a packing: "a shoe box with crumpled newspaper"."""
    return _PACKINGS[key]


def day_word(value: StripDay) -> str:
    """Give the word of a day of the strip; a holiday is named."""
    if value.word is DayWord.HOLIDAY and value.label:
        return value.label
    if value.word is DayWord.MAY_WAIT and value.day.weekday() < THURSDAY:
        return "would lie over a rest day"
    return _WORDS[value.word]


def answer(plan: ParcelPlan) -> str:
    """Say in one sentence what the sender should do."""
    if plan.day is not None and plan.announced:
        return f"Post on {day(plan.day)}."
    if plan.day is not None:
        return f"{about_week(plan.day)[:1].upper()}{about_week(plan.day)[1:]}; the day follows."
    return _WITHOUT_DAY[plan.answer]


def about_week(planned: date) -> str:
    """Name a day that is not announced by its week: "about the week of Mon 12 April"."""
    return f"about the week of {day(week_of(planned))}"


def day_or_week(planned: date, *, announced: bool) -> str:
    """Name a posting day: "Tue 13 April", or before it is announced "about the week of Mon 12 April"."""
    return day(planned) if announced else about_week(planned)


def goes_on(planned: date, *, announced: bool) -> str:
    """Give "on Tue 13 April", or before the day is announced "about the week of Mon 12 April"."""
    return f"on {day(planned)}" if announced else about_week(planned)


def reason(value: PostingReason) -> str:
    """Say one reason as a sentence."""
    if isinstance(value.about, DayWord):
        return as_sentence(_stop(value, value.about))
    return as_sentence(_about(value, value.about))


def reasons(plan: ParcelPlan) -> tuple[str, ...]:
    """Say all reasons of a plan, one sentence each."""
    return tuple(reason(one) for one in plan.reasons)


def _days(value: PostingReason) -> str:
    if value.first is None:
        return ""
    return span(value.first, value.last or value.first)


def _stop(value: PostingReason, word: DayWord) -> str:
    return _STOPS[word].format(
        days=_days(value), chance=_chance(value), label=value.label or "a holiday"
    )


def _chance(value: PostingReason) -> str:
    """Give the chance of a day, or of a spell of days from its best to its worst."""
    if value.number is None or value.highest is None:
        return in_hundred(value.number)
    return range_in_hundred(value.number, value.highest)


def _about(value: PostingReason, about: Topic) -> str:
    if about is Topic.WOULD_FREE:
        free = _FREEING.get(DayWord(value.label))
        return f"what would free it: {free}" if free else ""
    if about is Topic.WARM_FROM:
        return _warm_from(value)
    if about is Topic.WARMER_PACKING:
        return f"pack it in {packing(value.label)}: packed lighter it would have to wait"
    return _ABOUT[about].format(
        days=_days(value),
        chance=in_hundred(value.number),
        number=round(value.number or 0),
        label=value.label,
    )


def _warm_from(value: PostingReason) -> str:
    name = plants.kinds(Species(value.label)) if value.label != Species.OTHER else "it"
    if value.first is None:
        return f"usual nights are never warm enough for {name} at both ends"
    return f"warm enough for {name}: about the {week_of_month(value.first)}"


def moved(value: Moved) -> str:
    """Tell the members why an announced day no longer stands."""
    before = day(value.from_day)
    if value.to_day is None:
        head = f"No longer on {before}: wait."
    elif value.announced:
        head = f"Moved from {before} to {day(value.to_day)}."
    else:
        head = f"No longer on {before}, but {about_week(value.to_day)}."
    return f"{head} {moved_because(value)}".strip()


def asked(value: Moved) -> str:
    """Ask whoever chose a day whether it should be left, and say why."""
    if value.to_day is None:
        question = (
            "You chose that day, so it stands until you say otherwise; no better day is known."
        )
    else:
        question = f"You chose that day, so it stands: would {day(value.to_day)} do instead?"
    return f"{moved_because(value)} {question}"


def why_moved(value: Moved) -> tuple[str, ...]:
    """Give the sentences of a letter about a day that no longer stands: why, and about when it goes now."""
    if value.to_day is None or value.announced:
        return (moved_because(value),)
    return (moved_because(value), f"It is now meant for {about_week(value.to_day)}.")


def moved_because(value: Moved) -> str:
    """Say why an announced day is left, in figures that differ."""
    if value.ground is Ground.RISKIER:
        before = f"it was {in_hundred(value.told_loss)} when it was told"
        now = _stopped(value) or f"By now {in_hundred(value.old_loss)} lost."
        return now if value.told_loss is None else f"{now.rstrip('.')}; {before}."
    if value.ground is Ground.SAFER or (value.ground is None and _fell(value)):
        better, before = in_hundred(value.new_loss), in_hundred(value.old_loss)
        return as_sentence(f"{better} lost instead of {before}")
    return _stopped(value) or "It can no longer go that day."


def _fell(value: Moved) -> bool:
    """Say whether a plan of before grounds were kept moved the day for a gain."""
    if value.stop is not None or value.old_loss is None or value.new_loss is None:
        return False
    return value.new_loss < value.old_loss


def _stopped(value: Moved) -> str:
    if value.stop is None:
        return ""
    number, label = value.stop.number, value.stop.label
    return reason(PostingReason(value.stop.word, value.from_day, None, number, label))


def wait_rule(limit_c: float | None, *, by_hand: bool = False) -> str:
    """Give the rule that holds even without the program, on slip, page and letter alike: when to wait.

    Parameters
    ----------
    limit_c : None where none was worked out [degrees C]
    """
    if limit_c is None:
        return "Wait if frost is forecast at either end."
    where = "expected on the way" if by_hand else "forecast at either end"
    return f"If {degrees(limit_c, 0.5)} or less is {where}, wait."


def wait_mark(limit_c: float) -> str:
    """Give the same in the few words that fit beside a line."""
    return f"at {degrees(limit_c, 0.5)} or less, wait"


def weather_source(value: WeatherSource) -> str:
    """Say where the weather behind an answer comes from."""
    return {
        WeatherSource.FORECAST: "from the forecast",
        WeatherSource.CLIMATE: "from the climate of past years, not from a forecast",
        WeatherSource.BOTH: "from the forecast, later nights from the climate of past years",
        WeatherSource.NONE: "the weather is not known",
    }[value]
