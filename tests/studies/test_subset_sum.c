/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/subset_sum.h"

#include <stdint.h>
#include <stdlib.h>

#include "suites.h"

enum { MOST = 12 };

static uint64_t stream;

static int pick(int n)
{
	stream = stream * 6364136223846793005u + 1442695040888963407u;
	return (int)((stream >> 33) % (unsigned)n);
}

static bool by_all_subsets(const double value[], size_t n, double low, double high)
{
	for (size_t mask = 0; mask < (size_t)1 << n; mask++) {
		double sum = 0;
		for (size_t i = 0; i < n; i++)
			sum += mask >> i & 1 ? value[i] : 0;
		if (sum >= low && sum <= high)
			return true;
	}
	return false;
}

/* Whole numbers, so that sums are exact in any order. */
START_TEST(it_is_what_all_subsets_say)
{
	int n_true = 0;
	stream = 1;
	for (int trial = 0; trial < 3000; trial++) {
		double value[MOST];
		double *scratch = malloc(rig_subset_sum_scratch(MOST) * sizeof *scratch);
		const size_t n = (size_t)pick(MOST + 1);
		for (size_t i = 0; i < n; i++)
			value[i] = pick(4) ? pick(900) : 250;
		const double low = pick(3000) - 100;
		const double high = low + pick(30);
		const bool found = rig_subset_sum(value, n, low, high, scratch);
		ck_assert(found == by_all_subsets(value, n, low, high));
		n_true += found;
		free(scratch);
	}
	ck_assert_int_gt(n_true, 300);
	ck_assert_int_lt(n_true, 2700);
}
END_TEST

START_TEST(nothing_adds_up_to_nothing)
{
	double scratch[3];
	ck_assert_uint_le(rig_subset_sum_scratch(0), 3);
	ck_assert(rig_subset_sum(NULL, 0, 0, 0, scratch));
	ck_assert(!rig_subset_sum(NULL, 0, 1, 2, scratch));
}
END_TEST

Suite *subset_sum_suite(void);
Suite *subset_sum_suite(void)
{
	Suite *suite = suite_create("subset_sum");
	TCase *all = tcase_create("all");
	tcase_add_test(all, it_is_what_all_subsets_say);
	tcase_add_test(all, nothing_adds_up_to_nothing);
	suite_add_tcase(suite, all);
	return suite;
}
