/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "energy/tally.h"

#include <assert.h>
#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "energy/kernel.h"

enum { FINE_BINS = 512, COARSE_BINS = 128, FINE_HOURS = 60 * 24 };

rig_status tally_new_plain(const rig_plan *plan, size_t n_hours, rig_tally **tally)
{
	assert(n_hours > 0);
	rig_status status = RIG_NO_MEMORY;
	rig_tally *made = calloc(1, sizeof *made);
	if (!made)
		goto out;
	made->n_hours = n_hours;
	made->n_stores = plan->n_stores;
	made->n_bins = n_hours <= FINE_HOURS ? FINE_BINS : COARSE_BINS;
	made->sums = calloc(plan->n_stores, sizeof *made->sums);
	made->short_sum = calloc(n_hours * plan->n_stores, sizeof *made->short_sum);
	made->ran_out = calloc(n_hours, sizeof *made->ran_out);
	made->generator_h = calloc(n_hours, sizeof *made->generator_h);
	made->generator_wh = calloc(n_hours, sizeof *made->generator_wh);
	if (!made->sums || !made->short_sum || !made->ran_out || !made->generator_h ||
		!made->generator_wh)
		goto out;
	tally_clear(made);
	*tally = made;
	made = NULL;
	status = RIG_OK;
out:
	rig_tally_free(made);
	return status;
}

rig_status rig_tally_new(const rig_plan *plan, size_t n_hours, rig_tally **tally)
{
	rig_tally *made = NULL;
	const rig_status status = tally_new_plain(plan, n_hours, &made);
	if (status != RIG_OK)
		return status;
	made->space = kernel_space_new(plan);
	if (!made->space) {
		rig_tally_free(made);
		return RIG_NO_MEMORY;
	}
	*tally = made;
	return RIG_OK;
}

void rig_tally_free(rig_tally *tally)
{
	if (!tally)
		return;
	free(tally->sums);
	free(tally->short_sum);
	free(tally->ran_out);
	free(tally->generator_h);
	free(tally->generator_wh);
	free(tally->charge_counts);
	free(tally->space);
	free(tally);
}

void tally_clear(rig_tally *tally)
{
	tally->n_trips = tally->n_never = 0;
	for (size_t s = 0; s < tally->n_stores; s++)
		tally->sums[s] = (rig_sums){.lowest_left_wh = DBL_MAX};
	memset(tally->short_sum, 0, tally->n_hours * tally->n_stores * sizeof *tally->short_sum);
	memset(tally->ran_out, 0, tally->n_hours * sizeof *tally->ran_out);
	memset(tally->generator_h, 0, tally->n_hours * sizeof *tally->generator_h);
	memset(tally->generator_wh, 0, tally->n_hours * sizeof *tally->generator_wh);
}

static void add_sums(const rig_sums *part, rig_sums *sum)
{
	sum->offered_wh += part->offered_wh;
	sum->charged_wh += part->charged_wh;
	sum->drawn_wh += part->drawn_wh;
	sum->curtailed_wh += part->curtailed_wh;
	sum->lost_wh += part->lost_wh;
	sum->start_wh += part->start_wh;
	sum->end_wh += part->end_wh;
	sum->lowest_left_wh = fmin(sum->lowest_left_wh, part->lowest_left_wh);
}

void tally_add(const rig_tally *part, rig_tally *sum)
{
	sum->n_trips += part->n_trips;
	sum->n_never += part->n_never;
	for (size_t s = 0; s < sum->n_stores; s++)
		add_sums(&part->sums[s], &sum->sums[s]);
	for (size_t i = 0; i < sum->n_hours * sum->n_stores; i++)
		sum->short_sum[i] += part->short_sum[i];
	for (size_t i = 0; i < sum->n_hours; i++) {
		sum->ran_out[i] += part->ran_out[i];
		sum->generator_h[i] += part->generator_h[i];
		sum->generator_wh[i] += part->generator_wh[i];
	}
}

/* ---- counts of charge ---- */

static size_t n_counts(const rig_tally *tally)
{
	return tally->n_stores * tally->n_hours * tally->n_bins;
}

size_t tally_charge_bytes(const rig_tally *tally)
{
	return n_counts(tally) * sizeof *tally->charge_counts;
}

rig_status rig_tally_count_charge(rig_tally *tally)
{
	if (!tally->charge_counts)
		tally->charge_counts = calloc(n_counts(tally), sizeof *tally->charge_counts);
	return tally->charge_counts ? RIG_OK : RIG_NO_MEMORY;
}

void tally_add_charge(const rig_tally *part, rig_tally *sum)
{
	for (size_t i = 0; i < n_counts(sum); i++)
		sum->charge_counts[i] += part->charge_counts[i];
}

/* So many bins that are passed in one step; divides the number of bins. */
enum { STRIDE = 16 };

static double count_of(const uint32_t *counts, size_t n)
{
	uint32_t sum = 0;
	for (size_t i = 0; i < n; i++)
		sum += counts[i];
	return sum;
}

void rig_tally_charges(const rig_tally *tally, size_t store, size_t hour, rig_shares shares)
{
	assert(tally->charge_counts && tally->n_trips > 0);
	assert(store < tally->n_stores && hour < tally->n_hours);
	const uint32_t *counts =
		tally->charge_counts + (store * tally->n_hours + hour) * tally->n_bins;
	double below = 0;
	size_t bin = 0;
	for (size_t k = 0; k < shares.n; k++) {
		assert(shares.share[k] >= 0 && shares.share[k] <= 1);
		assert(k == 0 || shares.share[k] >= shares.share[k - 1]);
		const double wanted = shares.share[k] * (double)tally->n_trips;
		while (bin + 1 < tally->n_bins) {
			const size_t n =
				bin % STRIDE == 0 && bin + STRIDE < tally->n_bins &&
						below + count_of(counts + bin, STRIDE) < wanted
					? STRIDE
					: 1;
			const double sum = count_of(counts + bin, n);
			if (!(below + sum < wanted))
				break;
			below += sum;
			bin += n;
		}
		const double within = counts[bin] > 0 ? (wanted - below) / counts[bin] : 0;
		shares.charge[k] = ((double)bin + within) / (double)tally->n_bins;
	}
}
