"""The entries of a diary, as a calendar shows them."""

from exchange.domain.diary import Entry, EntryKind
from exchange.words import care
from exchange.words.phrase import _, counted


def summary(entry: Entry) -> str:
    """Give the entry's one line: "Post Bramble 27 to Colin"."""
    if entry.step is not None:
        return _("{what} – {code}").format(what=care.title(entry.step).rstrip("."), code=entry.code)
    return _summary_form(entry).format(
        code=entry.code, who=entry.with_first_name, sender=entry.from_first_name
    )


def _summary_form(entry: Entry) -> str:
    match entry.kind, entry.by_hand, entry.done:
        case EntryKind.POSTING, _by_hand, True:
            return _("{code} went to {who}")
        case EntryKind.POSTING, True, False:
            return _("Hand {code} to {who}")
        case EntryKind.POSTING, False, False:
            return _("Post {code} to {who}")
        case EntryKind.ARRIVAL, _by_hand, True:
            return _("{code} came from {who}")
        case EntryKind.ARRIVAL, True, False:
            return _("{who} brings {code}")
        case EntryKind.ARRIVAL, False, False:
            return _("{code} should come from {who}")
        case _:
            return _("{code}: {sender} to {who}")


def description(entry: Entry) -> str:
    """Give what there is to know beside the line."""
    plants = counted(entry.plants, _("plant"), _("plants"))
    if entry.step is not None:
        when, text = care.when(entry.step), care.text(entry.step)
        return _("{when}. {text}").format(when=when[0].upper() + when[1:], text=text).strip()
    if entry.kind is EntryKind.POSTING and not entry.done:
        return _("{plants}. Look at the parcel’s page before you pack: it may say wait.").format(
            plants=plants
        )
    if entry.kind is EntryKind.ARRIVAL and not entry.done:
        return _("{plants}. Open at once; the care sheet is in the box.").format(plants=plants)
    return _("{plants}.").format(plants=plants)


def cancelled(line: str) -> str:
    """Give the line of an entry that does not take place."""
    return _("Cancelled: {line}").format(line=line)
