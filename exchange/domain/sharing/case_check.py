"""Whether the ids of a case in a working hold: each once, none missing, none that points nowhere.

The checker looks everything up by id. A doubled id would hide one of two rows, and one that points nowhere would drop a
row without a word; so both are refused before anything is worked out.
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from exchange.domain.sharing.dual_check import WorkingFault

Rows = Sequence[Mapping[str, Any]]


def check_ids(working: Mapping[str, Any]) -> None:
    """Refuse a working whose case, allocations or choices name what is not there, or anything twice.

    Raises
    ------
    WorkingFault
        naming what is doubled, dangling or missing
    KeyError, TypeError, ValueError
        where it is no working
    """
    case = working["case"]
    households = _once("household", [one[0] for one in case["households"]])
    places = _once("place", [one[0] for one in case["places"]])
    varieties = _once("variety", _ids(case["varieties"]))
    spares = _once("spare", _ids(case["spares"]))
    claims = _once("claim", _ids(case["claims"]))
    _known("household", households, "a place", [one[1] for one in case["places"]])
    _known_by(case["shelters"], {"place_id": places}, "a shelter")
    _once(
        "kind of shelter of a place", [(one["place_id"], one["kind"]) for one in case["shelters"]]
    )
    _known_by(case["batches"], {"variety": varieties, "place": places}, "a batch")
    own = dict(case["places"])
    ends = {"household_id": households, "place_id": places, "variety_id": varieties}
    for name, rows in (("spare", case["spares"]), ("claim", case["claims"])):
        _known_by(rows, ends, f"a {name}")
        for one in rows:
            if own[one["place_id"]] != one["household_id"]:
                raise WorkingFault(f"{name} {one['id']} stands at another household's place")
    for one in case["claims"]:
        _known("variety", varieties, f"claim {one['id']}", one["alternatives"])
        _once(f"alternative of claim {one['id']}", one["alternatives"])
    _check_figures(case, households, places)
    _check_ends(working, spares, claims)


def _check_figures(
    case: Mapping[str, Any], households: frozenset[Any], places: frozenset[Any]
) -> None:
    """Check what figures are kept for: given, received, safe days, room taken, borders, postage."""
    for name, known, what in (
        ("given", households, "household"),
        ("received", households, "household"),
        ("safe_from", places, "place"),
    ):
        ids = [one[0] for one in case[name]]
        _once(f"{what} under {name}", ids)
        _known(what, known, f"what stands under {name}", ids)
    _once("place and shelter under taken", [(one[0], one[1]) for one in case["taken"]])
    _known("place", places, "what is taken", [one[0] for one in case["taken"]])
    _once("way over a border", [(one[0], one[1]) for one in case["passage"]])
    _known("place", places, "a border", [end for one in case["passage"] for end in one[:2]])
    if case["postage"] is not None:
        _once("tariff", [(one[0], one[1]) for one in case["postage"]])
        _known("household", households, "a tariff", [one[0] for one in case["postage"]])
        _known("place", places, "a tariff", [one[1] for one in case["postage"]])


def _check_ends(working: Mapping[str, Any], spares: frozenset[Any], claims: frozenset[Any]) -> None:
    """Check that allocations and choices join a spare and a claim of the case, each two once."""
    case, second = working["case"], working.get("second")
    for what, rows in (
        ("an allocation", working["allocations"]),
        ("an allocation of the second pass", second["allocations"] if second else ()),
        ("a choice", case["pins"]),
        ("a pair kept apart", case["forbids"]),
    ):
        _join(what, rows, spares, claims)
        _once(f"{what.split(' ', 1)[1]} between", [(one[0], one[1]) for one in rows])
    # What stood before may join the same two more than once; it is added up.
    _join("what stood", case["kept"], spares, claims)


def _join(
    what: str, rows: Iterable[Sequence[Any]], spares: frozenset[Any], claims: frozenset[Any]
) -> None:
    for one in rows:
        _known("spare", spares, what, one[:1])
        _known("claim", claims, what, one[1:2])


def _ids(rows: Rows) -> list[Any]:
    return [one["id"] for one in rows]


def _once(what: str, ids: Iterable[Any]) -> frozenset[Any]:
    """Give the ids, each of which stands there once."""
    counts = Counter(ids)
    doubled = [one for one, times in counts.items() if times > 1]
    if doubled:
        raise WorkingFault(f"{what} {_said(doubled[0])} is there twice")
    return frozenset(counts)


def _known(what: str, known: frozenset[Any], where: str, ids: Iterable[Any]) -> None:
    for one in ids:
        if one not in known:
            raise WorkingFault(f"{where} names {what} {_said(one)}, which is not there")


def _known_by(rows: Rows, ends: Mapping[str, frozenset[Any]], where: str) -> None:
    for name, known in ends.items():
        what = name.removesuffix("_id")
        _known(what, known, where, [one[name] for one in rows])


def _said(one: Any) -> str:
    return " and ".join(map(str, one)) if isinstance(one, tuple) else str(one)
