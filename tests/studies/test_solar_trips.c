/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/solar_trips.h"

#include <math.h>

#include "rig/random_coach.h"
#include "solar_coach.h"
#include "suites.h"

/* Wilson's 95 % interval [WILSON-1927], worked by hand from its formula: of 10 none gives 0 to
 * z2 / (10 + z2) with z2 = 3.8415. */
START_TEST(none_of_ten_is_not_never)
{
	const rig_figure share = solar_share(0, 10);
	ck_assert_double_eq(share.low, 0.0);
	ck_assert_double_eq(share.likely, 0.0);
	ck_assert_double_eq_tol(share.high, 3.841459 / 13.841459, 1e-6);
}
END_TEST

START_TEST(an_interval_is_as_wide_seen_from_the_other_side)
{
	for (size_t hits = 0; hits <= 40; hits++) {
		const rig_figure share = solar_share(hits, 40);
		const rig_figure rest = solar_share(40 - hits, 40);
		ck_assert_double_eq_tol(share.low, 1.0 - rest.high, 1e-12);
		ck_assert_double_eq_tol(share.high, 1.0 - rest.low, 1e-12);
		ck_assert_double_le(share.low, share.likely);
		ck_assert_double_ge(share.high, share.likely);
	}
}
END_TEST

enum { N_TRIPS = 300, SEATTLE_MONTH = 3 };

typedef struct {
	rig_arena *arena;
	rig_climate *climate;
	solar_trips trips;
	solar_bank bank;
	solar_coach coach;
	solar_sky skies[RIG_SOLAR_MONTHS];
	double watts_w[RIG_DAY_HOURS * SOLAR_KNOTS];
} ground;

static ground it;

static void setup(void)
{
	rig_place place;
	rig_place_at((size_t)rig_place_find("Seattle Seattletacoma"), &place);
	const rig_solar_options options = {
		.month = -1, .habit = -1, .n_days = 14, .n_trips = N_TRIPS, .seed = 7};
	it = (ground){.arena = rig_arena_new(), .climate = rig_climate_new(&place)};
	ck_assert_int_eq(
		solar_trips_draw(it.climate, SEATTLE_MONTH, &options, it.arena, &it.trips), RIG_OK);
	solar_coach_bare(&it.coach);
	solar_coach_add(&it.coach, "furnace_35k", 1);
	for (int month = 0; month < RIG_SOLAR_MONTHS; month++)
		solar_sky_of(&place, month, &it.skies[month]);
	const solar_usage usage = {&it.coach.coach, HOUSE, -1, it.skies};
	ck_assert_int_eq(solar_bank_of(&usage, it.arena, &it.bank), RIG_OK);
	const solar_output output =
		solar_output_of(&it.coach.coach, 0, COURSE_LIKELY, COURSE_LIKELY);
	solar_trips_add_array(&it.trips, &it.coach.arrays[0], &output, it.watts_w);
}

static void teardown(void)
{
	rig_climate_free(it.climate);
	rig_arena_free(it.arena);
}

static const double WARM_C[24] = {20, 20, 20, 20, 20, 20, 20, 20, 20, 20, 20, 20, 20, 20, 20, 20,
	20, 20, 20, 20, 20, 20, 20, 20};

static solar_trial trial_of(double factor)
{
	return (solar_trial){.bank = &it.bank,
		.month = SEATTLE_MONTH,
		.course = COURSE_LIKELY,
		.temp_c = WARM_C,
		.watts_w = it.watts_w,
		.n_knots = SOLAR_KNOTS,
		.factor = factor};
}

/* Each trip alone, traced hour by hour by the engine's scalar path, must come to the same count. */
static size_t count_one_by_one(const solar_trial *trial)
{
	rig_plan *plan = NULL;
	size_t n_out = 0;
	ck_assert_int_eq(solar_trial_plan(trial, &plan), RIG_OK);
	for (size_t trip = 0; trip < it.trips.n_trips; trip++) {
		double sky[14];
		rig_hour hours[14 * 24];
		rig_standing standing = rig_plan_start(plan);
		for (size_t day = 0; day < 14; day++)
			sky[day] = it.trips.sky[day * N_TRIPS + trip];
		rig_plan_trace(plan, sky, (size_t)14 * 24, &standing, hours);
		bool out = false;
		for (int hour = 0; hour < 14 * 24; hour++)
			out = out || hours[hour].short_frac > 0;
		n_out += out;
	}
	rig_plan_free(plan);
	return n_out;
}

/* All trips on a plan of their own. */
static solar_count count_all(const solar_trial *trial)
{
	rig_plan *plan = NULL;
	solar_open all;
	ck_assert_int_eq(solar_open_all(&it.trips, it.arena, &all), RIG_OK);
	ck_assert_int_eq(solar_trial_plan(trial, &plan), RIG_OK);
	const solar_count count = solar_trips_run(&it.trips, trial, plan, &all);
	rig_plan_free(plan);
	return count;
}

static const double FACTOR[] = {1.0, 1.8, 2.2, 2.6, 3.2, 10.0};

START_TEST(trips_side_by_side_run_out_as_they_do_alone)
{
	const solar_trial trial = trial_of(FACTOR[_i]);
	const solar_count count = count_all(&trial);
	ck_assert_uint_eq(count.n_run, N_TRIPS);
	ck_assert_uint_eq(count.n_out, count_one_by_one(&trial));
}
END_TEST

/* What is said without running a trip is what running them says. */
START_TEST(a_hopeless_stay_is_hopeless_trip_by_trip)
{
	const solar_trial trial = trial_of(0.05);
	const solar_count count = count_all(&trial);
	ck_assert_uint_eq(count.n_run, 0);
	ck_assert_uint_eq(count.n_out, N_TRIPS);
	ck_assert_uint_eq(count_one_by_one(&trial), N_TRIPS);
}
END_TEST

START_TEST(more_sun_never_makes_more_trips_run_out)
{
	size_t before = N_TRIPS;
	bool between = false;
	for (int i = 0; i < 40; i++) {
		const solar_trial trial = trial_of(0.1 + 0.15 * i);
		const size_t n_out = count_all(&trial).n_out;
		ck_assert_uint_le(n_out, before);
		between = between || (n_out > 0 && n_out < N_TRIPS);
		before = n_out;
	}
	ck_assert(between);
}
END_TEST

/* The bank of a random coach; false if it has none that something draws on by day. */
static bool bank_of_random(const rig_coach *coach, solar_bank *bank)
{
	const solar_usage usage = {coach, 0, -1, it.skies};
	if (coach->n_banks == 0 || solar_bank_of(&usage, it.arena, bank) != RIG_OK)
		return false;
	return bank->months[SEATTLE_MONTH].use_wh_day.likely > 0;
}

/* Halves a span of watts as a search does; the trips that are still open must give the same count
 * of those that run out as all of them on a plan of their own. How many trials there were between
 * none and all. */
static int search_both_ways(solar_trial *trial, size_t allowed)
{
	double fails = 1e-3, meets = 1e6;
	int n_between = 0;
	rig_plan *plan = NULL;
	solar_open open;
	ck_assert_int_eq(solar_open_all(&it.trips, it.arena, &open), RIG_OK);
	trial->factor = 1;
	ck_assert_int_eq(solar_trial_plan(trial, &plan), RIG_OK);
	while (meets > fails * 1.001) {
		trial->factor = sqrt(fails * meets);
		solar_trial_refill(trial, plan);
		const solar_count count = solar_trips_run(&it.trips, trial, plan, &open);
		const solar_count plain = count_all(trial);
		ck_assert_uint_eq(count.n_out, plain.n_out);
		ck_assert_uint_eq(count.n_run, plain.n_run);
		n_between += plain.n_out > 0 && plain.n_out < N_TRIPS;
		const bool met = count.n_out <= allowed;
		solar_open_settle(&open, &count, !met);
		*(met ? &meets : &fails) = trial->factor;
	}
	rig_plan_free(plan);
	return n_between;
}

START_TEST(a_search_among_open_trips_is_a_search_among_all)
{
	static const size_t ALLOWED[] = {0, 15, 120, N_TRIPS - 1};
	enum { N_COACHES = 500 };
	int n_between = 0;
	for (uint64_t seed = 1; seed <= N_COACHES; seed++) {
		rig_file *file = random_coach(seed);
		solar_bank bank;
		if (bank_of_random(rig_file_completed(file), &bank)) {
			solar_trial trial = trial_of(1);
			trial.bank = &bank;
			trial.course = (solar_course)(seed % N_COURSES);
			n_between += search_both_ways(&trial, ALLOWED[seed % COUNT(ALLOWED)]);
		}
		rig_file_free(file);
	}
	ck_assert_int_gt(n_between, N_COACHES / 2);
}
END_TEST

Suite *solar_trips_suite(void);
Suite *solar_trips_suite(void)
{
	Suite *suite = suite_create("solar_trips");
	TCase *shares = tcase_create("shares");
	tcase_add_test(shares, none_of_ten_is_not_never);
	tcase_add_test(shares, an_interval_is_as_wide_seen_from_the_other_side);
	suite_add_tcase(suite, shares);
	TCase *trips = tcase_create("trips");
	tcase_add_checked_fixture(trips, setup, teardown);
	tcase_set_timeout(trips, 60);
	tcase_add_loop_test(trips, trips_side_by_side_run_out_as_they_do_alone, 0, COUNT(FACTOR));
	tcase_add_test(trips, a_hopeless_stay_is_hopeless_trip_by_trip);
	tcase_add_test(trips, a_search_among_open_trips_is_a_search_among_all);
	tcase_add_test(trips, more_sun_never_makes_more_trips_run_out);
	suite_add_tcase(suite, trips);
	return suite;
}
