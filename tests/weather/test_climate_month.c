/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far months stray from their long mean, and what goes with that. */
#include <math.h>
#include <string.h>

#include "outside.h"
#include "rigbudget/weather.h"
#include "suites.h"

static const uint64_t SEED = 20260902;
enum { N_TRIPS = 1500 };

static rig_climate_facts facts_of(const char *name)
{
	rig_place place;
	rig_climate_facts facts;
	const long found = rig_place_find(name);
	ck_assert_int_ge(found, 0);
	rig_place_at((size_t)found, &place);
	rig_climate_facts_of_place(&place, &facts);
	return facts;
}

/* What many years have in one month and the next. */
typedef struct {
	double mean, scatter;    /* of the month's mean clearness; scatter over the mean */
	double within;           /* spread of the days about their own month's mean */
	double next;             /* correlation of the month's mean with the next one's */
	double lowest, clearest; /* day of all */
} month_course;

static void month_mean(const rig_day *days, int n, month_course *course, double *mean)
{
	double squares = 0;
	*mean = 0;
	for (int i = 0; i < n; i++)
		*mean += days[i].clearness / n;
	for (int i = 0; i < n; i++) {
		squares += pow(days[i].clearness - *mean, 2);
		course->lowest = fmin(course->lowest, days[i].clearness);
		course->clearest = fmax(course->clearest, days[i].clearness);
	}
	course->within += squares / (n - 1) / N_TRIPS;
}

static month_course course_of(const rig_climate_facts *facts, int month)
{
	rig_climate *climate = rig_climate_of_facts(facts);
	const int n = rig_month_n_days(month);
	const int n_next = rig_month_n_days((month + 1) % 12);
	month_course course = {.lowest = 1};
	month_course other = course;
	double sums[5] = {0};
	for (uint64_t trip = 0; trip < N_TRIPS; trip++) {
		rig_day days[62];
		double mean[2];
		rig_climate_days(climate, (rig_stream){SEED, trip}, rig_month_first_day(month),
			(size_t)n + (size_t)n_next, days);
		month_mean(days, n, &course, &mean[0]);
		month_mean(days + n, n_next, &other, &mean[1]);
		sums[0] += mean[0] / N_TRIPS;
		sums[1] += mean[1] / N_TRIPS;
		sums[2] += mean[0] * mean[0] / N_TRIPS;
		sums[3] += mean[1] * mean[1] / N_TRIPS;
		sums[4] += mean[0] * mean[1] / N_TRIPS;
	}
	const double sd = sqrt(sums[2] - sums[0] * sums[0]);
	const double sd_next = sqrt(sums[3] - sums[1] * sums[1]);
	course.mean = sums[0];
	course.scatter = sd / sums[0];
	course.within = sqrt(course.within);
	course.next = (sums[4] - sums[0] * sums[1]) / (sd * sd_next);
	rig_climate_free(climate);
	return course;
}

static const outside_series SCATTER = {"weather",
	"Scatter of a synthetic month's mean light about its long mean, over the mean",
	"profiles/places.json: 5 to 15 % in long measured series",
	"0.006: three standard errors of 1,500 months"};

/* Months whose days alone would scatter by less. */
static const struct {
	const char *name;
	int month;
} ASTRAY[] = {{"Seattle", 6}, {"Minneapolis", 0}, {"Miami Intl", 3}, {"Flagstaff", 10},
	{"Phoenix Sky", 11}, {"Fairbanks Intl", 5}};

START_TEST(months_stray_as_far_as_the_profile_says)
{
	rig_climate_facts facts = facts_of(ASTRAY[_i].name);
	const int month = ASTRAY[_i].month;
	const month_course astray = course_of(&facts, month);
	facts.month_scatter_frac = 0;
	const month_course plain = course_of(&facts, month);
	ck_assert_double_lt(plain.scatter, 0.085);
	OUTSIDE(&SCATTER, astray.scatter, 0.10, 0.006, "%s, month %d", ASTRAY[_i].name, month + 1);
	/* the long mean and the days about their own month's mean stay as they were */
	ck_assert_double_eq_tol(astray.mean, plain.mean, 0.01 * plain.mean);
	ck_assert_double_eq_tol(astray.within, facts.place.kt_sd[month], 0.02 * astray.within);
	ck_assert_double_eq_tol(plain.within, facts.place.kt_sd[month], 0.02 * plain.within);
	/* 0.05 is the darkest day of [HOLLANDS-1983]; the clearest may rise by 0.02 */
	ck_assert_double_ge(astray.lowest, 0.03);
	ck_assert_double_lt(astray.clearest, plain.clearest + 0.025);
}
END_TEST

/* November in Minneapolis: days with a spread of 0.46 of their mean and a memory of 0.29 leave a
 * month's mean a scatter of 0.46 sqrt(1.82 / 30.4) = 0.11 by themselves. */
START_TEST(what_the_days_bring_is_not_drawn_twice)
{
	rig_climate_facts facts = facts_of("Minneapolis");
	const month_course astray = course_of(&facts, 10);
	facts.month_scatter_frac = 0;
	const month_course plain = course_of(&facts, 10);
	ck_assert_double_gt(plain.scatter, 0.10);
	ck_assert_double_eq_tol(astray.scatter, plain.scatter, 1e-9);
}
END_TEST

/* June in Phoenix is clear on nearly all days, so that it cannot stray by 10 %. */
START_TEST(a_month_that_is_nearly_all_clear_strays_less)
{
	rig_climate_facts facts = facts_of("Phoenix Sky");
	const month_course astray = course_of(&facts, 5);
	facts.month_scatter_frac = 0;
	const month_course plain = course_of(&facts, 5);
	ck_assert_double_lt(astray.scatter, 0.09);
	ck_assert_double_gt(astray.scatter, plain.scatter);
	ck_assert_double_lt(astray.clearest, plain.clearest + 0.025);
}
END_TEST

START_TEST(a_larger_scatter_moves_months_farther)
{
	rig_climate_facts facts = facts_of("Seattle");
	double last = 0;
	for (int k = 1; k <= 3; k++) {
		facts.month_scatter_frac = 0.08 * k;
		const month_course course = course_of(&facts, 6);
		ck_assert_double_gt(course.scatter, last);
		last = course.scatter;
	}
}
END_TEST

/* With a scatter of 0.20 nearly all of a month's straying is the month's own figure. */
START_TEST(months_follow_each_other_as_they_are_told_to)
{
	rig_climate_facts facts = facts_of("Seattle");
	facts.month_scatter_frac = 0.2;
	const month_course apart = course_of(&facts, 6);
	facts.month_memory = 0.8;
	const month_course linked = course_of(&facts, 6);
	ck_assert_double_lt(fabs(apart.next), 0.1); /* three standard errors and the days' link */
	ck_assert_double_gt(linked.next, 0.5);
	ck_assert_double_lt(linked.next, 0.8);
}
END_TEST

/* ---- warmth ---- */

/* Correlation of warmth and clearness over days of many trips. */
static double warm_clear_of(const rig_climate_facts *facts, int month, size_t first, size_t n)
{
	rig_climate *climate = rig_climate_of_facts(facts);
	double sums[5] = {0};
	const double weight = 1.0 / (N_TRIPS * (double)n);
	for (uint64_t trip = 0; trip < N_TRIPS; trip++) {
		rig_day days[31];
		rig_climate_days(climate, (rig_stream){SEED, trip}, rig_month_first_day(month),
			first + n, days);
		for (size_t i = first; i < first + n; i++) {
			sums[0] += weight * days[i].clearness;
			sums[1] += weight * days[i].warmth_k;
			sums[2] += weight * days[i].clearness * days[i].clearness;
			sums[3] += weight * days[i].warmth_k * days[i].warmth_k;
			sums[4] += weight * days[i].clearness * days[i].warmth_k;
		}
	}
	rig_climate_free(climate);
	return (sums[4] - sums[0] * sums[1]) /
	       sqrt((sums[2] - sums[0] * sums[0]) * (sums[3] - sums[1] * sums[1]));
}

static const double WARM_CLEAR[] = {-0.6, -0.25, 0, 0.5, 0.75};

START_TEST(warm_and_clear_days_go_together_as_they_are_told_to)
{
	rig_climate_facts facts = facts_of("Seattle");
	facts.month_scatter_frac = 0;
	facts.warm_clear[6] = WARM_CLEAR[_i];
	ck_assert_double_eq_tol(warm_clear_of(&facts, 6, 0, 28), WARM_CLEAR[_i], 0.03);
	/* from the first day on */
	ck_assert_double_eq_tol(warm_clear_of(&facts, 6, 0, 1), WARM_CLEAR[_i], 0.08);
}
END_TEST

START_TEST(clear_days_are_warm_in_summer_and_cold_in_winter)
{
	const rig_climate_facts facts = facts_of("Minneapolis");
	ck_assert_double_gt(warm_clear_of(&facts, 6, 0, 28), 0.3);
	ck_assert_double_lt(warm_clear_of(&facts, 0, 0, 28), -0.15);
}
END_TEST

START_TEST(a_clear_days_temperature_swings_wider_about_the_same_mean)
{
	const rig_climate_facts facts = facts_of("Flagstaff");
	rig_climate *climate = rig_climate_of_facts(&facts);
	double last_k = 0;
	for (int k = 1; k <= 7; k++) {
		const rig_day day = {.day_of_year = 200, .clearness = k / 10.0, .warmth_k = 2};
		rig_day_hours hours;
		double low = INFINITY;
		double high = -INFINITY;
		double mean = 0;
		rig_climate_hours(climate, &day, &hours);
		for (int h = 0; h < RIG_DAY_HOURS; h++) {
			low = fmin(low, hours.temp_c[h]);
			high = fmax(high, hours.temp_c[h]);
			mean += hours.temp_c[h] / RIG_DAY_HOURS;
		}
		ck_assert_double_gt(high - low, last_k);
		ck_assert_double_eq_tol(mean, facts.place.temp_mean_c[6] + 2, 1e-6);
		last_k = high - low;
	}
	rig_climate_free(climate);
}
END_TEST

/* Nothing to spread and nothing to correlate with must not end in a division by nothing. */
START_TEST(months_without_spread_or_sun_stay_finite)
{
	rig_climate_facts facts = facts_of("Fairbanks Intl");
	facts.place.kt_sd[3] = 0;
	facts.place.ghi_kwh_m2_day[4] = 0;
	facts.temp_sd_k[5] = 0;
	rig_climate *climate = rig_climate_of_facts(&facts);
	rig_day days[RIG_YEAR_DAYS];
	rig_climate_days(climate, (rig_stream){SEED, 1}, 0, RIG_YEAR_DAYS, days);
	for (int i = 0; i < RIG_YEAR_DAYS; i++) {
		ck_assert(isfinite(days[i].clearness) && isfinite(days[i].warmth_k));
		if (rig_month_of_day(i) == 3)
			ck_assert_double_eq(
				days[i].clearness, days[rig_month_first_day(3)].clearness);
	}
	rig_climate_free(climate);
}
END_TEST

Suite *climate_month_suite(void);
Suite *climate_month_suite(void)
{
	Suite *suite = suite_create("climate_month");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, months_stray_as_far_as_the_profile_says, 0, COUNT(ASTRAY));
	tcase_add_test(all, what_the_days_bring_is_not_drawn_twice);
	tcase_add_test(all, a_month_that_is_nearly_all_clear_strays_less);
	tcase_add_test(all, a_larger_scatter_moves_months_farther);
	tcase_add_test(all, months_follow_each_other_as_they_are_told_to);
	tcase_add_loop_test(
		all, warm_and_clear_days_go_together_as_they_are_told_to, 0, COUNT(WARM_CLEAR));
	tcase_add_test(all, clear_days_are_warm_in_summer_and_cold_in_winter);
	tcase_add_test(all, a_clear_days_temperature_swings_wider_about_the_same_mean);
	tcase_add_test(all, months_without_spread_or_sun_stay_finite);
	tcase_set_timeout(all, 60);
	suite_add_tcase(suite, all);
	return suite;
}
