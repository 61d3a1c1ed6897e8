"""The risk of one parcel worked out plainly, hour by hour and future by future, without numpy.

The vectorised table is checked against it: the same physics written as loops.
"""

import math

from exchange.domain.posting.risk import (
    CARRIED_FROM,
    CARRIED_UNTIL,
    EVENING,
    HANDED_OVER,
    MORNING,
    NOON,
)


def plain_hour(heat, ambient, tau, latent):
    """Move one heat content an hour on; 0 is unfrozen at 0 C, below it ice forms."""
    if not latent:
        return ambient + (heat - ambient) * math.exp(-1 / tau)
    left = 1.0
    for _ in range(4):
        if left <= 0:
            return heat
        if heat > 0 or (heat == 0 and ambient >= 0):
            heat, left = _towards(heat, ambient, left, tau, 0.0)
        elif heat < -latent or (heat == -latent and ambient < 0):
            heat, left = _towards(heat, ambient, left, tau, -latent)
        elif ambient == 0:
            return heat
        else:
            goal = 0.0 if ambient > 0 else -latent
            needs = (goal - heat) * tau / ambient
            if needs >= left:
                return heat + ambient * left / tau
            heat, left = goal, left - needs
    return heat


def _towards(heat, ambient, left, tau, base):
    temperature = heat - base
    if temperature * ambient < 0:
        needs = tau * math.log((temperature - ambient) / -ambient)
        if needs < left:
            return base, left - needs
    return base + ambient + (temperature - ambient) * math.exp(-left / tau), 0.0


def core(heat, latent):
    return max(heat, 0.0) + min(heat + latent, 0.0) if latent else heat


def kept(curve, at):
    return 1 / (1 + math.exp(min(max(curve[0] + curve[1] * at, -500.0), 500.0)))


def scalar_losses(journey, question, hourly, posted, future):
    """Give the losses of each kind in one future, for every number of days to delivery asked for."""
    latent, tau = journey.latent_k, journey.tau_h
    through = journey.receiver if journey.through is None else journey.through
    heat = question.packed_at_c
    cores = [heat] * 3
    found = {}
    if question.needed[0]:
        hours = [(0, at) for at in range(CARRIED_FROM, CARRIED_UNTIL)]
        found[0] = _delivered(journey, question, hourly, (posted, 0, future), (heat, cores), hours)
    for day in range(len(question.needed)):
        for at in range(HANDED_OVER if day == 0 else 0, 24):
            if day and at == MORNING:
                if question.needed[day]:
                    hours = [(day, late) for late in range(MORNING, journey.indoors_at)]
                    where = (posted, day, future)
                    found[day] = _delivered(journey, question, hourly, where, (heat, cores), hours)
                if day == len(question.needed) - 1:
                    return found
            near = journey.sender if (day, at) < (1, NOON) else through
            ambient = hourly[at][near][posted + day][future]
            if at >= EVENING or at < MORNING:
                ambient += journey.depot_offset_c
            heat = plain_hour(heat, ambient, tau, latent)
            cores.append(core(heat, latent))
    return found


def _delivered(journey, question, hourly, where, state, hours):
    posted, after, future = where
    heat, before = state
    cores = list(before)
    for day, at in hours:
        ambient = hourly[at][journey.receiver][posted + day][future]
        heat = plain_hour(heat, ambient, journey.tau_h, journey.latent_k)
        cores.append(core(heat, journey.latent_k))
    in_a_row = [cores[at : at + 3] for at in range(len(cores) - 2)]
    low, high = min(max(hours) for hours in in_a_row), max(min(hours) for hours in in_a_row)
    sheltered = float(question.sheltered[journey.shelter][posted + after][future])
    return [
        1 - kept(kind.cold, min(low, sheltered)) * kept(kind.heat, high) * kept(kind.dark, after)
        for kind in journey.kinds
    ]


def scalar_means(journey, question, hourly, posted):
    """Give the mean losses over the futures: days to delivery -> loss of each kind."""
    futures = range(question.air.lows.shape[2])
    found = [scalar_losses(journey, question, hourly, posted, one) for one in futures]
    return {
        after: [sum(one[after][kind] for one in found) / len(found) for kind in range(len(losses))]
        for after, losses in found[0].items()
    }
