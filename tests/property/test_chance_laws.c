/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold of many trips of any coach, each with weather and draws of its own. */
#include <string.h>

#include "altered.h"
#include "energy/kernel.h"
#include "laws.h"
#include "random_coach.h"
#include "rigbudget/trip.h"
#include "stay.h"
#include "suites.h"

/* Three blocks of trips, so that threads have something to share. */
enum { N_DAYS = 2, N_TRIPS = 2 * RIG_LANES + 1 };

static rig_trip_findings *trip_of(
	const subject *it, const rig_coach *coach, size_t n_threads, bool plain_code)
{
	rig_trip_options options = rig_trip_defaults();
	options.month = it->month;
	options.n_days = N_DAYS;
	options.n_trips = N_TRIPS;
	options.n_side_trips = 0;
	options.seed = it->number;
	options.n_threads = n_threads;
	options.plain_code = plain_code;
	rig_trip_findings *findings = NULL;
	return rig_trip_study(coach, &it->place, &options, &findings) == RIG_OK &&
			       findings->chance.n_trips > 0
		       ? findings
		       : (rig_trip_free(findings), NULL);
}

/* ---- one chance ---- */

static const char *chance_means_what_it_says(const rig_trip_findings *findings)
{
	const rig_trip_chance *chance = &findings->chance;
	double before = 0;
	for (size_t day = 0; day < chance->n_days; day++) {
		if (chance->out_by_day_frac[day] < before)
			return "fewer have run out by a day than by the day before";
		before = chance->out_by_day_frac[day];
	}
	if (!law_close(chance->never_out_frac, 1 - before))
		return "those that never run out and those that do are not all";
	if (chance->never_out_frac == 1 && chance->unserved_wh != 0)
		return "nobody runs out and something goes unserved";
	for (size_t hour = 0; hour < findings->n_hours; hour++)
		for (int q = 1; q < RIG_TRIP_QUANTILES; q++)
			if (chance->charge_frac[q][hour] < chance->charge_frac[q - 1][hour])
				return "more trips stay below a lower charge";
	return NULL;
}

/* ---- the same bytes ---- */

static bool same_chance(const rig_trip_findings *a, const rig_trip_findings *b)
{
	const rig_trip_chance *x = &a->chance, *y = &b->chance;
	bool same = x->never_out_frac == y->never_out_frac && x->unserved_wh == y->unserved_wh &&
		    memcmp(x->out_by_day_frac, y->out_by_day_frac,
			    x->n_days * sizeof x->out_by_day_frac[0]) == 0;
	for (int q = 0; q < RIG_TRIP_QUANTILES; q++)
		same = same && memcmp(x->charge_frac[q], y->charge_frac[q],
				       a->n_hours * sizeof x->charge_frac[q][0]) == 0;
	return same;
}

static const char *workers_do_not_matter(const subject *it, const rig_trip_findings *one)
{
	static const struct {
		size_t n_threads;
		bool plain_code;
		const char *broken;
	} OTHERS[] = {{2, false, "two threads have other bytes than one"},
		{8, true, "eight threads with plain code have other bytes than one with vectors"}};
	const char *broken = NULL;
	for (int i = 0; i < COUNT(OTHERS) && broken == NULL; i++) {
		rig_trip_findings *other =
			trip_of(it, it->coach, OTHERS[i].n_threads, OTHERS[i].plain_code);
		if (other == NULL || !same_chance(one, other))
			broken = OTHERS[i].broken;
		rig_trip_free(other);
	}
	return broken;
}

/* What a block of trips draws besides its weather: [i * RIG_LANES + lane]. */
enum { MAX_CONSUMERS = 2 * ALTERED_ITEMS };
static double consumer_ratio[MAX_CONSUMERS * RIG_LANES], source_ratio[ALTERED_ITEMS * RIG_LANES],
	warmth_k[STAY_DAYS * RIG_LANES];

static void draw(uint64_t number)
{
	uint64_t state = number;
	for (int i = 0; i < COUNT(consumer_ratio); i++)
		consumer_ratio[i] = (double)(i * 7 % 11) / 8;
	for (int i = 0; i < COUNT(source_ratio); i++)
		source_ratio[i] = (double)(i * 5 % 13) / 6;
	for (int i = 0; i < COUNT(warmth_k); i++)
		warmth_k[i] = 12 * random_share(&state) - 6;
}

/* NULL: memory is out. */
static rig_tally *block_of(const rig_plan *plan, kernel_code code, size_t n, rig_outcomes *outcomes)
{
	const rig_draws draws = {.stride = RIG_LANES,
		.warmth_k = warmth_k,
		.consumer_ratio = consumer_ratio,
		.source_ratio = source_ratio};
	rig_tally *tally = NULL;
	*outcomes = (rig_outcomes){.first_short = {0}};
	if (rig_tally_new(plan, STAY_HOURS, &tally) != RIG_OK)
		return NULL;
	kernel_run(&(kernel_block){plan, &draws, n, tally->space, tally, outcomes}, code);
	return tally;
}

static bool same_block(const rig_plan *plan, kernel_code code, size_t n)
{
	rig_outcomes one, two;
	rig_tally *a = block_of(plan, KERNEL_PLAIN, n, &one), *b = block_of(plan, code, n, &two);
	const bool same = a != NULL && b != NULL && a->n_never == b->n_never &&
			  memcmp(a->sums, b->sums, a->n_stores * sizeof a->sums[0]) == 0 &&
			  memcmp(a->short_sum, b->short_sum,
				  a->n_hours * a->n_stores * sizeof a->short_sum[0]) == 0 &&
			  memcmp(a->ran_out, b->ran_out, a->n_hours * sizeof a->ran_out[0]) == 0 &&
			  memcmp(one.margin_wh, two.margin_wh, n * sizeof one.margin_wh[0]) == 0;
	rig_tally_free(a);
	rig_tally_free(b);
	return same;
}

/* Of the kinds of code that this processor has. */
static const char *vectors_do_not_matter(const subject *it)
{
	stay made;
	const char *broken = NOT_ASKED;
	if (stay_of(it->coach, &it->place, it->month, &made)) {
		const size_t n = it->number % 2 == 0 ? RIG_LANES : 1 + it->number % 11;
		broken = NULL;
		draw(it->number);
		for (kernel_code code = KERNEL_256; code <= KERNEL_512; code++)
			if (kernel_has(code) && !same_block(made.plan, code, n))
				broken = "vectors have other bytes than plain code";
	}
	stay_free(&made);
	return broken;
}

/* ---- larger parts on the same draws ---- */

/* As in the laws of a stay: where no load waits for a level and no bank leaks. */
static bool may_be_asked(const rig_coach *coach)
{
	for (size_t i = 0; i < coach->n_banks; i++)
		if (rig_figure_given(coach->banks[i].reconnect_soc_frac))
			return false;
	return true;
}

static void seal(altered *it)
{
	for (size_t i = 0; i < it->coach.n_banks; i++) {
		it->banks[i].self_discharge_frac_month = rig_figure_of(0, RIG_FROM_STATED);
		/* of a larger bank they would be others */
		it->banks[i].reserve_minutes = (rig_figure){0};
	}
}

static bool runs_out_more(const rig_trip_findings *one, const rig_trip_findings *two)
{
	for (size_t day = 0; day < one->chance.n_days; day++)
		if (two->chance.out_by_day_frac[day] > one->chance.out_by_day_frac[day])
			return true;
	return false;
}

static void enlarge(altered *it, bool panel)
{
	for (size_t i = 0; panel && i < it->coach.n_arrays; i++)
		it->arrays[i].total_w = scaled(it->arrays[i].total_w, 1.25);
	for (size_t i = 0; !panel && i < it->coach.n_banks; i++) {
		it->banks[i].total_wh = scaled(it->banks[i].total_wh, 1.25);
		it->banks[i].usable_wh = scaled(it->banks[i].usable_wh, 1.25);
		it->banks[i].capacity_ah = scaled(it->banks[i].capacity_ah, 1.25);
	}
}

static const char *larger_parts_run_out_no_more(const subject *it)
{
	altered one, two;
	altered_of(&one, it->coach);
	seal(&one);
	altered_of(&two, &one.coach);
	enlarge(&two, it->number / 2 % 2 == 0);
	rig_trip_findings *as_is = trip_of(it, &one.coach, 1, false);
	rig_trip_findings *larger = trip_of(it, &two.coach, 1, false);
	const char *broken = NULL;
	if (as_is != NULL && (larger == NULL || runs_out_more(as_is, larger)))
		broken = "a larger part runs out on more trips of the same draws";
	rig_trip_free(as_is);
	rig_trip_free(larger);
	return broken;
}

static const char *chances_hold(const subject *it)
{
	rig_trip_findings *one = trip_of(it, it->coach, 1, false);
	const char *broken = one == NULL ? NOT_ASKED : chance_means_what_it_says(one);
	if (broken == NULL)
		broken = workers_do_not_matter(it, one);
	rig_trip_free(one);
	return broken;
}

static const char *larger_parts_are_no_worse(const subject *it)
{
	bool house = false;
	for (size_t i = 0; i < it->coach->n_banks; i++)
		house = house || it->coach->banks[i].role != RIG_CHASSIS;
	return house && may_be_asked(it->coach) ? larger_parts_run_out_no_more(it) : NOT_ASKED;
}

static const law_row CHANCES[] = {
	{"chances hold, whoever works them out", chances_hold, 500},
	{"vectors do not matter", vectors_do_not_matter, 500},
	{"larger parts are no worse", larger_parts_are_no_worse, 200},
};

START_TEST(chances_of_any_coach_obey)
{
	laws_hold(CHANCES, COUNT(CHANCES), _i);
}
END_TEST

Suite *chance_laws_suite(void);
Suite *chance_laws_suite(void)
{
	Suite *suite = suite_create("chance_laws");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 600);
	tcase_add_loop_test(all, chances_of_any_coach_obey, 0, N_LAW_PARTS);
	suite_add_tcase(suite, all);
	return suite;
}
