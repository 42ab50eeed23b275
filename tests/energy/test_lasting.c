/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "energy/fleet.h"
#include "suites.h"

enum { N_PLANS = 120, N_TRIPS = 3 * RIG_LANES - 21, N_HOURS = FLEET_HOURS };

/* A random plan of one bank that feeds all its loads, and trips under skies of their own. */
typedef struct {
	fleet_plan made;
	rig_plan *plan;
	double sky[(size_t)FLEET_DAYS * N_TRIPS];
	size_t trip[N_TRIPS];
	bool lasts[N_TRIPS];
} stay;

static stay it;

static void spread_knots(fleet_plan *made)
{
	made->parts.n_knots = FLEET_KNOTS;
	for (size_t source = 0; source < made->parts.n_sources; source++)
		for (size_t hour = made->parts.n_hours; hour-- > 0;)
			for (size_t knot = FLEET_KNOTS; knot-- > 0;)
				made->watts_w[source][hour * FLEET_KNOTS + knot] =
					made->watts_w[source][hour] * (double)(knot + 1);
}

static void make(uint64_t number)
{
	fleet_plan *made = &it.made;
	fleet_make(made, number);
	if (made->parts.n_knots == 1)
		spread_knots(made);
	made->parts.n_stores = 1;
	made->parts.inverter.store = 0;
	made->stores[0].essential = true;
	made->stores[0].start_frac = 1;
	made->stores[0].reconnect_frac = number % 3 == 0 ? 0.5 : 0;
	made->stores[0].acceptance_per_h = number % 2 == 0 ? 0.7 : 0;
	for (size_t i = 0; i < made->parts.n_sources; i++)
		made->sources[i].store = 0;
	for (size_t i = 0; i < made->parts.n_consumers; i++)
		made->consumers[i].store = 0;
	dice d = {number};
	for (size_t i = 0; i < (size_t)FLEET_DAYS * N_TRIPS; i++)
		it.sky[i] = dice_between(&d, 0, FLEET_KNOTS - 1);
	it.sky[7] = FLEET_KNOTS - 1;
	ck_assert_int_eq(rig_plan_new(&made->parts, &it.plan), RIG_OK);
}

/* The trip alone, hour by hour. */
static bool lasts_alone(size_t trip)
{
	static rig_hour record[N_HOURS];
	double sky[FLEET_DAYS];
	for (size_t day = 0; day < FLEET_DAYS; day++)
		sky[day] = it.sky[day * N_TRIPS + trip];
	rig_standing standing = rig_plan_start(it.plan);
	rig_plan_trace(it.plan, sky, N_HOURS, &standing, record);
	for (size_t hour = 0; hour < N_HOURS; hour++)
		if (record[hour].short_frac > 0)
			return false;
	return true;
}

static rig_lasting list_of(size_t n, size_t step)
{
	for (size_t i = 0; i < n; i++)
		it.trip[i] = i * step % N_TRIPS;
	return (rig_lasting){.sky = it.sky,
		.stride = N_TRIPS,
		.n_days = FLEET_DAYS,
		.n = n,
		.trip = it.trip,
		.lasts = it.lasts};
}

/* Scales the loads until about half of the trips last: where all do or none, little is asked. */
static void balance(void)
{
	double low = 0, high = 64;
	for (int step = 0; step < 12; step++) {
		const double middle = (low + high) / 2;
		rig_plan_free(it.plan);
		for (size_t i = 0; i < it.made.parts.n_consumers; i++)
			it.made.consumers[i].watts_w *= middle;
		ck_assert_int_eq(rig_plan_new(&it.made.parts, &it.plan), RIG_OK);
		for (size_t i = 0; i < it.made.parts.n_consumers; i++)
			it.made.consumers[i].watts_w /= middle;
		const rig_lasting all = list_of(N_TRIPS, 1);
		*(rig_plan_lasting(it.plan, &all, false) > N_TRIPS / 2 ? &low : &high) = middle;
	}
}

START_TEST(trips_last_as_they_do_alone)
{
	make((uint64_t)_i);
	balance();
	const rig_lasting all = list_of(N_TRIPS, 1);
	size_t n_last = 0;
	rig_plan_lasting(it.plan, &all, false);
	for (size_t trip = 0; trip < N_TRIPS; trip++) {
		const bool lasts = lasts_alone(trip);
		ck_assert_msg(it.lasts[trip] == lasts, "plan %d, trip %zu", _i, trip);
		n_last += lasts;
	}
	ck_assert_uint_eq(rig_plan_lasting(it.plan, &all, false), n_last);
	rig_plan_free(it.plan);
}
END_TEST

/* And as many as the tally of all trips side by side has. */
START_TEST(as_many_last_as_are_tallied)
{
	make((uint64_t)_i);
	balance();
	rig_tally *tally = NULL;
	ck_assert_int_eq(rig_tally_new(it.plan, N_HOURS, &tally), RIG_OK);
	for (size_t first = 0; first < N_TRIPS; first += RIG_LANES) {
		static double sky[(size_t)FLEET_DAYS * RIG_LANES];
		const size_t left = N_TRIPS - first, n = left < RIG_LANES ? left : RIG_LANES;
		for (size_t day = 0; day < FLEET_DAYS; day++)
			for (size_t i = 0; i < n; i++)
				sky[day * RIG_LANES + i] = it.sky[day * N_TRIPS + first + i];
		rig_plan_trips(it.plan, sky, n, tally);
	}
	const rig_lasting all = list_of(N_TRIPS, 1);
	ck_assert_uint_eq(rig_plan_lasting(it.plan, &all, false), tally->n_never);
	rig_tally_free(tally);
	rig_plan_free(it.plan);
}
END_TEST

START_TEST(the_list_and_the_code_change_nothing)
{
	static const size_t LENGTH[] = {1, 7, 8, 9, 255, 256, 257};
	static bool lasts[N_TRIPS];
	make((uint64_t)_i);
	balance();
	const rig_lasting all = list_of(N_TRIPS, 1);
	rig_plan_lasting(it.plan, &all, true);
	for (size_t trip = 0; trip < N_TRIPS; trip++)
		lasts[trip] = it.lasts[trip];
	for (int k = 0; k < COUNT(LENGTH); k++) {
		const rig_lasting some = list_of(LENGTH[k], 5);
		rig_plan_lasting(it.plan, &some, k % 2 == 0);
		for (size_t i = 0; i < LENGTH[k]; i++)
			ck_assert_int_eq(it.lasts[i], lasts[it.trip[i]]);
	}
	rig_plan_free(it.plan);
}
END_TEST

/* By hand: 100 Wh, 6 W all day, 24 W under a clear sky from 9 to 19. Until 9 h 54 Wh are drawn.
 * Dark: empty after 16.7 h. At 0.3 of a clear sky 7.2 W bring 12 Wh in ten hours, so that 58 Wh are
 * left at 19 h and 28 Wh at midnight: empty before 5 h. Clear: full at 19 h, 70 Wh at midnight, 16
 * Wh at 9 h. Clear, then dark: those 70 Wh are gone before noon. */
START_TEST(two_days_worked_by_hand_come_out)
{
	double watts_w[24 * 2] = {0};
	for (int hour = 9; hour < 19; hour++)
		watts_w[hour * 2 + 1] = 24;
	const rig_store store = {.kinetic = {100, 1, 0},
		.usable_wh = 100,
		.start_frac = 1,
		.efficiency_frac = 1,
		.charge_limit_w = INFINITY,
		.charge_floor_c = -273,
		.essential = true};
	rig_consumer consumer = {.watts_w = 6};
	for (int hour = 0; hour < 24; hour++)
		consumer.on_frac[hour] = 1;
	const rig_source source = {0, watts_w};
	rig_plan *plan = NULL;
	const rig_plan_parts parts = {.n_hours = 24,
		.n_knots = 2,
		.n_stores = 1,
		.n_sources = 1,
		.n_consumers = 1,
		.stores = &store,
		.sources = &source,
		.consumers = &consumer};
	ck_assert_int_eq(rig_plan_new(&parts, &plan), RIG_OK);
	static const double SKY[2 * 4] = {0, 0.3, 1, 1, 0, 0.3, 1, 0};
	static const size_t TRIP[] = {0, 1, 2, 3};
	bool lasts[4];
	const rig_lasting four = {SKY, 4, 2, 4, TRIP, lasts};
	ck_assert_uint_eq(rig_plan_lasting(plan, &four, false), 1);
	ck_assert(!lasts[0] && !lasts[1] && lasts[2] && !lasts[3]);
	rig_plan_free(plan);
}
END_TEST

/* A refilled plan is the one that would have been made. */
START_TEST(a_plan_refilled_is_a_plan_made)
{
	static double dim_w[(size_t)FLEET_HOURS * FLEET_KNOTS];
	make((uint64_t)_i);
	if (it.made.parts.n_sources == 0) {
		rig_plan_free(it.plan);
		return;
	}
	rig_plan_free(it.plan);
	it.made.parts.n_sources = 1;
	it.made.sources[0].watts_w = dim_w; /* dark */
	ck_assert_int_eq(rig_plan_new(&it.made.parts, &it.plan), RIG_OK);
	rig_plan_refill(it.plan, it.made.watts_w[0]);
	rig_plan *refilled = it.plan;
	it.made.sources[0].watts_w = it.made.watts_w[0];
	ck_assert_int_eq(rig_plan_new(&it.made.parts, &it.plan), RIG_OK);
	static rig_hour made[N_HOURS], again[N_HOURS];
	rig_standing one = rig_plan_start(it.plan), other = rig_plan_start(refilled);
	rig_plan_trace(it.plan, it.made.sky, N_HOURS, &one, made);
	rig_plan_trace(refilled, it.made.sky, N_HOURS, &other, again);
	for (size_t hour = 0; hour < N_HOURS; hour++) {
		ck_assert_double_eq(made[hour].offered_wh, again[hour].offered_wh);
		ck_assert_double_eq(made[hour].store_wh, again[hour].store_wh);
	}
	rig_plan_free(refilled);
	rig_plan_free(it.plan);
}
END_TEST

Suite *lasting_suite(void);
Suite *lasting_suite(void)
{
	Suite *suite = suite_create("lasting");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 60);
	tcase_add_test(all, two_days_worked_by_hand_come_out);
	tcase_add_loop_test(all, trips_last_as_they_do_alone, 0, N_PLANS);
	tcase_add_loop_test(all, as_many_last_as_are_tallied, 0, N_PLANS);
	tcase_add_loop_test(all, the_list_and_the_code_change_nothing, 0, N_PLANS / 4);
	tcase_add_loop_test(all, a_plan_refilled_is_a_plan_made, 0, N_PLANS / 4);
	suite_add_tcase(suite, all);
	return suite;
}
