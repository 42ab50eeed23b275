/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/solar_skies.h"

#include "suites.h"

static rig_solar_skies *skies;
static rig_place place;
static rig_solar_options options;

static void setup(void)
{
	skies = rig_solar_skies_new();
	ck_assert_ptr_nonnull(skies);
	rig_place_at((size_t)rig_place_find("Flagstaff"), &place);
	options = rig_solar_defaults();
	options.n_days = 3;
	options.n_trips = 100;
}

static void teardown(void)
{
	rig_solar_skies_free(skies);
}

static const solar_sky *months(void)
{
	const solar_sky *found = solar_skies_months(skies, &place, &options);
	ck_assert_ptr_nonnull(found);
	return found;
}

START_TEST(the_same_place_gets_the_skies_that_are_kept)
{
	const solar_sky *first = months();
	const solar_trips *trips = solar_skies_trips(skies, &place, 5, &options);
	ck_assert_ptr_nonnull(trips);
	ck_assert_ptr_eq(months(), first);
	ck_assert_ptr_eq(solar_skies_trips(skies, &place, 5, &options), trips);
	ck_assert_ptr_ne(solar_skies_trips(skies, &place, 6, &options), trips);
	rig_solar_skies_free(NULL);
}
END_TEST

/* All that a sky hangs on: what is altered stands between its neighbours in the list. */
static double *const FIGURE[] = {&place.latitude_deg, &place.longitude_deg, &place.elevation_m,
	&place.utc_offset_h, &place.ghi_kwh_m2_day[0], &place.ghi_kwh_m2_day[11],
	&place.dhi_kwh_m2_day[5], &place.kt_sd[3], &place.temp_mean_c[7], &place.temp_min_c[1],
	&place.temp_max_c[10], &place.sun_low_ratio, &place.sun_high_ratio,
	&place.month_scatter_frac};

START_TEST(a_place_that_differs_in_one_figure_has_skies_of_its_own)
{
	const solar_sky *first = months();
	const double before = *FIGURE[_i];
	*FIGURE[_i] = before * 1.01 + 0.01;
	const solar_sky *second = months();
	ck_assert_ptr_ne(second, first);
	*FIGURE[_i] = before;
	ck_assert_ptr_eq(months(), first);
}
END_TEST

START_TEST(other_trips_are_drawn_anew)
{
	const solar_sky *first = months();
	options.n_days++;
	const solar_sky *longer = months();
	options.n_trips++;
	const solar_sky *more = months();
	options.seed++;
	const solar_sky *other = months();
	ck_assert(longer != first && more != longer && other != more);
}
END_TEST

/* Eight places are kept; the ninth takes the room of the one kept longest, and that alone. */
START_TEST(the_place_kept_longest_makes_room)
{
	const double latitude_deg = place.latitude_deg;
	const solar_sky *of[8];
	for (int i = 0; i < 8; i++) {
		place.latitude_deg = latitude_deg + 0.1 * i;
		of[i] = months();
	}
	for (int i = 0; i < 8; i++) {
		place.latitude_deg = latitude_deg + 0.1 * i;
		ck_assert_ptr_eq(months(), of[i]);
	}
	place.latitude_deg = latitude_deg + 0.8;
	(void)months();
	for (int i = 1; i < 8; i++) {
		place.latitude_deg = latitude_deg + 0.1 * i;
		ck_assert_ptr_eq(months(), of[i]);
	}
}
END_TEST

/* Whatever was asked before, the trips of a place are those that it gets alone. */
START_TEST(trips_do_not_hang_on_what_was_asked_before)
{
	rig_solar_skies *alone = rig_solar_skies_new();
	const solar_trips *wanted = solar_skies_trips(alone, &place, 6, &options);
	const double latitude_deg = place.latitude_deg;
	(void)solar_skies_trips(skies, &place, 2, &options);
	place.latitude_deg = latitude_deg + 5;
	(void)solar_skies_trips(skies, &place, 6, &options);
	place.latitude_deg = latitude_deg;
	const solar_trips *found = solar_skies_trips(skies, &place, 6, &options);
	ck_assert_ptr_nonnull(wanted);
	ck_assert_ptr_nonnull(found);
	ck_assert_uint_eq(found->n_trips, 100);
	ck_assert_uint_eq(found->n_days, 3);
	ck_assert_mem_eq(found->sky, wanted->sky, 300 * sizeof *found->sky);
	ck_assert_mem_eq(found->knots, wanted->knots, sizeof found->knots);
	solar_sky same[12];
	for (int month = 0; month < 12; month++)
		solar_sky_of(&place, month, &same[month]);
	ck_assert_mem_eq(solar_skies_months(skies, &place, &options), same, sizeof same);
	rig_solar_skies_free(alone);
}
END_TEST

Suite *solar_skies_suite(void);
Suite *solar_skies_suite(void)
{
	Suite *suite = suite_create("solar_skies");
	TCase *all = tcase_create("all");
	tcase_add_checked_fixture(all, setup, teardown);
	tcase_add_test(all, the_same_place_gets_the_skies_that_are_kept);
	tcase_add_loop_test(
		all, a_place_that_differs_in_one_figure_has_skies_of_its_own, 0, COUNT(FIGURE));
	tcase_add_test(all, other_trips_are_drawn_anew);
	tcase_add_test(all, the_place_kept_longest_makes_room);
	tcase_add_test(all, trips_do_not_hang_on_what_was_asked_before);
	suite_add_tcase(suite, all);
	return suite;
}
