/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The findings here are made by hand: what is asked is which figures are set side by side. */
#include <string.h>

#include "rigbudget/compare.h"
#include "rigbudget/profile.h"
#include "suites.h"

enum { N_SETS = 3, N_SUPPLIES = 2, SETS_ON_SUPPLIES = N_SETS * N_SUPPLIES, JANUARY = 0, JULY = 6 };

/* Findings of all four studies, their figures apart from each other by the base. */
typedef struct {
	rig_shore_supply supplies[N_SUPPLIES];
	rig_shore_budget budgets[N_SETS][N_SUPPLIES];
	rig_shore_set sets[N_SETS];
	rig_voltage_case cases[SETS_ON_SUPPLIES];
	rig_solar_bank solar_bank;
	rig_trip_bank trip_bank;
	rig_shore_findings shore;
	rig_voltage_findings voltage;
	rig_solar_findings solar;
	rig_trip_findings trip;
	rig_compared all;
} scene;

static scene before, after;
static rig_effects *effects;

static rig_figure figure(double likely)
{
	return rig_figure_range(likely - 1, likely, likely + 1, RIG_FROM_COMPUTED);
}

/* A cooking set, a standing one that is never compared, and everything, on two supplies. */
static void make_shore(scene *s, double base)
{
	static const char *const NAMES[N_SETS] = {"cooking", NULL, NULL};
	static const rig_shore_set_kind KINDS[N_SETS] = {
		RIG_SHORE_SET_TOGETHER, RIG_SHORE_SET_STANDING, RIG_SHORE_SET_EVERYTHING};
	for (int k = 0; k < N_SUPPLIES; k++)
		s->supplies[k].pedestal = rig_supply_at((size_t)k);
	for (int i = 0; i < N_SETS; i++) {
		s->sets[i] = (rig_shore_set){
			.kind = KINDS[i], .name = NAMES[i], .budgets = s->budgets[i]};
		for (int k = 0; k < N_SUPPLIES; k++) {
			s->budgets[i][k].main.loaded_a = figure(base + 10 * i + k);
			s->budgets[i][k].verdict = RIG_SHORE_FITS;
			rig_voltage_state *state = &s->cases[i * N_SUPPLIES + k].all;
			state->low_leg = 1;
			state->leg_v[0] = figure(999);
			state->leg_v[1] = figure(100 + base + 10 * i + k);
		}
	}
	s->shore = (rig_shore_findings){.n_supplies = N_SUPPLIES,
		.supplies = s->supplies,
		.n_sets = N_SETS,
		.sets = s->sets};
	s->voltage.cases = s->cases;
}

static void make(scene *s, double base, int worst_month)
{
	memset(s, 0, sizeof *s);
	make_shore(s, base);
	s->solar_bank.worst_month = worst_month;
	for (int m = 0; m < 12; m++)
		s->solar_bank.months[m].harvest_wh_day = figure(base + 500 + m);
	s->solar_bank.standing_wh_day = figure(base + 200);
	s->solar_bank.use_wh_day = figure(base + 900);
	s->solar_bank.usable_wh = figure(base + 1200);
	s->solar.banks = &s->solar_bank;
	s->trip_bank.days_with_panel = figure(base + 7);
	s->trip_bank.days_without_panel = figure(base + 3);
	s->trip.banks = &s->trip_bank;
	s->all = (rig_compared){&s->shore, &s->voltage, &s->solar, &s->trip};
}

static void setup(void)
{
	make(&before, 20, JANUARY);
	make(&after, 40, JULY);
	effects = NULL;
}

static void teardown(void)
{
	rig_effects_free(effects);
}

static void compare(void)
{
	ck_assert_int_eq(rig_findings_effects(&before.all, &after.all, &effects), RIG_OK);
}

static size_t count(rig_effect_kind kind)
{
	size_t n = 0;
	for (size_t i = 0; i < effects->n; i++)
		n += effects->rows[i].kind == kind;
	return n;
}

/* Amps and volts of two sets on two supplies, then six figures of the bank. */
static const struct {
	rig_effect_kind kind;
	const char *set;
	int supply;
	const char *unit;
	double before, after;
	int before_month, after_month;
} ROW[] = {
	{RIG_EFFECT_LEG_AMPS, "cooking", 0, "A", 20, 40, -1, -1},
	{RIG_EFFECT_COACH_VOLTS, "cooking", 0, "V", 120, 140, -1, -1},
	{RIG_EFFECT_LEG_AMPS, "cooking", 1, "A", 21, 41, -1, -1},
	{RIG_EFFECT_COACH_VOLTS, "cooking", 1, "V", 121, 141, -1, -1},
	{RIG_EFFECT_LEG_AMPS, NULL, 0, "A", 40, 60, -1, -1},
	{RIG_EFFECT_COACH_VOLTS, NULL, 0, "V", 140, 160, -1, -1},
	{RIG_EFFECT_LEG_AMPS, NULL, 1, "A", 41, 61, -1, -1},
	{RIG_EFFECT_COACH_VOLTS, NULL, 1, "V", 141, 161, -1, -1},
	/* each in its own worst month */
	{RIG_EFFECT_HARVEST, NULL, -1, "Wh/day", 520, 546, JANUARY, JULY},
	{RIG_EFFECT_STANDING, NULL, -1, "Wh/day", 220, 240, -1, -1},
	{RIG_EFFECT_USE, NULL, -1, "Wh/day", 920, 940, -1, -1},
	{RIG_EFFECT_USABLE, NULL, -1, "Wh", 1220, 1240, -1, -1},
	{RIG_EFFECT_DAYS_WITH, NULL, -1, "days", 27, 47, -1, -1},
	{RIG_EFFECT_DAYS_WITHOUT, NULL, -1, "days", 23, 43, -1, -1},
};

static void check_name(const char *found, const char *expected)
{
	if (expected == NULL)
		ck_assert_ptr_null(found);
	else
		ck_assert_str_eq(found, expected);
}

START_TEST(each_figure_stands_beside_its_fellow_in_order)
{
	compare();
	ck_assert_uint_eq(effects->n, COUNT(ROW));
	const rig_effect *row = &effects->rows[_i];
	ck_assert_int_eq(row->kind, ROW[_i].kind);
	check_name(row->set, ROW[_i].set);
	check_name(
		row->supply, ROW[_i].supply < 0 ? NULL : rig_supply_at((size_t)ROW[_i].supply)->id);
	ck_assert_str_eq(row->unit, ROW[_i].unit);
	ck_assert_double_eq(row->before.likely, ROW[_i].before);
	ck_assert_double_eq(row->after.likely, ROW[_i].after);
	ck_assert_int_eq(row->before_month, ROW[_i].before_month);
	ck_assert_int_eq(row->after_month, ROW[_i].after_month);
	ck_assert_int_eq(row->has_verdicts, ROW[_i].kind == RIG_EFFECT_LEG_AMPS);
}
END_TEST

START_TEST(amps_bring_the_verdicts_of_both)
{
	before.budgets[2][1].verdict = RIG_SHORE_FITS;
	after.budgets[2][1].verdict = RIG_SHORE_OVER;
	compare();
	ck_assert_int_eq(effects->rows[6].before_verdict, RIG_SHORE_FITS);
	ck_assert_int_eq(effects->rows[6].after_verdict, RIG_SHORE_OVER);
}
END_TEST

START_TEST(sets_are_paired_by_name_whatever_their_place)
{
	rig_shore_set first = before.sets[0];
	before.sets[0] = before.sets[2];
	before.sets[2] = first;
	compare();
	ck_assert_str_eq(effects->rows[0].set, "cooking");
	ck_assert_double_eq(effects->rows[0].before.likely, 20);
	ck_assert_double_eq(effects->rows[4].before.likely, 40);
	/* the volts stand in the order of the sets, which were not moved */
	ck_assert_double_eq(effects->rows[1].before.likely, 140);
}
END_TEST

START_TEST(supplies_are_paired_by_pedestal_whatever_their_place)
{
	before.supplies[0].pedestal = rig_supply_at(1);
	before.supplies[1].pedestal = rig_supply_at(0);
	compare();
	ck_assert_double_eq(effects->rows[0].before.likely, 21);
	ck_assert_double_eq(effects->rows[2].before.likely, 20);
}
END_TEST

/* What only one of the two has is not set beside anything. */
START_TEST(a_set_or_supply_that_one_lacks_is_left_out)
{
	before.sets[0].name = "evening";
	compare();
	ck_assert_uint_eq(count(RIG_EFFECT_LEG_AMPS), 2);
	ck_assert_ptr_null(effects->rows[0].set);
	teardown();
	before.sets[0].name = NULL;
	compare();
	ck_assert_uint_eq(count(RIG_EFFECT_LEG_AMPS), 2);
	teardown();
	setup();
	after.supplies[0].pedestal = rig_supply_at(N_SUPPLIES);
	compare();
	ck_assert_uint_eq(count(RIG_EFFECT_LEG_AMPS), 2);
	ck_assert_str_eq(effects->rows[0].supply, rig_supply_at(1)->id);
}
END_TEST

/* Which study one of the two has not, and how many rows are left with what stands after. */
static void drop_shore(rig_compared *of)
{
	of->shore = NULL;
}
static void drop_voltage(rig_compared *of)
{
	of->voltage = NULL;
}
static void drop_solar(rig_compared *of)
{
	of->solar = NULL;
}
static void drop_trip(rig_compared *of)
{
	of->trip = NULL;
}

static const struct {
	void (*drop)(rig_compared *of);
	size_t n_if_one, n_if_both;
} DROPPED[] = {
	{drop_shore, 6, 6}, {drop_voltage, 14, 10}, {drop_solar, 14, 10}, {drop_trip, 14, 12}};

START_TEST(a_study_that_was_not_made_leaves_its_side_empty)
{
	DROPPED[_i].drop(&before.all);
	compare();
	ck_assert_uint_eq(effects->n, DROPPED[_i].n_if_one);
	for (size_t i = 0; i < effects->n; i++)
		ck_assert(rig_figure_given(effects->rows[i].after));
	teardown();
	setup();
	DROPPED[_i].drop(&after.all);
	compare();
	ck_assert_uint_eq(effects->n, DROPPED[_i].n_if_one);
	for (size_t i = 0; i < effects->n; i++)
		ck_assert(rig_figure_given(effects->rows[i].before));
	teardown();
	DROPPED[_i].drop(&before.all);
	compare();
	ck_assert_uint_eq(effects->n, DROPPED[_i].n_if_both);
}
END_TEST

START_TEST(a_coach_without_a_bank_has_no_figures_of_one)
{
	before.solar.main_bank = before.trip.main_bank = -1;
	compare();
	ck_assert_uint_eq(effects->n, COUNT(ROW));
	for (size_t i = 8; i < effects->n; i++) {
		ck_assert(!rig_figure_given(effects->rows[i].before));
		ck_assert_int_eq(effects->rows[i].before_month, -1);
	}
	teardown();
	after.solar.main_bank = after.trip.main_bank = -1;
	compare();
	ck_assert_uint_eq(effects->n, 8);
}
END_TEST

#define SIX .low = 5, .likely = 6, .high = 7, .from = RIG_FROM_COMPUTED

static const struct {
	const char *what;
	rig_effect effect;
	bool differs;
} DIFFERENCE[] = {
	{"nothing", {.before = {SIX}}, false},
	{"another origin", {.before = {.low = 5, .likely = 6, .high = 7, .from = RIG_FROM_STATED}},
		false},
	{"the low end", {.before = {.low = 4, .likely = 6, .high = 7, .from = RIG_FROM_COMPUTED}},
		true},
	{"the likely figure",
		{.before = {.low = 5, .likely = 5.5, .high = 7, .from = RIG_FROM_COMPUTED}}, true},
	{"the high end", {.before = {.low = 5, .likely = 6, .high = 8, .from = RIG_FROM_COMPUTED}},
		true},
	{"only one has it", {.before_month = 0}, true},
	{"the month", {.before = {SIX}, .before_month = 3}, true},
	{"the verdict", {.before = {SIX}, .has_verdicts = true, .before_verdict = RIG_SHORE_OVER},
		true},
	{"a verdict of figures that have none", {.before = {SIX}, .before_verdict = RIG_SHORE_OVER},
		false},
};

START_TEST(an_effect_differs_by_figure_verdict_or_month)
{
	rig_effect effect = DIFFERENCE[_i].effect;
	effect.after = (rig_figure){SIX};
	ck_assert_msg(
		rig_effect_differs(&effect) == DIFFERENCE[_i].differs, "%s", DIFFERENCE[_i].what);
}
END_TEST

Suite *effects_suite(void);
Suite *effects_suite(void)
{
	Suite *suite = suite_create("effects");
	TCase *all = tcase_create("all");
	tcase_add_checked_fixture(all, setup, teardown);
	tcase_add_loop_test(all, each_figure_stands_beside_its_fellow_in_order, 0, COUNT(ROW));
	tcase_add_test(all, amps_bring_the_verdicts_of_both);
	tcase_add_test(all, sets_are_paired_by_name_whatever_their_place);
	tcase_add_test(all, supplies_are_paired_by_pedestal_whatever_their_place);
	tcase_add_test(all, a_set_or_supply_that_one_lacks_is_left_out);
	tcase_add_loop_test(
		all, a_study_that_was_not_made_leaves_its_side_empty, 0, COUNT(DROPPED));
	tcase_add_test(all, a_coach_without_a_bank_has_no_figures_of_one);
	tcase_add_loop_test(
		all, an_effect_differs_by_figure_verdict_or_month, 0, COUNT(DIFFERENCE));
	suite_add_tcase(suite, all);
	return suite;
}
