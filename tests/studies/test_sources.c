/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "../rig/random_coach.h"
#include "read_coach.h"
#include "sources_answer.h"
#include "suites.h"

/* Arithmetic in doubles on kilowatts. */
static const double TOL = 1e-8;

/* Worked in [GEN-2004]: 5,500 W at 5,000 ft is 4,675 W. As one output 38.96 A at 120 V. */
START_TEST(a_generator_high_up_gives_what_its_manual_says)
{
	const rig_sources_options options = {.rule = RIG_DERATE_HEIGHT};
	sources_answer a =
		sources_ask(read_coach("{\"cord_a\": 30}",
				    "\"place\": {\"latitude_deg\": 40, \"longitude_deg\": -105, "
				    "\"elevation_ft\": 5000}, \"generator\": {\"watts_w\": 5500}, "
				    "\"loads\": []"),
			NULL, &options);
	const rig_other_source *set = sources_of(&a, RIG_SOURCE_GENERATOR);
	ck_assert_double_eq_tol(set->available_w.likely, 4675, TOL);
	ck_assert_double_eq_tol(set->available_w.low, 4675, TOL);
	ck_assert_double_eq_tol(set->supply.limit_a, 4675 / 120.0, TOL);
	ck_assert_int_eq(set->supply.n_hots, 1);
	sources_drop(&a);
}
END_TEST

/* By hand at 5,000 ft and 40 C (104 F): height 15 %; height and heat 14 + 2 x 19/10 = 17.8 %; site
 * 3 x 524/500 = 3.144 %. Nobody says which, so the range holds all three. */
START_TEST(without_a_rule_the_range_holds_all_rules)
{
	const rig_sources_options options = {.air_c = {40, 40, 40, RIG_FROM_MEASURED, 0, NULL}};
	sources_answer a =
		sources_ask(read_coach("{\"cord_a\": 50}",
				    "\"place\": {\"latitude_deg\": 40, \"longitude_deg\": -105, "
				    "\"elevation_m\": 1524}, \"generator\": {\"watts_w\": 8000}, "
				    "\"loads\": []"),
			NULL, &options);
	const rig_other_source *set = sources_of(&a, RIG_SOURCE_GENERATOR);
	ck_assert_double_eq_tol(set->left_frac.low, 0.822, TOL);
	ck_assert_double_eq_tol(set->left_frac.likely, 0.822, TOL);
	ck_assert_double_eq_tol(set->left_frac.high, 1 - 0.03144, TOL);
	/* two outputs, half each */
	ck_assert_int_eq(set->supply.n_hots, 2);
	ck_assert_double_eq_tol(set->supply.limit_a, 8000 * 0.822 / 240, TOL);
	sources_drop(&a);
}
END_TEST

START_TEST(the_hottest_month_of_the_place_derates)
{
	rig_place place = {.temp_max_c = {5, 8, 12, 18, 24, 30, 36, 34, 28, 20, 12, 6},
		.temp_mean_c = {0, 2, 6, 12, 18, 24, 29, 28, 22, 14, 6, 1}};
	sources_answer a =
		sources_ask(read_coach("{\"cord_a\": 30}", "\"loads\": []"), &place, NULL);
	ck_assert_double_eq(a.sources->air_c.low, 29);
	ck_assert_double_eq(a.sources->air_c.likely, 36);
	ck_assert_double_eq(a.sources->air_c.high, 41);
	ck_assert_uint_eq(a.sources->n_sources, 0);
	sources_drop(&a);
}
END_TEST

/* A kitchen circuit on the inverter and one that is not; the charger never feeds on its own bank.
 */
static const char KITCHEN[] =
	"\"circuits\": [{\"id\": \"kitchen\", \"breaker_a\": 20, \"inverter\": true}, {\"id\": "
	"\"air\", \"breaker_a\": 20, \"inverter\": false}, {\"id\": \"dc\", \"bank\": \"h\", "
	"\"fuse_a\": 30}], \"banks\": [{\"id\": \"h\", \"chemistry\": \"agm\", \"capacity_ah\": "
	"200}], \"inverter\": {\"watts_w\": 2000, \"always_on\": true}, \"charger\": {\"amps_a\": "
	"50}, \"generator\": {\"watts_w\": 3000}, \"loads\": [{\"id\": \"microwave\", \"circuit\": "
	"\"kitchen\", \"running_w\": 1200, \"power_factor\": 1, \"priority\": 2}, {\"id\": "
	"\"kettle\", \"circuit\": \"kitchen\", \"running_w\": 1000, \"behaviour\": \"resistive\", "
	"\"priority\": 3}, {\"id\": \"heater\", \"circuit\": \"air\", \"running_w\": 1800, "
	"\"behaviour\": \"resistive\", \"continuous\": true, \"priority\": 4}]";

START_TEST(each_source_feeds_its_circuits)
{
	const rig_sources_options options = {.rule = RIG_DERATE_HEIGHT};
	sources_answer a = sources_ask(read_coach("{\"cord_a\": 30}", KITCHEN), NULL, &options);
	const rig_other_source *set = sources_of(&a, RIG_SOURCE_GENERATOR);
	const rig_other_source *inverter = sources_of(&a, RIG_SOURCE_INVERTER);
	ck_assert_uint_eq(set->n_circuits, 2);
	ck_assert_uint_eq(inverter->n_circuits, 1);
	ck_assert_int_eq(inverter->circuits[0], 0);
	ck_assert_uint_eq(set->n_loads, 4);
	ck_assert_int_eq(set->loads[3], RIG_SHORE_CHARGER);
	ck_assert_uint_eq(inverter->n_loads, 2);
	const rig_other_set *all = &inverter->sets[sources_everything(&a)];
	ck_assert_uint_eq(all->n_unfed, 2);
	ck_assert_int_eq(all->unfed[0].load, 2);
	ck_assert_int_eq(all->unfed[1].load, RIG_SHORE_CHARGER);
	ck_assert_int_eq(all->budget.supply, -1);
	sources_drop(&a);
}
END_TEST

/* 2,200 W on 2,000 is over; the microwave of priority 2 stays, the kettle goes. The heater on 3,000
 * W of generator: 1,800 W for hours on end count once, since a set is rated for that. */
START_TEST(what_fits_on_a_source_is_within_its_watts)
{
	const rig_sources_options options = {.rule = RIG_DERATE_HEIGHT};
	sources_answer a = sources_ask(read_coach("{\"cord_a\": 30}", KITCHEN), NULL, &options);
	const int at = sources_everything(&a);
	const rig_shore_budget *inverter = &sources_of(&a, RIG_SOURCE_INVERTER)->sets[at].budget;
	const rig_shore_budget *set = &sources_of(&a, RIG_SOURCE_GENERATOR)->sets[at].budget;
	ck_assert_int_eq(inverter->verdict, RIG_SHORE_OVER);
	ck_assert_double_eq_tol(inverter->main.amps_a.likely, 2200 / 120.0, TOL);
	ck_assert_uint_eq(inverter->best.n_kept, 1);
	ck_assert_int_eq(inverter->best.kept[0].load, 0);
	ck_assert_double_eq_tol(set->main.amps_a.likely, set->main.loaded_a.likely, TOL);
	ck_assert_int_eq(set->verdict, RIG_SHORE_OVER);
	ck_assert_uint_eq(set->best.n_off, 2);
	ck_assert_int_eq(set->best.off[0].load, RIG_SHORE_CHARGER);
	ck_assert_int_eq(set->best.off[1].load, 2);
	sources_drop(&a);
}
END_TEST

/* 240 V: alive on two outputs only. */
START_TEST(a_dryer_of_240_v_needs_two_outputs)
{
	static const char REST[] = "\"circuits\": [{\"id\": \"d\", \"leg\": \"both\", "
				   "\"breaker_a\": 30}], \"generator\": {\"watts_w\": 8000, "
				   "\"two_hots\": %s}, \"loads\": [{\"id\": \"dryer\", "
				   "\"circuit\": \"d\", \"running_w\": 3000, \"start_a\": 30, "
				   "\"behaviour\": \"motor\"}]";
	for (int two = 0; two < 2; two++) {
		char rest[400];
		snprintf(rest, sizeof rest, REST, two ? "true" : "false");
		sources_answer a = sources_ask(read_coach("{\"cord_a\": 50}", rest), NULL, NULL);
		const rig_other_source *set = sources_of(&a, RIG_SOURCE_GENERATOR);
		ck_assert_uint_eq(set->sets[sources_everything(&a)].budget.n_dead, two ? 0 : 1);
		const rig_motor_start *start = &a.sources->starts[0];
		ck_assert(start->bare[a.shore->n_supplies].fed == (two == 1));
		ck_assert(start->bare[0].fed && !start->bare[1].fed);
		/* half of 240 V is shown, as of a leg */
		ck_assert_double_lt(start->bare[0].start_v.likely, 125);
		sources_drop(&a);
	}
}
END_TEST

START_TEST(random_coaches_hold_together)
{
	for (uint64_t seed = 1; seed <= 150; seed++) {
		rig_file *file = random_coach(seed);
		sources_answer a = sources_ask(file, rig_file_place(file, NULL), NULL);
		for (size_t i = 0; i < a.sources->n_sources; i++) {
			const rig_other_source *source = &a.sources->sources[i];
			ck_assert_double_le(source->available_w.high, source->rated_w.high + 1e-9);
			ck_assert_uint_eq(source->n_sets, a.shore->n_sets);
			for (size_t k = 0; k < source->n_sets; k++)
				ck_assert(source->sets[k].budget.best.most_loaded.amps_a.likely <=
					  source->supply.limit_a * (1 + 1e-9));
		}
		for (size_t i = 0; i < a.sources->n_starts; i++) {
			const rig_motor_start *start = &a.sources->starts[i];
			for (size_t k = 0; k < start->n_on; k++) {
				const rig_source_start *bare = &start->bare[k];
				const rig_source_start *soft = &start->soft[k];
				ck_assert(bare->fed == soft->fed);
				ck_assert_int_le(soft->verdict, bare->verdict);
				ck_assert(
					isfinite(bare->start_v.low) && bare->dip_v.likely >= -1e-9);
			}
		}
		sources_drop(&a);
	}
}
END_TEST

/* Three numbers as they come, in order or not. */
static rig_figure raw(double low, double likely, double high)
{
	return (rig_figure){.low = low, .likely = likely, .high = high, .from = RIG_FROM_STATED};
}

/* The rules of derating are given from -40 to 70 C and up to 6,000 m. */
static const struct {
	double low_c, likely_c, high_c, low_m, likely_m, high_m;
	rig_status status;
} CONDITION[] = {
	{-40, 20, 70, -450, 0, 6000, RIG_OK},
	{20, 20, 20, 0, 0, 0, RIG_OK},
	{-41, 20, 70, 0, 0, 0, RIG_BAD_INPUT},
	{20, 90, 90, 0, 0, 0, RIG_BAD_INPUT},
	{20, 30, 70.5, 0, 0, 0, RIG_BAD_INPUT},
	{30, 20, 40, 0, 0, 0, RIG_BAD_INPUT},
	{20, 40, 30, 0, 0, 0, RIG_BAD_INPUT},
	{20, 30, NAN, 0, 0, 0, RIG_BAD_INPUT},
	{NAN, 30, 40, 0, 0, 0, RIG_BAD_INPUT},
	{20, 30, 40, -450.5, 0, 0, RIG_BAD_INPUT},
	{20, 30, 40, 0, 0, 6000.5, RIG_BAD_INPUT},
	{20, 30, 40, 10, 0, 20, RIG_BAD_INPUT},
	{20, 30, 40, 0, 20, 10, RIG_BAD_INPUT},
};

START_TEST(air_and_height_that_no_rule_knows_are_refused)
{
	rig_file *file = read_coach("{\"cord_a\": 30}", "\"loads\": []");
	rig_coach coach = *rig_file_completed(file);
	coach.site.elevation_m =
		raw(CONDITION[_i].low_m, CONDITION[_i].likely_m, CONDITION[_i].high_m);
	const rig_sources_options options = {
		.air_c = raw(CONDITION[_i].low_c, CONDITION[_i].likely_c, CONDITION[_i].high_c)};
	ck_assert_int_eq(sources_status(&coach, NULL, &options), CONDITION[_i].status);
	rig_sources_free(NULL);
	rig_file_free(file);
}
END_TEST

START_TEST(a_rule_that_is_none_is_refused)
{
	rig_file *file = read_coach("{\"cord_a\": 30}", "\"loads\": []");
	const rig_sources_options last = {.rule = RIG_N_DERATES - 1},
				  none = {.rule = RIG_N_DERATES};
	ck_assert_int_eq(sources_status(rig_file_completed(file), NULL, &last), RIG_OK);
	ck_assert_int_eq(sources_status(rig_file_completed(file), NULL, &none), RIG_BAD_INPUT);
	rig_file_free(file);
}
END_TEST

/* Watts of a source: a range in order, above nothing and with an end. */
static const struct {
	double low_w, likely_w, high_w;
	rig_status status;
} WATTS[] = {
	{1, 1, 1, RIG_OK},
	{2000, 3000, 4000, RIG_OK},
	{0, 3000, 4000, RIG_BAD_INPUT},
	{3500, 3000, 4000, RIG_BAD_INPUT},
	{2000, 3000, 2500, RIG_BAD_INPUT},
	{2000, 3000, INFINITY, RIG_BAD_INPUT},
	{NAN, 3000, 4000, RIG_BAD_INPUT},
};

START_TEST(watts_out_of_order_are_refused)
{
	rig_file *file =
		read_coach("{\"cord_a\": 30}", "\"generator\": {\"watts_w\": 3000}, \"loads\": []");
	rig_coach coach = *rig_file_completed(file);
	const rig_figure watts_w = raw(WATTS[_i].low_w, WATTS[_i].likely_w, WATTS[_i].high_w);
	coach.generator.watts_w = watts_w;
	ck_assert_int_eq(sources_status(&coach, NULL, NULL), WATTS[_i].status);
	coach = *rig_file_completed(file);
	coach.generator.surge_w = watts_w;
	ck_assert_int_eq(sources_status(&coach, NULL, NULL), WATTS[_i].status);
	rig_file_free(file);
}
END_TEST

START_TEST(without_a_place_it_is_20_to_40_c)
{
	sources_answer a = sources_ask(read_coach("{\"cord_a\": 30}", "\"loads\": []"), NULL, NULL);
	ck_assert_double_eq(a.sources->air_c.low, 20);
	ck_assert_double_eq(a.sources->air_c.likely, 30);
	ck_assert_double_eq(a.sources->air_c.high, 40);
	sources_drop(&a);
}
END_TEST

/* Of any month. */
START_TEST(each_month_may_be_the_hottest)
{
	rig_place place = {0};
	for (int m = 0; m < 12; m++)
		place.temp_max_c[m] = m == _i ? 30 : 10;
	sources_answer a =
		sources_ask(read_coach("{\"cord_a\": 30}", "\"loads\": []"), &place, NULL);
	ck_assert_double_eq(a.sources->air_c.likely, 30);
	sources_drop(&a);
}
END_TEST

/* One output on a coach of two legs feeds both from one hot. */
static const struct {
	const char *shore, *two_hots;
	bool shared;
	int n_hots;
} HOTS[] = {{"{\"cord_a\": 50}", "true", false, 2}, {"{\"cord_a\": 50}", "false", true, 1},
	{"{\"cord_a\": 30}", "false", false, 1}};

START_TEST(one_output_is_shared_by_both_legs)
{
	char rest[200];
	snprintf(rest, sizeof rest,
		"\"generator\": {\"watts_w\": 6000, \"two_hots\": %s}, \"loads\": []",
		HOTS[_i].two_hots);
	sources_answer a = sources_ask(read_coach(HOTS[_i].shore, rest), NULL, NULL);
	const rig_shore_supply *supply = &sources_of(&a, RIG_SOURCE_GENERATOR)->supply;
	ck_assert_int_eq(supply->shared_hot, HOTS[_i].shared);
	ck_assert_int_eq(supply->n_hots, HOTS[_i].n_hots);
	ck_assert_double_eq(supply->volts_v, 120);
	sources_drop(&a);
}
END_TEST

/* Two heaters as one load are named once. */
START_TEST(loads_of_a_kind_are_told_with_their_count)
{
	sources_answer a = sources_ask(
		read_coach("{\"cord_a\": 30}",
			"\"inverter\": {\"watts_w\": 2000, \"always_on\": true}, \"banks\": "
			"[{\"id\": \"h\", \"chemistry\": \"agm\", \"capacity_ah\": 200}], "
			"\"loads\": [{\"id\": \"heater\", \"running_w\": 500, \"count\": 2, "
			"\"inverter\": false}, {\"id\": \"lamp\", \"running_w\": 20, \"count\": "
			"3, \"inverter\": true}, {\"id\": \"fan\", \"running_w\": 40, "
			"\"inverter\": false}]"),
		NULL, NULL);
	const rig_other_source *inverter = sources_of(&a, RIG_SOURCE_INVERTER);
	const rig_other_set *all = &inverter->sets[sources_everything(&a)];
	ck_assert_uint_eq(inverter->n_loads, 1);
	ck_assert_int_eq(inverter->loads[0], 1);
	ck_assert_uint_eq(all->n_unfed, 2);
	ck_assert_int_eq(all->unfed[0].load, 0);
	ck_assert_int_eq(all->unfed[0].count, 2);
	ck_assert_int_eq(all->unfed[1].load, 2);
	ck_assert_int_eq(all->unfed[1].count, 1);
	sources_drop(&a);
}
END_TEST

START_TEST(verdicts_and_sources_have_words)
{
	ck_assert_str_eq(rig_start_verdict_text(RIG_START_HOLDS), "starts");
	ck_assert_str_eq(rig_source_kind_text(RIG_SOURCE_INVERTER), "inverter");
}
END_TEST

Suite *sources_suite(void);
Suite *sources_suite(void)
{
	Suite *suite = suite_create("sources");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_test(all, a_generator_high_up_gives_what_its_manual_says);
	tcase_add_test(all, without_a_rule_the_range_holds_all_rules);
	tcase_add_test(all, the_hottest_month_of_the_place_derates);
	tcase_add_test(all, each_source_feeds_its_circuits);
	tcase_add_test(all, what_fits_on_a_source_is_within_its_watts);
	tcase_add_test(all, a_dryer_of_240_v_needs_two_outputs);
	tcase_add_test(all, random_coaches_hold_together);
	tcase_add_loop_test(
		all, air_and_height_that_no_rule_knows_are_refused, 0, COUNT(CONDITION));
	tcase_add_test(all, a_rule_that_is_none_is_refused);
	tcase_add_loop_test(all, watts_out_of_order_are_refused, 0, COUNT(WATTS));
	tcase_add_test(all, without_a_place_it_is_20_to_40_c);
	tcase_add_loop_test(all, each_month_may_be_the_hottest, 0, 12);
	tcase_add_loop_test(all, one_output_is_shared_by_both_legs, 0, COUNT(HOTS));
	tcase_add_test(all, loads_of_a_kind_are_told_with_their_count);
	tcase_add_test(all, verdicts_and_sources_have_words);
	suite_add_tcase(suite, all);
	return suite;
}
