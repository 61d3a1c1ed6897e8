"""Long acts: their names, and how they stand while they run."""

_KINDS = {
    "share_out": "Working the share-out out",
    "share_out_previews": "Trying other terms on the share-out",
    "claim_why": "Working out what would have been",
    "claim_why_ahead": "Working out what would be",
    "reserve": "Giving what came free to who is next",
    "plan": "Working out the posting days",
    "forecasts": "Fetching the forecasts",
    "read_spreadsheet": "Reading a spreadsheet",
    "bring_in": "Bringing the rows of a spreadsheet in",
}


def kind_words(kind: str) -> str:
    """Give what a kind of task does."""
    return _KINDS.get(kind, "Work under way")


def stage_words(state: str, stage: str) -> str:
    """Say how a task under way stands."""
    if state == "waiting":
        return "It waits for its turn, usually a second or two."
    return f"It is under way: {stage}." if stage else "It is under way."


def solver_words(stage: str, value: float | None, bound: float | None) -> str:
    """Say how far the solver has come with a stage: what it has, against what cannot be bettered, once it knows both."""
    if value is None or bound is None:
        return stage
    # What is to be small comes as a negative number.
    return f"{stage}, {abs(round(value)):,} so far, {abs(round(bound)):,} at best"


def ended_words(state: str) -> str:
    """Say how a task ended."""
    return {
        "done": "It is done.",
        "cancelled": "It was stopped; nothing was changed.",
        "failed": "It could not be done; nothing was changed.",
    }.get(state, state)
