/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/trip_fleet.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "studies/bank_store.h"
#include "studies/solar_bank.h"
#include "studies/solar_harvest.h"
#include "studies/solar_trips.h"

const fleet_change FLEET_AS_IS = {.cut = -1, .more_bank = -1};

static const double RAD_PER_DEG = 3.14159265358979323846 / 180.0;
static const double ALBEDO_FRAC = 0.2;
/* The supposed panel: crystalline, flat, a tracker, usual losses (common practice, no source). */
static const double SUPPOSED_W = 100;
static const solar_output SUPPOSED = {.controller = RIG_MPPT,
	.nameplate_w = 100,
	.coefficient_per_k = -0.004,
	.noct_c = 45,
	.roof_rise_k = 10,
	.unshaded_frac = 1,
	.kept_frac = 0.86,
	.efficiency_frac = 0.95,
	.battery_v = 13.2,
	.limit_a = INFINITY};
/* On a driving day the engine runs from this hour on. */
enum { DRIVE_FROM = 10 };

/* Sources that are no array. */
enum { FROM_ALTERNATOR = -1, FROM_SUPPOSED = -2 };

/* What one worker fills for a block of trips. */
typedef struct {
	double *memory;
	double *sky, *warmth_k, *consumer, *source, *capacity, *usable, *efficiency, *inverter;
	double ratio[RIG_LANES];
} block_draws;

struct fleet_days {
	rig_climate *climate; /* NULL: real days */
	rig_outlook *outlook;
	size_t n_trips, block;  /* block: figures of one */
	double *sky, *warmth_k; /* block after block */
};

struct trip_fleet {
	fleet_setup setup;
	rig_climate *climate; /* NULL: real days */
	rig_outlook *outlook;
	rig_plan *plan;
	size_t n_house, n_days, n_consumers, n_sources;
	int *load_of;  /* of each consumer */
	int *array_of; /* of each source */
	block_draws *workers;
};

/* One run of a fleet. */
typedef struct {
	const trip_fleet *fleet;
	const fleet_change *change;
	const fleet_watch *watch; /* may be NULL */
	size_t first_worker;
} fleet_run;

size_t trip_fleet_n_house(const trip_model *model)
{
	size_t n = 0;
	while (n < model->n_stores && model->coach->banks[model->bank_of[n]].role != RIG_CHASSIS)
		n++;
	return n;
}

const rig_plan *trip_fleet_plan(const trip_fleet *fleet)
{
	return fleet->plan;
}

static size_t n_knots_of(const trip_fleet *fleet)
{
	return rig_outlook_table(fleet->outlook).n_knots;
}

/* ---- the plan ---- */

/* Parts with the memory behind them. */
typedef struct {
	rig_plan_parts parts;
	rig_store stores[RIG_MAX_STORES];
	rig_consumer *consumers;
	rig_source *sources;
	double *watts_w; /* n_sources tables */
	double *own_c;   /* temperatures of stores that state their own, by hour */
} fleet_parts;

static bool is_house(const trip_fleet *fleet, int bank, size_t *store)
{
	const int found = bank < 0 ? -1 : trip_store_of(fleet->setup.model, bank);
	*store = found < 0 ? 0 : (size_t)found;
	return found >= 0 && *store < fleet->n_house;
}

static void lay_stores(const trip_fleet *fleet, fleet_parts *made)
{
	const trip_model *model = fleet->setup.model;
	const size_t n_hours = fleet->n_days * 24;
	for (size_t s = 0; s < fleet->n_house; s++) {
		const rig_figure own = model->coach->banks[model->bank_of[s]].temp_c;
		double *temp_c = made->own_c + s * n_hours;
		for (size_t hour = 0; hour < n_hours; hour++)
			temp_c[hour] = own.likely;
		made->stores[s] =
			bank_store(model->coach, model->bank_of[s], COURSE_LIKELY, temp_c);
		made->stores[s].outdoors = !rig_figure_given(own);
	}
}

static void lay_consumers(trip_fleet *fleet, fleet_parts *made)
{
	const trip_model *model = fleet->setup.model;
	for (int load = 0; load < (int)model->coach->n_loads; load++) {
		const int store = trip_store_of_load(model, load);
		if (store < 0 || (size_t)store >= fleet->n_house)
			continue;
		fleet->load_of[fleet->n_consumers] = load;
		made->consumers[fleet->n_consumers++] = trip_consumer(model, load);
		if (trip_hold(model, load, &made->consumers[fleet->n_consumers]))
			fleet->load_of[fleet->n_consumers++] = load;
	}
}

/* An array's watts under every sky. Light is made first, in the place of the watts. */
static void lay_array(const trip_fleet *fleet, const rig_mount *mount, const solar_output *output,
	double *watts_w)
{
	const rig_outlook_hours hours = rig_outlook_table(fleet->outlook);
	rig_outlook_on_plane(fleet->outlook, mount, watts_w);
	for (size_t i = 0; i < hours.n_days * 24 * hours.n_knots; i++)
		watts_w[i] = solar_output_w(output, watts_w[i], hours.temp_c[i]);
}

static void lay_alternator(const trip_fleet *fleet, double *watts_w)
{
	const trip_model *model = fleet->setup.model;
	const rig_dc_charger *it = &model->coach->dc_charger;
	const double charge_w = it->amps_a.likely * solar_charging_v(model->coach, it->bank_index);
	const size_t n_knots = n_knots_of(fleet);
	for (size_t day = 0; day < fleet->n_days; day++) {
		const bool drives = (day + 1) % (size_t)model->options.drive_every_days == 0;
		for (size_t hour = 0; hour < 24; hour++) {
			const double share = it->drive_h.likely + DRIVE_FROM - (double)hour;
			const double run =
				hour >= DRIVE_FROM && drives ? fmin(1, fmax(0, share)) : 0;
			for (size_t knot = 0; knot < n_knots; knot++)
				watts_w[(day * 24 + hour) * n_knots + knot] = run * charge_w;
		}
	}
}

static double *next_source(trip_fleet *fleet, fleet_parts *made, int array, size_t store)
{
	const size_t size = fleet->n_days * 24 * n_knots_of(fleet);
	double *watts_w = made->watts_w + fleet->n_sources * size;
	fleet->array_of[fleet->n_sources] = array;
	made->sources[fleet->n_sources++] = (rig_source){store, watts_w};
	return watts_w;
}

static void lay_sources(trip_fleet *fleet, fleet_parts *made)
{
	const trip_model *model = fleet->setup.model;
	const rig_coach *coach = model->coach;
	size_t store;
	for (int array = 0; array < (int)coach->n_arrays; array++) {
		const rig_array *it = &coach->arrays[array];
		if (!is_house(fleet, it->bank_index, &store))
			continue;
		const rig_mount mount = {it->tilt_deg.likely * RAD_PER_DEG,
			it->heading_deg.likely * RAD_PER_DEG, ALBEDO_FRAC, false};
		const solar_output output =
			solar_output_of(coach, array, COURSE_LIKELY, COURSE_LIKELY);
		lay_array(fleet, &mount, &output, next_source(fleet, made, array, store));
	}
	if (coach->dc_charger.present && model->options.drive_every_days > 0 &&
		is_house(fleet, coach->dc_charger.bank_index, &store))
		lay_alternator(fleet, next_source(fleet, made, FROM_ALTERNATOR, store));
	if (fleet->setup.with_supposed)
		lay_array(fleet, &(rig_mount){.albedo_frac = ALBEDO_FRAC}, &SUPPOSED,
			next_source(fleet, made, FROM_SUPPOSED, 0));
}

/* ---- the generator ---- */

static double likely_or(rig_figure figure, double absent)
{
	return rig_figure_given(figure) ? figure.likely : absent;
}

/* Levels of a bank whose rated charge is less than its wells hold: what a monitor counts down from
 * full. */
static double level_frac(const rig_bank *bank, const rig_store *store, double soc_frac)
{
	return fmax(0, 1 - (1 - soc_frac) * bank->total_wh.likely / store->kinetic.capacity);
}

/* Volts are those of a battery at rest whose charge is that of the available well; of lithium,
 * whose volts hardly move, they say nothing. */
static double head_of_volts(const rig_bank *bank, rig_figure start_v)
{
	double head_frac = -1, likely_v = 0;
	if (!rig_figure_given(start_v) || !rig_figure_given(bank->nominal_v) ||
		(bank->kind && bank->kind->cell_group_v != 12))
		return -1;
	likely_v = start_v.likely * 12 / bank->nominal_v.likely;
	return rig_lead_rest_frac(likely_v, &head_frac) == RIG_OK ? head_frac : -1;
}

static bool lay_generator(const trip_fleet *fleet, const fleet_parts *made, rig_genset *set)
{
	static const double START = 0.5, STOP = 0.9, USUAL_CHARGER_FRAC = 0.85;
	const rig_coach *coach = fleet->setup.model->coach;
	const rig_generator *it = &coach->generator;
	const rig_charger *charger = &coach->charger;
	size_t store;
	if (!it->present || !charger->present || !is_house(fleet, charger->bank_index, &store))
		return false;
	const rig_bank *bank = &coach->banks[charger->bank_index];
	const double start = likely_or(it->start_soc_frac, START);
	const double head_frac = head_of_volts(bank, it->start_v);
	*set = (rig_genset){
		.present = true,
		.store = store,
		.output_w = it->watts_w.likely,
		.charge_w = charger->amps_a.likely * solar_charging_v(coach, charger->bank_index),
		.charger_frac = likely_or(charger->efficiency_frac, USUAL_CHARGER_FRAC),
		.start_frac = level_frac(bank, &made->stores[store], start),
		.stop_frac = level_frac(bank, &made->stores[store],
			fmax(start, likely_or(it->stop_soc_frac, STOP))),
		.start_head_frac = head_frac,
		.minimum_h = likely_or(it->minimum_run_minutes, 60) / 60,
	};
	for (int i = 0, hour = it->quiet_from_hour;
		it->quiet_from_hour >= 0 && it->quiet_to_hour >= 0 &&
		hour % 24 != it->quiet_to_hour % 24 && i < 24;
		i++, hour++)
		set->quiet[hour % 24] = true;
	return true;
}

bool trip_fuel(const rig_generator *generator, double hours_day, double given_wh_day,
	rig_figure *fuel_l_day)
{
	const rig_figure idle_l_h = generator->fuel_idle_l_h, full_l_h = generator->fuel_full_l_h;
	if (!rig_figure_given(idle_l_h) || !rig_figure_given(full_l_h))
		return false;
	const double full_h = fmin(hours_day, given_wh_day / generator->watts_w.likely);
	*fuel_l_day = rig_figure_add(
		rig_figure_scale(idle_l_h, hours_day - full_h), rig_figure_scale(full_l_h, full_h));
	return true;
}

/* ---- making it ---- */

static rig_status take_parts(const trip_fleet *fleet, fleet_parts *made)
{
	const rig_coach *coach = fleet->setup.model->coach;
	const size_t n_hours = fleet->n_days * 24, n_sources = coach->n_arrays + 2;
	made->consumers = calloc(2 * coach->n_loads + 1, sizeof *made->consumers);
	made->sources = calloc(n_sources, sizeof *made->sources);
	made->watts_w = calloc(n_sources * n_hours * n_knots_of(fleet), sizeof *made->watts_w);
	made->own_c = calloc(fleet->n_house * n_hours + 1, sizeof *made->own_c);
	return made->consumers && made->sources && made->watts_w && made->own_c ? RIG_OK
										: RIG_NO_MEMORY;
}

static rig_status make_plan(trip_fleet *fleet)
{
	const trip_model *model = fleet->setup.model;
	fleet_parts made = {.consumers = NULL};
	rig_status status = take_parts(fleet, &made);
	if (status != RIG_OK)
		goto out;
	lay_stores(fleet, &made);
	lay_consumers(fleet, &made);
	lay_sources(fleet, &made);
	rig_genset set = {.present = false};
	if (fleet->setup.with_generator)
		(void)lay_generator(fleet, &made, &set);
	rig_inverting inverter = bank_inverting(model->coach, COURSE_LIKELY);
	size_t store;
	inverter.present =
		inverter.present && is_house(fleet, model->coach->inverter.bank_index, &store);
	inverter.store = inverter.present ? store : 0;
	made.parts = (rig_plan_parts){
		.n_hours = fleet->n_days * 24,
		.n_knots = n_knots_of(fleet),
		.n_stores = fleet->n_house,
		.n_sources = fleet->n_sources,
		.n_consumers = fleet->n_consumers,
		.stores = made.stores,
		.sources = made.sources,
		.consumers = made.consumers,
		.inverter = inverter,
		.generator = set,
		.outdoor_c = rig_outlook_table(fleet->outlook).temp_c,
	};
	status = rig_plan_new(&made.parts, &fleet->plan);
out:
	free(made.consumers);
	free(made.sources);
	free(made.watts_w);
	free(made.own_c);
	return status;
}

static void free_worker(block_draws *worker)
{
	free(worker->memory);
	worker->memory = NULL;
}

static rig_status take_worker(const trip_fleet *fleet, block_draws *worker)
{
	const size_t n[] = {fleet->n_days, fleet->n_days, fleet->n_consumers, fleet->n_sources,
		fleet->n_house, fleet->n_house, fleet->n_house, 1};
	double **at[] = {&worker->sky, &worker->warmth_k, &worker->consumer, &worker->source,
		&worker->capacity, &worker->usable, &worker->efficiency, &worker->inverter};
	size_t all = 0;
	for (int i = 0; i < 8; i++)
		all += n[i];
	worker->memory = calloc(all * RIG_LANES, sizeof *worker->memory);
	if (!worker->memory)
		return RIG_NO_MEMORY;
	double *next = worker->memory;
	for (int i = 0; i < 8; i++) {
		*at[i] = next;
		next += n[i] * RIG_LANES;
	}
	return RIG_OK;
}

/* *climate is NULL of real days. */
static rig_status new_outlook(
	const fleet_days_setup *setup, rig_climate **climate, rig_outlook **outlook)
{
	if (setup->sky->year)
		return rig_outlook_of_year(setup->sky->year, &setup->stay, outlook);
	*climate = rig_climate_of_stay(&setup->sky->facts, &setup->stay);
	return *climate ? rig_outlook_new(*climate, &setup->stay, setup->n_knots, outlook)
			: RIG_NO_MEMORY;
}

static rig_status make_outlook(trip_fleet *fleet)
{
	const fleet_setup *setup = &fleet->setup;
	const fleet_days_setup own = {
		.sky = setup->sky, .stay = setup->stay, .n_knots = setup->n_knots};
	if (!setup->days)
		return new_outlook(&own, &fleet->climate, &fleet->outlook);
	fleet->outlook = setup->days->outlook;
	return RIG_OK;
}

rig_status fleet_days_new(const fleet_days_setup *setup, fleet_days **days)
{
	fleet_days *made = calloc(1, sizeof *made);
	if (!made)
		return RIG_NO_MEMORY;
	const size_t n_blocks = (setup->n_trips + RIG_LANES - 1) / RIG_LANES;
	rig_status status = new_outlook(setup, &made->climate, &made->outlook);
	made->n_trips = setup->n_trips;
	made->block = setup->stay.n_days * RIG_LANES;
	made->sky = calloc(n_blocks * made->block + 1, sizeof *made->sky);
	made->warmth_k = calloc(n_blocks * made->block + 1, sizeof *made->warmth_k);
	if (!made->sky || !made->warmth_k)
		status = RIG_NO_MEMORY;
	for (size_t b = 0; status == RIG_OK && b < n_blocks; b++) {
		const size_t first = b * RIG_LANES, left = setup->n_trips - first;
		const rig_lanes lanes = {
			setup->seed, first, left < RIG_LANES ? left : RIG_LANES, RIG_LANES};
		rig_outlook_draw(made->outlook, &lanes, made->sky + b * made->block,
			made->warmth_k + b * made->block);
	}
	if (status == RIG_OK) {
		*days = made;
		made = NULL;
	}
	fleet_days_free(made);
	return status;
}

void fleet_days_free(fleet_days *days)
{
	if (!days)
		return;
	rig_outlook_free(days->outlook);
	rig_climate_free(days->climate);
	free(days->sky);
	free(days->warmth_k);
	free(days);
}

/* Where a block's days are kept; NULL: they are not. */
static const double *kept_days(
	const fleet_days *days, const double *figures, uint64_t first_trip, size_t n_trips)
{
	if (!days || first_trip % RIG_LANES != 0 || first_trip + n_trips > days->n_trips)
		return NULL;
	return figures + first_trip / RIG_LANES * days->block;
}

rig_status trip_fleet_new(const fleet_setup *setup, trip_fleet **fleet)
{
	const rig_coach *coach = setup->model->coach;
	rig_status status = RIG_NO_MEMORY;
	trip_fleet *made = calloc(1, sizeof *made);
	if (!made)
		return RIG_NO_MEMORY;
	made->setup = *setup;
	made->n_house = trip_fleet_n_house(setup->model);
	made->n_days = setup->stay.n_days;
	made->load_of = calloc(2 * coach->n_loads + 1, sizeof *made->load_of);
	made->array_of = calloc(coach->n_arrays + 2, sizeof *made->array_of);
	made->workers = calloc(setup->n_workers, sizeof *made->workers);
	if (!made->load_of || !made->array_of || !made->workers)
		goto out;
	status = make_outlook(made);
	if (status == RIG_OK)
		status = make_plan(made);
	for (size_t i = 0; status == RIG_OK && i < setup->n_workers; i++)
		status = take_worker(made, &made->workers[i]);
	if (status != RIG_OK)
		goto out;
	*fleet = made;
	made = NULL;
out:
	trip_fleet_free(made);
	return status;
}

void trip_fleet_free(trip_fleet *fleet)
{
	if (!fleet)
		return;
	for (size_t i = 0; fleet->workers && i < fleet->setup.n_workers; i++)
		free_worker(&fleet->workers[i]);
	free(fleet->workers);
	free(fleet->load_of);
	free(fleet->array_of);
	rig_plan_free(fleet->plan);
	if (!fleet->setup.days) {
		rig_outlook_free(fleet->outlook);
		rig_climate_free(fleet->climate);
	}
	free(fleet);
}

/* ---- draws ---- */

static void fill(double *figures, size_t n, double value)
{
	for (size_t i = 0; i < n * RIG_LANES; i++)
		figures[i] = value;
}

static void times(double *figures, size_t i, const double ratio[RIG_LANES])
{
	for (size_t lane = 0; lane < RIG_LANES; lane++)
		figures[i * RIG_LANES + lane] *= ratio[lane];
}

static void times_loads(const trip_fleet *fleet, int load, block_draws *worker)
{
	for (size_t k = 0; k < fleet->n_consumers; k++)
		if (fleet->load_of[k] == load)
			times(worker->consumer, k, worker->ratio);
}

static void times_arrays(const trip_fleet *fleet, int array, block_draws *worker)
{
	for (size_t k = 0; k < fleet->n_sources; k++)
		if (fleet->array_of[k] == array ||
			(array < 0 && fleet->array_of[k] != FROM_ALTERNATOR))
			times(worker->source, k, worker->ratio);
}

static void apply(const trip_fleet *fleet, const rig_trip_input *input, block_draws *worker)
{
	const trip_model *model = fleet->setup.model;
	switch (input->kind) {
	case RIG_INPUT_LOAD:
		times_loads(fleet, input->index, worker);
		break;
	case RIG_INPUT_CAPACITY:
		times(worker->capacity, (size_t)trip_store_of(model, input->index), worker->ratio);
		break;
	case RIG_INPUT_USABLE:
		times(worker->usable, (size_t)trip_store_of(model, input->index), worker->ratio);
		break;
	case RIG_INPUT_EFFICIENCY:
		times(worker->efficiency, (size_t)trip_store_of(model, input->index),
			worker->ratio);
		break;
	case RIG_INPUT_PANEL:
	case RIG_INPUT_LOSSES:
		times_arrays(fleet, input->index, worker);
		break;
	case RIG_INPUT_INVERTER:
		times(worker->inverter, 0, worker->ratio);
		break;
	case RIG_INPUT_SUN:
		times_arrays(fleet, -1, worker);
		break;
	case RIG_INPUT_WEATHER:
		break;
	}
}

/* What the question changes, alike on all trips. */
static void apply_change(const trip_fleet *fleet, const fleet_change *change, block_draws *worker)
{
	for (size_t k = 0; k < fleet->n_consumers; k++)
		if (fleet->load_of[k] == change->cut)
			fill(worker->consumer + k * RIG_LANES, 1, 0);
	for (size_t k = 0; k < fleet->n_sources; k++)
		for (size_t i = 0; fleet->array_of[k] == FROM_SUPPOSED && i < RIG_LANES; i++)
			worker->source[k * RIG_LANES + i] *= change->panel_w / SUPPOSED_W;
	for (size_t i = 0; change->more_bank >= 0 && i < RIG_LANES; i++)
		worker->capacity[(size_t)change->more_bank * RIG_LANES + i] *=
			1 + change->more_ratio;
}

static void draw_block(
	void *context, size_t number, uint64_t first_trip, size_t n_trips, rig_draws *draws)
{
	const fleet_run *run = context;
	const trip_fleet *fleet = run->fleet;
	block_draws *worker = &fleet->workers[run->first_worker + number];
	const trip_inputs *inputs = fleet->setup.inputs;
	const uint64_t seed = fleet->setup.model->options.seed;
	const rig_lanes lanes = {seed, first_trip, n_trips, RIG_LANES};
	/* lanes without a trip get figures in order, too */
	const rig_lanes whole = {seed, first_trip, RIG_LANES, RIG_LANES};
	const fleet_days *days = fleet->setup.days;
	const double *sky = kept_days(days, days ? days->sky : NULL, first_trip, n_trips);
	const double *warmth_k = kept_days(days, days ? days->warmth_k : NULL, first_trip, n_trips);
	if (!sky) {
		rig_outlook_draw(fleet->outlook, &lanes, worker->sky, worker->warmth_k);
		sky = worker->sky;
		warmth_k = worker->warmth_k;
	}
	fill(worker->consumer, fleet->n_consumers, 1);
	fill(worker->source, fleet->n_sources, 1);
	fill(worker->capacity, fleet->n_house, 1);
	fill(worker->usable, fleet->n_house, 1);
	fill(worker->efficiency, fleet->n_house, 1);
	fill(worker->inverter, 1, 1);
	for (size_t k = 0; k < inputs->n; k++) {
		trip_input_draw(&inputs->list[k], &whole, worker->ratio);
		apply(fleet, &inputs->list[k], worker);
	}
	apply_change(fleet, run->change, worker);
	*draws = (rig_draws){RIG_LANES, sky, warmth_k, worker->consumer, worker->source,
		worker->capacity, worker->usable, worker->efficiency, worker->inverter};
}

void trip_fleet_draw(const trip_fleet *fleet, uint64_t first_trip, size_t n_trips, rig_draws *draws)
{
	fleet_run run = {.fleet = fleet, .change = &FLEET_AS_IS};
	draw_block(&run, 0, first_trip, n_trips, draws);
}

static void take_block(void *context, size_t number, uint64_t first_trip, size_t n_trips,
	const rig_outcomes *outcomes)
{
	const fleet_watch *watch = ((const fleet_run *)context)->watch;
	(void)number;
	for (size_t i = 0; i < n_trips && first_trip + i < watch->n_margins; i++)
		watch->margin_wh[first_trip + i] = outcomes->margin_wh[i];
}

static bool tell(void *context, size_t n_done)
{
	const fleet_watch *watch = ((const fleet_run *)context)->watch;
	return watch->progress(watch->context, n_done);
}

static rig_status run_trips(fleet_run *run, size_t n_trips, size_t n_threads, rig_tally *tally)
{
	const rig_many_trips trips = {
		.n_trips = n_trips,
		.n_threads = n_threads,
		.plain_code = run->fleet->setup.model->options.plain_code,
		.context = run,
		.draw = draw_block,
		.take = run->watch && run->watch->margin_wh ? take_block : NULL,
		.progress = run->watch && run->watch->progress ? tell : NULL,
	};
	return rig_plan_run(run->fleet->plan, &trips, tally);
}

rig_status trip_fleet_run(
	const trip_fleet *fleet, size_t n_trips, const fleet_watch *watch, rig_tally *tally)
{
	fleet_run run = {.fleet = fleet, .change = &FLEET_AS_IS, .watch = watch};
	return run_trips(&run, n_trips, fleet->setup.n_workers, tally);
}

rig_status trip_fleet_ask(const trip_fleet *fleet, const fleet_change *change,
	const fleet_asker *asker, rig_figure *out_frac)
{
	fleet_run run = {.fleet = fleet, .change = change, .first_worker = asker->worker};
	rig_tally *tally = NULL;
	rig_status status = rig_tally_new(fleet->plan, fleet->n_days * 24, &tally);
	if (status == RIG_OK)
		status = run_trips(&run, asker->n_trips, 1, tally);
	if (status == RIG_OK)
		*out_frac = solar_share(tally->n_trips - tally->n_never, tally->n_trips);
	rig_tally_free(tally);
	return status;
}
