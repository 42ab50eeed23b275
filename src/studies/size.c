/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/size.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "studies/size_case.h"

enum { LEAST_TRIPS = 100, MOST_TRIPS = 1000000, MOST_NEW = 100, JULY = 6 };

typedef struct {
	rig_size_findings findings;
	rig_arena *arena;
} size_owned;

rig_size_options rig_size_defaults(void)
{
	return (rig_size_options){.months = {[JULY] = true},
		.n_days = 14,
		.habit = -1,
		.wanted_frac = 0.95,
		.n_trips = 2000,
		.seed = 1,
		.n_threads = 1,
		.most_panels = 12,
		.most_batteries = 12,
		.array_run_m = 6,
		.controller_run_m = 2,
		.inverter_run_m = 1.5};
}

/* ---- options ---- */

static bool floor_is_right(const rig_floor *floor)
{
	bool right = floor->length_m >= 0 && floor->width_m >= 0 && floor->length_m <= 30 &&
		     floor->width_m <= 30 && floor->edge_m >= 0 && floor->gap_m >= 0 &&
		     floor->n_obstacles <= RIG_FLOOR_OBSTACLES &&
		     (floor->length_m > 0) == (floor->width_m > 0);
	for (size_t i = 0; right && i < floor->n_obstacles; i++) {
		const rig_rectangle *it = &floor->obstacles[i];
		right = fabs(it->x_m) <= 30 && fabs(it->y_m) <= 30 && it->length_m > 0 &&
			it->width_m > 0 && it->length_m <= 30 && it->width_m <= 30;
	}
	return right;
}

static bool options_are_right(const rig_coach *coach, const rig_size_options *options)
{
	bool any_month = false;
	for (int month = 0; month < 12; month++)
		any_month = any_month || options->months[month];
	for (size_t i = 0; i < options->n_loads && i < RIG_SIZE_MOST_LOADS; i++)
		if (options->loads[i] < 0 || options->loads[i] >= (int)coach->n_loads)
			return false;
	return any_month && options->n_days >= 1 && options->n_days <= 365 &&
	       options->habit >= -1 && options->habit < (int)coach->n_habits &&
	       options->wanted_frac > 0 && options->wanted_frac < 1 &&
	       options->n_trips >= LEAST_TRIPS && options->n_trips <= MOST_TRIPS &&
	       options->n_threads >= 1 && options->n_threads <= RIG_MAX_THREADS &&
	       options->n_loads <= RIG_SIZE_MOST_LOADS && options->most_panels >= 0 &&
	       options->most_panels <= MOST_NEW && options->most_batteries >= 0 &&
	       options->most_batteries <= MOST_NEW && options->price_max >= 0 &&
	       options->weight_max_kg >= 0 && options->area_max_m2 >= 0 &&
	       options->battery_room_height_m >= 0 && options->array_run_m > 0 &&
	       options->controller_run_m > 0 && options->inverter_run_m > 0 &&
	       floor_is_right(&options->roof) && floor_is_right(&options->battery_room) &&
	       coach->n_banks + 1 <= RIG_MAX_STORES;
}

/* ---- the case ---- */

/* The house bank with most in it. */
static int house_bank(const rig_coach *coach)
{
	int found = -1;
	for (int i = 0; i < (int)coach->n_banks; i++)
		if (coach->banks[i].role != RIG_CHASSIS &&
			(found < 0 || coach->banks[i].usable_wh.likely >
					      coach->banks[found].usable_wh.likely))
			found = i;
	return found;
}

static rig_status open_case(const rig_file *file, size_case *it)
{
	it->file = file;
	it->stated = rig_file_coach(file);
	it->coach = rig_file_completed(file);
	it->bank = house_bank(it->coach);
	it->bank_v = it->bank >= 0 ? it->coach->banks[it->bank].nominal_v.likely : 12.8;
	it->groups_of_12 = (int)fmax(1, round(it->bank_v / 12.4));
	it->wanted = rig_arena_take(it->arena, it->coach->n_loads, sizeof *it->wanted);
	/* more than this share of the trips may not run out */
	it->allowed =
		(size_t)floor((double)it->options.n_trips * (1 - it->options.wanted_frac) + 1e-9);
	if (it->wanted == NULL)
		return RIG_NO_MEMORY;
	it->sky = (trip_sky){.from = RIG_DAYS_OF_PLACE};
	rig_climate_facts_of_place(it->place, &it->sky.facts);
	return RIG_OK;
}

/* Months in the order of the sun at the place: the darkest first. */
static void order_months(size_case *it)
{
	for (int month = 0; month < 12; month++) {
		size_t k = it->n_months;
		if (!it->options.months[month])
			continue;
		for (; k > 0 && it->place->ghi_kwh_m2_day[it->month_order[k - 1]] >
					it->place->ghi_kwh_m2_day[month];
			k--)
			it->month_order[k] = it->month_order[k - 1];
		it->month_order[k] = month;
		it->n_months++;
	}
}

/* Each month's days, drawn once for all options; a long run draws them as it goes. */
static rig_status draw_days(size_case *it)
{
	enum { MOST_DAYS = 4000000 };
	if (it->options.n_trips * (size_t)it->options.n_days > MOST_DAYS)
		return RIG_OK;
	for (size_t k = 0; k < it->n_months; k++) {
		const int month = it->month_order[k];
		const fleet_days_setup setup = {.sky = &it->sky,
			.stay = {rig_month_first_day(month), (size_t)it->options.n_days},
			.n_knots = TRIP_KNOTS,
			.seed = it->options.seed,
			.n_trips = it->options.n_trips};
		const rig_status status = fleet_days_new(&setup, &it->days[month]);
		if (status != RIG_OK)
			return status;
	}
	return RIG_OK;
}

static void close_case(size_case *it)
{
	for (int month = 0; month < 12; month++)
		fleet_days_free(it->days[month]);
	free(it->candidates);
}

/* The present system, on the same trips. */
static rig_status tell_present(size_case *it)
{
	for (size_t k = 0; it->bank >= 0 && k < it->n_months; k++) {
		const int month = it->month_order[k];
		size_month found;
		const rig_status status =
			size_run_month(it, it->coach, month, it->options.n_trips, &found);
		if (status != RIG_OK)
			return status;
		it->findings->present[month] = size_month_of(&found, it->options.n_days);
	}
	return RIG_OK;
}

static rig_status find(size_case *it)
{
	rig_size_findings *findings = it->findings;
	size_found *found = NULL;
	size_t n_found = 0;
	rig_status status = RIG_OK;
	order_months(it);
	if ((status = size_ask(it)) || (status = draw_days(it)) || (status = tell_present(it)) ||
		(status = size_list_parts(it)) || (status = size_list_candidates(it)) ||
		(status = size_search(it, &found, &n_found)))
		return status;
	findings->options_found =
		rig_arena_take(it->arena, n_found, sizeof *findings->options_found);
	if (findings->options_found == NULL)
		return RIG_NO_MEMORY;
	for (size_t i = 0; status == RIG_OK && i < n_found; i++)
		status = size_tell(it, &found[i], &findings->options_found[i]);
	findings->n_options = n_found;
	if (n_found == 0 && it->n_candidates > 0 && !findings->stopped)
		findings->notes |= RIG_SIZE_NO_CHANCE;
	if (it->parts->invented == RIG_YES)
		findings->notes |= RIG_SIZE_INVENTED;
	if (it->options.progress != NULL && !findings->stopped)
		(void)it->options.progress(it->options.context, 1);
	return status;
}

rig_status rig_size_study(const rig_file *file, const rig_parts *parts, const rig_place *place,
	const rig_size_options *options, rig_size_findings **findings)
{
	const rig_size_options chosen = options != NULL ? *options : rig_size_defaults();
	if (!options_are_right(rig_file_completed(file), &chosen))
		return RIG_BAD_INPUT;
	rig_status status = RIG_NO_MEMORY;
	size_owned *made = calloc(1, sizeof *made);
	if (made == NULL || (made->arena = rig_arena_new()) == NULL)
		goto out;
	made->findings = (rig_size_findings){.coach = rig_file_completed(file),
		.parts = parts,
		.place = *place,
		.options = chosen};
	size_case it = {.parts = parts,
		.place = place,
		.options = chosen,
		.findings = &made->findings,
		.arena = made->arena};
	status = open_case(file, &it);
	if (status == RIG_OK)
		status = find(&it);
	made->findings.bank = it.bank;
	close_case(&it);
	if (status == RIG_OK) {
		*findings = &made->findings;
		made = NULL;
	}
out:
	if (made != NULL)
		rig_size_free(&made->findings);
	return status;
}

void rig_size_free(rig_size_findings *findings)
{
	if (findings == NULL)
		return;
	/* findings is the first member */
	size_owned *owned = (size_owned *)findings;
	if (owned->arena != NULL)
		rig_arena_free(owned->arena);
	free(owned);
}

/* ---- the coach of an option ---- */

rig_status rig_size_text(
	const rig_file *file, const rig_size_findings *findings, size_t option, char **text)
{
	const rig_coach *coach = rig_file_completed(file);
	size_array array;
	size_bank bank;
	size_inverter inverter;
	size_case it = {.file = file,
		.stated = rig_file_coach(file),
		.coach = coach,
		.parts = findings->parts,
		.options = findings->options,
		.bank = findings->bank};
	bool *wanted = calloc(coach->n_loads + 1, sizeof *wanted);
	if (wanted == NULL)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < findings->n_wanted; i++)
		wanted[findings->wanted[i]] = true;
	it.wanted = wanted;
	size_make_of(&it, &findings->options_found[option], &array, &bank, &inverter);
	const size_make make = {&array, &bank, &inverter};
	char *made = size_make_text(&it, &make);
	free(wanted);
	if (made == NULL)
		return RIG_NO_MEMORY;
	*text = made;
	return RIG_OK;
}

rig_status rig_size_coach(
	const rig_file *file, const rig_size_findings *findings, size_t option, rig_file **coach)
{
	char *text = NULL;
	rig_diags *diags = NULL;
	rig_status status = rig_size_text(file, findings, option, &text);
	if (status != RIG_OK)
		return status;
	diags = rig_diags_new();
	status = diags != NULL ? rig_file_parse(text, strlen(text), diags, coach) : RIG_NO_MEMORY;
	rig_diags_free(diags);
	free(text);
	return status;
}
