"""What is said once people are invited or added."""

from exchange.words.kernel.phrase import counted


def welcomed(invited: int, added: int) -> str:
    """Say how many are invited, and how many are members whom the organiser acts for."""
    asked = f"{counted(invited, 'person is', 'people are')} invited"
    acted_for = (
        f"{counted(added, 'person is', 'people are')} in the circle without mail; act for them here"
    )
    if not added:
        return f"{asked}."
    return f"{asked}; {acted_for}." if invited else f"{acted_for}."
