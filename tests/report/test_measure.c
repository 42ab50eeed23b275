/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/measure.h"

#include "suites.h"

/* By hand from the definitions: 1 cu ft = 28.3168 litres, 1 US gallon = 3.78541 litres, 1 in = 2.54
 * cm, 1,000 BTU/h = 0.293 kW [NIST-SP811]; two digits are shown. */
static const struct {
	const char *us, *si;
} LABEL[] = {
	{"Household refrigerator, 18 to 20 cu ft", "Household refrigerator, 510 to 570 litres"},
	{"Old refrigerator, 16 cu ft, by its label", "Old refrigerator, 450 litres, by its label"},
	{"Water heater, 6 to 10 gal", "Water heater, 23 to 38 litres"},
	{"Television, about 32 in", "Television, about 81 cm"},
	{"Roof unit, 13,500 BTU/h, cooling", "Roof unit, 4 kW, cooling"},
	{"Tank of 2.5 gal", "Tank of 9.5 litres"},
	/* not sizes */
	{"Refrigerator on 12 V", "Refrigerator on 12 V"},
	{"2 inverters in a row", "2 inverters in a row"},
	{"Model X32 in grey", "Model X32 in grey"},
	{"18 to twenty cu ft", "18 to twenty cu ft"},
	{"Ends in 18 to", "Ends in 18 to"},
	{"Ends in 18", "Ends in 18"},
	{"", ""},
};

START_TEST(sizes_in_labels_follow_the_units_asked_for)
{
	rig_arena *arena = rig_arena_new();
	ck_assert_str_eq(rig_measure_label(arena, LABEL[_i].us, RIG_UNITS_US), LABEL[_i].us);
	ck_assert_str_eq(rig_measure_label(arena, LABEL[_i].us, RIG_UNITS_SI), LABEL[_i].si);
	rig_arena_free(arena);
}
END_TEST

Suite *measure_suite(void);
Suite *measure_suite(void)
{
	Suite *suite = suite_create("measure");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, sizes_in_labels_follow_the_units_asked_for, 0, COUNT(LABEL));
	suite_add_tcase(suite, all);
	return suite;
}
