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

Suite *tally_suite(void);
Suite *tally_suite(void)
{
	Suite *suite = suite_create("tally");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, trips_side_by_side_are_trips_one_by_one, 0, N_PLANS);
	tcase_add_loop_test(all, tallied_energy_is_conserved, 0, N_PLANS);
	suite_add_tcase(suite, all);
	return suite;
}
