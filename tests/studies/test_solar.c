/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/solar.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "exactly.h"
#include "outside.h"
#include "read_coach.h"
#include "rig/random_coach.h"
#include "rigbudget/trip.h"
#include "solar_coach.h"
#include "suites.h"

enum { JUNE = 5, DECEMBER = 11 };

static rig_place place_of(const char *name)
{
	rig_place place;
	const long i = rig_place_find(name);
	ck_assert_msg(i >= 0, "no place %s", name);
	rig_place_at((size_t)i, &place);
	return place;
}

static rig_solar_options few_trips(void)
{
	rig_solar_options options = rig_solar_defaults();
	options.n_trips = 100;
	return options;
}

static rig_solar_findings *study(const rig_coach *coach, const rig_place *place)
{
	const rig_solar_options options = few_trips();
	rig_solar_findings *findings = NULL;
	ck_assert_int_eq(rig_solar_study(coach, place, &options, &findings), RIG_OK);
	return findings;
}

/* Sun belts, snow, cloud, height, the far north and the tropics. */
static const char *const PLACES[] = {"Phoenix Sky Harbor", "Flagstaff Pulliam",
	"Seattle Seattletacoma", "Miami Intl", "Fairbanks Intl", "Minneapolisst Paul", "Barrow"};

/* ---- what must hold everywhere ---- */

/* Here at its best: the tracker, no shade, the inverter off but while in use, at the favourable
 * ends of all ranges. */
static const outside_series SMALL_PANEL = {"whole systems",
	"Months at the 1,020 places in which 35 to 40 W on a coach with a household maintain a "
	"battery "
	"at best, by the favourable ends of all ranges",
	"common practice, no source: by its size a panel of 35 to 40 W is a maintainer, it cannot "
	"run "
	"the coach",
	"none: all 12,240"};

/* Months of all places by the level that a bank reaches at its favourable end. */
typedef struct {
	int months[2][RIG_N_SOLAR_LEVELS];
} level_counts;

/* Under the sanitizers every twentieth place: the others run the same lines. */
#ifdef RIG_SLOW
enum { PLACE_STRIDE = 20 };
#else
enum { PLACE_STRIDE = 1 };
#endif

static level_counts count_levels(const rig_coach *coach)
{
	level_counts counts = {0};
	for (size_t i = 0; i < rig_n_places(); i += PLACE_STRIDE) {
		rig_place place;
		rig_place_at(i, &place);
		rig_solar_findings *findings = study(coach, &place);
		for (size_t b = 0; b < coach->n_banks; b++)
			for (int m = 0; m < RIG_SOLAR_MONTHS; m++)
				counts.months[b][findings->banks[b].months[m].level.high]++;
		rig_solar_free(findings);
	}
	return counts;
}

static int at_most_maintained(const level_counts *counts, int bank)
{
	return counts->months[bank][RIG_FALLS_SHORT] + counts->months[bank][RIG_MAINTAINS];
}

static void set_small_panel(solar_coach *made)
{
	solar_coach_household(made);
	made->arrays[0].watts_w = made->arrays[0].total_w =
		rig_figure_range(35.0, 38.0, 40.0, RIG_FROM_ESTIMATED);
	made->arrays[0].controller = RIG_MPPT;
	made->arrays[0].shade_frac = exactly(0.0);
	made->coach.inverter.always_on = RIG_NO;
}

enum { ALL_MONTHS = 1020 / PLACE_STRIDE * RIG_SOLAR_MONTHS };

START_TEST(a_small_panel_maintains_a_house_bank_at_best_at_every_place)
{
	static solar_coach made;
	set_small_panel(&made);
	const level_counts counts = count_levels(&made.coach);
	OUTSIDE(&SMALL_PANEL, at_most_maintained(&counts, HOUSE), ALL_MONTHS, 0,
		"on the house bank");
}
END_TEST

START_TEST(a_small_panel_maintains_a_chassis_bank_at_best_at_every_place)
{
	static solar_coach made;
	set_small_panel(&made);
	made.banks[HOUSE] = made.banks[CHASSIS];
	made.coach.n_banks = 1;
	made.coach.inverter.present = false;
	const level_counts counts = count_levels(&made.coach);
	OUTSIDE(&SMALL_PANEL, at_most_maintained(&counts, 0), ALL_MONTHS, 0,
		"on a chassis bank that is the only one");
	/* and it does hold it somewhere */
	ck_assert_int_gt(counts.months[0][RIG_MAINTAINS], 0);
}
END_TEST

START_TEST(a_small_panel_on_the_chassis_bank_gives_the_house_nothing_at_every_place)
{
	static solar_coach made;
	set_small_panel(&made);
	made.arrays[0].bank_index = CHASSIS;
	const level_counts counts = count_levels(&made.coach);
	OUTSIDE(&SMALL_PANEL, at_most_maintained(&counts, CHASSIS), ALL_MONTHS, 0,
		"on the chassis bank beside a house bank");
	OUTSIDE(&SMALL_PANEL, counts.months[HOUSE][RIG_FALLS_SHORT], ALL_MONTHS, 0,
		"of the house bank then: it falls short");
}
END_TEST

START_TEST(a_panel_on_the_chassis_bank_gives_nothing_to_house_loads)
{
	static solar_coach made;
	const rig_place place = place_of(PLACES[_i]);
	solar_coach_household(&made);
	solar_coach_set_watts(&made, 800.0);
	made.arrays[0].bank_index = CHASSIS;
	rig_solar_findings *findings = study(&made.coach, &place);
	ck_assert(!findings->contributes_to_house);
	ck_assert(!findings->arrays[0].contributes_to_house);
	ck_assert_int_eq(findings->main_bank, CHASSIS);
	const rig_solar_bank *house = &findings->banks[HOUSE];
	ck_assert_uint_gt(house->n_rungs, 5);
	for (int m = 0; m < RIG_SOLAR_MONTHS; m++) {
		ck_assert_double_eq(house->months[m].harvest_wh_day.high, 0.0);
		ck_assert_int_eq(house->months[m].level.high, RIG_FALLS_SHORT);
		ck_assert_int_le(findings->banks[CHASSIS].months[m].level.high, RIG_MAINTAINS);
		for (size_t i = 0; i < house->n_rungs; i++) {
			ck_assert_int_eq(house->rungs[i].carried[m], RIG_CANNOT);
			ck_assert_double_eq(house->rungs[i].covered_ratio[m].high, 0.0);
		}
	}
	ck_assert_uint_eq(findings->banks[CHASSIS].n_rungs, 1);
	ck_assert_uint_eq(findings->banks[CHASSIS].n_needs, RIG_MAINTAINS + 1);
	rig_solar_free(findings);
}
END_TEST

/* What the same panel would do on the house bank is what it does when it is put there. */
START_TEST(moving_the_panel_to_the_house_bank_is_foretold)
{
	static solar_coach made;
	const rig_place place = place_of(PLACES[_i]);
	solar_coach_household(&made);
	solar_coach_set_watts(&made, 800.0);
	rig_solar_findings *there = study(&made.coach, &place);
	ck_assert_ptr_null(there->moved);
	made.arrays[0].bank_index = CHASSIS;
	rig_solar_findings *foretold = study(&made.coach, &place);
	ck_assert_ptr_nonnull(foretold->moved);
	for (int m = 0; m < RIG_SOLAR_MONTHS; m++) {
		const rig_solar_bank_month *a = &there->banks[HOUSE].months[m];
		const rig_solar_bank_month *b = &foretold->moved->months[m];
		ck_assert_double_eq(a->harvest_wh_day.likely, b->harvest_wh_day.likely);
		ck_assert_int_eq(a->level.likely, b->level.likely);
	}
	rig_solar_free(there);
	rig_solar_free(foretold);
}
END_TEST

static int level_rank(rig_solar_levels levels)
{
	return (int)levels.low * 16 + (int)levels.likely * 4 + (int)levels.high;
}

static void assert_no_lower(const rig_solar_bank_month *more, const rig_solar_bank_month *less)
{
	ck_assert_double_ge(more->harvest_wh_day.low, less->harvest_wh_day.low);
	ck_assert_double_ge(more->harvest_wh_day.likely, less->harvest_wh_day.likely);
	ck_assert_double_ge(more->harvest_wh_day.high, less->harvest_wh_day.high);
	ck_assert_int_ge((int)more->level.low, (int)less->level.low);
	ck_assert_int_ge((int)more->level.likely, (int)less->level.likely);
	ck_assert_int_ge((int)more->level.high, (int)less->level.high);
	ck_assert_double_ge(more->days_with.likely, less->days_with.likely - 1e-9);
}

static const double WATTS_W[] = {10, 17, 29, 50, 85, 150, 250, 420, 720, 1200, 2100};

/* Also behind a controller that reaches its limit on the way. */
START_TEST(more_watts_never_lower_the_level_or_the_harvest)
{
	static solar_coach made;
	const rig_place place = place_of(PLACES[_i]);
	rig_solar_findings *before = NULL;
	int lowest = 1000, highest = 0;
	for (int i = 0; i < COUNT(WATTS_W); i++) {
		solar_coach_household(&made);
		made.coach.inverter.always_on = RIG_NO;
		made.arrays[0].controller_limit_a = exactly(60.0);
		solar_coach_set_watts(&made, WATTS_W[i]);
		rig_solar_findings *now = study(&made.coach, &place);
		for (int m = 0; m < RIG_SOLAR_MONTHS; m++) {
			const int rank = level_rank(now->banks[HOUSE].months[m].level);
			lowest = rank < lowest ? rank : lowest;
			highest = rank > highest ? rank : highest;
			if (before != NULL)
				assert_no_lower(&now->banks[HOUSE].months[m],
					&before->banks[HOUSE].months[m]);
		}
		rig_solar_free(before);
		before = now;
	}
	rig_solar_free(before);
	ck_assert_int_gt(highest, lowest);
}
END_TEST

/* ---- levels by their criteria ---- */

/* The level that the criteria of solar.h give to a month's likely figures. */
static rig_solar_level level_of(const rig_solar_bank_month *month, double standing_wh)
{
	const double without = month->days_without.likely;
	const double with = month->days_with.likely;
	if (month->harvest_wh_day.likely < standing_wh)
		return RIG_FALLS_SHORT;
	if (with < without + 1.0 || with < 1.25 * without)
		return RIG_MAINTAINS;
	const rig_figure out = month->run_out_frac;
	return rig_figure_given(out) && out.likely <= 0.05 ? RIG_CARRIES : RIG_EXTENDS;
}

static void assert_criteria(const rig_solar_bank *bank)
{
	for (int m = 0; m < RIG_SOLAR_MONTHS; m++) {
		const rig_solar_bank_month *month = &bank->months[m];
		const double standing_wh = bank->standing_wh_day.likely;
		ck_assert_double_eq_tol(month->spare_wh_day.likely,
			month->harvest_wh_day.likely - standing_wh, 1e-9);
		/* beyond RIG_SOLAR_DAYS_MAX the findings do not tell how many days */
		if (month->days_without.likely * 1.25 < RIG_SOLAR_DAYS_MAX)
			ck_assert_int_eq(month->level.likely, level_of(month, standing_wh));
		ck_assert_int_le((int)month->level.low, (int)month->level.likely);
		ck_assert_int_ge((int)month->level.high, (int)month->level.likely);
		ck_assert_int_ge((int)month->level.likely, (int)bank->overall.likely);
		ck_assert((month->level.low >= RIG_MAINTAINS) == (month->spare_wh_day.low >= 0));
		ck_assert((month->level.high >= RIG_MAINTAINS) == (month->spare_wh_day.high >= 0));
	}
	ck_assert_int_eq(bank->months[bank->worst_month].level.likely, bank->overall.likely);
}

START_TEST(the_level_is_that_of_its_criteria)
{
	static solar_coach made;
	const rig_place place = place_of(PLACES[_i]);
	for (int i = 0; i < COUNT(WATTS_W); i += 2) {
		solar_coach_bare(&made);
		solar_coach_add(&made, "furnace_35k", 1);
		solar_coach_set_watts(&made, WATTS_W[i]);
		rig_solar_findings *findings = study(&made.coach, &place);
		assert_criteria(&findings->banks[HOUSE]);
		rig_solar_free(findings);
	}
}
END_TEST

/* The trip study puts the same coach together by its own way. */
START_TEST(a_bank_lasts_as_long_as_in_the_study_of_a_trip)
{
	static solar_coach made;
	const rig_place place = place_of(PLACES[_i]);
	solar_coach_household(&made);
	solar_coach_set_watts(&made, 300.0);
	rig_solar_findings *findings = study(&made.coach, &place);
	for (int m = 0; m < RIG_SOLAR_MONTHS; m++) {
		rig_trip_options options = rig_trip_defaults();
		options.month = m;
		options.n_trips = 0;
		rig_trip_findings *trip = NULL;
		ck_assert_int_eq(rig_trip_study(&made.coach, &place, &options, &trip), RIG_OK);
		const rig_trip_bank *bank = &trip->banks[trip->main_bank];
		const rig_solar_bank_month *month = &findings->banks[HOUSE].months[m];
		ck_assert_double_eq_tol(
			bank->days_without_panel.likely, month->days_without.likely, 1e-6);
		ck_assert_double_eq_tol(
			bank->days_with_panel.likely, month->days_with.likely, 1e-6);
		rig_trip_free(trip);
	}
	rig_solar_free(findings);
}
END_TEST

START_TEST(one_month_asked_is_one_month_judged)
{
	static solar_coach made;
	const rig_place place = place_of("Seattle Seattletacoma");
	solar_coach_bare(&made);
	solar_coach_set_watts(&made, 60.0);
	rig_solar_options options = few_trips();
	options.month = JUNE;
	rig_solar_findings *june = NULL;
	ck_assert_int_eq(rig_solar_study(&made.coach, &place, &options, &june), RIG_OK);
	rig_solar_findings *year = study(&made.coach, &place);
	const rig_solar_bank *bank = &june->banks[HOUSE];
	ck_assert_int_eq(bank->worst_month, JUNE);
	ck_assert_int_eq(bank->best_month, JUNE);
	ck_assert_int_eq(bank->overall.likely, bank->months[JUNE].level.likely);
	ck_assert_int_eq(bank->needs[RIG_MAINTAINS].worst_month, JUNE);
	ck_assert_int_gt((int)bank->overall.likely, (int)year->banks[HOUSE].overall.likely);
	ck_assert_double_lt(bank->needs[RIG_MAINTAINS].worst_w.likely,
		year->banks[HOUSE].needs[RIG_MAINTAINS].worst_w.likely);
	rig_solar_free(june);
	rig_solar_free(year);
}
END_TEST

/* ---- the watts that a level takes ---- */

static rig_solar_level level_with(
	solar_coach *made, const rig_place *place, double watts_w, int month)
{
	solar_coach_set_watts(made, watts_w);
	rig_solar_findings *findings = study(&made->coach, place);
	const rig_solar_level level = findings->banks[HOUSE].months[month].level.likely;
	rig_solar_free(findings);
	return level;
}

/* The search stops within 1.5 %. */
START_TEST(an_array_of_the_watts_needed_reaches_the_level_and_one_a_little_smaller_does_not)
{
	static solar_coach made;
	const rig_place place = place_of(PLACES[_i]);
	solar_coach_bare(&made);
	solar_coach_add(&made, "furnace_35k", 1);
	solar_coach_add(&made, "fridge_12v_small", 1);
	rig_solar_findings *findings = study(&made.coach, &place);
	const rig_solar_bank bank = findings->banks[HOUSE];
	rig_solar_free(findings);
	ck_assert_uint_eq(bank.n_needs, RIG_N_SOLAR_LEVELS);
	for (int level = RIG_MAINTAINS; level < RIG_N_SOLAR_LEVELS; level++) {
		const rig_solar_need *need = &bank.needs[level];
		const double watts_w = need->best_w.likely;
		ck_assert(rig_figure_given(need->best_w));
		ck_assert_int_ge(
			(int)level_with(&made, &place, watts_w * 1.001, need->best_month), level);
		ck_assert_int_lt(
			(int)level_with(&made, &place, watts_w * 0.97, need->best_month), level);
	}
}
END_TEST

START_TEST(each_level_takes_at_least_what_the_one_below_takes)
{
	static solar_coach made;
	const rig_place place = place_of(PLACES[_i]);
	solar_coach_household(&made);
	rig_solar_findings *findings = study(&made.coach, &place);
	const rig_solar_bank *bank = &findings->banks[HOUSE];
	ck_assert_double_eq(bank->needs[RIG_FALLS_SHORT].worst_w.likely, 0.0);
	for (int level = RIG_MAINTAINS; level < RIG_N_SOLAR_LEVELS; level++) {
		const rig_solar_need *below = &bank->needs[level - 1], *need = &bank->needs[level];
		ck_assert_int_eq((int)need->level, level);
		ck_assert(need->reached == ((int)bank->overall.likely >= level));
		if (rig_figure_given(need->best_w))
			ck_assert_double_ge(need->best_w.likely, below->best_w.likely);
		if (rig_figure_given(need->worst_w) && rig_figure_given(need->best_w))
			ck_assert_double_ge(need->worst_w.likely, need->best_w.likely);
	}
	rig_solar_free(findings);
}
END_TEST

/* A bank that is empty before midnight cannot be carried by any panel. */
START_TEST(a_bank_too_small_for_the_night_is_named_as_the_limit)
{
	static solar_coach made;
	const rig_place place = place_of("Phoenix Sky Harbor");
	solar_coach_household(&made);
	solar_coach_set_watts(&made, 4000.0);
	made.banks[HOUSE].total_wh = exactly(400.0);
	made.banks[HOUSE].usable_wh = exactly(200.0);
	made.banks[HOUSE].total_ah = exactly(33.0);
	rig_solar_findings *findings = study(&made.coach, &place);
	const rig_solar_bank *bank = &findings->banks[HOUSE];
	ck_assert(bank->months[DECEMBER].bank_too_small);
	ck_assert_int_eq(bank->months[DECEMBER].level.likely, RIG_MAINTAINS);
	ck_assert(!rig_figure_given(bank->needs[RIG_EXTENDS].worst_w));
	ck_assert(!rig_figure_given(bank->needs[RIG_CARRIES].worst_w));
	rig_solar_free(findings);
}
END_TEST

/* The loss of a fixed 15 % of what goes in is 3/17 of what comes out. */
static const outside_series CABIN = {"whole systems",
	"A cabin near Salt Lake City, 3,000 Wh a day on AC through an inverter of 85 %, at the "
	"battery",
	"[MASTERS-2004] ch. 9; from memory", "half of the last digit"};

START_TEST(a_cabin_of_a_textbook_draws_what_the_book_says)
{
	static solar_coach made;
	const rig_place place = place_of("Salt Lake City");
	solar_coach_bare(&made);
	made.coach.n_loads = 0;
	solar_coach_add(&made, "tv_led_32", 1);
	made.loads[0].running_w = exactly(125.0);
	made.loads[0].duty_frac = exactly(1.0);
	made.loads[0].daily_use_h = exactly(24.0);
	made.banks[HOUSE].self_discharge_frac_month = exactly(0.0);
	made.coach.inverter = (rig_inverter){
		.present = true,
		.bank_index = HOUSE,
		.watts_w = exactly(2000.0),
		.loss_fixed_frac = exactly(0.0),
		.loss_linear_frac = exactly(3.0 / 17.0),
		.loss_square_frac = exactly(0.0),
		.always_on = RIG_NO,
	};
	rig_solar_findings *findings = study(&made.coach, &place);
	OUTSIDE(&CABIN, findings->banks[HOUSE].use_wh_day.likely, 3529.0, 0.5, "Wh a day");
	OUTSIDE(&CABIN, findings->banks[HOUSE].use_wh_day.likely / 24.0, 147.0, 0.5,
		"Ah a day at 24 V");
	rig_solar_free(findings);
}
END_TEST

/* By hand 360 + 300 x 1.025 + 0.6 + 225 x 1.025 + 6.75 Wh. */
static const outside_series LEFT_ON = {"whole systems",
	"A coach whose 1,500 W inverter stays on: 60 W for 5 h, 900 W for a quarter of an hour; Wh "
	"a "
	"day at the bank",
	"the loss polynomial of [SCHMIDT-1996] by hand", "arithmetic"};

START_TEST(an_inverter_left_on_costs_its_idle_draw)
{
	static solar_coach made;
	const rig_place place = place_of("Phoenix Sky Harbor");
	solar_coach_bare(&made);
	made.coach.n_loads = 0;
	solar_coach_add(&made, "tv_led_32", 1);
	solar_coach_add(&made, "microwave_800", 1);
	const double watts_w[] = {60.0, 900.0}, use_h[] = {5.0, 0.25};
	const int from_hour[] = {18, 12}, to_hour[] = {23, 13};
	for (int i = 0; i < 2; i++) {
		made.loads[i].running_w = exactly(watts_w[i]);
		made.loads[i].duty_frac = exactly(1.0);
		made.loads[i].daily_use_h = exactly(use_h[i]);
		made.loads[i].from_hour = from_hour[i];
		made.loads[i].to_hour = to_hour[i];
	}
	made.banks[HOUSE].self_discharge_frac_month = exactly(0.0);
	made.coach.inverter = (rig_inverter){
		.present = true,
		.bank_index = HOUSE,
		.watts_w = exactly(1500.0),
		.loss_fixed_frac = exactly(0.01),
		.loss_linear_frac = exactly(0.025),
		.loss_square_frac = exactly(0.05),
		.always_on = RIG_YES,
	};
	rig_solar_findings *findings = study(&made.coach, &place);
	const rig_solar_bank *bank = &findings->banks[HOUSE];
	OUTSIDE(&LEFT_ON, bank->use_wh_day.likely, 905.475, 1e-6, "all");
	OUTSIDE(&LEFT_ON, bank->standing_wh_day.likely, 360.0, 1e-9, "standing");
	ck_assert_uint_eq(bank->n_standing, 1);
	ck_assert_int_eq(bank->standing[0].kind, RIG_STANDING_INVERTER);
	rig_solar_free(findings);
}
END_TEST

/* ---- the claim ---- */

/* 300 W on 1.0 m2 would need cells of 30 %, which nobody sells; 100 W on 0.59 m2 is 17 %, 100 W on
 * 0.50 m2 is 20 % (common practice, no source). */
static const struct {
	double watts_w, length_m, width_m, vmp_v, imp_a;
	rig_solar_claim claim;
} CLAIM[] = {
	{300, 1.25, 0.80, 0, 0, RIG_CLAIM_TOO_DENSE},
	{100, 1.18, 0.50, 0, 0, RIG_CLAIM_PLAUSIBLE},
	{100, 1.00, 0.50, 0, 0, RIG_CLAIM_PLAUSIBLE},
	{38, 1.20, 1.00, 0, 0, RIG_CLAIM_TOO_SPARSE},
	{100, 0, 0, 0, 0, RIG_CLAIM_UNCHECKED},
	{100, 0, 0, 18.0, 5.56, RIG_CLAIM_PLAUSIBLE},
	{100, 0, 0, 18.0, 2.8, RIG_CLAIM_LABEL_DIFFERS},
	{300, 1.25, 0.80, 18.0, 16.7, RIG_CLAIM_TOO_DENSE},
};

START_TEST(a_claim_is_held_against_the_glass_and_the_label)
{
	static solar_coach made;
	const rig_place place = place_of("Phoenix Sky Harbor");
	solar_coach_bare(&made);
	solar_coach_set_watts(&made, CLAIM[_i].watts_w);
	rig_array *array = &made.arrays[0];
	if (CLAIM[_i].length_m > 0) {
		array->length_m = rig_figure_of(CLAIM[_i].length_m, RIG_FROM_MEASURED);
		array->width_m = rig_figure_of(CLAIM[_i].width_m, RIG_FROM_MEASURED);
	}
	if (CLAIM[_i].vmp_v > 0) {
		array->vmp_v = rig_figure_of(CLAIM[_i].vmp_v, RIG_FROM_NAMEPLATE);
		array->imp_a = rig_figure_of(CLAIM[_i].imp_a, RIG_FROM_NAMEPLATE);
	}
	rig_solar_findings *findings = study(&made.coach, &place);
	ck_assert_int_eq(findings->arrays[0].claim, CLAIM[_i].claim);
	ck_assert_int_eq(findings->arrays[0].total_w.from, RIG_FROM_NAMEPLATE);
	rig_solar_free(findings);
}
END_TEST

/* ---- the rest ---- */

static rig_solar_options changed(int month, int habit, int n_days, int n_trips)
{
	rig_solar_options options = rig_solar_defaults();
	options.month = month;
	options.habit = habit;
	options.n_days = n_days;
	options.n_trips = n_trips;
	return options;
}

START_TEST(options_out_of_range_are_refused)
{
	static solar_coach made;
	const rig_place place = place_of("Phoenix Sky Harbor");
	solar_coach_bare(&made);
	const rig_solar_options wrong[] = {changed(12, -1, 14, 256), changed(-2, -1, 14, 256),
		changed(0, 0, 14, 256), changed(0, -2, 14, 256), changed(0, -1, 0, 256),
		changed(0, -1, 61, 256), changed(0, -1, 14, 99), changed(0, -1, 14, 100001)};
	rig_solar_findings *findings = NULL;
	for (int i = 0; i < COUNT(wrong); i++) {
		ck_assert_int_eq(
			rig_solar_study(&made.coach, &place, &wrong[i], &findings), RIG_BAD_INPUT);
		ck_assert_ptr_null(findings);
	}
	rig_solar_free(NULL);
}
END_TEST

START_TEST(a_coach_without_a_panel_is_told_what_it_would_take)
{
	static solar_coach made;
	const rig_place place = place_of("Phoenix Sky Harbor");
	solar_coach_bare(&made);
	made.coach.n_arrays = 0;
	rig_solar_findings *findings = study(&made.coach, &place);
	const rig_solar_bank *bank = &findings->banks[HOUSE];
	ck_assert_int_eq(findings->main_bank, -1);
	ck_assert_int_eq(bank->overall.high, RIG_FALLS_SHORT);
	ck_assert_double_gt(bank->needs[RIG_MAINTAINS].worst_w.likely, 5.0);
	ck_assert_double_lt(bank->needs[RIG_MAINTAINS].worst_w.likely, 100.0);
	rig_solar_free(findings);
}
END_TEST

START_TEST(the_same_seed_gives_the_same_answer_and_another_hardly_another)
{
	static solar_coach made;
	const rig_place place = place_of("Seattle Seattletacoma");
	solar_coach_bare(&made);
	solar_coach_add(&made, "furnace_35k", 1);
	solar_coach_set_watts(&made, 400.0);
	rig_solar_options options = rig_solar_defaults();
	rig_solar_findings *a = NULL, *b = NULL, *c = NULL;
	ck_assert_int_eq(rig_solar_study(&made.coach, &place, NULL, &a), RIG_OK);
	ck_assert_int_eq(rig_solar_study(&made.coach, &place, &options, &b), RIG_OK);
	options.seed = 2;
	ck_assert_int_eq(rig_solar_study(&made.coach, &place, &options, &c), RIG_OK);
	int n_between = 0;
	for (int m = 0; m < RIG_SOLAR_MONTHS; m++) {
		const rig_figure one = a->banks[HOUSE].months[m].run_out_frac;
		const rig_figure same = b->banks[HOUSE].months[m].run_out_frac;
		const rig_figure other = c->banks[HOUSE].months[m].run_out_frac;
		ck_assert_double_eq(one.likely, same.likely);
		ck_assert_int_eq((int)one.from, (int)other.from);
		/* intervals of 95 %: four of their half-widths apart does not happen */
		ck_assert_double_le(fabs(one.likely - other.likely),
			2.0 * ((one.high - one.low) + (other.high - other.low)) + 1e-12);
		n_between += one.likely > 0.0 && one.likely < 1.0;
	}
	ck_assert_int_gt(n_between, 0);
	rig_solar_free(a);
	rig_solar_free(b);
	rig_solar_free(c);
}
END_TEST

static void assert_same_answer(const rig_coach *coach, const rig_place *place,
	const rig_solar_options *options, rig_solar_skies *skies)
{
	rig_solar_options keeping = *options;
	rig_solar_findings *fresh = NULL, *kept = NULL;
	keeping.skies = skies;
	ck_assert_int_eq(rig_solar_study(coach, place, options, &fresh), RIG_OK);
	ck_assert_int_eq(rig_solar_study(coach, place, &keeping, &kept), RIG_OK);
	const rig_solar_bank *a = &fresh->banks[HOUSE], *b = &kept->banks[HOUSE];
	for (int m = 0; m < RIG_SOLAR_MONTHS; m++) {
		ck_assert_double_eq(
			a->months[m].harvest_wh_day.likely, b->months[m].harvest_wh_day.likely);
		ck_assert_double_eq(
			a->months[m].run_out_frac.likely, b->months[m].run_out_frac.likely);
	}
	ck_assert_double_eq(
		a->needs[RIG_CARRIES].worst_w.likely, b->needs[RIG_CARRIES].worst_w.likely);
	rig_solar_free(fresh);
	rig_solar_free(kept);
}

/* More places than are kept, each asked for again later; and the like of a place that differs in
 * one figure or in the draws. */
START_TEST(skies_that_are_kept_change_no_answer)
{
	static solar_coach made;
	solar_coach_bare(&made);
	solar_coach_add(&made, "furnace_35k", 1);
	solar_coach_set_watts(&made, 400.0);
	rig_solar_options options = rig_solar_defaults();
	rig_solar_skies *skies = rig_solar_skies_new();
	ck_assert_ptr_nonnull(skies);
	for (int i = 0; i < 20; i++) {
		rig_place place;
		rig_place_at((size_t)(i % 10) * 97, &place);
		place.ghi_kwh_m2_day[11] *= i % 3 == 0 ? 0.8 : 1.0;
		place.temp_mean_c[6] += i % 4 == 0 ? 1.0 : 0.0;
		assert_same_answer(&made.coach, &place, &options, skies);
		place.ghi_kwh_m2_day[0] *= 0.9;
		assert_same_answer(&made.coach, &place, &options, skies);
		options.seed = (uint64_t)i;
		assert_same_answer(&made.coach, &place, &options, skies);
		options.n_days = 10 + i % 3;
		options.n_trips = 200 + i % 2;
	}
	rig_solar_skies_free(skies);
}
END_TEST

/* ---- any coach ---- */

static void assert_whole(rig_figure figure)
{
	ck_assert(isfinite(figure.low) && isfinite(figure.likely) && isfinite(figure.high));
	ck_assert_double_le(figure.low, figure.likely);
	ck_assert_double_le(figure.likely, figure.high);
}

static void assert_month_whole(const rig_solar_bank_month *month)
{
	assert_whole(month->harvest_wh_day);
	assert_whole(month->spare_wh_day);
	assert_whole(month->standing_ratio);
	assert_whole(month->days_without);
	assert_whole(month->days_with);
	assert_whole(month->run_out_frac);
	ck_assert_double_ge(month->harvest_wh_day.low, 0.0);
	ck_assert_double_ge(month->clear_wh_day, month->harvest_wh_day.likely * (1.0 - 1e-12));
	ck_assert_double_ge(month->days_with.likely, month->days_without.likely - 1e-9);
	ck_assert_int_le((int)month->level.low, (int)month->level.likely);
	ck_assert_int_le((int)month->level.likely, (int)month->level.high);
}

static void assert_bank_whole(const rig_solar_bank *bank)
{
	assert_whole(bank->standing_wh_day);
	assert_whole(bank->use_wh_day);
	for (int m = 0; m < RIG_SOLAR_MONTHS; m++)
		assert_month_whole(&bank->months[m]);
	for (size_t i = 0; i < bank->n_needs; i++) {
		assert_whole(bank->needs[i].worst_w);
		assert_whole(bank->needs[i].best_w);
	}
	for (size_t i = 0; i < bank->n_rungs; i++) {
		assert_whole(bank->rungs[i].wh_day);
		assert_whole(bank->rungs[i].own_together_wh_day);
		for (int m = 0; m < RIG_SOLAR_MONTHS; m++)
			assert_whole(bank->rungs[i].covered_ratio[m]);
	}
}

enum { N_COACHES = 100, FIRST_SEED = 4100 };

/* Figures anywhere in the ranges that a rig file allows. The seed is in the message of the test:
 * FIRST_SEED + 100 x the number of the loop on. */
START_TEST(any_coach_comes_to_whole_findings)
{
	for (int i = 0; i < N_COACHES; i++) {
		const uint64_t seed = FIRST_SEED + (uint64_t)_i * N_COACHES + (uint64_t)i;
		rig_file *file = random_coach(seed);
		rig_place place;
		rig_place_at(seed * 37 % rig_n_places(), &place);
		rig_solar_findings *findings = study(rig_file_completed(file), &place);
		for (size_t b = 0; b < findings->n_banks; b++)
			assert_bank_whole(&findings->banks[b]);
		if (findings->moved != NULL)
			assert_bank_whole(findings->moved);
		rig_solar_free(findings);
		rig_file_free(file);
	}
}
END_TEST

/* Sums of doubts are taken in the order of the loads: the last bits only. */
START_TEST(the_order_of_the_loads_changes_nothing)
{
	static solar_coach made, turned;
	const rig_place place = place_of(PLACES[_i]);
	solar_coach_household(&made);
	solar_coach_household(&turned);
	const size_t n = made.coach.n_loads;
	for (size_t i = 0; i < n; i++)
		turned.loads[i] = made.loads[n - 1 - i];
	rig_solar_findings *a = study(&made.coach, &place), *b = study(&turned.coach, &place);
	const rig_solar_bank *one = &a->banks[HOUSE], *other = &b->banks[HOUSE];
	ck_assert_double_eq(one->use_wh_day.likely, other->use_wh_day.likely);
	ck_assert_double_eq(one->standing_wh_day.likely, other->standing_wh_day.likely);
	ck_assert_uint_eq(one->n_rungs, other->n_rungs);
	for (size_t i = 0; i < one->n_rungs; i++)
		ck_assert_str_eq(one->rungs[i].id, other->rungs[i].id);
	for (int m = 0; m < RIG_SOLAR_MONTHS; m++) {
		ck_assert_int_eq(
			level_rank(one->months[m].level), level_rank(other->months[m].level));
		ck_assert_double_eq(
			one->months[m].days_with.likely, other->months[m].days_with.likely);
	}
	rig_solar_free(a);
	rig_solar_free(b);
}
END_TEST

/* One rule for furnaces: what a month's mean day asks of the battery is the same here, where
 * self-discharge counts as use, and in the study of a trip. The furnace of this trailer runs by the
 * weather when no habit names its hours; nothing hangs on an inverter. */
START_TEST(a_months_use_is_that_of_a_trip_in_it)
{
	rig_file *file = read_coach_file("samples/week-trailer.rig.json");
	const rig_coach *coach = rig_file_completed(file);
	const rig_place place = place_of("Flagstaff");
	rig_solar_findings *sun = study(coach, &place);
	const rig_solar_bank *bank = &sun->banks[sun->main_bank];
	double self_wh = 0;
	for (size_t i = 0; i < bank->n_standing; i++)
		if (bank->standing[i].kind == RIG_STANDING_SELF_DISCHARGE)
			self_wh = bank->standing[i].wh_day.likely;
	for (int month = 0; month < RIG_SOLAR_MONTHS; month++) {
		rig_trip_options stay = rig_trip_defaults();
		rig_trip_findings *trip = NULL;
		stay.month = month;
		stay.n_trips = 0;
		ck_assert_int_eq(rig_trip_study(coach, &place, &stay, &trip), RIG_OK);
		ck_assert_double_eq_tol(bank->months[month].use_wh_day.likely - self_wh,
			trip->banks[trip->main_bank].wanted_wh_day.likely, 1e-6);
		rig_trip_free(trip);
	}
	/* the furnace of a winter's day */
	ck_assert_double_gt(
		bank->months[0].use_wh_day.likely, 1.3 * bank->months[JUNE].use_wh_day.likely);
	ck_assert_double_eq(bank->use_wh_day.likely,
		fmax(bank->months[0].use_wh_day.likely, bank->months[DECEMBER].use_wh_day.likely));
	rig_solar_free(sun);
	rig_file_free(file);
}
END_TEST

static void add_small_panel(Suite *suite)
{
	TCase *places = tcase_create("all places");
	tcase_set_timeout(places, 900);
	tcase_add_test(places, a_small_panel_maintains_a_house_bank_at_best_at_every_place);
	tcase_add_test(places, a_small_panel_maintains_a_chassis_bank_at_best_at_every_place);
	tcase_add_test(
		places, a_small_panel_on_the_chassis_bank_gives_the_house_nothing_at_every_place);
	suite_add_tcase(suite, places);
}

static void add_everywhere(TCase *all)
{
	tcase_add_loop_test(
		all, a_panel_on_the_chassis_bank_gives_nothing_to_house_loads, 0, COUNT(PLACES));
	tcase_add_loop_test(all, moving_the_panel_to_the_house_bank_is_foretold, 0, COUNT(PLACES));
	tcase_add_loop_test(all, more_watts_never_lower_the_level_or_the_harvest, 0, COUNT(PLACES));
	tcase_add_loop_test(all, the_order_of_the_loads_changes_nothing, 0, COUNT(PLACES));
	tcase_add_loop_test(all, any_coach_comes_to_whole_findings, 0, 4);
	tcase_add_loop_test(all, the_level_is_that_of_its_criteria, 0, COUNT(PLACES));
	tcase_add_loop_test(all, a_bank_lasts_as_long_as_in_the_study_of_a_trip, 0, COUNT(PLACES));
}

Suite *solar_suite(void);
Suite *solar_suite(void)
{
	Suite *suite = suite_create("solar");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 300);
	add_small_panel(suite);
	add_everywhere(all);
	tcase_add_test(all, a_months_use_is_that_of_a_trip_in_it);
	tcase_add_test(all, one_month_asked_is_one_month_judged);
	tcase_add_loop_test(all,
		an_array_of_the_watts_needed_reaches_the_level_and_one_a_little_smaller_does_not, 0,
		COUNT(PLACES));
	tcase_add_loop_test(
		all, each_level_takes_at_least_what_the_one_below_takes, 0, COUNT(PLACES));
	tcase_add_test(all, a_bank_too_small_for_the_night_is_named_as_the_limit);
	tcase_add_test(all, a_cabin_of_a_textbook_draws_what_the_book_says);
	tcase_add_test(all, an_inverter_left_on_costs_its_idle_draw);
	tcase_add_loop_test(all, a_claim_is_held_against_the_glass_and_the_label, 0, COUNT(CLAIM));
	tcase_add_test(all, options_out_of_range_are_refused);
	tcase_add_test(all, a_coach_without_a_panel_is_told_what_it_would_take);
	tcase_add_test(all, the_same_seed_gives_the_same_answer_and_another_hardly_another);
	tcase_add_test(all, skies_that_are_kept_change_no_answer);
	suite_add_tcase(suite, all);
	return suite;
}
