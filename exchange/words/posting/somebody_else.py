"""Letters and sentences on a parcel that somebody else posts for its sender."""

from exchange.words.kernel.letters import LetterReader, LetterText, ParcelWords, bullets, signed


def can_you_post(reader: LetterReader, parcel: ParcelWords, link: str) -> LetterText:
    """Ask a household to post a parcel for another."""
    return signed(
        reader,
        f"Can you post {parcel.code}?",
        f"{parcel.other_first_name} cannot post {parcel.code} and asks whether you would, with:",
        bullets(parcel.contents),
        "You would fetch the plants, and post them on one of your own posting days. Where they go is shown to you once "
        "you take it over. A no needs no reason. Both are on its page:",
        link,
    )


def taken_over(reader: LetterReader, parcel: ParcelWords, link: str) -> LetterText:
    """Tell the sender that somebody posts a parcel for them."""
    return signed(
        reader,
        f"{parcel.other_first_name} posts {parcel.code} for you",
        f"{parcel.other_first_name} has taken {parcel.code} over. Agree when the plants are fetched; there is nothing "
        "else to do. The day follows:",
        link,
    )


def cannot(reader: LetterReader, parcel: ParcelWords, link: str) -> LetterText:
    """Tell the sender that a parcel is theirs to post again."""
    return signed(
        reader,
        f"{parcel.code} is yours to post",
        f"{parcel.other_first_name} does not post {parcel.code}. You can ask somebody else, or say when you are away, "
        "and it waits:",
        link,
    )


def no_longer_yours(reader: LetterReader, parcel: ParcelWords, link: str) -> LetterText:
    """Tell who had taken a parcel over that it is no longer theirs to post."""
    return signed(
        reader,
        f"You need not post {parcel.code}",
        f"{parcel.code} is no longer yours to post for {parcel.other_first_name}. Thank you for taking it on. Its page:",
        link,
    )


def asked(name: str, *, is_reader: bool) -> str:
    """Say who is asked to post a parcel."""
    if is_reader:
        return (
            "Can you post this? You would fetch the plants and post them on one of your own days."
        )
    return f"{name} is asked to post it, and has not answered. Until then its sender posts it."


def posts(name: str, sender: str, *, is_reader: bool) -> str:
    """Say who posts a parcel for its sender."""
    return f"You post it for {sender}." if is_reader else f"{name} posts it for {sender}."
