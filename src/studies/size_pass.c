/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The one pass. Of each trip of a month what its loads want, what the present panels bring and what
 * a watt of new panels brings are laid out once, hour by hour. Then for each array and inverter the
 * shortfall from full runs through the hours:
 *   D = max(0, D + wanted - offered), a surplus counting by the efficiency of charging and by what
 * the bank accepts of D, and not at all in an hour too cold to charge. The largest D over what cold
 * leaves within reach that day is what the trip needs of a bank. Left out are wells, the limit of
 * charge and self-discharge, all of which only ask for more: what fails here, fails.
 * Figures are single, so that twice as many fit; a thousandth is left for that. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "studies/bank_store.h"
#include "studies/size_case.h"

/* Trip-hours for which laying out is worth its memory. */
enum { MOST_TRIP_HOURS = 4000000, PRESENT_KIND = 32, N_KINDS };
static const float SLACK = 1.001F;

/* Per trip: how well its bank charges, and what of a bank's label it may use. */
typedef struct {
	float *efficiency, *ratio;
	double usable_per_wh; /* likely */
	float taper;          /* most of what is missing that an hour brings; 1: all */
	bool outdoors;        /* as cold as the air */
	float floor_c;        /* takes no charge below; where it is outdoors */
	double lost_per_k_frac;
} keeping;

/* One group of arrays: watt-hours a trip-hour for each watt times efficiency. */
typedef struct {
	int group;
	float *per_w;
} offer;

/* The largest shortfall of each trip, block after block as asked for. */
typedef struct {
	size_t n_done; /* trips */
	float *worst_wh;
} row;

typedef struct {
	bool laid;
	float *base; /* offered by the panels that stay */
	float *air_c;
	float *per_reach[N_KINDS]; /* [block][day][lane]: 1 over what cold leaves of usable */
	float **wanted;            /* [inverter] */
	size_t n_offers;
	offer *offers;
	row *rows; /* [(twin * n_inverters + inverter) * N_KINDS + kind] */
} sheet;

struct size_pass {
	const size_case *it;
	rig_arena *arena; /* dies with the pass */
	bool used;
	size_t n_hours, n_blocks, block; /* block: figures of one */
	keeping keeps[N_KINDS];
	sheet sheets[12];
};

/* ---- laying out ---- */

static float *take_table(size_pass *pass)
{
	return rig_arena_take(pass->arena, pass->n_blocks * pass->block, sizeof(float));
}

/* What all trips of a month want and are offered, by the engine. */
static rig_status net_of(size_pass *pass, const size_make *make, int month, const rig_net *whole)
{
	const size_case *it = pass->it;
	rig_file *file = NULL;
	size_fleet made = {.fleet = NULL};
	rig_tally *tally = NULL;
	rig_status status = size_make_coach(it, make, &file);
	if (status == RIG_OK)
		status = size_fleet_open(it, rig_file_completed(file), month, &made);
	if (status == RIG_OK)
		status = rig_tally_new(trip_fleet_plan(made.fleet), pass->n_hours, &tally);
	for (size_t b = 0; status == RIG_OK && b < pass->n_blocks; b++) {
		rig_draws draws;
		const size_t first = b * RIG_LANES, left = it->options.n_trips - first;
		const rig_net net = {0, whole->wanted_wh + b * pass->block,
			whole->offered_wh + b * pass->block,
			whole->air_c ? whole->air_c + b * pass->block : NULL};
		const size_t n = left < RIG_LANES ? left : RIG_LANES;
		trip_fleet_draw(made.fleet, first, n, &draws);
		rig_plan_net(trip_fleet_plan(made.fleet), &draws, n, tally, &net);
	}
	rig_tally_free(tally);
	size_fleet_close(&made);
	rig_file_free(file);
	return status;
}

/* The first array of the list has no new panels; its house has what stays. */
static rig_status lay_wanted(size_pass *pass, sheet *on, int month, uint32_t inverter)
{
	const size_case *it = pass->it;
	const size_make make = {
		&it->arrays[0], &it->banks[it->n_banks - 1], &it->inverters[inverter]};
	on->wanted[inverter] = take_table(pass);
	if (on->base == NULL)
		on->base = take_table(pass);
	if (on->air_c == NULL)
		on->air_c = take_table(pass);
	const rig_net net = {0, on->wanted[inverter], on->base, on->air_c};
	return on->wanted[inverter] != NULL && on->base != NULL && on->air_c != NULL
		       ? net_of(pass, &make, month, &net)
		       : RIG_NO_MEMORY;
}

/* What an array's harvest goes with; efficiency 0: all of its group have the same. */
static double strength_of(const size_array *array)
{
	return array->watts_w * (array->efficiency_frac > 0 ? array->efficiency_frac : 1);
}

/* Panels of the group without a limit of their controller, less what the others bring. */
static rig_status lay_offer(
	size_pass *pass, sheet *on, int month, const size_candidate *c, const float **per_w)
{
	const size_case *it = pass->it;
	size_array array = it->arrays[c->array];
	const size_make make = {&array, &it->banks[it->n_banks - 1], &it->inverters[c->inverter]};
	float *wanted = take_table(pass), *offered = take_table(pass);
	if (wanted == NULL || offered == NULL)
		return RIG_NO_MEMORY;
	array.unlimited = true;
	const rig_status status = net_of(pass, &make, month, &(rig_net){0, wanted, offered, NULL});
	const double strength_w = strength_of(&array);
	const double by = strength_w > 0 ? 1 / strength_w : 0;
	for (size_t i = 0; status == RIG_OK && i < pass->n_blocks * pass->block; i++)
		offered[i] = (float)(by * (double)(offered[i] - on->base[i]));
	on->offers[on->n_offers++] = (offer){array.group, offered};
	*per_w = offered;
	return status;
}

/* What each trip draws of the bank. ratio: room for all. */
static void times_draws(
	const trip_inputs *inputs, int bank, const rig_lanes *lanes, double ratio[], keeping *keep)
{
	for (size_t k = 0; k < inputs->n; k++) {
		const rig_trip_input *input = &inputs->list[k];
		const bool charges = input->kind == RIG_INPUT_EFFICIENCY;
		const bool holds =
			input->kind == RIG_INPUT_USABLE || input->kind == RIG_INPUT_CAPACITY;
		if (input->index != bank || (!charges && !holds))
			continue;
		trip_input_draw(input, lanes, ratio);
		float *into = charges ? keep->efficiency : keep->ratio;
		for (size_t i = 0; i < lanes->n_lanes; i++)
			into[i] *= (float)ratio[i];
	}
}

static rig_status lay_keeping(size_pass *pass, const size_candidate *c, keeping *keep)
{
	const size_case *it = pass->it;
	const size_bank *bank = &it->banks[c->bank];
	const size_t n = it->options.n_trips;
	const size_make make = {&it->arrays[c->array], bank, &it->inverters[c->inverter]};
	const int index = it->bank >= 0 ? it->bank : (int)it->stated->n_banks;
	rig_file *file = NULL;
	size_fleet made = {.fleet = NULL};
	double *ratio = rig_arena_take(pass->arena, n, sizeof *ratio);
	keep->efficiency = rig_arena_take(pass->arena, n, sizeof(float));
	keep->ratio = rig_arena_take(pass->arena, n, sizeof(float));
	rig_status status = ratio != NULL && keep->efficiency != NULL && keep->ratio != NULL
				    ? size_make_coach(it, &make, &file)
				    : RIG_NO_MEMORY;
	if (status == RIG_OK)
		status = size_fleet_open(it, rig_file_completed(file), it->month_order[0], &made);
	if (status != RIG_OK)
		goto out;
	const rig_store store = bank_store(rig_file_completed(file), index, COURSE_LIKELY, NULL);
	const rig_lanes lanes = {it->options.seed, 0, n, n};
	keep->usable_per_wh = store.usable_wh / bank->wh;
	keep->taper = store.acceptance_per_h > 0
			      ? (float)rig_acceptance_limit(store.acceptance_per_h, 1, 1)
			      : 1;
	keep->outdoors = !rig_figure_given(rig_file_completed(file)->banks[index].temp_c);
	keep->floor_c = keep->outdoors ? (float)store.charge_floor_c : -273;
	keep->lost_per_k_frac = keep->outdoors ? store.lost_per_k_frac : 0;
	for (size_t i = 0; i < n; i++) {
		keep->efficiency[i] = (float)store.efficiency_frac;
		keep->ratio[i] = 1;
	}
	times_draws(&made.inputs, index, &lanes, ratio, keep);
out:
	size_fleet_close(&made);
	rig_file_free(file);
	return status;
}

static const float *offer_of(const sheet *on, int group)
{
	for (size_t i = 0; i < on->n_offers; i++)
		if (on->offers[i].group == group)
			return on->offers[i].per_w;
	return NULL;
}

static rig_status open_sheet(size_pass *pass, sheet *on)
{
	const size_case *it = pass->it;
	const size_t n_rows = it->n_arrays * it->n_inverters * N_KINDS;
	on->wanted = rig_arena_take(pass->arena, it->n_inverters, sizeof *on->wanted);
	on->offers = rig_arena_take(pass->arena, it->n_arrays, sizeof *on->offers);
	on->rows = rig_arena_take(pass->arena, n_rows, sizeof *on->rows);
	on->laid = true;
	return on->wanted != NULL && on->offers != NULL && on->rows != NULL ? RIG_OK
									    : RIG_NO_MEMORY;
}

/* A day is as cold as the mean of its hours. */
static rig_status lay_reach(size_pass *pass, sheet *on, const keeping *keep, float **per_reach)
{
	const size_t n_days = pass->n_hours / 24, n = pass->n_blocks * n_days * RIG_LANES;
	float *made = rig_arena_take(pass->arena, n, sizeof *made);
	if (made == NULL)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < n; i++) {
		const size_t lane = i % RIG_LANES, day = i / RIG_LANES;
		float sum_c = 0;
		for (size_t hour = 0; hour < 24; hour++)
			sum_c += on->air_c[(day * 24 + hour) * RIG_LANES + lane];
		const double left = rig_warmth_frac(sum_c / 24, keep->lost_per_k_frac);
		/* nothing within reach: any shortfall is too much */
		made[i] = left > 1e-6 ? (float)(1 / left) : 1e6F;
	}
	*per_reach = made;
	return RIG_OK;
}

/* ---- the pass ---- */

typedef struct {
	const float *wanted, *base, *per_w, *air_c, *per_reach;
	float watts, taper, floor_c;
	const float *efficiency;
} block_of;

static inline float greater(float a, float b)
{
	return a > b ? a : b;
}

/* One block of trips side by side. */
static inline __attribute__((always_inline)) void run_block(
	const block_of *it, size_t n_hours, float worst[RIG_LANES])
{
	float deficit[RIG_LANES] = {0}, efficiency[RIG_LANES];
	const float watts = it->watts, taper = it->taper, floor_c = it->floor_c;
	memcpy(efficiency, it->efficiency, sizeof efficiency);
	for (size_t i = 0; i < RIG_LANES; i++)
		worst[i] = 0;
	for (size_t hour = 0; hour < n_hours; hour++) {
		const float *wanted = it->wanted + hour * RIG_LANES;
		const float *base = it->base + hour * RIG_LANES;
		const float *per_w = it->per_w + hour * RIG_LANES;
		const float *air_c = it->air_c + hour * RIG_LANES;
		const float *per_reach = it->per_reach + hour / 24 * RIG_LANES;
		for (size_t i = 0; i < RIG_LANES; i++) {
			const float net = wanted[i] - base[i] - watts * per_w[i];
			const float up = greater(net, 0);
			const float down = greater((net - up) * efficiency[i], -taper * deficit[i]);
			const float taken = air_c[i] < floor_c ? 0 : down;
			deficit[i] = greater(deficit[i] + up + taken, 0);
			worst[i] = greater(worst[i], deficit[i] * per_reach[i]);
		}
	}
}

static void run_plain(const block_of *it, size_t n_hours, float worst[RIG_LANES])
{
	run_block(it, n_hours, worst);
}

#if defined(__x86_64__) && defined(__GNUC__)
__attribute__((target("avx2"))) static void run_avx2(
	const block_of *it, size_t n_hours, float worst[RIG_LANES])
{
	run_block(it, n_hours, worst);
}

/* The same bits in either: no order of a sum hangs on it. */
static void pass_block(const block_of *it, size_t n_hours, float worst[RIG_LANES])
{
	(__builtin_cpu_supports("avx2") ? run_avx2 : run_plain)(it, n_hours, worst);
}
#else
static void pass_block(const block_of *it, size_t n_hours, float worst[RIG_LANES])
{
	run_plain(it, n_hours, worst);
}
#endif

/* What a row runs on. */
typedef struct {
	const sheet *on;
	const keeping *keep;
	const float *per_w, *per_reach;
} laid_out;

/* The next block of a row. */
static void pass_more(
	const size_pass *pass, const size_candidate *c, const laid_out *laid, row *along)
{
	const sheet *on = laid->on;
	const keeping *keep = laid->keep;
	const float *per_w = laid->per_w, *per_reach = laid->per_reach;
	const size_array *array = &pass->it->arrays[c->array];
	const size_t b = along->n_done / RIG_LANES, n = pass->it->options.n_trips;
	const size_t first = b * RIG_LANES, left = n - first;
	float efficiency[RIG_LANES] = {0};
	memcpy(efficiency, keep->efficiency + first,
		(left < RIG_LANES ? left : RIG_LANES) * sizeof *efficiency);
	const block_of block = {.wanted = on->wanted[c->inverter] + b * pass->block,
		.base = on->base + b * pass->block,
		.per_w = per_w + b * pass->block,
		.air_c = on->air_c + b * pass->block,
		.per_reach = per_reach + b * (pass->n_hours / 24) * RIG_LANES,
		.floor_c = keep->floor_c,
		.watts = (float)strength_of(array),
		.taper = keep->taper,
		.efficiency = efficiency};
	pass_block(&block, pass->n_hours, along->worst_wh + first);
	along->n_done = left < RIG_LANES ? n : first + RIG_LANES;
}

/* Lays out what is not there yet. */
static rig_status prepare(size_pass *pass, const size_candidate *c, int month, const float **per_w)
{
	sheet *on = &pass->sheets[month];
	rig_status status = on->laid ? RIG_OK : open_sheet(pass, on);
	if (status == RIG_OK && on->wanted[c->inverter] == NULL)
		status = lay_wanted(pass, on, month, c->inverter);
	*per_w = status == RIG_OK ? offer_of(on, pass->it->arrays[c->array].group) : NULL;
	if (status == RIG_OK && *per_w == NULL)
		status = lay_offer(pass, on, month, c, per_w);
	return status;
}

rig_status size_pass_fails(size_pass *pass, const size_candidate *c, int month, bool *fails)
{
	const size_case *it = pass->it;
	const size_array *array = &it->arrays[c->array];
	const size_bank *bank = &it->banks[c->bank];
	const int kind = bank->group >= 0 ? bank->group : PRESENT_KIND;
	keeping *keep = &pass->keeps[kind];
	const float *per_w = NULL;
	*fails = false;
	if (!pass->used)
		return RIG_OK;
	rig_status status = prepare(pass, c, month, &per_w);
	if (status == RIG_OK && keep->ratio == NULL)
		status = lay_keeping(pass, c, keep);
	if (status != RIG_OK)
		return status;
	sheet *on = &pass->sheets[month];
	if (on->per_reach[kind] == NULL)
		status = lay_reach(pass, on, keep, &on->per_reach[kind]);
	if (status != RIG_OK)
		return status;
	const laid_out laid = {on, keep, per_w, on->per_reach[kind]};
	row *along =
		&on->rows[(array->twin * it->n_inverters + c->inverter) * N_KINDS + (size_t)kind];
	if (along->worst_wh == NULL && !(along->worst_wh = rig_arena_take(pass->arena,
						 pass->n_blocks * RIG_LANES, sizeof(float))))
		return RIG_NO_MEMORY;
	if (along->n_done == 0)
		it->findings->n_passes++;
	const float usable_wh = (float)(bank->wh * keep->usable_per_wh) * SLACK;
	size_t n_short = 0;
	for (size_t i = 0; i < it->options.n_trips && n_short <= it->allowed; i++) {
		if (i == along->n_done)
			pass_more(pass, c, &laid, along);
		n_short += along->worst_wh[i] > usable_wh * keep->ratio[i];
	}
	*fails = n_short > it->allowed;
	return RIG_OK;
}

rig_status size_pass_new(const size_case *it, size_pass **pass)
{
	size_pass *made = calloc(1, sizeof *made);
	if (made == NULL || (made->arena = rig_arena_new()) == NULL) {
		free(made);
		return RIG_NO_MEMORY;
	}
	size_t n_house = 0;
	for (size_t i = 0; i < it->coach->n_banks; i++)
		n_house += it->coach->banks[i].role != RIG_CHASSIS;
	made->it = it;
	made->n_hours = (size_t)it->options.n_days * 24;
	made->n_blocks = (it->options.n_trips + RIG_LANES - 1) / RIG_LANES;
	made->block = made->n_hours * RIG_LANES;
	/* with several house banks each has its own hours, and the engine alone knows them */
	made->used = n_house <= 1 && it->n_banks > 0 &&
		     it->options.n_trips * made->n_hours <= MOST_TRIP_HOURS;
	*pass = made;
	return RIG_OK;
}

void size_pass_free(size_pass *pass)
{
	if (pass == NULL)
		return;
	rig_arena_free(pass->arena);
	free(pass);
}
