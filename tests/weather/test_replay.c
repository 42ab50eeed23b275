/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "rigbudget/weather.h"
#include "suites.h"

static const uint64_t SEED = 20260903;

START_TEST(a_real_day_stands_for_a_day_of_its_own_month)
{
	int source[RIG_YEAR_DAYS];
	for (uint64_t trip = 0; trip < 200; trip++) {
		rig_replay_days((rig_stream){SEED, trip}, 300, RIG_YEAR_DAYS, source);
		for (int i = 0; i < RIG_YEAR_DAYS; i++)
			ck_assert_int_eq(rig_month_of_day(source[i]),
				rig_month_of_day((300 + i) % RIG_YEAR_DAYS));
	}
}
END_TEST

/* 30,000 days over 30: chi-square of 29 degrees of freedom passes 58.3 once in a thousand times if
 * days were independent; runs of ten of them make it up to ten times as wide. */
START_TEST(every_day_of_a_month_comes_as_often_as_any_other)
{
	enum { N_TRIPS = 1000 };
	int source[30];
	int count[30] = {0};
	for (uint64_t trip = 0; trip < N_TRIPS; trip++) {
		rig_replay_days((rig_stream){SEED, trip}, rig_month_first_day(10), 30, source);
		for (int i = 0; i < 30; i++)
			count[source[i] - rig_month_first_day(10)]++;
	}
	double chi_square = 0;
	for (int i = 0; i < 30; i++)
		chi_square += pow(count[i] - N_TRIPS, 2) / N_TRIPS;
	ck_assert_msg(chi_square < 583, "seed %llu: %g", (unsigned long long)SEED, chi_square);
	ck_assert_msg(chi_square > 13, "seed %llu: %g", (unsigned long long)SEED, chi_square);
}
END_TEST

/* Runs of ten: of 30 days in a month 29 pairs, of which a tenth begin a run (29 of 30 times on
 * another day than the next) and 9 runs of 10 pairs in 30 go round the month's end. */
START_TEST(days_follow_each_other_in_runs)
{
	enum { N_TRIPS = 2000 };
	int source[30];
	int broken = 0;
	for (uint64_t trip = 0; trip < N_TRIPS; trip++) {
		rig_replay_days((rig_stream){SEED, trip}, rig_month_first_day(10), 30, source);
		for (int i = 1; i < 30; i++)
			broken += source[i] != source[i - 1] + 1;
	}
	const double share = (double)broken / (N_TRIPS * 29);
	ck_assert_msg(fabs(share - 0.13) < 0.01, "seed %llu: %g", (unsigned long long)SEED, share);
}
END_TEST

/* Seams fall on each pair of days alike. */
START_TEST(seams_do_not_fall_on_the_same_days)
{
	enum { N_TRIPS = 4000 };
	int source[22];
	int seams[22] = {0};
	for (uint64_t trip = 0; trip < N_TRIPS; trip++) {
		rig_replay_days((rig_stream){SEED, trip}, rig_month_first_day(6), 22, source);
		for (int i = 1; i < 22; i++)
			seams[i] += source[i] != source[i - 1] + 1;
	}
	for (int i = 1; i < 22; i++)
		ck_assert_msg(
			fabs((double)seams[i] / N_TRIPS - 0.13) < 0.03, "day %d: %d", i, seams[i]);
}
END_TEST

START_TEST(replayed_days_depend_on_their_key_alone)
{
	int a[40];
	int b[40];
	int c[20];
	rig_replay_days((rig_stream){SEED, 3}, 350, 40, a);
	rig_replay_days((rig_stream){SEED, 3}, 350, 40, b);
	rig_replay_days((rig_stream){SEED, 3}, 350, 20, c);
	ck_assert(memcmp(a, b, sizeof a) == 0);
	ck_assert(memcmp(a, c, sizeof c) == 0);
	rig_replay_days((rig_stream){SEED, 4}, 350, 40, b);
	ck_assert(memcmp(a, b, sizeof a) != 0);
	rig_replay_days((rig_stream){SEED, 3 + (1ULL << 40)}, 350, 40, b);
	ck_assert(memcmp(a, b, sizeof a) != 0);
	rig_replay_days((rig_stream){SEED + (1ULL << 40), 3}, 350, 40, b);
	ck_assert(memcmp(a, b, sizeof a) != 0);
}
END_TEST

Suite *replay_suite(void);
Suite *replay_suite(void)
{
	Suite *suite = suite_create("replay");
	TCase *all = tcase_create("all");
	tcase_add_test(all, a_real_day_stands_for_a_day_of_its_own_month);
	tcase_add_test(all, every_day_of_a_month_comes_as_often_as_any_other);
	tcase_add_test(all, days_follow_each_other_in_runs);
	tcase_add_test(all, seams_do_not_fall_on_the_same_days);
	tcase_add_test(all, replayed_days_depend_on_their_key_alone);
	suite_add_tcase(suite, all);
	return suite;
}
