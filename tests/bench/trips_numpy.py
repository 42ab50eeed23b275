# SPDX-License-Identifier: GPL-3.0-or-later
"""The trips of trip_tables.c once more, in numpy: all trips side by side, hour by hour, with the
same draws, so that both must come to the same quantiles. Weather and draws are read, not made,
which saves this program work that the other does. Prints `median_ms`, `chance_apart` and
`quantiles_apart` (in charge over capacity)."""
import sys
import time

import numpy as np

SHARES = (0.05, 0.25, 0.5, 0.75, 0.95)
TRIPS = 10000
ROUNDS = 5


def read(path):
    found = {}
    with open(path, "rb") as file:
        while line := file.readline():
            name, count = line.split()
            figures = np.frombuffer(file.read(8 * int(count)))
            found.setdefault(name.decode(), []).append(figures)
    return found


def by_trip(tables, name):
    return tables[name][0].reshape(-1, TRIPS)


def duty(consumer, air):
    if consumer[3] == 1:
        return np.clip(consumer[5] * (consumer[4] - air), 0, 1)
    return np.clip(consumer[5] * (air - consumer[4]), 0, 1)


class Model:
    def __init__(self, t):
        self.t = t
        (self.a11, self.a12, self.a21, self.a22, self.g1, self.g2, self.capacity, self.c,
         self.usable, self.efficiency, self.taper, self.limit, self.floor_c, self.lost_per_k,
         self.outdoors) = t["store"][0]
        self.knots = int(t["knots"][0][0])
        self.hours = len(t["keep"][0])
        self.consumers = t.get("consumer", [])
        self.sources = [s.reshape(-1, self.knots, 24) for s in t.get("source", [])]
        self.air = t["air"][0].reshape(-1, self.knots, 24)
        self.ratio = by_trip(t, "consumer_ratio")
        self.inverter = t["inverter"][0]

    def demand_by_clock(self):
        """[hour][trip], and what stands behind the inverter."""
        dc = np.zeros((24, TRIPS))
        mean = np.zeros((24, TRIPS))
        square = np.zeros((24, TRIPS))
        none = np.full((24, TRIPS), 0.0 if self.inverter[5] else 1.0)
        for consumer in self.consumers:
            if consumer[3] != 0:
                continue
            watts = consumer[2] * self.ratio[int(consumer[0])]
            on = consumer[6:][:, None]
            if consumer[1]:
                mean += watts * on
                square += watts * watts * on * (1 - on)
                none *= 1 - on * (watts > 0)
            else:
                dc += watts * on
        if not self.inverter[0]:
            return dc
        _, rated, fixed, linear, quadratic, _ = self.inverter
        loss = rated * fixed * (1 - none) + linear * mean
        loss += quadratic * (mean * mean + square) / rated
        return dc + mean + by_trip(self.t, "inverter_ratio")[0] * loss

    def day(self, table, knot, beyond):
        low, high = table[knot], table[knot + 1]
        return (low + beyond[:, None] * (high - low)).T

    def run(self):
        t = self.t
        sky, warmth = by_trip(t, "sky"), by_trip(t, "warmth")
        capacity = self.capacity * by_trip(t, "capacity_ratio")[0]
        usable = (self.usable * by_trip(t, "capacity_ratio")[0] *
                  by_trip(t, "usable_ratio")[0])
        efficiency = self.efficiency * by_trip(t, "efficiency_ratio")[0]
        wanted_by_clock = self.demand_by_clock()
        weather = [c for c in self.consumers if c[3] != 0]
        source_ratio = by_trip(t, "source_ratio") if self.sources else None
        available, bound = self.c * capacity, (1 - self.c) * capacity
        full = self.c * capacity
        short = np.zeros(TRIPS, bool)
        quantiles = np.empty((len(SHARES), self.hours))
        for hour in range(self.hours):
            clock, day = hour % 24, hour // 24
            if clock == 0:
                knot = np.minimum(sky[day].astype(int), self.knots - 2)
                beyond = sky[day] - knot
                air = self.day(self.air[day], knot, beyond) + warmth[day]
                offered_today = sum(r * self.day(s[day], knot, beyond)
                                    for r, s in zip(source_ratio, self.sources)) \
                    if self.sources else None
                if self.outdoors:
                    cold = np.maximum(0, 25 - air.mean(axis=0))
                    reach = usable * np.maximum(0, 1 - self.lost_per_k * cold)
                else:
                    reach = usable * t["reach"][0][hour] / self.usable
                floor = capacity - reach
            wanted = wanted_by_clock[clock]
            for consumer in weather:
                wanted = wanted + (consumer[2] * self.ratio[int(consumer[0])] *
                                   consumer[6 + clock] * duty(consumer, air[clock]))
            spare = (offered_today[clock] if self.sources else 0) - wanted
            available_still = self.a11 * available + self.a12 * bound
            bound_still = self.a21 * available + self.a22 * bound
            total = available_still + bound_still
            give = np.minimum(available_still / self.g1, total - floor)
            drawn = np.maximum(np.minimum(-spare, give), 0)
            short |= -spare - drawn > 1e-9 * wanted
            current = drawn
            if self.sources:
                take = np.minimum((full - available_still) / self.g1,
                                  (capacity - total) * self.taper) / efficiency
                limit = np.where(air[clock] < self.floor_c, 0, self.limit) \
                    if self.outdoors else self.limit
                charged = np.maximum(np.minimum(spare, np.minimum(take, limit)), 0)
                current = drawn - charged * efficiency
            keep = t["keep"][0][hour]
            available = (available_still - self.g1 * current) * keep
            bound = (bound_still - self.g2 * current) * keep
            quantiles[:, hour] = np.quantile((available + bound) / capacity, SHARES)
        return 1 - short.mean(), quantiles


def main():
    tables = read(sys.argv[1])
    model = Model(tables)
    taken = []
    for _ in range(ROUNDS):
        start = time.process_time()
        never, quantiles = model.run()
        taken.append(1e3 * (time.process_time() - start))
    ours = np.array(tables["quantile"])
    print("median_ms", round(sorted(taken)[ROUNDS // 2], 2))
    print("chance_apart", abs(never - tables["never_out"][0][0]))
    print("quantiles_apart", float(np.abs(ours - quantiles).max()))


main()
