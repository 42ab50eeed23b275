/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The chance of a stay over many trips, and options that are refused. */
#include <math.h>
#include <string.h>

#include "rigbudget/weather.h"
#include "suites.h"
#include "trip_scene.h"

/* One synthetic trip worked here, hour by hour, with that day's own hours instead of knots. */
static bool runs_out(const rig_climate *climate, uint64_t seed, uint64_t trip)
{
	rig_day days[14];
	rig_climate_days(climate, (rig_stream){seed, trip}, rig_month_first_day(2), 14, days);
	double left_wh = 1500;
	for (int day = 0; day < 14; day++) {
		rig_day as_warm_as_the_month = days[day];
		rig_day_hours hours;
		as_warm_as_the_month.warmth_k = 0;
		rig_climate_hours(climate, &as_warm_as_the_month, &hours);
		for (int hour = 0; hour < 24; hour++) {
			const double g = hours.ghi_wm2[hour];
			const double cell_c = hours.temp_c[hour] + 25.0 / 800 * g;
			const double net = 200 * g / 1000 * (1 - 0.004 * (cell_c - 25)) * 0.85 - 34;
			left_wh = fmin(1500, left_wh + (net > 0 ? 0.9 * net : net));
			if (left_wh < 0)
				return true;
		}
	}
	return false;
}

START_TEST(the_chance_is_the_share_of_trips_that_get_through)
{
	const rig_place place = trip_scene_place();
	rig_file *file = trip_scene_edge();
	rig_trip_options options = trip_scene_days(2, 14);
	options.n_trips = 300;
	options.seed = 77;
	options.likely_inputs = true;
	rig_trip_findings *findings = trip_scene_study(file, &place, &options);
	rig_climate *climate = rig_climate_new(&place);
	int n_out = 0;
	for (uint64_t trip = 0; trip < 300; trip++)
		n_out += runs_out(climate, 77, trip);
	const rig_trip_chance *chance = &findings->chance;
	ck_assert_int_gt(n_out, 30);
	ck_assert_int_lt(n_out, 270);
	/* Knots may turn a trip that ends within a watt-hour of empty. */
	ck_assert_double_eq_tol((1 - chance->never_out_frac) * 300, n_out, 2.001);
	ck_assert_double_eq_tol(chance->out_by_day_frac[13], 1 - chance->never_out_frac, 1e-12);
	for (size_t day = 1; day < chance->n_days; day++)
		ck_assert_double_ge(chance->out_by_day_frac[day], chance->out_by_day_frac[day - 1]);
	rig_climate_free(climate);
	rig_trip_free(findings);
	rig_file_free(file);
}
END_TEST

/* A starting battery that goes flat does not end the stay. */
START_TEST(the_chance_is_about_the_house)
{
	const rig_place place = trip_scene_place();
	rig_file *file = trip_scene_coach(TRIP_HEAD
		"\"banks\": [" TRIP_IDEAL_BANK ", {\"id\": \"start\", \"chemistry\": \"starting\", "
		"\"capacity_ah\": 50}], \"circuits\": [{\"id\": \"dash\", \"supply\": \"dc\", "
		"\"bank\": \"start\", \"fuse_a\": 10}], \"loads\": [{\"id\": \"radio\", "
		"\"supply\": \"dc\", \"circuit\": \"dash\", \"running_w\": 20, \"duty_frac\": 1, "
		"\"daily_use_h\": 24}]}",
		1200.0);
	rig_trip_options options = trip_scene_days(6, 14);
	options.n_trips = 70;
	rig_trip_findings *findings = trip_scene_study(file, &place, &options);
	ck_assert_int_gt(findings->banks[1].short_days, 5);
	ck_assert_double_eq(findings->chance.never_out_frac, 1);
	ck_assert_double_eq(findings->chance.never_out_high, 1);
	rig_trip_free(findings);
	rig_file_free(file);
}
END_TEST

/* [WILSON-1927] by hand: 8 of 10 gives 0.4902 to 0.9433. */
START_TEST(the_interval_of_a_share_is_wilsons)
{
	const rig_place place = trip_scene_place();
	rig_file *file = trip_scene_edge();
	rig_trip_options options = trip_scene_days(3, 14);
	options.n_trips = 10;
	options.n_side_trips = 0;
	int n_found = 0;
	for (options.seed = 1; options.seed < 60; options.seed++) {
		rig_trip_findings *findings = trip_scene_study(file, &place, &options);
		const rig_trip_chance *chance = &findings->chance;
		ck_assert_double_le(chance->never_out_low, chance->never_out_frac);
		ck_assert_double_ge(chance->never_out_high, chance->never_out_frac);
		if (fabs(chance->never_out_frac - 0.8) < 1e-9) {
			n_found++;
			ck_assert_double_eq_tol(chance->never_out_low, 0.4902, 0.00005);
			ck_assert_double_eq_tol(chance->never_out_high, 0.9433, 0.00005);
		}
		rig_trip_free(findings);
	}
	ck_assert_int_gt(n_found, 0);
	rig_file_free(file);
}
END_TEST

START_TEST(the_same_seed_gives_the_same_chance)
{
	const rig_place place = trip_scene_place();
	rig_file *file = trip_scene_edge();
	rig_trip_options options = trip_scene_days(2, 14);
	options.n_trips = 333;
	rig_trip_findings *one = trip_scene_study(file, &place, &options);
	rig_trip_findings *two = trip_scene_study(file, &place, &options);
	options.seed = 2;
	rig_trip_findings *other = trip_scene_study(file, &place, &options);
	const size_t size = one->chance.n_days * sizeof(double);
	ck_assert_mem_eq(one->chance.out_by_day_frac, two->chance.out_by_day_frac, size);
	ck_assert_mem_ne(one->chance.out_by_day_frac, other->chance.out_by_day_frac, size);
	rig_trip_free(one);
	rig_trip_free(two);
	rig_trip_free(other);
	rig_file_free(file);
}
END_TEST

/* ---- wrong options ---- */

static const struct {
	int month, n_days, habit;
	size_t n_trips;
} WRONG[] = {{12, 14, -1, 0}, {-2, 14, -1, 0}, {0, 0, -1, 0}, {0, 366, -1, 0}, {-1, 364, -1, 0},
	{0, 14, 0, 0}, {0, 14, -2, 0}, {0, 14, -1, 1000001}};

START_TEST(options_out_of_range_are_refused)
{
	const rig_place place = trip_scene_place();
	rig_file *file = trip_scene_edge();
	rig_trip_options options = trip_scene_days(WRONG[_i].month, WRONG[_i].n_days);
	options.habit = WRONG[_i].habit;
	options.n_trips = WRONG[_i].n_trips;
	rig_trip_findings *findings = NULL;
	ck_assert_int_eq(rig_trip_study(rig_file_completed(file), &place, &options, &findings),
		RIG_BAD_INPUT);
	ck_assert_ptr_null(findings);
	options = trip_scene_days(3, 5);
	ck_assert_int_eq(
		rig_trip_study(rig_file_completed(file), NULL, &options, &findings), RIG_BAD_INPUT);
	rig_trip_free(NULL);
	rig_file_free(file);
}
END_TEST

Suite *trip_chance_suite(void);
Suite *trip_chance_suite(void)
{
	Suite *suite = suite_create("trip_chance");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 300);
	tcase_add_test(all, the_chance_is_the_share_of_trips_that_get_through);
	tcase_add_test(all, the_chance_is_about_the_house);
	tcase_add_test(all, the_interval_of_a_share_is_wilsons);
	tcase_add_test(all, the_same_seed_gives_the_same_chance);
	tcase_add_loop_test(all, options_out_of_range_are_refused, 0, COUNT(WRONG));
	suite_add_tcase(suite, all);
	return suite;
}
