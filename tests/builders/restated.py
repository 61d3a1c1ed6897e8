"""The rows of a share-out stated once more, from its claims and spares alone, and solved by another solver.

Nothing here comes from pairing, measuring or the model; of the craft it uses only what growing knows of shelters, room and winters.
"""

from collections import defaultdict
from fractions import Fraction

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import lil_matrix

from exchange.domain.growing.batch import Material
from exchange.domain.growing.fit import WARM_TO_COLD, Stock, coldest_fit
from exchange.domain.growing.losing import holding, place_loses, variety_lost, winter_shelter
from exchange.domain.growing.room import room_down_to

WISHES = {1: 60_000, 2: 30_000, 3: 20_000}


class Restated:
    """The first pass of one case, as rows of sum(coefficient x column) <= limit."""

    def __init__(self, case):
        self.case = case
        self.upper, self.rows = [], []
        self.aims = {rule: defaultdict(int) for rule in (1, 2, 3, 4, 5)}
        self.varieties = {one.id: one for one in case.varieties}
        self.shelters = defaultdict(list)
        for one in case.shelters:
            self.shelters[one.place_id].append(one)
        self.could = {}
        for spare in case.spares:
            for claim in case.claims:
                depth = self._depth(spare, claim)
                if depth is not None:
                    self.could[spare, claim] = depth
        self.x = {ends: self.column(min(ends[0].count, ends[1].asked)) for ends in self.could}
        self.contested = self._contested()
        self._plain()
        self._homes()
        self._first_plants_and_ladder()
        self._parcels()

    def column(self, upper):
        self.upper.append(upper)
        return len(self.upper) - 1

    def row(self, entries, limit):
        self.rows.append((list(entries), limit))

    def takes(self, claim):
        return list(dict.fromkeys((claim.variety_id, *claim.alternatives)))

    def _depth(self, spare, claim):
        """How cold a shelter will do on the last day, or None where the spare cannot come."""
        row = self.case.passage.get((spare.place_id, claim.place_id))
        last = min(spare.send_by, claim.no_use_after or spare.send_by)
        if (
            spare.variety_id not in self.takes(claim)
            or spare.household_id == claim.household_id
            or spare.material not in claim.materials
            or spare.material is Material.SEED
            or last < max(spare.ready_from, self.case.closes_on)
            or (row is not None and row.passage == "blocked")
        ):
            return None
        stock = Stock(self.varieties[spare.variety_id].species, spare.material, spare.raised)
        kind = coldest_fit(stock, last, self.case.safe_from.get(claim.place_id))
        depth = WARM_TO_COLD.index(kind)
        free = room_down_to(self.shelters[claim.place_id], self.case.taken)[depth:]
        return None if any(one is not None and one <= 0 for one in free) else depth

    def _contested(self):
        asked, offered = defaultdict(int), defaultdict(int)
        for claim in {claim for spare, claim in self.could if spare.variety_id == claim.variety_id}:
            asked[claim.variety_id] += claim.asked
        for spare in {spare for spare, _ in self.could}:
            offered[spare.variety_id] += spare.count
        return {one for one, count in asked.items() if count > offered[one]}

    def _plain(self):
        most = self.case.terms.most_contested
        by_spare, by_claim, both = defaultdict(list), defaultdict(list), defaultdict(list)
        room = defaultdict(list)
        for (spare, claim), column in self.x.items():
            by_spare[spare].append(column)
            by_claim[claim].append(column)
            if spare.variety_id in self.contested:
                both[claim.household_id, spare.variety_id].append(column)
            for colder in range(self.could[spare, claim], len(WARM_TO_COLD)):
                room[claim.place_id, colder].append(column)
            rank = self.takes(claim).index(spare.variety_id)
            self.aims[4][column] = WISHES[claim.choice] // (1 + 3 * rank)
        for spare, columns in by_spare.items():
            self.row([(one, 1) for one in columns], spare.count)
        for claim, columns in by_claim.items():
            self.row([(one, 1) for one in columns], claim.asked)
        for columns in both.values():
            self.row([(one, 1) for one in columns], most)
        for (place, colder), columns in room.items():
            free = room_down_to(self.shelters[place], self.case.taken)[colder]
            if free is not None:
                self.row([(one, 1) for one in columns], free)

    def _homes(self):
        for variety in self.case.varieties:
            kept = defaultdict(int)
            for batch in self.case.batches:
                if batch.variety_id == variety.id and batch.plants:
                    kept[batch.place_id] += batch.plants
            offers = [one for one in self.case.spares if one.variety_id == variety.id]
            for spare in offers:
                if spare.place_id in kept:
                    kept[spare.place_id] -= spare.count
            target = self.case.terms.target_places or variety.target_places
            if not variety.must_not_be_lost or not offers or len(kept) >= target:
                continue
            self._homes_of(variety, {place: max(1, count) for place, count in kept.items()}, offers)

    def _homes_of(self, variety, kept, offers):
        def winters(place, plants):
            return holding(variety, place, winter_shelter(variety, self.shelters[place]), plants)

        asking = {one.place_id for one in self.case.claims if variety.id in self.takes(one)}
        chance = {one: place_loses(winters(one, 1)) for one in asking - set(kept)}
        chance = {place: one for place, one in chance.items() if one < 1}
        lost = variety_lost(winters(place, count) for place, count in kept.items())
        whole, usual = lost, sum(chance.values(), Fraction()) / max(1, len(chance))
        usual = min(Fraction(round(usual * 1000), 1000), Fraction(999, 1000))
        gains = []
        while len(gains) < min(len(chance), sum(one.count for one in offers)) and lost * 1000 > 1:
            gains.append(round(lost * (1 - usual) * 10**6))
            lost *= usual
        homes = {}
        for place, one in chance.items():
            those = [
                column
                for (spare, claim), column in self.x.items()
                if spare.variety_id == variety.id and claim.place_id == place
            ]
            homes[place] = self.column(1)
            self.aims[1][homes[place]] = round(200 * whole * (1 - one))
            self.row([(homes[place], 1), *((column, -1) for column in those)], 0)
        steps = [self.column(1) for _ in gains]
        self.aims[1].update(zip(steps, gains, strict=True))
        self.row([(one, 1) for one in steps] + [(one, -1) for one in homes.values()], 0)
        self.row([(one, 1) for one in homes.values()], len(gains))

    def _first_plants_and_ladder(self):
        case, most = self.case, self.case.terms.most_contested
        plants, by_both, asked = defaultdict(list), defaultdict(list), defaultdict(set)
        for (spare, claim), column in self.x.items():
            if spare.variety_id in self.contested:
                plants[claim.household_id].append(column)
                by_both[claim.household_id, spare.variety_id].append((column, claim))
                asked[claim.household_id].add(claim)
        for those in by_both.values():
            first = self.column(1)
            self.aims[2][first] = 1
            self.row([(first, 1), *((column, -1) for column, _ in those)], 0)
        longest = 0
        for household, claims in asked.items():
            each = sum(
                min(most, sum(one.asked for one in {claim for _, claim in those}))
                for (who, _), those in by_both.items()
                if who == household
            )
            longest = max(longest, min(each, sum(one.asked for one in claims)))
        size, start = case.terms.shift, {}
        for one in case.households:
            given, received = case.given.get(one.id, 0), case.received.get(one.id, 0)
            part = Fraction(size * (given + 4 - received), given + 4 + received)
            start[one.id] = size - (part + Fraction(1, 2)).__floor__()
        askers = {one.household_id for one in case.claims}
        steps = longest + max((start[one] for one in askers), default=0)
        base = len(askers) + 1
        exact = base ** max(steps - 1, 0) <= 10**8
        for household, those in plants.items():
            climbed = []
            for number in range(start[household], min(steps, start[household] + longest)):
                climbed.append(self.column(1))
                worth = base ** (steps - 1 - number) if exact else 2 * (steps - number) - 1
                self.aims[3][climbed[-1]] = worth
            self.row([(one, 1) for one in climbed] + [(one, -1) for one in those], 0)

    def _parcels(self):
        precious = {one.id for one in self.case.varieties if one.must_not_be_lost}
        between = defaultdict(lambda: defaultdict(list))
        for (spare, claim), column in self.x.items():
            between[spare.household_id, claim.place_id][spare.variety_id].append(column)
        for inside in between.values():
            most = sum(self.upper[one] for those in inside.values() for one in those)
            parcels = self.column(most)
            self.aims[5][parcels] = -1
            for variety, those in inside.items():
                if variety in precious:
                    self.row([*((one, 1) for one in those), (parcels, -1)], 0)
                else:
                    for one in those:
                        self.row([(one, 1), (parcels, -self.upper[one])], 0)

    def best(self):
        """Give the best value of each rule, each with those before it held."""
        found = []
        for rule in (1, 2, 3, 4, 5):
            cost = np.zeros(len(self.upper))
            for column, gain in self.aims[rule].items():
                cost[column] = gain
            value = round(cost @ self._solved(cost)) if self.upper else 0
            found.append(abs(value))
            self.row([(one, -gain) for one, gain in self.aims[rule].items() if gain], -value)
        return tuple(found)

    def _solved(self, cost):
        table = lil_matrix((len(self.rows), len(self.upper)))
        for number, (entries, _) in enumerate(self.rows):
            for column, coefficient in entries:
                table[number, column] += coefficient
        limits = LinearConstraint(table.tocsr(), -np.inf, [limit for _, limit in self.rows])
        answer = milp(
            -cost / max(1, np.abs(cost).max()),
            constraints=limits,
            bounds=Bounds(0, self.upper),
            integrality=np.ones(len(self.upper)),
            options={"mip_rel_gap": 0},
        )
        assert answer.x is not None, answer.message
        return np.rint(answer.x)

    def holds(self, allocations):
        """Say whether allocations keep the rows that have no rule's columns in them."""
        columns = {(spare.id, claim.id): one for (spare, claim), one in self.x.items()}
        x = np.zeros(len(self.upper))
        for one in allocations:
            x[columns[one.spare_id, one.claim_id]] = one.count
        plain = [row for row in self.rows if all(c < len(self.x) for c, _ in row[0])]
        return all(sum(k * x[column] for column, k in entries) <= most for entries, most in plain)
