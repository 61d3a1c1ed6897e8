"""The usual cautions, with the authority to ask, as sentences."""

from exchange.domain.arriving.cautions import Authority, Caution, CautionKind

_AUTHORITIES = {
    Authority.APHA: "the Animal and Plant Health Agency (APHA)",
    Authority.SCOTTISH_GOVERNMENT: "the plant health service of the Scottish Government",
    Authority.DAERA: "DAERA, the department of agriculture of Northern Ireland",
    Authority.IRISH_AGRICULTURE: "the Department of Agriculture, Food and the Marine",
    Authority.USDA_APHIS: "USDA APHIS and your state’s department of agriculture",
    Authority.NATIONAL_PLANT_HEALTH: "the plant health service of your country",
    Authority.DOCTOR: "a doctor",
    Authority.VET: "a vet",
    Authority.PACKET: "the packet",
}


def authority(value: Authority) -> str:
    """Name whom to ask."""
    return _AUTHORITIES[value]


def caution(value: Caution) -> str:
    """Say the caution, and whom to ask where an authority knows."""
    whom = authority(value.authority) if value.authority else ""
    return {
        CautionKind.COMPOST: (
            "Compost: open the bag at arm’s length, do not breathe its dust, wear gloves, wash your "
            "hands; with a cough or fever afterwards see {authority}."
        ),
        CautionKind.POWDERS: "Powders: do not breathe the dust; do as {authority} says.",
        CautionKind.KNIFE: "Knife: cut away from you, on a board; clean it between plants.",
        CautionKind.SAP: "Sap can irritate the skin: gloves, and no rubbing of eyes.",
        CautionKind.PETS: "Dogs and cats should not chew them; if one has, ask {authority}.",
        CautionKind.APART: (
            "Something odd on leaf or root? Keep it apart, tell the organiser; "
            "on rules and notifiable pests ask {authority}."
        ),
    }[value.kind].format(authority=whom)
