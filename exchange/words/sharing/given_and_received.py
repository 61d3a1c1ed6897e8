"""What given and received change in a share-out, by sign and fact."""

from exchange.domain.sharing.measure import Lead

LEADS = {
    Lead.NEW: "You are new, so you come a little earlier.",
    Lead.GAVE_MORE: "You have given more than you received, so you come a little earlier.",
    Lead.NEARLY_LEVEL: "What you gave and received is nearly level, so you come a little earlier.",
    Lead.RECEIVED_MORE: "You have received more than you gave, so you come a little later.",
}


def lead_sentence(lead: Lead | None) -> str:
    """Say whether a household comes earlier or later, and by which fact; nothing when it does neither."""
    return LEADS[lead] if lead is not None else ""
