"""The entries of a diary, as a calendar shows them."""

from exchange.domain.diary import DiaryEntry, EntryKind
from exchange.words.kernel.phrase import counted
from exchange.words.posting import care


def summary(entry: DiaryEntry) -> str:
    """Give the entry's one line: "Post Bramble 27 to Colin"."""
    if entry.step is not None:
        return "{what} – {code}".format(what=care.title(entry.step).rstrip("."), code=entry.code)
    said = _summary_form(entry).format(
        code=entry.code, who=entry.with_first_name, sender=entry.from_first_name
    )
    return f"{said}, about this week" if entry.tentative else said


def _summary_form(entry: DiaryEntry) -> str:
    match entry.kind, entry.by_hand, entry.done:
        case EntryKind.POSTING, _by_hand, True:
            return "{code} went to {who}"
        case EntryKind.POSTING, True, False:
            return "Hand {code} to {who}"
        case EntryKind.POSTING, False, False:
            return "Post {code} to {who}"
        case EntryKind.ARRIVAL, _by_hand, True:
            return "{code} came from {who}"
        case EntryKind.ARRIVAL, True, False:
            return "{who} brings {code}"
        case EntryKind.ARRIVAL, False, False:
            return "{code} should come from {who}"
        case _:
            return "{code}: {sender} to {who}"


def description(entry: DiaryEntry) -> str:
    """Give what there is to know beside the line."""
    plants = counted(entry.plants, "plant", "plants")
    if entry.step is not None:
        when, text = care.when(entry.step), care.text(entry.step)
        return f"{when[0].upper() + when[1:]}. {text}".strip()
    if entry.tentative:
        return f"{plants}. The day is told a few days before; it may still change."
    if entry.kind is EntryKind.POSTING and not entry.done:
        return f"{plants}. Look at the parcel’s page before you pack: it may say wait."
    if entry.kind is EntryKind.ARRIVAL and not entry.done:
        return f"{plants}. Open at once; the care sheet is in the box."
    return f"{plants}."


def cancelled(line: str) -> str:
    """Give the line of an entry that does not take place."""
    return f"Cancelled: {line}"
