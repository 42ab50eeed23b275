/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>

#include "read_coach.h"
#include "sources_answer.h"
#include "suites.h"

/* Arithmetic in doubles on kilowatts. */
static const double TOL = 1e-8;

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
	sources_answer a = sources_ask(read_coach("{\"cord_a\": 30}", rest), NULL, &options);
	const rig_motor_start *start = &a.sources->starts[0];
	const rig_source_start *on = &start->bare[a.shore->n_supplies];
	ck_assert_int_eq(start->load, 0);
	ck_assert_int_eq(on->kind, RIG_SOURCE_GENERATOR);
	ck_assert(on->fed);
	ck_assert((on->verdict == RIG_START_FAILS) == ROOF[_i].fails);
	/* 15.5 A and 68 A at 115 V: 1,782.5 VA and 7,820 VA; twice, three and a half times, all */
	const double beside_va = ROOF[_i].n_units > 1 ? 1782.5 : 0;
	ck_assert_double_eq_tol(on->asked_va.low, 2 * 1782.5 + beside_va, TOL);
	ck_assert_double_eq_tol(on->asked_va.likely, 3.5 * 1782.5 + beside_va, TOL);
	ck_assert_double_eq_tol(on->asked_va.high, 7820 + beside_va, TOL);
	ck_assert_double_eq_tol(start->running_a.likely, 15.5, TOL);
	ck_assert_int_eq(on->supply, -1);
	ck_assert_uint_eq(start->n_on, a.shore->n_supplies + 1);
	/* a soft starter never makes it worse */
	ck_assert_int_le(start->soft[a.shore->n_supplies].verdict, on->verdict);
	sources_drop(&a);
}
END_TEST

/* An inverter of 2,000 W, surge 4,000: 68 A at 120 V are 8,160 VA, 0.3 to 0.5 of that 2,448 to
 * 4,080. Common practice agrees: a roof unit on such an inverter needs a soft starter. */
START_TEST(an_inverter_is_asked_for_the_locked_rotor)
{
	sources_answer a = sources_ask(
		read_coach("{\"cord_a\": 30}",
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
	sources_drop(&a);
}
END_TEST

/* By hand: 60 A at 120 V is a rotor of 2 ohm, at power factor 0.75 1.5 + 1.3229j ohm. On 120 V
 * behind 0.2 ohm: |1.7 + 1.3229j| = 2.15408, 55.7082 A, 111.4165 V; torque by the square. The short
 * cord of 4/0 has 36 microohm. */
START_TEST(a_start_dips_the_volts_as_ohms_law_says)
{
	sources_answer a = sources_ask(
		read_coach("{\"cord_a\": 30, \"pedestal_open_v\": 120, \"source_ohm\": 0.2, "
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
	/* at power factor 0.9 and 0.6: |1.8 + 0.2 + 0.872j| and |1.2 + 0.2 + 1.6j| ohm */
	ck_assert_double_eq_tol(on->start_v.low, 240 / hypot(2.0, 2 * sqrt(0.19)), tol);
	ck_assert_double_eq_tol(on->start_v.high, 240 / hypot(1.4, 1.6), tol);
	ck_assert_double_eq_tol(on->hot_a.likely, 120 / ohm, tol);
	/* 150 A is where a breaker of 30 A may trip at once */
	ck_assert(!on->in_trip_region);
	ck_assert_int_eq(on->supply, 1);
	ck_assert_int_eq(on->verdict, RIG_START_HOLDS);
	ck_assert(on->start_v.low < on->start_v.likely && on->start_v.likely < on->start_v.high);
	sources_drop(&a);
}
END_TEST

/* As above with 0.1 to 0.5 ohm: at 0.5 and power factor 0.9, |2.3 + 0.87j| = 2.46 ohm leave 97.6 V.
 */
START_TEST(a_start_in_doubt_depends)
{
	sources_answer a =
		sources_ask(read_coach("{\"cord_a\": 30, \"pedestal_open_v\": 120, \"source_ohm\": "
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
	sources_drop(&a);
}
END_TEST

/* The worse the supply, the graver: at 1 ohm even the best end is below 103.5 V. */
START_TEST(a_weak_supply_does_not_start_it)
{
	sources_answer a = sources_ask(
		read_coach("{\"cord_a\": 30, \"pedestal_open_v\": 116, \"source_ohm\": 1}",
			"\"loads\": [{\"id\": \"air\", \"running_w\": 1500, \"start_a\": "
			"68, \"behaviour\": \"compressor\", \"soft_starter\": true}]"),
		NULL, NULL);
	const rig_motor_start *start = &a.sources->starts[0];
	ck_assert(start->soft_starter);
	ck_assert_int_eq(start->bare[1].verdict, RIG_START_FAILS);
	ck_assert_double_gt(start->soft[1].start_v.likely, start->bare[1].start_v.likely + 10);
	sources_drop(&a);
}
END_TEST

#define STIFF "\"pedestal_open_v\": 120, \"cord_length_m\": 0.1, \"cord_awg\": \"4/0\""

/* 170 A at 120 V behind 0.05 ohm: 0.706 ohm of rotor and the supply leave about 160 A, more than
 * five times 30; a soft starter asks for half of that at most. */
START_TEST(a_hard_start_reaches_where_breakers_trip_at_once)
{
	sources_answer a = sources_ask(
		read_coach("{\"cord_a\": 30, \"source_ohm\": 0.05, " STIFF "}",
			"\"loads\": [{\"id\": \"air\", \"running_w\": 1500, \"start_a\": 170, "
			"\"behaviour\": \"compressor\"}]"),
		NULL, NULL);
	const rig_motor_start *start = &a.sources->starts[0];
	ck_assert(start->bare[1].in_trip_region);
	ck_assert(!start->soft[1].in_trip_region);
	sources_drop(&a);
}
END_TEST

/* By hand: a heater of 12 ohm that is always on behind 0.2 ohm leaves 120 x 12 / 12.2 = 118.03 V
 * before the start. A load that is off, and the motor's own, do not count. */
START_TEST(what_is_always_on_runs_beside_a_start)
{
	sources_answer a = sources_ask(
		read_coach("{\"cord_a\": 30, \"source_ohm\": 0.2, " STIFF "}",
			"\"loads\": [{\"id\": \"heater\", \"running_w\": 1200, \"behaviour\": "
			"\"resistive\", \"always_on\": true}, {\"id\": \"kettle\", "
			"\"running_w\": 1000, \"behaviour\": \"resistive\"}, {\"id\": \"air\", "
			"\"running_w\": 1500, \"start_a\": 60, \"behaviour\": \"compressor\", "
			"\"always_on\": true}]"),
		NULL, NULL);
	ck_assert_uint_eq(a.sources->n_starts, 1);
	ck_assert_double_eq_tol(
		a.sources->starts[0].bare[1].before_v.likely, 120 * 12 / 12.2, 0.01);
	sources_drop(&a);
}
END_TEST

/* The hardest is the one of most volt-amperes: 30 A at 240 V before 50 A at 120 V; of two alike
 * the first. Two alike in one load start one at a time. */
START_TEST(the_hardest_start_comes_first)
{
	sources_answer a = sources_ask(
		read_coach("{\"cord_a\": 50}",
			"\"circuits\": [{\"id\": \"d\", \"leg\": \"both\", \"breaker_a\": 30}], "
			"\"loads\": [{\"id\": \"none\", \"running_w\": 100}, "
			"{\"id\": \"fan\", \"running_a\": 5, \"power_factor\": 0.9, \"start_a\": "
			"50, \"count\": 2, \"behaviour\": \"motor\"}, "
			"{\"id\": \"saw\", \"running_w\": 600, \"start_a\": 50, \"behaviour\": "
			"\"motor\"}, {\"id\": \"dryer\", \"circuit\": \"d\", \"running_w\": "
			"3000, \"start_a\": 30, \"behaviour\": \"motor\"}]"),
		NULL, NULL);
	static const int ORDER[] = {3, 1, 2};
	ck_assert_uint_eq(a.sources->n_starts, COUNT(ORDER));
	for (size_t i = 0; i < COUNT(ORDER); i++)
		ck_assert_int_eq(a.sources->starts[i].load, ORDER[i]);
	ck_assert_double_eq_tol(a.sources->starts[1].running_a.likely, 5, 1e-6);
	sources_drop(&a);
}
END_TEST

/* 8,160 VA of locked rotor against a surge of so many watts. */
static const struct {
	double surge_w;
	rig_start_verdict verdict;
} SURGE[] = {{8160, RIG_START_HOLDS}, {8159, RIG_START_FAILS}, {9000, RIG_START_HOLDS}};

START_TEST(a_surge_that_is_enough_holds)
{
	char rest[400];
	snprintf(rest, sizeof rest,
		"\"inverter\": {\"watts_w\": 4000, \"surge_w\": %g, \"always_on\": true}, "
		"\"banks\": [{\"id\": \"h\", \"chemistry\": \"agm\", \"capacity_ah\": 200}], "
		"\"loads\": [{\"id\": \"air\", \"running_w\": 1500, \"start_a\": 68, "
		"\"behaviour\": \"compressor\", \"inverter\": true}]",
		SURGE[_i].surge_w);
	sources_answer a = sources_ask(read_coach("{\"cord_a\": 30}", rest), NULL, NULL);
	const rig_source_start *on = &a.sources->starts[0].bare[a.shore->n_supplies];
	ck_assert_int_eq(on->kind, RIG_SOURCE_INVERTER);
	ck_assert_double_eq_tol(on->surge_w.likely, SURGE[_i].surge_w, TOL);
	ck_assert_int_eq(on->verdict, SURGE[_i].verdict);
	sources_drop(&a);
}
END_TEST

Suite *starts_suite(void);
Suite *starts_suite(void)
{
	Suite *suite = suite_create("starts");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(
		all, a_roof_unit_starts_on_the_generator_that_its_maker_asks_for, 0, COUNT(ROOF));
	tcase_add_test(all, an_inverter_is_asked_for_the_locked_rotor);
	tcase_add_test(all, a_start_dips_the_volts_as_ohms_law_says);
	tcase_add_test(all, a_start_in_doubt_depends);
	tcase_add_test(all, a_weak_supply_does_not_start_it);
	tcase_add_test(all, a_hard_start_reaches_where_breakers_trip_at_once);
	tcase_add_test(all, what_is_always_on_runs_beside_a_start);
	tcase_add_test(all, the_hardest_start_comes_first);
	tcase_add_loop_test(all, a_surge_that_is_enough_holds, 0, COUNT(SURGE));
	suite_add_tcase(suite, all);
	return suite;
}
