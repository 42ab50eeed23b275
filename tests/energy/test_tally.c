/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "energy/fleet.h"
#include "suites.h"

enum { N_PLANS = 40 };

/* A block of trips, each with its own sky. */
typedef struct {
	fleet_plan made;
	rig_plan *plan;
	double sky[(size_t)FLEET_DAYS * RIG_LANES];
} block;

static void block_make(block *b, uint64_t number)
{
	fleet_make(&b->made, number);
	dice d = {number};
	for (size_t i = 0; i < (size_t)FLEET_DAYS * RIG_LANES; i++)
		b->sky[i] = dice_between(&d, 0, FLEET_KNOTS - 1);
	b->sky[3] = FLEET_KNOTS - 1;
	ck_assert_int_eq(rig_plan_new(&b->made.parts, &b->plan), RIG_OK);
}

static const double *block_sky(const block *b)
{
	return b->made.parts.n_knots > 1 ? b->sky : NULL;
}

static rig_tally *tally_of(const rig_plan *plan)
{
	rig_tally *tally = NULL;
	ck_assert_int_eq(rig_tally_new(plan, FLEET_HOURS, &tally), RIG_OK);
	return tally;
}

/* One trip of a block by trace, added up here; gives its first hour short, or FLEET_HOURS. */
static size_t trace_lane(const block *b, size_t lane, rig_sums sums[], double *short_sum)
{
	static rig_hour record[FLEET_HOURS * 3];
	double sky[FLEET_DAYS];
	for (size_t day = 0; day < FLEET_DAYS; day++)
		sky[day] = b->sky[day * RIG_LANES + lane];
	rig_standing standing = rig_plan_start(b->plan);
	rig_plan_trace(
		b->plan, b->made.parts.n_knots > 1 ? sky : NULL, FLEET_HOURS, &standing, record);
	const size_t n = b->made.parts.n_stores;
	size_t first = FLEET_HOURS;
	for (size_t k = 0; k < FLEET_HOURS * n; k++) {
		rig_sums *sum = &sums[k % n];
		sum->offered_wh += record[k].offered_wh;
		sum->charged_wh += record[k].charged_wh;
		sum->drawn_wh += record[k].drawn_wh;
		sum->curtailed_wh += record[k].curtailed_wh;
		sum->lost_wh += record[k].lost_wh;
		sum->lowest_left_wh = fmin(sum->lowest_left_wh, record[k].left_wh);
		short_sum[k] += record[k].short_frac;
		if (record[k].short_frac > 0 && b->made.stores[k % n].essential && k / n < first)
			first = k / n;
	}
	for (size_t s = 0; s < n; s++)
		sums[s].end_wh += standing.wells[s].available + standing.wells[s].bound;
	return first;
}

static void sums_agree(const rig_sums *mine, const rig_sums *twin)
{
	const double tol_wh = 1e-12 * (mine->offered_wh + mine->drawn_wh + mine->end_wh + 1);
	ck_assert_double_eq_tol(mine->offered_wh, twin->offered_wh, tol_wh);
	ck_assert_double_eq_tol(mine->charged_wh, twin->charged_wh, tol_wh);
	ck_assert_double_eq_tol(mine->drawn_wh, twin->drawn_wh, tol_wh);
	ck_assert_double_eq_tol(mine->curtailed_wh, twin->curtailed_wh, tol_wh);
	ck_assert_double_eq_tol(mine->lost_wh, twin->lost_wh, tol_wh);
	ck_assert_double_eq_tol(mine->end_wh, twin->end_wh, tol_wh);
	ck_assert_double_eq(mine->lowest_left_wh, twin->lowest_left_wh);
}

START_TEST(trips_side_by_side_are_trips_one_by_one)
{
	static block b;
	static double short_sum[FLEET_HOURS * 3];
	size_t ran_out[FLEET_HOURS + 1] = {0};
	rig_sums sums[3] = {{.lowest_left_wh = INFINITY}, {.lowest_left_wh = INFINITY},
		{.lowest_left_wh = INFINITY}};
	block_make(&b, (uint64_t)_i);
	const size_t n_trips = _i % 3 == 0 ? RIG_LANES : 1 + (size_t)_i;
	rig_tally *tally = tally_of(b.plan);
	rig_plan_trips(b.plan, block_sky(&b), n_trips, tally);
	memset(short_sum, 0, sizeof short_sum);
	for (size_t lane = 0; lane < n_trips; lane++)
		ran_out[trace_lane(&b, lane, sums, short_sum)]++;
	ck_assert_uint_eq(tally->n_trips, n_trips);
	ck_assert_uint_eq(tally->n_never, ran_out[FLEET_HOURS]);
	ck_assert_mem_eq(tally->ran_out, ran_out, FLEET_HOURS * sizeof *ran_out);
	for (size_t s = 0; s < b.made.parts.n_stores; s++)
		sums_agree(&tally->sums[s], &sums[s]);
	bool alike = true;
	for (size_t k = 0; k < FLEET_HOURS * b.made.parts.n_stores; k++)
		alike = alike && fabs(tally->short_sum[k] - short_sum[k]) < 1e-11;
	ck_assert(alike);
	rig_tally_free(tally);
	rig_plan_free(b.plan);
}
END_TEST

START_TEST(tallied_energy_is_conserved)
{
	static block b;
	block_make(&b, 1000 + (uint64_t)_i);
	rig_tally *tally = tally_of(b.plan);
	for (int i = 0; i < 3; i++)
		rig_plan_trips(b.plan, block_sky(&b), RIG_LANES, tally);
	const size_t n = b.made.parts.n_stores;
	for (size_t s = 0; s < n; s++) {
		const rig_sums *sum = &tally->sums[s];
		double served_wh = 0;
		for (size_t hour = 0; hour < FLEET_HOURS; hour++) {
			const rig_demand *d = &rig_plan_demand(b.plan, s)[hour % 24];
			served_wh += (d->dc_wh + d->ac_wh + d->idle_wh + d->loss_wh) *
				     ((double)tally->n_trips - tally->short_sum[hour * n + s]);
		}
		const double charge_loss_wh =
			sum->charged_wh * (1 - b.made.stores[s].efficiency_frac);
		const double out_wh = served_wh + charge_loss_wh + sum->lost_wh +
				      sum->curtailed_wh + sum->end_wh - sum->start_wh;
		const double flowed_wh =
			sum->offered_wh + sum->charged_wh + sum->drawn_wh + sum->start_wh;
		ck_assert_double_eq_tol(sum->offered_wh, out_wh, 1e-9 * flowed_wh);
	}
	rig_tally_free(tally);
	rig_plan_free(b.plan);
}
END_TEST

/* ---- all that may be drawn, all widths, all numbers of threads ---- */

/* Draws of rich plans, trip by trip from its number alone. */
typedef struct {
	double sky[FLEET_DAYS * RIG_LANES], warmth_k[FLEET_DAYS * RIG_LANES];
	double consumer[20 * RIG_LANES], source[4 * RIG_LANES];
	double capacity[3 * RIG_LANES], usable[3 * RIG_LANES], efficiency[3 * RIG_LANES];
	double inverter[RIG_LANES];
} drawn_block;

static void draw_figures(dice *d, double *figures, size_t n, double low, double high)
{
	for (size_t i = 0; i < n; i++)
		figures[i * RIG_LANES] = dice_between(d, low, high);
}

static void draw_lane(uint64_t trip, size_t lane, drawn_block *drawn)
{
	dice d = {trip * 31 + 5};
	draw_figures(&d, drawn->sky + lane, FLEET_DAYS, 0, FLEET_KNOTS - 1);
	draw_figures(&d, drawn->warmth_k + lane, FLEET_DAYS, -6, 6);
	draw_figures(&d, drawn->consumer + lane, 20, 0, 2);
	draw_figures(&d, drawn->source + lane, 4, 0, 2);
	draw_figures(&d, drawn->capacity + lane, 3, 0.5, 1.5);
	draw_figures(&d, drawn->usable + lane, 3, 0.5, 1);
	draw_figures(&d, drawn->efficiency + lane, 3, 0.8, 1);
	draw_figures(&d, drawn->inverter + lane, 1, 0, 3);
}

/* Several workers, each with a block of its own. */
typedef struct {
	bool has_sky;
	drawn_block blocks[8];
	double margin_wh[3000];
	size_t most_told, stop_at;
} drawing;

static rig_draws draws_of(const drawn_block *b, bool has_sky)
{
	return (rig_draws){RIG_LANES, has_sky ? b->sky : NULL, b->warmth_k, b->consumer, b->source,
		b->capacity, b->usable, b->efficiency, b->inverter};
}

static void draw_block(
	void *context, size_t worker, uint64_t first_trip, size_t n_trips, rig_draws *draws)
{
	drawing *it = context;
	for (size_t lane = 0; lane < n_trips; lane++)
		draw_lane(first_trip + lane, lane, &it->blocks[worker]);
	*draws = draws_of(&it->blocks[worker], it->has_sky);
}

static void take_block(void *context, size_t worker, uint64_t first_trip, size_t n_trips,
	const rig_outcomes *outcomes)
{
	drawing *it = context;
	(void)worker;
	memcpy(it->margin_wh + first_trip, outcomes->margin_wh,
		n_trips * sizeof *outcomes->margin_wh);
}

static bool tell(void *context, size_t n_done)
{
	drawing *it = context;
	it->most_told = n_done;
	return it->stop_at == 0 || n_done < it->stop_at;
}

static rig_tally *run_of(
	const fleet_plan *made, const rig_plan *plan, rig_many_trips trips, drawing *context)
{
	rig_tally *tally = tally_of(plan);
	context->has_sky = made->parts.n_knots > 1;
	trips.context = context;
	trips.draw = draw_block;
	trips.take = take_block;
	ck_assert_int_eq(rig_tally_count_charge(tally), RIG_OK);
	ck_assert_int_eq(rig_plan_run(plan, &trips, tally), RIG_OK);
	return tally;
}

static size_t n_charge(const rig_tally *tally)
{
	return tally->n_stores * tally->n_hours * tally->n_bins;
}

static void same_bits(const rig_tally *a, const rig_tally *b)
{
	const size_t n_hours = a->n_hours, n_stores = a->n_stores;
	ck_assert_uint_eq(a->n_trips, b->n_trips);
	ck_assert_uint_eq(a->n_never, b->n_never);
	ck_assert_mem_eq(a->sums, b->sums, n_stores * sizeof *a->sums);
	ck_assert_mem_eq(a->short_sum, b->short_sum, n_hours * n_stores * sizeof *a->short_sum);
	ck_assert_mem_eq(a->ran_out, b->ran_out, n_hours * sizeof *a->ran_out);
	ck_assert_mem_eq(a->generator_h, b->generator_h, n_hours * sizeof *a->generator_h);
	ck_assert_mem_eq(a->generator_wh, b->generator_wh, n_hours * sizeof *a->generator_wh);
	ck_assert_mem_eq(
		a->charge_counts, b->charge_counts, n_charge(a) * sizeof *a->charge_counts);
}

static const struct {
	size_t n_threads;
	bool plain_code;
} WAYS[] = {{2, false}, {8, false}, {1, true}, {8, true}};

START_TEST(the_answer_has_the_same_bits_whoever_works_it_out)
{
	static fleet_plan made;
	static drawing first, other;
	fleet_make_rich(&made, 40 + (uint64_t)_i);
	rig_plan *plan = NULL;
	ck_assert_int_eq(rig_plan_new(&made.parts, &plan), RIG_OK);
	/* not a whole number of blocks */
	const rig_many_trips one = {.n_trips = 2500, .n_threads = 1};
	rig_tally *alone = run_of(&made, plan, one, &first);
	for (size_t way = 0; way < COUNT(WAYS); way++) {
		const rig_many_trips trips = {.n_trips = 2500,
			.n_threads = WAYS[way].n_threads,
			.plain_code = WAYS[way].plain_code};
		rig_tally *shared = run_of(&made, plan, trips, &other);
		same_bits(alone, shared);
		ck_assert_mem_eq(first.margin_wh, other.margin_wh, sizeof first.margin_wh);
		rig_tally_free(shared);
	}
	rig_tally_free(alone);
	rig_plan_free(plan);
}
END_TEST

/* What one trip comes to by trace. */
typedef struct {
	rig_sums sums[3];
	double short_sum, generator_h, generator_wh, margin_wh;
} traced_trip;

static traced_trip trace_drawn(const fleet_plan *made, const rig_plan *plan, uint64_t trip)
{
	static rig_hour record[FLEET_HOURS * 3];
	static drawn_block lane;
	double packed[FLEET_DAYS + FLEET_DAYS + 20 + 4 + 3 + 3 + 3 + 1], *next = packed;
	draw_lane(trip, 0, &lane);
	const double *wide[] = {lane.sky, lane.warmth_k, lane.consumer, lane.source, lane.capacity,
		lane.usable, lane.efficiency, lane.inverter};
	const size_t size[] = {FLEET_DAYS, FLEET_DAYS, 20, 4, 3, 3, 3, 1};
	const double *at[8];
	for (size_t k = 0; k < 8; k++) {
		at[k] = next;
		for (size_t i = 0; i < size[k]; i++)
			*next++ = wide[k][i * RIG_LANES];
	}
	const rig_draws draws = {1, made->parts.n_knots > 1 ? at[0] : NULL, at[1], at[2], at[3],
		at[4], at[5], at[6], at[7]};
	rig_standing standing = rig_plan_start_drawn(plan, &draws);
	rig_plan_trace_drawn(plan, &draws, FLEET_HOURS, &standing, record);
	traced_trip found = {.margin_wh = INFINITY};
	const size_t n = made->parts.n_stores;
	double unserved_wh = 0;
	for (size_t k = 0; k < FLEET_HOURS * n; k++) {
		const rig_hour *h = &record[k];
		found.sums[k % n].offered_wh += h->offered_wh;
		found.sums[k % n].charged_wh += h->charged_wh;
		found.sums[k % n].drawn_wh += h->drawn_wh;
		found.sums[k % n].curtailed_wh += h->curtailed_wh;
		found.sums[k % n].lost_wh += h->lost_wh;
		found.short_sum += h->short_frac;
		found.generator_h += h->generator_h;
		found.generator_wh += h->generator_wh;
		if (!made->stores[k % n].essential)
			continue;
		found.margin_wh = fmin(found.margin_wh, h->left_wh);
		unserved_wh += h->wanted_wh + h->charged_wh + h->curtailed_wh - h->offered_wh -
			       h->drawn_wh;
	}
	found.margin_wh -= unserved_wh;
	return found;
}

/* Sums in another order: 1e-11 of what flowed. */
START_TEST(drawn_trips_side_by_side_are_trips_one_by_one)
{
	enum { N_TRIPS = 70 };
	static fleet_plan made;
	static drawing context;
	fleet_make_rich(&made, 500 + (uint64_t)_i);
	rig_plan *plan = NULL;
	ck_assert_int_eq(rig_plan_new(&made.parts, &plan), RIG_OK);
	const rig_many_trips trips = {.n_trips = N_TRIPS, .n_threads = 1};
	rig_tally *tally = run_of(&made, plan, trips, &context);
	traced_trip all = {.short_sum = 0};
	double flowed = 1;
	for (uint64_t trip = 0; trip < N_TRIPS; trip++) {
		const traced_trip one = trace_drawn(&made, plan, trip);
		for (size_t s = 0; s < made.parts.n_stores; s++) {
			all.sums[s].offered_wh += one.sums[s].offered_wh;
			all.sums[s].charged_wh += one.sums[s].charged_wh;
			all.sums[s].drawn_wh += one.sums[s].drawn_wh;
			all.sums[s].curtailed_wh += one.sums[s].curtailed_wh;
			all.sums[s].lost_wh += one.sums[s].lost_wh;
			flowed += one.sums[s].offered_wh + one.sums[s].drawn_wh +
				  made.stores[s].kinetic.capacity;
		}
		all.short_sum += one.short_sum;
		all.generator_h += one.generator_h;
		all.generator_wh += one.generator_wh;
		if (isfinite(one.margin_wh))
			ck_assert_double_eq_tol(
				context.margin_wh[trip], one.margin_wh, 1e-11 * flowed);
	}
	double short_sum = 0, generator_h = 0, generator_wh = 0;
	for (size_t k = 0; k < FLEET_HOURS * made.parts.n_stores; k++)
		short_sum += tally->short_sum[k];
	for (size_t k = 0; k < FLEET_HOURS; k++) {
		generator_h += tally->generator_h[k];
		generator_wh += tally->generator_wh[k];
	}
	ck_assert_double_eq_tol(short_sum, all.short_sum, 1e-9 * (1 + short_sum));
	ck_assert_double_eq_tol(generator_h, all.generator_h, 1e-9 * (1 + generator_h));
	ck_assert_double_eq_tol(generator_wh, all.generator_wh, 1e-9 * (1 + generator_wh));
	for (size_t s = 0; s < made.parts.n_stores; s++) {
		const rig_sums *mine = &tally->sums[s], *sum = &all.sums[s];
		const double tol_wh = 1e-11 * flowed;
		ck_assert_double_eq_tol(mine->offered_wh, sum->offered_wh, tol_wh);
		ck_assert_double_eq_tol(mine->charged_wh, sum->charged_wh, tol_wh);
		ck_assert_double_eq_tol(mine->drawn_wh, sum->drawn_wh, tol_wh);
		ck_assert_double_eq_tol(mine->curtailed_wh, sum->curtailed_wh, tol_wh);
		ck_assert_double_eq_tol(mine->lost_wh, sum->lost_wh, tol_wh);
	}
	rig_tally_free(tally);
	rig_plan_free(plan);
}
END_TEST

START_TEST(a_run_can_be_ended_early_and_begun_anywhere)
{
	static fleet_plan made;
	static drawing context;
	fleet_make(&made, 7);
	rig_plan *plan = NULL;
	ck_assert_int_eq(rig_plan_new(&made.parts, &plan), RIG_OK);
	rig_many_trips trips = {.n_trips = 2500, .n_threads = 1, .progress = tell};
	rig_tally *tally = run_of(&made, plan, trips, &context);
	ck_assert_uint_eq(context.most_told, 2500);
	rig_tally_free(tally);
	context.stop_at = 1000;
	tally = run_of(&made, plan, trips, &context);
	ck_assert(tally->n_trips >= 1000 && tally->n_trips < 2500);
	ck_assert_uint_eq(context.most_told, tally->n_trips);
	rig_tally_free(tally);
	rig_plan_free(plan);
}
END_TEST

/* 100 Wh, one well, 10 W: trip k has k + 1 per cent more capacity drawn down at the same rate, so
 * that after an hour the charge is 1 - 10 / capacity. The middle of 64 trips lies between the 32nd
 * and the 33rd; one bin is 1/512. */
START_TEST(quantiles_of_charge_are_within_a_bin)
{
	const rig_store store = {.kinetic = {100, 1, 0},
		.usable_wh = 100,
		.start_frac = 1,
		.efficiency_frac = 1,
		.charge_limit_w = INFINITY,
		.charge_floor_c = -273,
		.essential = true};
	rig_consumer consumer = {.watts_w = 10, .on_frac = {1}};
	rig_plan *plan = NULL;
	const rig_plan_parts parts = {.n_hours = 24,
		.n_knots = 1,
		.n_stores = 1,
		.n_consumers = 1,
		.stores = &store,
		.consumers = &consumer};
	ck_assert_int_eq(rig_plan_new(&parts, &plan), RIG_OK);
	static drawing context;
	const rig_many_trips trips = {.n_trips = 64, .n_threads = 1};
	static fleet_plan made;
	made.parts = parts;
	rig_tally *tally = run_of(&made, plan, trips, &context);
	double charge[64];
	for (uint64_t trip = 0; trip < 64; trip++) {
		static drawn_block lane;
		draw_lane(trip, 0, &lane);
		const double wh = 100 * lane.capacity[0];
		const double drawn = fmin(10 * lane.consumer[0], wh * lane.usable[0]);
		charge[trip] = 1 - drawn / wh;
	}
	for (size_t i = 0; i < 64; i++)
		for (size_t k = i + 1; k < 64; k++)
			if (charge[k] < charge[i]) {
				const double swap = charge[i];
				charge[i] = charge[k];
				charge[k] = swap;
			}
	const double share[] = {0.05, 0.25, 0.5, 0.75, 0.95};
	double found[COUNT(share)];
	rig_tally_charges(tally, 0, 0, (rig_shares){COUNT(share), share, found});
	for (size_t k = 0; k < COUNT(share); k++) {
		const size_t rank = (size_t)(share[k] * 64);
		ck_assert_double_ge(found[k], charge[rank > 0 ? rank - 1 : 0] - 1.0 / 512);
		ck_assert_double_le(found[k], charge[rank] + 1.0 / 512);
	}
	rig_tally_free(tally);
	rig_plan_free(plan);
}
END_TEST

Suite *tally_suite(void);
Suite *tally_suite(void)
{
	Suite *suite = suite_create("tally");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_loop_test(all, trips_side_by_side_are_trips_one_by_one, 0, N_PLANS);
	tcase_add_loop_test(all, tallied_energy_is_conserved, 0, N_PLANS);
	tcase_add_loop_test(all, the_answer_has_the_same_bits_whoever_works_it_out, 0, 12);
	tcase_add_loop_test(all, drawn_trips_side_by_side_are_trips_one_by_one, 0, N_PLANS);
	tcase_add_test(all, a_run_can_be_ended_early_and_begun_anywhere);
	tcase_add_test(all, quantiles_of_charge_are_within_a_bin);
	suite_add_tcase(suite, all);
	return suite;
}
