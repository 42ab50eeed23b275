/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/subset_sum.h"

#include <assert.h>
#include <string.h>

static size_t n_sums(size_t n)
{
	return (size_t)1 << n;
}

size_t rig_subset_sum_scratch(size_t n)
{
	/* both halves and the list that one of them is made from */
	return 3 * n_sums((n + 1) / 2);
}

/* All sums of n values, ascending: with each value, the sums so far and the same with it, merged.
 */
static void list_sums(const double value[], size_t n, double sums[], double before[])
{
	sums[0] = 0;
	for (size_t k = 0; k < n; k++) {
		const size_t n_before = n_sums(k);
		memcpy(before, sums, n_before * sizeof *sums);
		size_t plain = 0, with = 0;
		for (size_t i = 0; i < 2 * n_before; i++) {
			const bool take_with =
				plain == n_before ||
				(with < n_before && before[with] + value[k] < before[plain]);
			sums[i] = take_with ? before[with++] + value[k] : before[plain++];
		}
	}
}

bool rig_subset_sum(const double value[], size_t n, double low, double high, double scratch[])
{
	assert(n <= RIG_SUBSET_SUM_MOST);
	const size_t half = (n + 1) / 2;
	double *one = scratch;
	double *other = one + n_sums(half);
	double *before = other + n_sums(half);
	list_sums(value, half, one, before);
	list_sums(value + half, n - half, other, before);
	size_t j = n_sums(n - half);
	for (size_t i = 0; i < n_sums(half); i++) {
		while (j > 0 && one[i] + other[j - 1] > high)
			j--;
		if (j > 0 && one[i] + other[j - 1] >= low)
			return true;
	}
	return false;
}
