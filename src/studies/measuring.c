/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <stdlib.h>

#include "rigbudget/measuring.h"

/* Minutes and skills are common practice, no source. */
static const rig_measure_way WAYS[RIG_N_MEASURES] = {
	[RIG_MEASURE_AC_LOAD] = {"clamp meter", 10, RIG_SKILL_METER,
		"switch it alone on and off and read the change of amps on its leg, with the volts "
		"beside it"},
	[RIG_MEASURE_DC_LOAD] = {"DC clamp meter", 10, RIG_SKILL_METER,
		"clamp the battery cable and read the change of amps as it is switched on and off"},
	[RIG_MEASURE_USE] = {"a question", 2, RIG_SKILL_ANYONE,
		"ask those who will live in the coach how many hours a day they use it"},
	[RIG_MEASURE_LOAD_DAY] = {"clamp meter or plug-in meter", 20, RIG_SKILL_METER,
		"clamp its wire or plug in a meter, and note watts and hours over a usual day"},
	[RIG_MEASURE_FACTOR] = {"meter that shows watts and amps", 10, RIG_SKILL_METER,
		"read watts, volts and amps at once and divide"},
	[RIG_MEASURE_LEG] = {"clamp meter", 10, RIG_SKILL_METER,
		"switch it on and see on which leg the amps rise"},
	[RIG_MEASURE_CHARGER] = {"clamp meter", 15, RIG_SKILL_METER,
		"after a night on the battery, read the amps on the leg with the charger on and "
		"off"},
	[RIG_MEASURE_STANDING] = {"DC clamp meter", 15, RIG_SKILL_METER,
		"switch everything off, shore power too, and clamp the battery's negative cable"},
	[RIG_MEASURE_CAPACITY] = {"battery monitor", 360, RIG_SKILL_METER,
		"charge it full, draw it down with a known load and count the amp-hours"},
	[RIG_MEASURE_USABLE] = {"a look", 15, RIG_SKILL_ANYONE,
		"read the maker's sheet, and the volts at which its switch or the inverter opens"},
	[RIG_MEASURE_KEEPS] = {"battery monitor", 120, RIG_SKILL_METER,
		"compare amp-hours in and out over a few days"},
	[RIG_MEASURE_PANEL_W] = {"tape measure", 10, RIG_SKILL_ANYONE,
		"read the label at the back of the panel, or measure its frame and name its kind"},
	[RIG_MEASURE_PANEL_LOSSES] = {"DC clamp meter", 20, RIG_SKILL_METER,
		"read the controller's amps at noon under a clear sky, as it is and wiped clean"},
	[RIG_MEASURE_INVERTER] = {"DC clamp meter", 10, RIG_SKILL_METER,
		"clamp the inverter's battery cable with it on and nothing plugged in"},
	[RIG_MEASURE_OPEN_V] = {"plug-in voltmeter", 2, RIG_SKILL_ANYONE,
		"plug it in with nothing else on and read the volts"},
	[RIG_MEASURE_SOURCE] = {"plug-in voltmeter", 5, RIG_SKILL_ANYONE,
		"read the volts with nothing on and again with a heater of known amps on"},
	[RIG_MEASURE_CORD] = {"tape measure", 5, RIG_SKILL_ANYONE,
		"measure cord and adapter and read the gauge printed on them"},
	[RIG_MEASURE_SUPPLY_W] = {"a look", 5, RIG_SKILL_ANYONE, "read its label"},
	[RIG_MEASURE_WIRE_A] = {"clamp meter", 15, RIG_SKILL_ELECTRICIAN,
		"clamp the wire with everything on it switched on"},
	[RIG_MEASURE_WIRE_M] = {"tape measure or string", 15, RIG_SKILL_ANYONE,
		"lay a string along its way, one way, and measure that"},
	[RIG_MEASURE_WIRE_HEAT] = {"thermometer", 30, RIG_SKILL_ANYONE,
		"leave a thermometer where it runs through a hot afternoon"},
	[RIG_MEASURE_HEAT_LOSS] = {"watch and thermometer", 120, RIG_SKILL_ANYONE,
		"note for two hours how long the unit runs and rests, and both temperatures"},
	[RIG_MEASURE_SUN] = {"", 0, RIG_SKILL_ANYONE, ""},
	[RIG_MEASURE_WEATHER] = {"", 0, RIG_SKILL_ANYONE, ""},
};

const rig_measure_way *rig_measure_way_of(rig_measure_kind kind)
{
	assert(kind < RIG_N_MEASURES);
	return &WAYS[kind];
}

/* Of a triangle with its corners at these three. */
static double variance_of(const double outcome[3])
{
	const double a = outcome[0], b = outcome[1], c = outcome[2];
	return ((a - b) * (a - b) + (a - c) * (a - c) + (b - c) * (b - c)) / 36.0;
}

void rig_measure_shares(size_t n, rig_measure *inputs)
{
	double all = 0;
	for (size_t i = 0; i < n; i++)
		all += variance_of(inputs[i].outcome);
	for (size_t i = 0; i < n; i++)
		inputs[i].share_frac = all > 0 ? variance_of(inputs[i].outcome) / all : 0.0;
}

/* How much more a step of skill costs than anyone's work (common practice, no source). */
static const double SKILL_FACTOR[] = {1.0, 1.5, 3.0};

double rig_measure_effort(rig_measure_kind kind)
{
	const rig_measure_way *way = rig_measure_way_of(kind);
	return (1.0 + way->minutes / 60.0) * SKILL_FACTOR[way->skill];
}

static bool is_worth(const rig_measure *input)
{
	return rig_measure_way_of(input->kind)->minutes > 0 &&
	       (input->share_frac >= RIG_MEASURE_LEAST_FRAC ||
		       (input->decides && input->share_frac > 0));
}

/* The order is whole, so that equals do not depend on how they came in. */
static int best_first(const void *a, const void *b)
{
	const rig_measure *x = a, *y = b;
	if (is_worth(x) != is_worth(y))
		return is_worth(x) ? -1 : 1;
	if (x->decides != y->decides)
		return x->decides ? -1 : 1;
	const double of_x = x->share_frac / rig_measure_effort(x->kind);
	const double of_y = y->share_frac / rig_measure_effort(y->kind);
	if (of_x != of_y)
		return of_x > of_y ? -1 : 1;
	return x->kind != y->kind ? (int)x->kind - (int)y->kind : x->index - y->index;
}

size_t rig_measure_rank(size_t n, rig_measure *inputs, size_t most)
{
	if (n > 0)
		qsort(inputs, n, sizeof *inputs, best_first);
	size_t kept = 0;
	while (kept < n && kept < most && is_worth(&inputs[kept]))
		kept++;
	return kept;
}
