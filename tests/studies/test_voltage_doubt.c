/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the volts at the coach hang on, by hand from ohm's law: a heater of 1,440 W at 120 V is 10
 * ohm, and one input at a time stands at its ends. */
#include <stdio.h>

#include "read_coach.h"
#include "rigbudget/shore.h"
#include "rigbudget/voltage.h"
#include "suites.h"

/* The cord's reactance, left out by hand, takes 1e-6 of the volts. */
static const double TOL_V = 2e-4;

typedef struct {
	rig_file *file;
	rig_shore_findings *shore;
	rig_voltage_findings *volts;
	const rig_voltage_case *on_30; /* everything, on 30 A */
	double ohm;                    /* likely, of the whole way */
} answer;

static answer ask(const char *shore, const char *rest)
{
	answer a = {.file = read_coach(shore, rest)};
	const rig_coach *coach = rig_file_completed(a.file);
	ck_assert_int_eq(rig_shore_study(coach, NULL, &a.shore), RIG_OK);
	ck_assert_int_eq(rig_voltage_study(coach, a.shore, NULL, &a.volts), RIG_OK);
	for (size_t i = 0; i < a.volts->n_cases; i++) {
		const rig_voltage_case *at = &a.volts->cases[i];
		if (a.shore->sets[at->set].kind == RIG_SHORE_SET_EVERYTHING &&
			a.shore->supplies[at->supply].limit_a == 30.0 && a.on_30 == NULL)
			a.on_30 = at;
	}
	ck_assert_ptr_nonnull(a.on_30);
	/* the receptacle of 30 A, not a larger one with the 30 A cord */
	while (a.shore->supplies[a.on_30->supply].adapter)
		a.on_30++;
	a.ohm = a.volts->paths[a.on_30->supply].total_ohm.likely;
	return a;
}

static void drop(answer *a)
{
	rig_voltage_free(a->volts);
	rig_shore_free(a->shore);
	rig_file_free(a->file);
}

static const rig_measure *only_measure(const answer *a, rig_measure_kind kind)
{
	ck_assert_uint_eq(a->on_30->n_measures, 1);
	const rig_measure *input = &a->on_30->measures[0];
	ck_assert_int_eq(input->kind, kind);
	ck_assert_double_eq_tol(input->share_frac, 1.0, 1e-12);
	return input;
}

#define HEATER "{\"id\": \"h\", \"behaviour\": \"resistive\", \"running_w\": 1440}"

/* 720 W are 20 ohm, 2,400 W are 6. From 120 V all of it stays within range A, 108 V and more
 * ([ANSI-C841], 2011); from 112 V the larger draw does not. */
static const struct {
	const char *open_v;
	double v;
	bool decides;
} DRAW[] = {{"120", 120, false}, {"112", 112, true}};

START_TEST(volts_hang_on_the_one_draw_in_doubt)
{
	char shore[120];
	snprintf(shore, sizeof shore,
		"{\"cord_a\": 30, \"pedestal_open_v\": %s, \"source_ohm\": 0.2, "
		"\"cord_length_m\": 9}",
		DRAW[_i].open_v);
	answer a = ask(shore,
		"\"loads\": [{\"id\": \"sure\", \"behaviour\": \"resistive\", \"running_w\": 144}, "
		"{\"id\": \"loose\", \"behaviour\": \"resistive\", \"running_w\": {\"low\": 720, "
		"\"likely\": 1440, \"high\": 2400, \"from\": \"estimated\"}}]");
	const rig_measure *input = only_measure(&a, RIG_MEASURE_AC_LOAD);
	const double heater_ohm[] = {6, 10, 20};
	ck_assert_int_eq(input->index, 1);
	for (int k = 0; k < 3; k++) {
		/* beside 100 ohm that are known */
		const double all_ohm = 1 / (1 / heater_ohm[k] + 1 / 100.0);
		ck_assert_double_eq_tol(
			input->outcome[k], DRAW[_i].v * all_ohm / (all_ohm + a.ohm), TOL_V);
	}
	ck_assert(input->decides == DRAW[_i].decides);
	drop(&a);
}
END_TEST

/* Two of a load are one thing to measure: 5 ohm together, 3 and 10 at the ends. */
START_TEST(several_of_a_load_are_measured_once)
{
	answer a = ask("{\"cord_a\": 30, \"pedestal_open_v\": 120, \"source_ohm\": 0.2, "
		       "\"cord_length_m\": 9}",
		"\"loads\": [{\"id\": \"h\", \"count\": 2, \"behaviour\": \"resistive\", "
		"\"running_w\": {\"low\": 720, \"likely\": 1440, \"high\": 2400, \"from\": "
		"\"estimated\"}}]");
	const rig_measure *input = only_measure(&a, RIG_MEASURE_AC_LOAD);
	const double both_ohm[] = {3, 5, 10};
	for (int k = 0; k < 3; k++)
		ck_assert_double_eq_tol(
			input->outcome[k], 120 * both_ohm[k] / (both_ohm[k] + a.ohm), TOL_V);
	drop(&a);
}
END_TEST

/* What in the way is in doubt: ohm more and less than likely at its high and its low end. */
static const struct {
	const char *shore;
	rig_measure_kind kind;
	double less_ohm, more_ohm; /* a share of the cord's ohm where cord is set */
	bool cord;
} WAY[] = {
	{"{\"cord_a\": 30, \"pedestal_open_v\": 120, \"cord_length_m\": 9, \"source_ohm\": "
	 "{\"low\": 0.1, \"likely\": 0.2, \"high\": 0.6, \"from\": \"estimated\"}}",
		RIG_MEASURE_SOURCE, 0.1, 0.4, false},
	/* 6 of 10 m and 15 of 10 m */
	{"{\"cord_a\": 30, \"pedestal_open_v\": 120, \"source_ohm\": 0.2, \"cord_length_m\": "
	 "{\"low\": 6, \"likely\": 10, \"high\": 15, \"from\": \"estimated\"}}",
		RIG_MEASURE_CORD, 0.4, 0.5, true},
};

START_TEST(volts_hang_on_the_one_part_of_the_way_in_doubt)
{
	answer a = ask(WAY[_i].shore, "\"loads\": [" HEATER "]");
	const rig_measure *input = only_measure(&a, WAY[_i].kind);
	const double unit_ohm =
		WAY[_i].cord ? a.volts->paths[a.on_30->supply].cord_ohm.likely : 1.0;
	const double way_ohm[] = {
		a.ohm + WAY[_i].more_ohm * unit_ohm, a.ohm, a.ohm - WAY[_i].less_ohm * unit_ohm};
	for (int k = 0; k < 3; k++)
		ck_assert_double_eq_tol(input->outcome[k], 120 * 10 / (10 + way_ohm[k]), TOL_V);
	drop(&a);
}
END_TEST

/* An extension belongs to the cord: both are one thing to measure. */
START_TEST(an_extension_is_measured_with_the_cord)
{
	answer a = ask("{\"cord_a\": 30, \"pedestal_open_v\": 120, \"source_ohm\": 0.2, "
		       "\"cord_length_m\": 9, \"adapter_awg\": \"10\", \"adapter_length_m\": "
		       "{\"low\": 5, \"likely\": 10, \"high\": 20, \"from\": \"estimated\"}}",
		"\"loads\": [" HEATER "]");
	const rig_measure *input = only_measure(&a, RIG_MEASURE_CORD);
	const double ohm = a.volts->paths[a.on_30->supply].adapter_ohm.likely;
	ck_assert_double_eq_tol(input->outcome[0], 120 * 10 / (10 + a.ohm + ohm), TOL_V);
	ck_assert_double_eq_tol(input->outcome[2], 120 * 10 / (10 + a.ohm - ohm / 2), TOL_V);
	drop(&a);
}
END_TEST

/* Open volts of 108 to 132 V move the coach's in proportion; below 108 V at one end, range A at the
 * other. */
START_TEST(volts_follow_the_open_ones_in_proportion)
{
	answer a = ask("{\"cord_a\": 30, \"pedestal_open_v\": {\"low\": 108, \"likely\": 120, "
		       "\"high\": 126, \"from\": \"estimated\"}, \"source_ohm\": 0.2, "
		       "\"cord_length_m\": 9}",
		"\"loads\": [" HEATER "]");
	const rig_measure *input = only_measure(&a, RIG_MEASURE_OPEN_V);
	const double open_v[] = {108, 120, 126};
	for (int k = 0; k < 3; k++)
		ck_assert_double_eq_tol(input->outcome[k], open_v[k] * 10 / (10 + a.ohm), TOL_V);
	ck_assert(input->decides);
	ck_assert_int_eq(input->index, -1);
	drop(&a);
}
END_TEST

Suite *voltage_doubt_suite(void);
Suite *voltage_doubt_suite(void)
{
	Suite *suite = suite_create("voltage_doubt");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, volts_hang_on_the_one_draw_in_doubt, 0, COUNT(DRAW));
	tcase_add_test(all, several_of_a_load_are_measured_once);
	tcase_add_loop_test(all, volts_hang_on_the_one_part_of_the_way_in_doubt, 0, COUNT(WAY));
	tcase_add_test(all, an_extension_is_measured_with_the_cord);
	tcase_add_test(all, volts_follow_the_open_ones_in_proportion);
	suite_add_tcase(suite, all);
	return suite;
}
