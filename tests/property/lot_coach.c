/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lot_coach.h"

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>

#include "random_coach.h"
#include "rigbudget/place.h"
#include "rigbudget/profile.h"

enum { MAX_LOADS = 14, MAX_AC = 7 };

typedef struct {
	uint64_t state;
	FILE *out;
	int cord_a, n_ac, n_loads, n_banks;
	bool inverter, ac[MAX_LOADS];
} lot;

static int below(lot *it, int n)
{
	return random_below(&it->state, n);
}

static bool one_in(lot *it, int n)
{
	return below(it, n) == 0;
}

/* A whole number of so many steps, so that it reads as somebody would write it. */
static double between(lot *it, double low, double high, double step)
{
	return low + step * below(it, (int)((high - low) / step) + 1);
}

/* A figure with a key: exact, with its origin or with its doubt. */
static void figure(lot *it, const char *key, double value)
{
	if (one_in(it, 3))
		fprintf(it->out,
			", \"%s\": {\"low\": %.4g, \"likely\": %.4g, \"high\": %.4g, \"from\": "
			"\"estimated\"}",
			key, value * 0.85, value, value * 1.1);
	else if (one_in(it, 3))
		fprintf(it->out, ", \"%s\": {\"likely\": %.4g, \"from\": \"nameplate\"}", key,
			value);
	else
		fprintf(it->out, ", \"%s\": %.4g", key, value);
}

static void site(lot *it)
{
	rig_place place;
	rig_place_at((size_t)below(it, (int)rig_n_places()), &place);
	if (one_in(it, 2))
		fprintf(it->out, ", \"place\": {\"name\": \"%s\"}", place.name);
	else if (one_in(it, 2))
		fprintf(it->out, ", \"place\": {\"latitude_deg\": %.1f, \"longitude_deg\": %.1f}",
			between(it, -50, 65, 0.5), between(it, -170, 170, 5));
}

static void circuits(lot *it)
{
	static const char *const LEGS[] = {"L1", "L2", "L1", "L2", NULL};
	static const int BREAKER_A[] = {15, 20, 20, 30};
	fputs(", \"circuits\": [", it->out);
	for (int i = 0; i < it->n_ac; i++) {
		const char *leg = it->cord_a == 50 ? LEGS[below(it, 5)] : NULL;
		fprintf(it->out, "%s{\"id\": \"ac%d\", \"breaker_a\": %d", i > 0 ? ", " : "", i,
			BREAKER_A[below(it, 4)]);
		if (leg != NULL)
			fprintf(it->out, ", \"leg\": \"%s\"", leg);
		if (one_in(it, 3))
			fprintf(it->out, ", \"awg\": \"%d\"", 10 + 2 * below(it, 3));
		if (it->inverter && !one_in(it, 3))
			fputs(", \"inverter\": true", it->out);
		fputc('}', it->out);
	}
	for (int i = 0; i < it->n_banks; i++)
		fprintf(it->out,
			"%s{\"id\": \"dc%d\", \"supply\": \"dc\", \"bank\": \"bank%d\", "
			"\"breaker_a\": %d}",
			it->n_ac + i > 0 ? ", " : "", i, i, 30 + 10 * below(it, 8));
	fputc(']', it->out);
}

/* Half of the loads are used when somebody says so. */
static void use(lot *it)
{
	const int from = below(it, 24), hours = 1 + below(it, 8);
	if (one_in(it, 4)) {
		fputs(", \"always_on\": true", it->out);
		return;
	}
	if (one_in(it, 3))
		fprintf(it->out, ", \"from_hour\": %d, \"to_hour\": %d, \"daily_use_h\": %.4g",
			from, (from + hours - 1) % 24 + 1, hours * between(it, 0.25, 1, 0.25));
	else if (one_in(it, 2))
		fprintf(it->out, ", \"daily_use_h\": %.4g", between(it, 0.5, 12, 0.5));
}

static const rig_appliance *appliance(lot *it, rig_supply_kind supply)
{
	const rig_appliance *found = NULL;
	while (found == NULL || found->supply != supply || found->volts_v > 120)
		found = rig_appliance_at((size_t)below(it, (int)rig_n_appliances()));
	return found;
}

static void own_draw(lot *it, bool ac)
{
	fprintf(it->out, ", \"supply\": \"%s\"", ac ? "ac" : "dc");
	figure(it, "running_w", ac ? between(it, 20, 1500, 20) : between(it, 1, 90, 0.5));
	if (ac && one_in(it, 2))
		fprintf(it->out, ", \"power_factor\": %.2f", between(it, 0.6, 1, 0.05));
	if (ac && one_in(it, 3))
		fputs(", \"continuous\": true", it->out);
	use(it);
}

static void load(lot *it, int i)
{
	const bool ac = it->n_banks == 0 || one_in(it, 2);
	it->ac[i] = ac;
	fprintf(it->out, "%s{\"id\": \"load%d\"", i > 0 ? ", " : "", i);
	if (one_in(it, 2))
		fprintf(it->out, ", \"profile\": \"%s\"", appliance(it, ac ? RIG_AC : RIG_DC)->id);
	else
		own_draw(it, ac);
	if (ac && it->n_ac > 0 && !one_in(it, 6))
		fprintf(it->out, ", \"circuit\": \"ac%d\"", below(it, it->n_ac));
	if (!ac)
		fprintf(it->out, ", \"circuit\": \"dc%d\"", below(it, it->n_banks));
	if (one_in(it, 5))
		fprintf(it->out, ", \"count\": %d", 2 + below(it, 3));
	if (one_in(it, 2))
		fprintf(it->out, ", \"priority\": %d", 1 + below(it, 9));
	fputc('}', it->out);
}

static void loads(lot *it)
{
	fputs(", \"loads\": [", it->out);
	for (int i = 0; i < it->n_loads; i++)
		load(it, i);
	fputc(']', it->out);
}

static void banks(lot *it)
{
	static const char *const KINDS[] = {"flooded", "agm", "lithium_iron_phosphate"};
	fputs(", \"banks\": [", it->out);
	for (int i = 0; i < it->n_banks; i++) {
		const bool chassis = i > 0 && one_in(it, 2);
		fprintf(it->out, "%s{\"id\": \"bank%d\", \"role\": \"%s\", \"chemistry\": \"%s\"",
			i > 0 ? ", " : "", i, chassis ? "chassis" : "house",
			chassis ? "starting" : KINDS[below(it, 3)]);
		fprintf(it->out, ", \"nominal_v\": %d", one_in(it, 5) ? 24 : 12);
		figure(it, "capacity_ah", between(it, 50, 600, 10));
		if (one_in(it, 4))
			fprintf(it->out, ", \"reconnect_soc_frac\": %.2f",
				between(it, 0.2, 0.6, 0.05));
		if (one_in(it, 3))
			fprintf(it->out, ", \"temp_c\": %.0f", between(it, -5, 30, 1));
		if (one_in(it, 3))
			fprintf(it->out, ", \"charge_limit_a\": %.0f", between(it, 10, 100, 5));
		fputc('}', it->out);
	}
	fputc(']', it->out);
}

static void arrays(lot *it)
{
	static const char *const KINDS[] = {"mppt", "pwm", "direct"};
	const int n = it->n_banks > 0 ? below(it, 3) : 0;
	fputs(", \"solar\": [", it->out);
	for (int i = 0; i < n; i++) {
		fprintf(it->out, "%s{\"id\": \"array%d\", \"bank\": \"bank%d\", \"count\": %d",
			i > 0 ? ", " : "", i, below(it, it->n_banks), 1 + below(it, 4));
		figure(it, "watts_w", between(it, 20, 400, 5));
		fprintf(it->out, ", \"controller\": \"%s\"", KINDS[below(it, 3)]);
		if (one_in(it, 3))
			fprintf(it->out, ", \"controller_limit_a\": %.0f", between(it, 10, 60, 5));
		if (one_in(it, 3))
			fprintf(it->out, ", \"tilt_deg\": %.0f, \"heading_deg\": %.0f",
				between(it, 5, 60, 5), between(it, 0, 350, 10));
		if (one_in(it, 3))
			fprintf(it->out, ", \"shade_frac\": %.2f", between(it, 0, 0.4, 0.05));
		fputc('}', it->out);
	}
	fputc(']', it->out);
}

static void sources(lot *it)
{
	if (it->inverter) {
		fputs(", \"inverter\": {\"bank\": \"bank0\"", it->out);
		figure(it, "watts_w", between(it, 600, 3000, 100));
		fprintf(it->out, ", \"always_on\": %s}", one_in(it, 2) ? "true" : "false");
	}
	if (it->n_banks > 0 && !one_in(it, 4)) {
		fprintf(it->out, ", \"charger\": {\"bank\": \"bank0\", \"amps_a\": %.0f",
			between(it, 20, 100, 5));
		if (it->n_ac > 0 && one_in(it, 2))
			fprintf(it->out, ", \"circuit\": \"ac%d\"", below(it, it->n_ac));
		fputc('}', it->out);
	}
	if (one_in(it, 2))
		fprintf(it->out,
			", \"generator\": {\"watts_w\": %.0f, \"auto_start\": %s, "
			"\"quiet_from_hour\": 22, \"quiet_to_hour\": 7}",
			between(it, 2000, 8000, 200), one_in(it, 2) ? "true" : "false");
}

/* The ids of the first load and of some others, or of some AC loads or none. */
static void some_loads(lot *it, bool only_ac)
{
	bool first = true;
	for (int i = 0; i < it->n_loads; i++) {
		if ((only_ac && !it->ac[i]) || ((only_ac || i > 0) && one_in(it, 3)))
			continue;
		fprintf(it->out, "%s\"load%d\"", first ? "" : ", ", i);
		first = false;
	}
}

static void manager(lot *it)
{
	if (one_in(it, 4))
		return;
	fprintf(it->out, ", \"energy_management\": {\"sensing_delay_s\": %.0f",
		between(it, 1, 10, 1));
	if (one_in(it, 3))
		fprintf(it->out, ", \"limit_a\": %.0f", between(it, 12, 30, 2));
	fputs(", \"order\": [", it->out);
	some_loads(it, true);
	fputs("]}", it->out);
}

static void habits(lot *it)
{
	fputs(", \"together\": [{\"name\": \"Evening\", \"loads\": [", it->out);
	some_loads(it, false);
	fprintf(it->out,
		"]}], \"habits\": [{\"name\": \"Weekend\", \"only\": %s, \"use\": [{\"load\": "
		"\"load%d\", \"daily_use_h\": %.4g}]}]",
		one_in(it, 2) ? "true" : "false", below(it, it->n_loads),
		between(it, 0.5, 10, 0.5));
}

static void claims(lot *it)
{
	static const char *const SAYS[] = {"\"supply\": \"30A\"", "\"supply\": \"50A\"",
		"\"storage\": true", "\"usable_wh\": 1200", "\"capacity_ah\": 200",
		"\"panel_w\": 400", "\"supply\": \"inverter\""};
	enum { N_SAYS = sizeof SAYS / sizeof SAYS[0] };
	fprintf(it->out, ", \"claims\": [{\"text\": \"One\", %s}, {\"text\": \"Two\", %s}]",
		SAYS[below(it, N_SAYS)], SAYS[below(it, N_SAYS)]);
}

static void wires(lot *it)
{
	fputs(", \"wires\": [", it->out);
	for (int i = 0; i < it->n_banks; i++)
		fprintf(it->out,
			"%s{\"id\": \"wire%d\", \"circuit\": \"dc%d\", \"awg\": \"%d\", "
			"\"length_m\": %.1f}",
			i > 0 ? ", " : "", i, i, 4 + 2 * below(it, 6), between(it, 0.5, 9, 0.5));
	fputc(']', it->out);
}

char *lot_coach_text(uint64_t seed)
{
	static const int CORD_A[] = {50, 50, 50, 30, 30, 20, 15};
	lot it = {.state = seed};
	char *text = NULL;
	size_t length = 0;
	it.out = open_memstream(&text, &length);
	if (it.out == NULL)
		abort();
	it.cord_a = CORD_A[below(&it, 7)];
	it.n_banks = below(&it, 3);
	it.n_ac = below(&it, MAX_AC + 1);
	it.n_loads = 2 + below(&it, MAX_LOADS - 1);
	it.inverter = it.n_banks > 0 && !one_in(&it, 3);
	fprintf(it.out, "{\"format\": \"rigbudget/1\", \"name\": \"Lot %llu\"",
		(unsigned long long)seed);
	fprintf(it.out, ", \"shore\": {\"cord_a\": %d}", it.cord_a);
	site(&it);
	circuits(&it);
	loads(&it);
	banks(&it);
	arrays(&it);
	sources(&it);
	manager(&it);
	habits(&it);
	claims(&it);
	wires(&it);
	fputc('}', it.out);
	fclose(it.out);
	return text;
}
