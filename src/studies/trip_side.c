/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Side questions: the same trips, fewer of them, with one thing changed. What is compared has the
 * same weather and the same draws on both sides, so that a difference is far surer than each of the
 * two shares. */
#include <math.h>

#include "studies/solar_trips.h"
#include "studies/trip_findings.h"

typedef struct {
	const fleet_setup *setup;
	trip_fleet *fleet; /* as it is */
	size_t n_trips;
	rig_trip_findings *findings;
} sides;

/* Tells how far it is; false: no further. */
static bool goes_on(const sides *it, double part)
{
	const rig_trip_options *options = &it->setup->model->options;
	if (options->progress && !options->progress(options->context, 0.6 + 0.4 * part))
		it->findings->stopped = true;
	return !it->findings->stopped;
}

static rig_status find_cuts(const sides *it)
{
	rig_trip_findings *findings = it->findings;
	const size_t n_house = trip_fleet_n_house(it->setup->model);
	rig_status status = RIG_OK;
	for (size_t i = 0; status == RIG_OK && i < findings->n_carried; i++) {
		rig_trip_load *load = &findings->loads[i];
		if ((size_t)trip_store_of(it->setup->model, load->bank) >= n_house)
			continue;
		fleet_change change = FLEET_AS_IS;
		rig_figure out;
		change.cut = load->load;
		status = trip_fleet_out(it->fleet, &change, it->n_trips, &out);
		if (status != RIG_OK)
			break;
		load->out_if_cut_frac = out.likely;
		load->out_gained_frac = findings->side_out_frac.likely - out.likely;
	}
	return status;
}

/* ---- the months ---- */

static rig_status find_month(const sides *it, int month)
{
	fleet_setup setup = *it->setup;
	trip_fleet *fleet = NULL;
	setup.stay.first_day = rig_month_first_day(month);
	setup.n_knots = TRIP_SIDE_KNOTS;
	rig_status status = trip_fleet_new(&setup, &fleet);
	if (status == RIG_OK)
		status = trip_fleet_out(
			fleet, &FLEET_AS_IS, it->n_trips, &it->findings->out_by_month_frac[month]);
	trip_fleet_free(fleet);
	return status;
}

/* ---- the generator ---- */

static rig_status read_generator(const sides *it, const rig_tally *tally)
{
	const trip_model *model = it->setup->model;
	const rig_generator *coachs = &model->coach->generator;
	rig_trip_generator *found = &it->findings->generator;
	const size_t n_days = (size_t)model->options.n_days;
	double *by_day = rig_arena_take(model->arena, n_days, sizeof *by_day);
	if (!by_day)
		return RIG_NO_MEMORY;
	const double n = (double)tally->n_trips;
	double hours = 0, given_wh = 0;
	for (size_t hour = 0; hour < tally->n_hours; hour++) {
		by_day[hour / 24] += tally->generator_h[hour] / n;
		hours += tally->generator_h[hour] / n;
		given_wh += tally->generator_wh[hour] / n;
	}
	*found = (rig_trip_generator){
		.n_trips = tally->n_trips,
		.by_hand = coachs->auto_start != RIG_YES,
		.by_volts = rig_figure_given(coachs->start_v),
		.out_frac = solar_share(tally->n_trips - tally->n_never, tally->n_trips),
		.hours_day = hours / (double)n_days,
		.given_wh_day = given_wh / (double)n_days,
		.n_days = n_days,
		.hours_by_day = by_day,
	};
	rig_figure idle_l_h, l_wh;
	if (trip_fuel(coachs, &idle_l_h, &l_wh))
		found->fuel_l_day = rig_figure_add(rig_figure_scale(idle_l_h, found->hours_day),
			rig_figure_scale(l_wh, found->given_wh_day));
	return RIG_OK;
}

static bool has_generator(const trip_model *model)
{
	const rig_coach *coach = model->coach;
	const int store = coach->charger.bank_index < 0
				  ? -1
				  : trip_store_of(model, coach->charger.bank_index);
	return coach->generator.present && coach->charger.present && store >= 0 &&
	       (size_t)store < trip_fleet_n_house(model);
}

static rig_status find_generator(const sides *it)
{
	fleet_setup setup = *it->setup;
	trip_fleet *fleet = NULL;
	rig_tally *tally = NULL;
	if (!has_generator(setup.model))
		return RIG_OK;
	setup.with_generator = true;
	rig_status status = trip_fleet_new(&setup, &fleet);
	if (status == RIG_OK)
		status = rig_tally_new(
			trip_fleet_plan(fleet), (size_t)setup.model->options.n_days * 24, &tally);
	if (status == RIG_OK)
		status = trip_fleet_run(fleet, &FLEET_AS_IS, it->n_trips, NULL, tally);
	if (status == RIG_OK)
		status = read_generator(it, tally);
	rig_tally_free(tally);
	trip_fleet_free(fleet);
	return status;
}

/* ---- more of something ---- */

/* Sets a change to so much more of what is asked for. */
typedef void (*enlarge)(const rig_trip_findings *findings, double more, fleet_change *change);

static void more_panel(const rig_trip_findings *findings, double more, fleet_change *change)
{
	(void)findings;
	change->panel_w = more;
}

static void more_bank(const rig_trip_findings *findings, double more, fleet_change *change)
{
	const rig_trip_bank *bank = &findings->banks[findings->main_bank];
	change->more_bank = findings->main_bank;
	change->more_ratio = more / bank->usable_wh.likely;
}

static rig_status is_enough(
	const sides *it, trip_fleet *fleet, enlarge how, double more, bool *enough)
{
	fleet_change change = FLEET_AS_IS;
	rig_figure out;
	how(it->findings, more, &change);
	const rig_status status = trip_fleet_out(fleet, &change, it->n_trips, &out);
	if (status == RIG_OK)
		*enough = out.likely <= it->setup->model->options.wanted_out_frac;
	return status;
}

/* By doubling from step, then by halving to a twentieth: more never hurts. */
static rig_status find_more(
	const sides *it, trip_fleet *fleet, enlarge how, double step, rig_trip_more *found)
{
	bool enough = false;
	double low = 0, high = step;
	*found = (rig_trip_more){.asked = true};
	rig_status status = is_enough(it, fleet, how, 0, &found->enough);
	if (status != RIG_OK || found->enough) {
		found->reached = found->enough;
		return status;
	}
	while ((status = is_enough(it, fleet, how, high, &enough)) == RIG_OK && !enough &&
		high < 1000 * step) {
		low = high;
		high *= 2;
	}
	found->reached = enough;
	while (status == RIG_OK && enough && high - low > 0.05 * high) {
		const double middle = (low + high) / 2;
		bool fits = false;
		status = is_enough(it, fleet, how, middle, &fits);
		*(fits ? &high : &low) = middle;
	}
	found->more = enough ? high : 0;
	return status;
}

static rig_status find_more_of_all(const sides *it)
{
	const rig_trip_findings *findings = it->findings;
	const double usable_wh = findings->banks[findings->main_bank].usable_wh.likely;
	fleet_setup setup = *it->setup;
	trip_fleet *fleet = NULL;
	setup.with_supposed = true;
	rig_status status = trip_fleet_new(&setup, &fleet);
	if (status == RIG_OK)
		status = find_more(it, fleet, more_panel, 100, &it->findings->more_panel);
	if (status == RIG_OK && usable_wh > 0)
		status = find_more(
			it, it->fleet, more_bank, 0.5 * usable_wh, &it->findings->more_bank);
	trip_fleet_free(fleet);
	return status;
}

rig_status trip_find_sides(const fleet_setup *setup, trip_fleet *fleet, rig_trip_findings *findings)
{
	const trip_model *model = setup->model;
	const size_t asked = model->options.n_side_trips, all = model->options.n_trips;
	const sides it = {setup, fleet, asked < all ? asked : all, findings};
	rig_status status =
		trip_fleet_out(fleet, &FLEET_AS_IS, it.n_trips, &findings->side_out_frac);
	if (status != RIG_OK)
		return status;
	findings->n_side_trips = it.n_trips;
	status = find_cuts(&it);
	for (int month = 0; status == RIG_OK && month < 12 && model->options.month >= 0; month++)
		if (goes_on(&it, 0.2 + 0.4 * month / 12))
			status = find_month(&it, month);
	if (status == RIG_OK && goes_on(&it, 0.6))
		status = find_generator(&it);
	if (status == RIG_OK && goes_on(&it, 0.7))
		status = find_more_of_all(&it);
	if (status == RIG_OK)
		(void)goes_on(&it, 1);
	return status;
}
