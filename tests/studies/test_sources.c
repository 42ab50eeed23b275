/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/sources.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "../rig/random_coach.h"
#include "read_coach.h"
#include "suites.h"

typedef struct {
	rig_file *file;
	rig_shore_findings *shore;
	rig_voltage_findings *volts;
	rig_sources_findings *sources;
} answer;

static answer ask(rig_file *file, const rig_place *place, const rig_sources_options *options)
{
	answer a = {.file = file};
	const rig_coach *coach = rig_file_completed(file);
	ck_assert_int_eq(rig_shore_study(coach, NULL, &a.shore), RIG_OK);
	ck_assert_int_eq(rig_voltage_study(coach, a.shore, NULL, &a.volts), RIG_OK);
	ck_assert_int_eq(rig_sources_study(coach, a.volts, place, options, &a.sources), RIG_OK);
	return a;
}

static void drop(answer *a)
{
	rig_sources_free(a->sources);
	rig_voltage_free(a->volts);
	rig_shore_free(a->shore);
	rig_file_free(a->file);
}

static const rig_other_source *source_of(const answer *a, rig_source_kind kind)
{
	for (size_t i = 0; i < a->sources->n_sources; i++)
		if (a->sources->sources[i].kind == kind)
			return &a->sources->sources[i];
	ck_abort_msg("no such source");
	return NULL;
}

static int everything(const answer *a)
{
	for (size_t i = 0; i < a->shore->n_sets; i++)
		if (a->shore->sets[i].kind == RIG_SHORE_SET_EVERYTHING)
			return (int)i;
	ck_abort_msg("there is no set of everything");
	return -1;
}

/* Arithmetic in doubles on kilowatts. */
static const double TOL = 1e-8;

/* Worked in [GEN-2004]: 5,500 W at 5,000 ft is 4,675 W. As one output 38.96 A at 120 V. */
START_TEST(a_generator_high_up_gives_what_its_manual_says)
{
	const rig_sources_options options = {.rule = RIG_DERATE_HEIGHT};
	answer a = ask(read_coach("{\"cord_a\": 30}",
			       "\"place\": {\"latitude_deg\": 40, \"longitude_deg\": -105, "
			       "\"elevation_ft\": 5000}, \"generator\": {\"watts_w\": 5500}, "
			       "\"loads\": []"),
		NULL, &options);
	const rig_other_source *set = source_of(&a, RIG_SOURCE_GENERATOR);
	ck_assert_double_eq_tol(set->available_w.likely, 4675, TOL);
	ck_assert_double_eq_tol(set->available_w.low, 4675, TOL);
	ck_assert_double_eq_tol(set->supply.limit_a, 4675 / 120.0, TOL);
	ck_assert_int_eq(set->supply.n_hots, 1);
	drop(&a);
}
END_TEST

/* By hand at 5,000 ft and 40 C (104 F): height 15 %; height and heat 14 + 2 x 19/10 = 17.8 %; site
 * 3 x 524/500 = 3.144 %. Nobody says which, so the range holds all three. */
START_TEST(without_a_rule_the_range_holds_all_rules)
{
	const rig_sources_options options = {.air_c = {40, 40, 40, RIG_FROM_MEASURED, 0, NULL}};
	answer a = ask(read_coach("{\"cord_a\": 50}",
			       "\"place\": {\"latitude_deg\": 40, \"longitude_deg\": -105, "
			       "\"elevation_m\": 1524}, \"generator\": {\"watts_w\": 8000}, "
			       "\"loads\": []"),
		NULL, &options);
	const rig_other_source *set = source_of(&a, RIG_SOURCE_GENERATOR);
	ck_assert_double_eq_tol(set->left_frac.low, 0.822, TOL);
	ck_assert_double_eq_tol(set->left_frac.likely, 0.822, TOL);
	ck_assert_double_eq_tol(set->left_frac.high, 1 - 0.03144, TOL);
	/* two outputs, half each */
	ck_assert_int_eq(set->supply.n_hots, 2);
	ck_assert_double_eq_tol(set->supply.limit_a, 8000 * 0.822 / 240, TOL);
	drop(&a);
}
END_TEST

START_TEST(the_hottest_month_of_the_place_derates)
{
	rig_place place = {.temp_max_c = {5, 8, 12, 18, 24, 30, 36, 34, 28, 20, 12, 6},
		.temp_mean_c = {0, 2, 6, 12, 18, 24, 29, 28, 22, 14, 6, 1}};
	answer a = ask(read_coach("{\"cord_a\": 30}", "\"loads\": []"), &place, NULL);
	ck_assert_double_eq(a.sources->air_c.low, 29);
	ck_assert_double_eq(a.sources->air_c.likely, 36);
	ck_assert_double_eq(a.sources->air_c.high, 41);
	ck_assert_uint_eq(a.sources->n_sources, 0);
	drop(&a);
}
END_TEST

/* [ROOF-UNIT]: a 13,500 Btu/h unit (12.7 + 2.8 A, 68 A locked) wants a generator of 3.5 kW, two of
 * them 5.0 kW. So neither may be said to fail; and 1.8 kW cannot start one. */
static const char UNIT[] = "{\"id\": \"air%d\", \"running_a\": 15.5, \"volts_v\": 115, "
			   "\"power_factor\": 0.95, \"start_a\": 68, \"behaviour\": "
			   "\"compressor\", \"always_on\": %s}";
static const struct {
	int n_units;
	double watts_w;
	bool fails;
} ROOF[] = {{1, 3500, false}, {2, 5000, false}, {1, 1800, true}, {2, 3500, true}};

START_TEST(a_roof_unit_starts_on_the_generator_that_its_maker_asks_for)
{
	char rest[600], first[200], second[200];
	/* with two, one runs while the other starts */
	snprintf(first, sizeof first, UNIT, 1, "false");
	snprintf(second, sizeof second, UNIT, 2, "true");
	snprintf(rest, sizeof rest, "\"generator\": {\"watts_w\": %g}, \"loads\": [%s%s%s]",
		ROOF[_i].watts_w, first, ROOF[_i].n_units > 1 ? "," : "",
		ROOF[_i].n_units > 1 ? second : "");
	const rig_sources_options options = {.air_c = {20, 20, 20, RIG_FROM_MEASURED, 0, NULL}};
	answer a = ask(read_coach("{\"cord_a\": 30}", rest), NULL, &options);
	const rig_motor_start *start = &a.sources->starts[0];
	const rig_source_start *on = &start->bare[a.shore->n_supplies];
	ck_assert_int_eq(start->load, 0);
	ck_assert_int_eq(on->kind, RIG_SOURCE_GENERATOR);
	ck_assert(on->fed);
	ck_assert((on->verdict == RIG_START_FAILS) == ROOF[_i].fails);
	/* a soft starter never makes it worse */
	ck_assert_int_le(start->soft[a.shore->n_supplies].verdict, on->verdict);
	drop(&a);
}
END_TEST

/* An inverter of 2,000 W, surge 4,000: 68 A at 120 V are 8,160 VA, 0.3 to 0.5 of that 2,448 to
 * 4,080. Common practice agrees: a roof unit on such an inverter needs a soft starter. */
START_TEST(an_inverter_is_asked_for_the_locked_rotor)
{
	answer a =
		ask(read_coach("{\"cord_a\": 30}",
			    "\"inverter\": {\"watts_w\": 2000, \"surge_w\": 4000, \"always_on\": "
			    "true}, \"banks\": [{\"id\": \"h\", \"chemistry\": \"agm\", "
			    "\"capacity_ah\": 200}], \"loads\": [{\"id\": \"air\", \"running_w\": "
			    "1500, "
			    "\"start_a\": 68, \"behaviour\": \"compressor\", \"inverter\": true}]"),
			NULL, NULL);
	const rig_motor_start *start = &a.sources->starts[0];
	const rig_source_start *bare = &start->bare[a.shore->n_supplies];
	const rig_source_start *soft = &start->soft[a.shore->n_supplies];
	ck_assert_double_eq_tol(bare->asked_va.likely, 8160, TOL);
	ck_assert_int_eq(bare->verdict, RIG_START_FAILS);
	ck_assert_double_eq_tol(soft->asked_va.low, 2448, TOL);
	ck_assert_double_eq_tol(soft->asked_va.high, 4080, TOL);
	ck_assert_int_eq(soft->verdict, RIG_START_DEPENDS);
	ck_assert_double_eq_tol(start->soft_a.likely, 27.2, TOL);
	drop(&a);
}
END_TEST

/* By hand: 60 A at 120 V is a rotor of 2 ohm, at power factor 0.75 1.5 + 1.3229j ohm. On 120 V
 * behind 0.2 ohm: |1.7 + 1.3229j| = 2.15408, 55.7082 A, 111.4165 V; torque by the square. The short
 * cord of 4/0 has 36 microohm. */
START_TEST(a_start_dips_the_volts_as_ohms_law_says)
{
	answer a =
		ask(read_coach("{\"cord_a\": 30, \"pedestal_open_v\": 120, \"source_ohm\": 0.2, "
			       "\"cord_length_m\": 0.1, \"cord_awg\": \"4/0\"}",
			    "\"loads\": [{\"id\": \"air\", \"running_w\": 1500, \"start_a\": 60, "
			    "\"behaviour\": \"compressor\"}]"),
			NULL, NULL);
	const rig_source_start *on = &a.sources->starts[0].bare[1];
	const double ohm = hypot(1.7, 2 * sqrt(1 - 0.75 * 0.75));
	const double tol = 0.01; /* the cord */
	ck_assert_int_eq(on->kind, RIG_SOURCE_SHORE);
	ck_assert_double_eq_tol(on->before_v.likely, 120, 1e-9);
	ck_assert_double_eq_tol(on->start_a.likely, 120 / ohm, tol);
	ck_assert_double_eq_tol(on->start_v.likely, 240 / ohm, tol);
	ck_assert_double_eq_tol(on->dip_v.likely, 120 - 240 / ohm, tol);
	ck_assert_double_eq_tol(on->torque_frac.likely, 4 / (ohm * ohm), 1e-3);
	ck_assert_int_eq(on->verdict, RIG_START_HOLDS);
	ck_assert(on->start_v.low < on->start_v.likely && on->start_v.likely < on->start_v.high);
	drop(&a);
}
END_TEST

/* As above with 0.1 to 0.5 ohm: at 0.5 and power factor 0.9, |2.3 + 0.87j| = 2.46 ohm leave 97.6 V.
 */
START_TEST(a_start_in_doubt_depends)
{
	answer a = ask(read_coach("{\"cord_a\": 30, \"pedestal_open_v\": 120, \"source_ohm\": "
				  "{\"low\": 0.1, \"likely\": 0.2, \"high\": 0.5, \"from\": "
				  "\"estimated\"}, \"cord_length_m\": 0.1, \"cord_awg\": "
				  "\"4/0\"}",
			       "\"loads\": [{\"id\": \"air\", \"running_w\": 1500, "
			       "\"start_a\": 60, \"behaviour\": \"compressor\"}]"),
		NULL, NULL);
	const rig_source_start *on = &a.sources->starts[0].bare[1];
	ck_assert_double_eq_tol(on->start_v.low, 240 / hypot(2.3, 2 * sqrt(0.19)), 0.02);
	ck_assert_double_gt(on->start_v.likely, RIG_START_FLOOR_V);
	ck_assert_int_eq(on->verdict, RIG_START_DEPENDS);
	drop(&a);
}
END_TEST

/* The worse the supply, the graver: at 1 ohm even the best end is below 103.5 V. */
START_TEST(a_weak_supply_does_not_start_it)
{
	answer a = ask(read_coach("{\"cord_a\": 30, \"pedestal_open_v\": 116, \"source_ohm\": 1}",
			       "\"loads\": [{\"id\": \"air\", \"running_w\": 1500, \"start_a\": "
			       "68, \"behaviour\": \"compressor\", \"soft_starter\": true}]"),
		NULL, NULL);
	const rig_motor_start *start = &a.sources->starts[0];
	ck_assert(start->soft_starter);
	ck_assert_int_eq(start->bare[1].verdict, RIG_START_FAILS);
	ck_assert_double_gt(start->soft[1].start_v.likely, start->bare[1].start_v.likely + 10);
	drop(&a);
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
	answer a = ask(read_coach("{\"cord_a\": 30}", KITCHEN), NULL, &options);
	const rig_other_source *set = source_of(&a, RIG_SOURCE_GENERATOR);
	const rig_other_source *inverter = source_of(&a, RIG_SOURCE_INVERTER);
	ck_assert_uint_eq(set->n_circuits, 2);
	ck_assert_uint_eq(inverter->n_circuits, 1);
	ck_assert_int_eq(inverter->circuits[0], 0);
	ck_assert_uint_eq(set->n_loads, 4);
	ck_assert_int_eq(set->loads[3], RIG_SHORE_CHARGER);
	ck_assert_uint_eq(inverter->n_loads, 2);
	const rig_other_set *all = &inverter->sets[everything(&a)];
	ck_assert_uint_eq(all->n_unfed, 2);
	ck_assert_int_eq(all->unfed[0].load, 2);
	ck_assert_int_eq(all->unfed[1].load, RIG_SHORE_CHARGER);
	ck_assert_int_eq(all->budget.supply, -1);
	drop(&a);
}
END_TEST

/* 2,200 W on 2,000 is over; the microwave of priority 2 stays, the kettle goes. The heater on 3,000
 * W of generator: 1,800 W for hours on end count once, since a set is rated for that. */
START_TEST(what_fits_on_a_source_is_within_its_watts)
{
	const rig_sources_options options = {.rule = RIG_DERATE_HEIGHT};
	answer a = ask(read_coach("{\"cord_a\": 30}", KITCHEN), NULL, &options);
	const int at = everything(&a);
	const rig_shore_budget *inverter = &source_of(&a, RIG_SOURCE_INVERTER)->sets[at].budget;
	const rig_shore_budget *set = &source_of(&a, RIG_SOURCE_GENERATOR)->sets[at].budget;
	ck_assert_int_eq(inverter->verdict, RIG_SHORE_OVER);
	ck_assert_double_eq_tol(inverter->main.amps_a.likely, 2200 / 120.0, TOL);
	ck_assert_uint_eq(inverter->best.n_kept, 1);
	ck_assert_int_eq(inverter->best.kept[0].load, 0);
	ck_assert_double_eq_tol(set->main.amps_a.likely, set->main.loaded_a.likely, TOL);
	ck_assert_int_eq(set->verdict, RIG_SHORE_OVER);
	ck_assert_uint_eq(set->best.n_off, 2);
	ck_assert_int_eq(set->best.off[0].load, RIG_SHORE_CHARGER);
	ck_assert_int_eq(set->best.off[1].load, 2);
	drop(&a);
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
		answer a = ask(read_coach("{\"cord_a\": 50}", rest), NULL, NULL);
		const rig_other_source *set = source_of(&a, RIG_SOURCE_GENERATOR);
		ck_assert_uint_eq(set->sets[everything(&a)].budget.n_dead, two ? 0 : 1);
		const rig_motor_start *start = &a.sources->starts[0];
		ck_assert(start->bare[a.shore->n_supplies].fed == (two == 1));
		ck_assert(start->bare[0].fed && !start->bare[1].fed);
		/* half of 240 V is shown, as of a leg */
		ck_assert_double_lt(start->bare[0].start_v.likely, 125);
		drop(&a);
	}
}
END_TEST

START_TEST(random_coaches_hold_together)
{
	for (uint64_t seed = 1; seed <= 150; seed++) {
		rig_file *file = random_coach(seed);
		answer a = ask(file, rig_file_place(file, NULL), NULL);
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
		drop(&a);
	}
}
END_TEST

START_TEST(air_that_no_rule_knows_is_refused)
{
	rig_file *file = read_coach("{\"cord_a\": 30}", "\"loads\": []");
	const rig_coach *coach = rig_file_completed(file);
	rig_shore_findings *shore = NULL;
	rig_voltage_findings *volts = NULL;
	rig_sources_findings *sources = NULL;
	const rig_sources_options options = {.air_c = {20, 90, 90, RIG_FROM_MEASURED, 0, NULL}};
	ck_assert_int_eq(rig_shore_study(coach, NULL, &shore), RIG_OK);
	ck_assert_int_eq(rig_voltage_study(coach, shore, NULL, &volts), RIG_OK);
	ck_assert_int_eq(rig_sources_study(coach, volts, NULL, &options, &sources), RIG_BAD_INPUT);
	ck_assert_ptr_null(sources);
	rig_sources_free(NULL);
	rig_voltage_free(volts);
	rig_shore_free(shore);
	rig_file_free(file);
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
	tcase_add_loop_test(
		all, a_roof_unit_starts_on_the_generator_that_its_maker_asks_for, 0, COUNT(ROOF));
	tcase_add_test(all, an_inverter_is_asked_for_the_locked_rotor);
	tcase_add_test(all, a_start_dips_the_volts_as_ohms_law_says);
	tcase_add_test(all, a_start_in_doubt_depends);
	tcase_add_test(all, a_weak_supply_does_not_start_it);
	tcase_add_test(all, each_source_feeds_its_circuits);
	tcase_add_test(all, what_fits_on_a_source_is_within_its_watts);
	tcase_add_test(all, a_dryer_of_240_v_needs_two_outputs);
	tcase_add_test(all, random_coaches_hold_together);
	tcase_add_test(all, air_that_no_rule_knows_is_refused);
	tcase_add_test(all, verdicts_and_sources_have_words);
	suite_add_tcase(suite, all);
	return suite;
}
