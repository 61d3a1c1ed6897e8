"""Which future a place has: the members of its ensemble as they are, then nights drawn from normals.

A future is one member of the ensemble at every place and on every night it tells of, so that nights
and places go together as the ensemble has them. What the member leaves open, the place itself, is
added as an error of its own. Where the member ends, the drawn errors go on at its rank.
"""

import math
from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from exchange.domain.posting.scenarios import night_errors
from exchange.domain.weather.forecast import Night, Outlook

Array = NDArray[np.float64]
Members = Sequence[int]
"""The member of each future, by its number."""

SITE_AFTER = 100
"""Primes passed over for the errors of the site, so that they are not those of the nights (judgement)."""


def chosen_members(outlooks: Mapping[int, Outlook], scenarios: int) -> dict[int, Members]:
    """Choose a member of the ensemble for each future, the same at all places it covers.

    Members are ranked by how cold they are on average over places and nights, against the night's
    mean, and taken at even steps: where there are more members than futures the share of the cold ones
    is kept, where there are fewer all of them come, as often as each other or once more. The futures
    take those chosen in the order of their numbers. Ensembles are told apart by their highest number.

    Returns
    -------
    members : by place id; places without an ensemble are not there
    """
    groups: dict[int, dict[int, list[float]]] = {}
    highest: dict[int, int] = {}
    for place, outlook in sorted(outlooks.items()):
        told = [(night, night.by_number()) for night in outlook.nights if night.members]
        if not told:
            continue
        highest[place] = max(max(members) for _, members in told)
        group = groups.setdefault(highest[place], {})
        for night, members in told:
            for number, minimum in members.items():
                group.setdefault(number, []).append(minimum - night.mean_c)
    chosen = {number: _even_steps(group, scenarios) for number, group in groups.items()}
    return {place: chosen[number] for place, number in highest.items()}


def _even_steps(group: Mapping[int, Sequence[float]], scenarios: int) -> Members:
    means = {number: math.fsum(each) / len(each) for number, each in group.items()}
    coldest_first = sorted(means, key=lambda number: (means[number], number))
    steps = [int((index + 0.5) * len(group) / scenarios) for index in range(scenarios)]
    return sorted(coldest_first[step] for step in steps)


def errors_by_place(
    places: Sequence[Sequence[Night | None]],
    members: Sequence[Members | None],
    days: int,
    scenarios: int,
) -> Array:
    """Give the errors of the nights in every future, as multiples of each night's spread.

    Parameters
    ----------
    places : the nights of each place, None where none is known
    members : of each place, as `chosen_members` gives them, None without an ensemble

    Returns
    -------
    array (days, scenarios) where no place has an ensemble, else (places, days, scenarios)
    """
    drawn = night_errors(days, scenarios)
    if all(one is None for one in members):
        return drawn
    found = np.repeat(drawn[None], len(places), axis=0)
    for row, (nights, one) in enumerate(zip(places, members, strict=True)):
        if one is not None:
            found[row] = _of_ensemble(nights, one, drawn)
    return found


def _of_ensemble(nights: Sequence[Night | None], members: Members, drawn: Array) -> Array:
    """Give the errors at a place with an ensemble (days, scenarios)."""
    around = np.full(drawn.shape, np.nan)
    total = np.full(drawn.shape, np.nan)
    site = night_errors(*drawn.shape, SITE_AFTER)
    for day, night in enumerate(nights):
        if night is None or not night.members or night.sd_c <= 0:
            continue
        told = night.by_number()
        minima = np.array([told.get(number, math.nan) for number in members])
        around[day] = (minima - night.mean_c) / night.sd_c
        total[day] = around[day] + _site_share(night) * _apart(site[day], around[day])
    going_on = _at_ranks(around, drawn)
    return np.where(np.isnan(total), going_on, total)


def _site_share(night: Night) -> float:
    """Give the error of the site for one of the night's spread, which holds both it and the members'."""
    spread = float(np.std(night.members)) / night.sd_c
    return math.sqrt(max(0.0, 1.0 - spread * spread))


def _apart(site: Array, around: Array) -> Array:
    """Take out of the site's errors what goes with the members by chance, and give them spread 1."""
    there = ~np.isnan(around)
    members = np.where(there, around, 0.0)
    members -= np.where(there, members.sum() / max(there.sum(), 1), 0.0)
    size = float(members @ members)
    left = site - members * (float(site @ members) / size) if size > 0 else site - site.mean()
    left -= left.mean()
    spread = float(left.std())
    unit: Array = left / spread if spread > 0 else left
    return unit


def _at_ranks(around: Array, drawn: Array) -> Array:
    """Put the drawn errors in such an order that each goes on from its member's last night.

    A future without its member on the last night of the ensemble takes its mean over the others.
    """
    known = np.flatnonzero(~np.isnan(around).all(axis=1))
    if not known.size:
        return drawn
    counted = ~np.isnan(around)
    mean = np.nan_to_num(around).sum(axis=0) / np.maximum(counted.sum(axis=0), 1)
    last = np.where(np.isnan(around[known[-1]]), mean, around[known[-1]])
    order = np.empty(len(last), dtype=np.int64)
    order[np.argsort(last, kind="stable")] = np.argsort(drawn[known[-1]], kind="stable")
    return drawn[:, order]
