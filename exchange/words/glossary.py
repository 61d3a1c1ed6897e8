"""The words of the circle with what they mean, as on the page "Words we use" and in docs/glossary.md."""

from exchange.words.phrase import _

_PEOPLE_AND_PLACES = (
    (
        _("circle"),
        _(
            "The growers who share with one another. One installation can hold several; none sees another."
        ),
    ),
    (_("member"), _("A person in a circle. Needs no account: the organiser can act for them.")),
    (_("account"), _("One person's sign-in. It may belong to several circles.")),
    (
        _("household"),
        _(
            "The people who share a postal address. Fairness counts households, and no parcel goes within one."
        ),
    ),
    (
        _("place"),
        _(
            "Where stock stands: a town or postal district, its height, its shelters, its room. A household may have several, home and allotment."
        ),
    ),
    (
        _("organiser"),
        _(
            "Looks after the circle, sees all of it, and may act for any member; each such act is shown to that member."
        ),
    ),
    (
        _("helper"),
        _(
            "A member who looks after one thing for the organiser: names, members, postage or trouble."
        ),
    ),
    (
        _("away"),
        _(
            'Days on which a household cannot receive, or cannot post. Others only ever see "this day does not suit".'
        ),
    ),
)
_PLANTS = (
    (
        _("variety"),
        _(
            "A cultivar, or something unnamed, or something sold under a trade name only. It keeps well, fairly or badly over winter."
        ),
    ),
    (
        _("must not be lost"),
        _("A mark on a variety, with a reason, set by a holder or the organiser. Off unless set."),
    ),
    (_("holder"), _("A household that has a variety living.")),
    (_("stock"), _("All plants in the circle.")),
    (
        _("batch"),
        _(
            "Plants of one variety, kind and origin in one place. Made silently when somebody simply lists a spare."
        ),
    ),
    (
        _('material, "sent as"'),
        _(
            "Unrooted cutting, rooted cutting, young plant, pot tuber, division, clump, stool, rhizome or corm."
        ),
    ),
    (
        _("seedling of"),
        _("All that seed can ever be: seed never holds and never fills a named variety."),
    ),
    (
        _("raised"),
        _(
            "How stock was grown: in heat, cool, or hardened off. It decides what a cold night does to it."
        ),
    ),
    (
        _("shelter"),
        _(
            "What a place offers stock: indoors, propagator, heated, frost-free, cold (greenhouse or frame), open ground; and pots that can be carried in at night."
        ),
    ),
    (
        _('room, "room for pots"'),
        _(
            "How much more a place can take, asked in seed trays. Not given means no limit, and the page says so."
        ),
    ),
    (_("insurance plant"), _("A plant kept only so that a variety is not lost.")),
    (
        _("chance of losing it"),
        _(
            'How likely it is that nobody has a variety living next spring, said as "about 1 in 5". It says nothing of who grows it.'
        ),
    ),
)
_SHARING = (
    (
        _("spare"),
        _(
            'Plants somebody gives away: how many, ready from, "send by"; for unrooted cuttings "can cut from ... to ...".'
        ),
    ),
    (
        _("set aside for"),
        _(
            "A spare promised to a named member. Outside the share-out; planned and printed like the others."
        ),
    ),
    (
        _('claim, "I would like one"'),
        _(
            'A wish for a variety: first, second or third choice, how many, "no use after", and what would do instead.'
        ),
    ),
    (
        _("share-out"),
        _(
            "Spares to claims, all at once: it opens, closes, is worked out, and is confirmed by the organiser."
        ),
    ),
    (_("contested"), _("A variety with more claims than spares.")),
    (_('allocation, "4 for ..."'), _("So many plants of a spare to a claim, with the reason.")),
    (
        _("rule"),
        _(
            "One of the six things a share-out seeks, in order. A later rule never takes anything from an earlier one."
        ),
    ),
    (
        _("draw number"),
        _(
            "Decides ties. Its hash is shown when a share-out opens and the number itself when it closes, so nobody can choose it afterwards."
        ),
    ),
    (
        _("working"),
        _(
            "The stored proof that a share-out is right. Anybody can check it with a program that knows no solver."
        ),
    ),
    (_("reserve"), _("Who of the share-out is next if a sender or receiver says no.")),
    (_("given and received"), _("What a household gave and got in earlier share-outs.")),
    (_("promise"), _("To send a division back when the plant has grown.")),
)
_POSTING = (
    (
        _("parcel"),
        _(
            "Allocations from one household to one place that travel together. Its code is a hedge plant and a number."
        ),
    ),
    (_('way, "way of sending"'), _("A postal service, or by hand.")),
    (
        _('route point, "goes through"'),
        _(
            "The town in whose depots a way's parcels lie after the first night. Its nights are weighed too."
        ),
    ),
    (
        _("by hand"),
        _(
            "At a meeting, collected, or carried by a member: no postage, no address given out, frost only on the way."
        ),
    ),
    (_("post"), _("Only ever the mail. Offering a spare is listing it.")),
    (
        _("posting day"),
        _(
            'The day a parcel is to go; or "no day yet", or "wait" with the reason and the next good day.'
        ),
    ),
    (_("expected days"), _("When it should come.")),
    (
        _("posted, arrived"),
        _('What sender and receiver said. Silence teaches nothing, and reads "probably posted".'),
    ),
    (
        _("packing"),
        _(
            "What protects the plants on the way: padded envelope, shoe box with crumpled newspaper, bubble wrap, box in box, foam box."
        ),
    ),
    (_("closure"), _("A day on which a service does not work, beyond Sundays and holidays.")),
    (_("closed season"), _("The winter weeks in which nothing is posted except by hand.")),
    (_("chance of loss"), _("How likely a plant is to be lost on the way and in its first night.")),
    (
        _("forecast, climate, both"),
        _(
            "What a posting day rests on. Where there is no usable forecast it rests on the usual weather of the time of year, and says so."
        ),
    ),
)
_PAPERS_AND_DATES = (
    (
        _("packing slip"),
        _('Goes in the parcel: what, how many, the code, and "live plants, open at once".'),
    ),
    (_("care sheet"), _("What to do with what came, day by day, with the cold nights named.")),
    (_("label"), _("For a pot or a parcel.")),
    (_("diary"), _("All dated entries of a member.")),
    (
        _("calendar"),
        _('A subscription to the diary. The circle\'s own is titled "dispatch calendar".'),
    ),
    (
        _("letters"),
        _(
            "What the circle mails. Each can also be copied as text, and waits here until it has gone."
        ),
    ),
    (
        _("trouble report"),
        _("A member says something looks wrong with stock. The program names no disease."),
    ),
    (_('"who did what"'), _("The list of acts: who, for whom, when.")),
    (_('"What needs doing"'), _("The first page.")),
)
GLOSSARY = (
    (_("People and places"), _PEOPLE_AND_PLACES),
    (_("Plants"), _PLANTS),
    (_("Sharing"), _SHARING),
    (_("Posting"), _POSTING),
    (_("Papers and dates"), _PAPERS_AND_DATES),
)
"""Sections, each with its (word, meaning) pairs."""
