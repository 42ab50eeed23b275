/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Orders of dropping of which a part is known. */
#include <assert.h>

#include "studies/shed_model.h"

static uint64_t bit(int g)
{
	return (uint64_t)1 << g;
}

/* a goes before b: so do all that go before a, before all that go after b. */
static void add_pair(shed_order *order, size_t n, int a, int b)
{
	const uint64_t later = bit(b) | order->after[b];
	for (size_t g = 0; g < n; g++)
		if ((int)g == a || (order->after[g] & bit(a)))
			order->after[g] |= later;
}

void shed_order_first(shed_order *order, size_t n, int g, uint64_t others)
{
	for (size_t other = 0; other < n; other++)
		if ((others & bit((int)other)) && (int)other != g)
			add_pair(order, n, g, (int)other);
}

void shed_order_last(shed_order *order, size_t n, int g, uint64_t others)
{
	for (size_t other = 0; other < n; other++)
		if ((others & bit((int)other)) && (int)other != g)
			add_pair(order, n, (int)other, g);
}

shed_order shed_order_of(const int *group, size_t n)
{
	assert(n <= SHED_MAX_GROUPS);
	shed_order order = {{0}};
	uint64_t later = 0;
	for (size_t i = n; i-- > 0;) {
		order.after[group[i]] = later;
		later |= bit(group[i]);
	}
	return order;
}

static int lowest(uint64_t set)
{
	int g = 0;
	while (!(set & bit(g)))
		g++;
	return g;
}

int shed_order_pick_first(const shed_order *order, uint64_t set)
{
	for (uint64_t left = set; left; left &= left - 1) {
		const int g = lowest(left);
		if (((set & ~bit(g)) & ~order->after[g]) == 0)
			return g;
	}
	return -1;
}

int shed_order_pick_last(const shed_order *order, uint64_t set)
{
	for (uint64_t left = set; left; left &= left - 1) {
		const int g = lowest(left);
		bool last = true;
		for (uint64_t rest = set & ~bit(g); rest && last; rest &= rest - 1)
			last = (order->after[lowest(rest)] & bit(g)) != 0;
		if (last)
			return g;
	}
	return -1;
}
