"""A share-out's case and its result, counted over again for who reads its sentences.

It shares no code with what shares out or explains. Only the tables of the craft (fit, winter losses) are the same.
"""

from collections import Counter
from hashlib import sha256

from exchange.domain.circle.border import Passage
from exchange.domain.growing.batch import Material
from exchange.domain.growing.fit import WARM_TO_COLD, Stock, coldest_fit, fits_at_place
from exchange.domain.growing.losing import holding, place_loses, winter_shelter
from exchange.domain.growing.room import room_down_to


class World:
    """A case and its result, counted over again."""

    def __init__(self, case, allocations):
        self.case, self.allocations = case, allocations
        self.spares = {one.id: one for one in case.spares}
        self.claims = {one.id: one for one in case.claims}
        self.varieties = {one.id: one for one in case.varieties}
        self.gone = {one.id for one in case.households if one.left}
        self.got, self.sent, self.of = Counter(), Counter(), Counter()
        for one in allocations:
            claim = self.claims[one.claim_id]
            self.got[one.claim_id] += one.count
            self.sent[one.spare_id] += one.count
            self.of[claim.household_id, self.spares[one.spare_id].variety_id] += one.count
        self.free_before = self._free(case.pins + case.kept)
        self.free_after = self._free(allocations)
        self.scarce = self._scarce()

    def takes(self, claim):
        return dict.fromkeys((claim.variety_id, *claim.alternatives))

    def wall(self, spare, claim, free):
        """Name the first wall between a spare and a claim, as a gardener would look for it."""
        first = max(spare.ready_from, self.case.closes_on)
        last = min(spare.send_by, claim.no_use_after or spare.send_by)
        border = self.case.passage.get((spare.place_id, claim.place_id))
        if {spare.household_id, claim.household_id} & self.gone:
            return "left"
        if spare.household_id == claim.household_id:
            return "own"
        if self.varieties[spare.variety_id].protected:
            return "held"
        if spare.material not in claim.materials or spare.material is Material.SEED:
            return "material"
        if last < first:
            return "days"
        if border is not None and border.passage is Passage.BLOCKED:
            return "border"
        depth = WARM_TO_COLD.index(self._coldest(spare, claim, last))
        if free[claim.place_id][depth] == -1:
            return "shelter"
        if any(one is not None and one <= 0 for one in free[claim.place_id][depth:]):
            return "room"
        return "apart" if (spare.id, claim.id) in self.case.forbids else ""

    def of_claim(self, claim):
        """Give the spares of its variety by the wall between them and a claim, as it was before."""
        found = {}
        for spare in self.case.spares:
            if spare.variety_id == claim.variety_id:
                found.setdefault(self.wall(spare, claim, self.free_before), []).append(spare)
        return found

    def parcels(self, allocations):
        """Count parcels, and add up postage."""
        inside = {}
        for one in allocations:
            spare = self.spares[one.spare_id]
            ends = spare.household_id, self.claims[one.claim_id].place_id
            inside.setdefault(ends, Counter())[spare.variety_id] += one.count
        number = {
            ends: max(
                count if self.varieties[kind].must_not_be_lost else 1
                for kind, count in those.items()
                if count
            )
            for ends, those in inside.items()
            if any(those.values())
        }
        tariff = self.case.postage or {}
        return sum(number.values()), sum(n * tariff.get(ends, 0) for ends, n in number.items())

    def moved(self, one, claim):
        """Give the allocations, had one plant of one of them come to a claim instead."""
        every = [*self.allocations]
        every.append(type(one)(one.spare_id, one.claim_id, -1))
        every.append(type(one)(one.spare_id, claim.id, 1))
        total = Counter()
        for each in every:
            total[each.spare_id, each.claim_id] += each.count
        return [type(one)(*ends, count) for ends, count in total.items() if count]

    def begins(self, household):
        """Give how many steps a household comes later for what it gave and received."""
        gave, got = self.case.given.get(household, 0) + 4, self.case.received.get(household, 0)
        size = self.case.terms.shift
        # Half a step rounds up, as whole numbers do it.
        return size - (2 * size * (gave - got) + gave + got) // (2 * (gave + got))

    def lot(self, claim_id):
        text = f"{self.case.draw_number}/claim/{claim_id}"
        return int.from_bytes(sha256(text.encode()).digest()[:8], "big") % 1_048_576

    def plants(self, household, kinds=None):
        return sum(
            count
            for (who, kind), count in self.of.items()
            if who == household and (kinds is None or kind in kinds)
        )

    def keeps(self, variety_id):
        """Give the places in which a variety stood before."""
        return {
            one.place_id
            for one in self.case.batches
            if one.variety_id == variety_id and one.plants > 0
        }

    def loses(self, variety_id, place):
        variety = self.varieties[variety_id]
        shelters = [one for one in self.case.shelters if one.place_id == place]
        return place_loses(holding(variety, place, winter_shelter(variety, shelters), 1))

    def first_fit(self, spare, claim):
        shelters = tuple(one for one in self.case.shelters if one.place_id == claim.place_id)
        return fits_at_place(shelters, self._stock(spare), self.case.safe_from.get(claim.place_id))

    def _stock(self, spare):
        return Stock(self.varieties[spare.variety_id].species, spare.material, spare.raised)

    def _coldest(self, spare, claim, day):
        return coldest_fit(self._stock(spare), day, self.case.safe_from.get(claim.place_id))

    def _free(self, given):
        """Give the free room of every place once something stands there."""
        free = {}
        for place in {one.place_id for one in self.case.claims}:
            shelters = [one for one in self.case.shelters if one.place_id == place]
            free[place] = list(room_down_to(shelters, self.case.taken))
        for one in given:
            spare, claim = self.spares[one.spare_id], self.claims[one.claim_id]
            last = min(spare.send_by, claim.no_use_after or spare.send_by)
            row = free[claim.place_id]
            for depth in range(WARM_TO_COLD.index(self._coldest(spare, claim, last)), len(row)):
                if row[depth] is not None and row[depth] > 0:
                    row[depth] = max(0, row[depth] - one.count)
        return free

    def _scarce(self):
        """Give the varieties of which more is asked for than could be given."""
        asked, offered = Counter(), Counter()
        for claim in self.case.claims:
            meets = [
                one
                for one in self.case.spares
                if one.variety_id == claim.variety_id
                and not self.wall(one, claim, self.free_before)
            ]
            asked[claim.variety_id] += claim.asked if meets else 0
        for spare in self.case.spares:
            if any(
                spare.variety_id in self.takes(claim)
                and not self.wall(spare, claim, self.free_before)
                for claim in self.case.claims
            ):
                offered[spare.variety_id] += spare.count
        return {kind for kind, count in asked.items() if count > offered[kind]}
