/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold of the verdict on the panels of any coach. */
#include <math.h>

#include "altered.h"
#include "laws.h"
#include "studies/solar_level.h"
#include "studies/solar_need.h"
#include "studies/solar_skies.h"
#include "suites.h"

enum { N_DAYS = 2, N_TRIPS = 100 };

/* How near the search for watts comes, and a little. */
static const double NEAR_RATIO = 1.02, ROUNDING = 1e-6;

/* Sky and stays are the same for all arrays that are tried. */
static solar_ground *ground_of(const subject *it, rig_arena *arena)
{
	solar_ground *ground = arena == NULL ? NULL : rig_arena_take(arena, 1, sizeof *ground);
	if (ground == NULL)
		return NULL;
	ground->place = &it->place;
	ground->arena = arena;
	ground->options = rig_solar_defaults();
	ground->options.month = it->month;
	ground->options.n_days = N_DAYS;
	ground->options.n_trips = N_TRIPS;
	ground->options.skies = rig_solar_skies_new();
	if (ground->options.skies == NULL)
		return NULL;
	ground->skies = solar_skies_months(ground->options.skies, ground->place, &ground->options);
	return ground;
}

/* A coach's bank judged, in the month of the ground; the case for those who want more of it. */
static solar_case *judge(
	solar_ground *ground, const rig_coach *coach, int bank, rig_solar_bank *finding)
{
	solar_year years[ALTERED_ITEMS];
	solar_case *made = NULL;
	for (size_t i = 0; i < coach->n_arrays; i++)
		solar_harvest(coach, (int)i, ground->place, ground->skies, &years[i]);
	*finding = (rig_solar_bank){.bank = bank, .role = coach->banks[bank].role};
	return solar_case_of(ground, coach, bank, years, &made) == RIG_OK &&
			       solar_levels(made, finding) == RIG_OK
		       ? made
		       : NULL;
}

static rig_solar_level level_of(solar_ground *ground, const altered *it, int bank)
{
	rig_solar_bank finding;
	return judge(ground, &it->coach, bank, &finding) != NULL
		       ? finding.months[ground->options.month].level.likely
		       : RIG_N_SOLAR_LEVELS;
}

static void scale_arrays(altered *it, double k)
{
	for (size_t i = 0; i < it->coach.n_arrays; i++) {
		it->arrays[i].total_w = scaled(it->arrays[i].total_w, k);
		it->arrays[i].watts_w = scaled(it->arrays[i].watts_w, k);
	}
}

/* ---- a level is what its criteria say ---- */

static const char *level_means_what_it_says(const solar_case *it, const rig_solar_bank_month *month)
{
	const rig_solar_level level = month->level.likely;
	if (month->level.low > level || level > month->level.high)
		return "a level lies outside its doubt";
	if ((month->spare_wh_day.likely >= 0) != (level >= RIG_MAINTAINS))
		return "maintains is something else than a harvest that covers the standing draw";
	if (!it->house)
		return level <= RIG_MAINTAINS ? NULL : "a chassis bank carries something";
	if (level >= RIG_EXTENDS && month->days_with.likely < RIG_SOLAR_DAYS_MAX &&
		month->days_with.likely <
			month->days_without.likely + RIG_SOLAR_EXTENDS_DAYS - ROUNDING)
		return "extends is said of less than a day";
	if (level == RIG_CARRIES &&
		month->run_out_frac.likely > 1 - RIG_SOLAR_CARRIES_FRAC + ROUNDING)
		return "carries is said where stays run out";
	return NULL;
}

/* ---- the watts that are said to be needed ---- */

/* So many watts on the bank reach the level, and a little less do not. */
static const char *watts_flip(solar_ground *ground, const altered *as_is, const solar_case *it,
	const rig_solar_need *need)
{
	const double watts_w = need->worst_w.likely;
	if (!rig_figure_given(need->worst_w) || watts_w < 2 || watts_w > RIG_SOLAR_SEARCH_MAX_W / 2)
		return NOT_ASKED;
	altered other;
	altered_of(&other, &as_is->coach);
	scale_arrays(&other, watts_w / it->total_w * (1 + ROUNDING));
	if (level_of(ground, &other, it->bank.bank) < need->level)
		return "the watts said to be needed do not reach the level";
	scale_arrays(&other, 1 / (1 + ROUNDING) / NEAR_RATIO);
	return level_of(ground, &other, it->bank.bank) < need->level
		       ? NULL
		       : "fewer watts than said reach the level";
}

/* The bank with an array whose turn it is, or -1. */
static int bank_with_array(const subject *it)
{
	const size_t n = it->coach->n_arrays;
	for (size_t i = 0; i < n; i++) {
		const rig_array *array = &it->coach->arrays[(i + it->number) % n];
		if (array->bank_index >= 0 && array->total_w.likely > 0)
			return array->bank_index;
	}
	return -1;
}

static const char *bank_holds(
	const subject *it, solar_ground *ground, const altered *as_is, rig_solar_bank *finding)
{
	solar_case *made = judge(ground, &as_is->coach, bank_with_array(it), finding);
	if (made == NULL || made->total_w <= 0)
		return NOT_ASKED;
	const rig_solar_bank_month *month = &finding->months[it->month];
	const char *broken = level_means_what_it_says(made, month);
	if (broken != NULL || solar_needs(made, finding) != RIG_OK)
		return broken;
	const size_t level = RIG_MAINTAINS + it->number / 2 % 3;
	return level < finding->n_needs ? watts_flip(ground, as_is, made, &finding->needs[level])
					: NOT_ASKED;
}

/* Limits of controllers are lifted, as needs have it. */
static const char *verdicts_flip(const subject *it)
{
	rig_solar_bank finding;
	altered as_is;
	if (bank_with_array(it) < 0)
		return NOT_ASKED;
	altered_of(&as_is, it->coach);
	for (size_t i = 0; i < as_is.coach.n_arrays; i++)
		as_is.arrays[i].controller_limit_a = (rig_figure){0};
	rig_arena *arena = rig_arena_new();
	solar_ground *ground = ground_of(it, arena);
	const char *broken = ground == NULL ? NOT_ASKED : bank_holds(it, ground, &as_is, &finding);
	if (ground != NULL)
		rig_solar_skies_free(ground->options.skies);
	rig_arena_free(arena);
	return broken;
}

static const law_row SUN[] = {
	{"verdicts flip at the watts said", verdicts_flip, 100},
};

START_TEST(verdicts_on_any_coach_obey)
{
	laws_hold(SUN, COUNT(SUN), _i);
}
END_TEST

Suite *sun_laws_suite(void);
Suite *sun_laws_suite(void)
{
	Suite *suite = suite_create("sun_laws");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 600);
	tcase_add_loop_test(all, verdicts_on_any_coach_obey, 0, N_LAW_PARTS);
	suite_add_tcase(suite, all);
	return suite;
}
