"""The words of the circle with what they mean, as on the page "Words we use" and in docs/glossary.md."""

_PEOPLE_AND_PLACES = (
    (
        "circle",
        "The growers who share with one another. One installation can hold several; none sees another.",
    ),
    ("member", "A person in a circle. Needs no account: the organiser can act for them."),
    ("account", "One person's sign-in. It may belong to several circles."),
    (
        "household",
        "The people who share a postal address. Fairness counts households, and no parcel goes within one.",
    ),
    (
        "place",
        "Where stock stands: a town or postal district, its height, its shelters, its room. A household may have several, home and allotment.",
    ),
    (
        "organiser",
        "Looks after the circle, sees all of it, and may act for any member; each such act is shown to that member.",
    ),
    (
        "helper",
        "A member who looks after one thing for the organiser: names, members, postage or trouble.",
    ),
    (
        "away",
        'Days on which a household cannot receive, or cannot post. Others only ever see "this day does not suit".',
    ),
)
_PLANTS = (
    (
        "variety",
        "A cultivar, or something unnamed, or something sold under a trade name only. It keeps well, fairly or badly over winter.",
    ),
    (
        "must not be lost",
        "A mark on a variety, with a reason, set by a holder or the organiser. Off unless set.",
    ),
    ("holder", "A household that has a variety living."),
    ("stock", "All plants in the circle."),
    (
        "batch",
        "Plants of one variety, kind and origin in one place. Made silently when somebody simply lists a spare.",
    ),
    (
        'material, "sent as"',
        "Unrooted cutting, rooted cutting, young plant, pot tuber, division, clump, stool, rhizome or corm.",
    ),
    (
        "seedling of",
        "All that seed can ever be: seed never holds and never fills a named variety.",
    ),
    (
        "raised",
        "How stock was grown: in heat, cool, or hardened off. It decides what a cold night does to it.",
    ),
    (
        "shelter",
        "What a place offers stock: indoors, propagator, heated, frost-free, cold (greenhouse or frame), open ground; and pots that can be carried in at night.",
    ),
    (
        'room, "room for pots"',
        "How much more a place can take, asked in seed trays. Not given means no limit, and the page says so.",
    ),
    ("insurance plant", "A plant kept only so that a variety is not lost."),
    (
        "chance of losing it",
        'How likely it is that nobody has a variety living next spring, said as "about 1 in 5". It says nothing of who grows it.',
    ),
)
_SHARING = (
    (
        "spare",
        'Plants somebody gives away: how many, ready from, "send by"; for unrooted cuttings "can cut from ... to ...".',
    ),
    (
        "set aside for",
        "A spare promised to a named member. Outside the share-out; planned and printed like the others.",
    ),
    (
        'claim, "I would like one"',
        'A wish for a variety: first, second or third choice, how many, "no use after", and what would do instead.',
    ),
    (
        "share-out",
        "Spares to claims, all at once: it opens, closes, is worked out, and is confirmed by the organiser.",
    ),
    ("contested", "A variety with more claims than spares."),
    ('allocation, "4 for ..."', "So many plants of a spare to a claim, with the reason."),
    (
        "rule",
        "One of the six things a share-out seeks, in order. A later rule never takes anything from an earlier one.",
    ),
    (
        "draw number",
        "Decides ties. Its hash is shown when a share-out opens and the number itself when it closes, so nobody can choose it afterwards.",
    ),
    (
        "working",
        "The stored proof that a share-out is right. Anybody can check it with a program that knows no solver.",
    ),
    ("reserve", "Who of the share-out is next if a sender or receiver says no."),
    ("given and received", "What a household gave and got in earlier share-outs."),
    ("promise", "To send a division back when the plant has grown."),
)
_POSTING = (
    (
        "parcel",
        "Allocations from one household to one place that travel together. Its code is a hedge plant and a number.",
    ),
    ('way, "way of sending"', "A postal service, or by hand."),
    (
        'route point, "goes through"',
        "The town in whose depots a way's parcels lie after the first night. Its nights are weighed too.",
    ),
    (
        "by hand",
        "At a meeting, collected, or carried by a member: no postage, no address given out, frost only on the way.",
    ),
    ("post", "Only ever the mail. Offering a spare is listing it."),
    (
        "posting day",
        'The day a parcel is to go; or "no day yet", or "wait" with the reason and the next good day.',
    ),
    ("expected days", "When it should come."),
    (
        "posted, arrived",
        'What sender and receiver said. Silence teaches nothing, and reads "probably posted".',
    ),
    (
        "packing",
        "What protects the plants on the way: padded envelope, shoe box with crumpled newspaper, bubble wrap, box in box, foam box.",
    ),
    ("closure", "A day on which a service does not work, beyond Sundays and holidays."),
    ("closed season", "The winter weeks in which nothing is posted except by hand."),
    ("chance of loss", "How likely a plant is to be lost on the way and in its first night."),
    (
        "forecast, climate, both",
        "What a posting day rests on. Where there is no usable forecast it rests on the usual weather of the time of year, and says so.",
    ),
)
_PAPERS_AND_DATES = (
    (
        "packing slip",
        'Goes in the parcel: what, how many, the code, and "live plants, open at once".',
    ),
    ("care sheet", "What to do with what came, day by day, with the cold nights named."),
    ("label", "For a pot or a parcel."),
    ("diary", "All dated entries of a member."),
    (
        "calendar",
        'A subscription to the diary. The circle\'s own is titled "dispatch calendar".',
    ),
    (
        "letters",
        "What the circle mails. Each can also be copied as text, and waits here until it has gone.",
    ),
    (
        "trouble report",
        "A member says something looks wrong with stock. The program names no disease.",
    ),
    ('"who did what"', "The list of acts: who, for whom, when."),
    ('"What needs doing"', "The first page."),
)
GLOSSARY = (
    ("People and places", _PEOPLE_AND_PLACES),
    ("Plants", _PLANTS),
    ("Sharing", _SHARING),
    ("Posting", _POSTING),
    ("Papers and dates", _PAPERS_AND_DATES),
)
"""Sections, each with its (word, meaning) pairs."""
