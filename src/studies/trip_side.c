/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Side questions: the same trips, fewer of them, with one thing changed. What is compared has the
 * same weather and the same draws on both sides, so that a difference is far surer than each of the
 * two shares. */
#include <math.h>

#include "base/crew.h"
#include "studies/solar_trips.h"
#include "studies/trip_findings.h"

enum { MONTHS = 12 };

/* The stay with another habit. */
typedef struct {
	trip_model model;
	trip_inputs inputs;
} habit_case;

typedef struct {
	const fleet_setup *setup;
	const trip_fleet *fleet; /* as it is, with a worker for each of the crew */
	size_t n_trips;
	rig_trip_findings *findings;
	habit_case *habits;   /* as many as the findings have */
	double *hours_by_day; /* of the generator */
	rig_status *status;   /* of each job */
} sides;

/* A fleet for one job alone. */
static rig_status fleet_for(const fleet_setup *like, trip_fleet **fleet)
{
	fleet_setup setup = *like;
	setup.n_workers = 1;
	return trip_fleet_new(&setup, fleet);
}

static rig_status ask_alone(const sides *it, const fleet_setup *setup, rig_figure *out_frac)
{
	trip_fleet *fleet = NULL;
	rig_status status = fleet_for(setup, &fleet);
	if (status == RIG_OK)
		status = trip_fleet_ask(
			fleet, &FLEET_AS_IS, &(fleet_asker){0, it->n_trips}, out_frac);
	trip_fleet_free(fleet);
	return status;
}

/* ---- one load off, one month, one habit ---- */

static rig_status find_cut(const sides *it, size_t worker, rig_trip_load *load)
{
	const trip_model *model = it->setup->model;
	if ((size_t)trip_store_of(model, load->bank) >= trip_fleet_n_house(model))
		return RIG_OK;
	fleet_change change = FLEET_AS_IS;
	rig_figure out;
	change.cut = load->load;
	const rig_status status =
		trip_fleet_ask(it->fleet, &change, &(fleet_asker){worker, it->n_trips}, &out);
	if (status != RIG_OK)
		return status;
	load->out_if_cut_frac = out.likely;
	load->out_gained_frac = it->findings->side_out_frac.likely - out.likely;
	return RIG_OK;
}

static rig_status find_month(const sides *it, int month)
{
	if (it->setup->model->options.month < 0)
		return RIG_OK;
	fleet_setup setup = *it->setup;
	setup.stay.first_day = rig_month_first_day(month);
	setup.n_knots = TRIP_SIDE_KNOTS;
	return ask_alone(it, &setup, &it->findings->out_by_month_frac[month]);
}

static rig_status find_habit(const sides *it, size_t number)
{
	const habit_case *as = &it->habits[number];
	fleet_setup setup = *it->setup;
	setup.model = &as->model;
	setup.inputs = &as->inputs;
	return ask_alone(it, &setup, &it->findings->habits[number].out_frac);
}

/* ---- the generator ---- */

static void read_generator(const sides *it, const rig_tally *tally)
{
	const trip_model *model = it->setup->model;
	const rig_generator *coachs = &model->coach->generator;
	rig_trip_generator *found = &it->findings->generator;
	const size_t n_days = (size_t)model->options.n_days;
	double *by_day = it->hours_by_day;
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
	(void)trip_fuel(coachs, found->hours_day, found->given_wh_day, &found->fuel_l_day);
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
	rig_status status = fleet_for(&setup, &fleet);
	if (status == RIG_OK)
		status = rig_tally_new(
			trip_fleet_plan(fleet), (size_t)setup.model->options.n_days * 24, &tally);
	if (status == RIG_OK)
		status = trip_fleet_run(fleet, it->n_trips, NULL, tally);
	if (status == RIG_OK)
		read_generator(it, tally);
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

/* What is made larger, of which fleet, asked by whom. */
typedef struct {
	enlarge how;
	const trip_fleet *fleet;
	fleet_asker asker;
	double step;
} enlarging;

/* Asks with so much more. What lies outside the sampling error bounds the answer. */
static rig_status try_more(
	const sides *it, const enlarging *what, double more, rig_trip_more *found, bool *enough)
{
	const double wanted = it->setup->model->options.wanted_out_frac;
	fleet_change change = FLEET_AS_IS;
	rig_figure out;
	what->how(it->findings, more, &change);
	const rig_status status = trip_fleet_ask(what->fleet, &change, &what->asker, &out);
	if (status != RIG_OK)
		return status;
	*enough = out.likely <= wanted;
	if (out.low > wanted)
		found->more_low = fmax(found->more_low, more);
	if (out.high <= wanted && !(found->more_high > 0 && found->more_high < more))
		found->more_high = more;
	return RIG_OK;
}

/* By doubling from step, then by halving to a twentieth: more never hurts. Twice more doubled for
 * the upper end. */
static rig_status find_more(const sides *it, const enlarging *what, rig_trip_more *found)
{
	bool enough = false;
	double low = 0, high = what->step;
	rig_status status = RIG_OK;
	*found = (rig_trip_more){.asked = true,
		.enough = it->findings->side_out_frac.likely <=
			  it->setup->model->options.wanted_out_frac};
	if (found->enough) {
		found->reached = true;
		return RIG_OK;
	}
	while ((status = try_more(it, what, high, found, &enough)) == RIG_OK && !enough &&
		high < 1000 * what->step) {
		low = high;
		high *= 2;
	}
	found->reached = enough;
	for (int i = 1; i <= 2 && status == RIG_OK && enough && found->more_high == 0; i++) {
		bool fits = false;
		status = try_more(it, what, high * (1 << i), found, &fits);
	}
	while (status == RIG_OK && enough && high - low > 0.05 * high) {
		const double middle = (low + high) / 2;
		bool fits = false;
		status = try_more(it, what, middle, found, &fits);
		*(fits ? &high : &low) = middle;
	}
	found->more = enough ? high : 0;
	return status;
}

static rig_status find_more_panel(const sides *it)
{
	fleet_setup setup = *it->setup;
	trip_fleet *fleet = NULL;
	setup.with_supposed = true;
	rig_status status = fleet_for(&setup, &fleet);
	const enlarging what = {more_panel, fleet, {0, it->n_trips}, 100};
	if (status == RIG_OK)
		status = find_more(it, &what, &it->findings->more_panel);
	trip_fleet_free(fleet);
	return status;
}

static rig_status find_more_bank(const sides *it, size_t worker)
{
	const rig_trip_findings *findings = it->findings;
	const double usable_wh = findings->banks[findings->main_bank].usable_wh.likely;
	const enlarging what = {more_bank, it->fleet, {worker, it->n_trips}, 0.5 * usable_wh};
	return usable_wh > 0 ? find_more(it, &what, &it->findings->more_bank) : RIG_OK;
}

/* ---- all of them ---- */

/* The longest first. */
static rig_status do_job(const sides *it, size_t worker, size_t job)
{
	enum { PANEL, BANK, GENERATOR, N_SINGLE };
	rig_trip_findings *findings = it->findings;
	if (job == PANEL)
		return find_more_panel(it);
	if (job == BANK)
		return find_more_bank(it, worker);
	if (job == GENERATOR)
		return find_generator(it);
	job -= N_SINGLE;
	if (job < MONTHS)
		return find_month(it, (int)job);
	job -= MONTHS;
	if (job < findings->n_habits)
		return find_habit(it, job);
	return find_cut(it, worker, &findings->loads[job - findings->n_habits]);
}

static size_t n_jobs(const rig_trip_findings *findings)
{
	return 3 + MONTHS + findings->n_habits + findings->n_carried;
}

static bool run_job(void *context, size_t worker, size_t job)
{
	const sides *it = context;
	it->status[job] = do_job(it, worker, job);
	return it->status[job] == RIG_OK;
}

static bool tell(void *context, size_t n_done)
{
	const sides *it = context;
	const rig_trip_options *options = &it->setup->model->options;
	const double part = (double)n_done / (double)n_jobs(it->findings);
	if (!options->progress(options->context, 0.6 + 0.4 * part))
		it->findings->stopped = true;
	return !it->findings->stopped;
}

/* What takes memory that outlives the jobs. */
static rig_status prepare(sides *it)
{
	const trip_model *model = it->setup->model;
	const rig_trip_findings *findings = it->findings;
	const size_t n = findings->n_habits, n_days = (size_t)model->options.n_days;
	rig_status status = RIG_OK;
	it->status = rig_arena_take(model->arena, n_jobs(findings), sizeof *it->status);
	it->habits = rig_arena_take(model->arena, n + 1, sizeof *it->habits);
	it->hours_by_day = rig_arena_take(model->arena, n_days, sizeof *it->hours_by_day);
	if (!it->status || !it->habits || !it->hours_by_day)
		return RIG_NO_MEMORY;
	for (size_t i = 0; status == RIG_OK && i < n; i++) {
		habit_case *as = &it->habits[i];
		as->model = *model;
		as->model.options.habit = findings->habits[i].habit;
		status = trip_inputs_find(&as->model, trip_fleet_n_house(model), &as->inputs);
	}
	return status;
}

rig_status trip_find_sides(
	const fleet_setup *setup, const trip_fleet *fleet, rig_trip_findings *findings)
{
	const rig_trip_options *options = &setup->model->options;
	const size_t asked = options->n_side_trips, all = options->n_trips;
	sides it = {.setup = setup,
		.fleet = fleet,
		.n_trips = asked < all ? asked : all,
		.findings = findings};
	rig_status status = prepare(&it);
	if (status == RIG_OK)
		status = trip_fleet_ask(fleet, &FLEET_AS_IS, &(fleet_asker){0, it.n_trips},
			&findings->side_out_frac);
	if (status != RIG_OK)
		return status;
	findings->n_side_trips = it.n_trips;
	const crew_jobs jobs = {.n_workers = options->n_threads,
		.n_jobs = n_jobs(findings),
		.context = &it,
		.job = run_job,
		.progress = options->progress ? tell : NULL};
	if (!crew_do(&jobs) && !findings->stopped)
		status = RIG_NO_MEMORY;
	for (size_t i = 0; i < jobs.n_jobs && status == RIG_OK; i++)
		status = it.status[i];
	return status;
}
