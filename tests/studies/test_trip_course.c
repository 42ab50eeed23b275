/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The courses of a stay between the ends of its figures, when its loads run, and what must hold of
 * every coach. */
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "suites.h"
#include "trip_scene.h"

/* Each figure as three ends; the poor course takes the first, the good one the last. */
#define RANGED                                                                                     \
	"\"banks\": [{\"id\": \"house\", \"chemistry\": \"agm\", \"nominal_v\": 12, "              \
	"\"age_years\": 0, \"temp_c\": 20, \"kinetic_c_frac\": 0.5, \"kinetic_k_per_h\": 0.3, "    \
	"\"capacity_wh\": %s, \"usable_frac\": %s, \"charge_efficiency_frac\": %s, "               \
	"\"self_discharge_frac_month\": %s, \"charge_limit_a\": %s}], "                            \
	"\"solar\": [{\"id\": \"roof\", \"bank\": \"house\", \"watts_w\": %s, \"noct_c\": 45, "    \
	"\"roof_rise_k\": 0, \"temp_coefficient_per_k\": 0, \"losses_frac\": %s, "                 \
	"\"shade_frac\": %s, \"tilt_deg\": 0, \"controller\": \"direct\"}], "                      \
	"\"inverter\": {\"bank\": \"house\", \"watts_w\": 1000, \"loss_fixed_frac\": %s, "         \
	"\"loss_linear_frac\": %s, \"loss_square_frac\": %s, \"always_on\": true}, "               \
	"\"loads\": [{\"id\": \"all\", \"supply\": \"ac\", \"running_w\": %s, \"inverter\": "      \
	"true, "                                                                                   \
	"\"duty_frac\": 1, \"daily_use_h\": 24}]}"
enum { N_RANGED = 12 };
static const double ENDS[N_RANGED][3] = {{1900, 2000, 2150}, {0.6, 0.7, 0.8}, {0.8, 0.85, 0.9},
	{0.2, 0.1, 0.05}, {6, 8, 20}, {280, 300, 330}, {0.2, 0.15, 0.1}, {0.1, 0.05, 0.0},
	{0.02, 0.015, 0.01}, {0.05, 0.03, 0.02}, {0.06, 0.05, 0.03}, {46, 42, 40}};

/* A coach with its figures at one end; at end 3, with their ranges. */
static rig_file *ranged_coach(int end)
{
	char figure[N_RANGED][160];
	for (int i = 0; i < N_RANGED; i++) {
		const double *ends = ENDS[i];
		if (end < 3)
			snprintf(figure[i], sizeof figure[i], "%.17g", ends[end]);
		else
			snprintf(figure[i], sizeof figure[i],
				"{\"low\": %.17g, \"likely\": %.17g, \"high\": %.17g, \"from\": "
				"\"estimated\"}",
				fmin(ends[0], ends[2]), ends[1], fmax(ends[0], ends[2]));
	}
	return trip_scene_coach(TRIP_HEAD RANGED, figure[0], figure[1], figure[2], figure[3],
		figure[4], figure[5], figure[6], figure[7], figure[8], figure[9], figure[10],
		figure[11]);
}

static rig_place with_sun(rig_place place, double ratio)
{
	for (int month = 0; month < 12; month++) {
		place.ghi_kwh_m2_day[month] *= ratio;
		place.dhi_kwh_m2_day[month] *= ratio;
	}
	return place;
}

/* The courses of a coach with ranges are the likely courses of coaches with its figures at their
 * ends, at a place as dark or as bright as the table's may be. */
START_TEST(a_course_is_a_coach_with_its_figures_at_one_end)
{
	rig_place place = trip_scene_place();
	place.sun_low_ratio = 0.9;
	place.sun_high_ratio = 1.07;
	const rig_trip_options options = trip_scene_days(0, 14);
	rig_file *file = ranged_coach(3);
	rig_trip_findings *findings = trip_scene_study(file, &place, &options);
	const rig_trip_bank *bank = &findings->banks[0];
	const double days[3] = {bank->days_with_panel.low, bank->days_with_panel.likely,
		bank->days_with_panel.high};
	const double lowest[3] = {bank->lowest_by_course_wh.low, bank->lowest_by_course_wh.likely,
		bank->lowest_by_course_wh.high};
	const double sun[3] = {place.sun_low_ratio, 1, place.sun_high_ratio};
	for (int end = 0; end < 3; end++) {
		const rig_place there = with_sun(place, sun[end]);
		rig_file *exact = ranged_coach(end);
		rig_trip_findings *other = trip_scene_study(exact, &there, &options);
		const rig_trip_bank *same = &other->banks[0];
		ck_assert_double_eq_tol(same->days_with_panel.likely, days[end], 1e-9 * days[end]);
		ck_assert_double_eq_tol(same->lowest_wh, lowest[end], 1e-6);
		rig_trip_free(other);
		rig_file_free(exact);
	}
	ck_assert_double_gt(days[1], 1.02 * days[0]);
	ck_assert_double_gt(days[2], 1.02 * days[1]);
	ck_assert_double_gt(bank->days_with_panel.likely, 1.02 * bank->days_without_panel.likely);
	rig_trip_free(findings);
	rig_file_free(file);
}
END_TEST

/* Two loads of 20 to 30 W, likely 25: together 50 and up to 50 + sqrt(5 5 + 5 5) W. */
START_TEST(loads_err_independently)
{
	const rig_place place = trip_scene_place();
#define VAGUE                                                                                      \
	"\"supply\": \"dc\", \"running_w\": {\"low\": 20, \"likely\": 25, \"high\": 30, "          \
	"\"from\": "                                                                               \
	"\"estimated\"}, \"duty_frac\": 1, \"daily_use_h\": 24}"
	rig_file *file = trip_scene_coach(TRIP_HEAD "\"banks\": [" TRIP_IDEAL_BANK
						    "], \"loads\": [{\"id\": \"one\", " VAGUE
						    ", {\"id\": \"two\", " VAGUE "]}",
		1200.0);
	const rig_trip_options options = trip_scene_days(3, 2);
	rig_trip_findings *findings = trip_scene_study(file, &place, &options);
	ck_assert_double_eq_tol(findings->banks[0].wanted_wh_day.high, 24 * (50 + sqrt(50)), 1e-9);
	ck_assert_double_eq_tol(findings->banks[0].wanted_wh_day.likely, 1200, 1e-9);
	rig_trip_free(findings);
	rig_file_free(file);
}
END_TEST

/* ---- when loads run, and on what ---- */

#define LAMP                                                                                       \
	"{\"id\": \"lamp\", \"supply\": \"dc\", \"running_w\": 10, \"duty_frac\": %g, "            \
	"\"daily_use_h\": %g%s}"
#define HABIT                                                                                      \
	"\"habits\": [{\"name\": \"early\", \"only\": true, \"use\": [{\"load\": \"lamp\", "       \
	"\"daily_use_h\": 1, \"from_hour\": 4, \"to_hour\": 6}]}, {\"name\": \"out\", "            \
	"\"only\": true, \"use\": [{\"load\": \"other\", \"daily_use_h\": 1}]}]"

/* The rules of trip.h by hand. */
static const struct {
	double duty_frac, daily_use_h;
	const char *window;
	int habit, on_at;
	double on_frac, sum_h;
	uint32_t notes;
} RULE[] = {
	{0.5, 24, "", -1, 3, 0.5, 12, 0},
	{1, 24, ", \"always_on\": true", -1, 3, 1, 24, 0},
	{1, 2, ", \"from_hour\": 8, \"to_hour\": 12", -1, 9, 0.5, 2, 0},
	{0.5, 2, ", \"from_hour\": 23, \"to_hour\": 1", -1, 0, 0.5, 1, 0},
	{0.4, 12, "", -1, 3, 0.2, 4.8, RIG_TRIP_WINDOWS_BY_RULE},
	{1, 3, "", -1, 22, 0.5, 3, RIG_TRIP_WINDOWS_BY_RULE},
	{1, 3, "", -1, 23, 0, 3, RIG_TRIP_WINDOWS_BY_RULE},
	{1, 7.5, "", -1, 7, 0.5, 7.5, RIG_TRIP_WINDOWS_BY_RULE},
	{1, 18, "", -1, 12, 0.75, 18, RIG_TRIP_WINDOWS_BY_RULE},
	{1, 3, "", 0, 5, 0.5, 1, 0},
	{1, 3, "", 1, 20, 0, 0, 0},
	{1, 24, ", \"always_on\": true", 1, 20, 1, 24, 0},
};

START_TEST(loads_run_when_the_rules_say)
{
	rig_file *file = trip_scene_coach(TRIP_HEAD
		"\"banks\": [" TRIP_IDEAL_BANK "], " HABIT ", \"loads\": [" LAMP
		", {\"id\": \"other\", \"supply\": "
		"\"dc\", \"running_w\": 1, \"daily_use_h\": 1}]}",
		1000.0, RULE[_i].duty_frac, RULE[_i].daily_use_h, RULE[_i].window);
	double on_frac[24], sum_h = 0;
	const uint32_t notes =
		rig_load_hours(rig_file_completed(file), 0, RULE[_i].habit, 0, on_frac);
	for (int hour = 0; hour < 24; hour++)
		sum_h += on_frac[hour];
	ck_assert_uint_eq(notes, RULE[_i].notes);
	ck_assert_double_eq_tol(on_frac[RULE[_i].on_at], RULE[_i].on_frac, 1e-12);
	ck_assert_double_eq_tol(sum_h, RULE[_i].sum_h, 1e-12);
	if (RULE[_i].habit == 1 && RULE[_i].sum_h == 0)
		ck_assert_int_eq(rig_load_away(rig_file_completed(file), 0, 1), RIG_OFF_IN_HABIT);
	rig_file_free(file);
}
END_TEST

/* ---- what must hold for every coach ---- */

static uint64_t state;

static double between(double low, double high)
{
	state = state * 6364136223846793005u + 1442695040888963407u;
	return low + (high - low) * (double)(state >> 11) * 0x1p-53;
}

static size_t below(size_t n)
{
	return (size_t)between(0, (double)n);
}

static size_t add_text(char *text, size_t at, const char *format, ...)
	__attribute__((format(printf, 3, 4)));

static size_t add_text(char *text, size_t at, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	const int length = vsnprintf(text + at, 8000 - at, format, arguments);
	va_end(arguments);
	ck_assert(length >= 0 && at + (size_t)length < 8000);
	return at + (size_t)length;
}

static const char *const KINDS[] = {"flooded", "agm", "gel", "lithium_iron_phosphate", "ideal"};
static const char *const CONTROLLERS[] = {"pwm", "mppt", "direct"};

/* A coach with a few of the profile's appliances, one or two banks, arrays of all kinds. */
static rig_file *random_coach(void)
{
	static char loads[8000], arrays[8000];
	size_t at = 0, n_loads = below(20), n_arrays = below(4);
	for (size_t i = 0; i < n_loads; i++)
		at = add_text(loads, at, "%s{\"id\": \"l%zu\", \"profile\": \"%s\"}", i ? ", " : "",
			i, rig_appliance_at(below(rig_n_appliances()))->id);
	loads[at] = '\0';
	at = 0;
	for (size_t i = 0; i < n_arrays; i++)
		at = add_text(arrays, at,
			"%s{\"id\": \"a%zu\", \"bank\": \"%s\", \"watts_w\": %.3f, "
			"\"tilt_deg\": %.1f, \"heading_deg\": %.1f, \"controller\": \"%s\"}",
			i ? ", " : "", i, below(3) ? "house" : "start", between(10, 600),
			below(2) ? 0.0 : between(0, 60), between(0, 359), CONTROLLERS[below(3)]);
	arrays[at] = '\0';
	const bool inverter = below(3) > 0;
	return trip_scene_coach(TRIP_HEAD
		"\"banks\": [{\"id\": \"house\", \"chemistry\": \"%s\", \"nominal_v\": 12, "
		"\"capacity_wh\": %.3f}, {\"id\": \"start\", \"chemistry\": \"starting\", "
		"\"role\": "
		"\"chassis\", \"capacity_ah\": %.3f}], \"solar\": [%s], \"loads\": [%s]%s}",
		KINDS[below(5)], between(300, 12000), between(60, 200), arrays, loads,
		inverter ? ", \"inverter\": {\"bank\": \"house\", \"watts_w\": 2000}" : "");
}

static void bank_balances(const rig_trip_bank *bank, int n_days)
{
	const rig_trip_flows_wh_day *f = &bank->flows;
	const double in = f->harvest + f->from_store;
	const double out = f->dc + f->ac + f->inverter_loss + f->inverter_idle + f->charge_loss +
			   f->self_discharge + f->curtailed;
	const double flowed = f->harvest + fabs(f->from_store) + f->dc + f->ac;
	ck_assert_msg(fabs(in - out) <= 1e-9 * flowed, "%g Wh of %g Wh astray", in - out, flowed);
	ck_assert_double_eq_tol(bank->unserved_dc_wh, f->unserved_dc * n_days, 1e-9 * (1 + flowed));
	ck_assert_double_ge(bank->lowest_wh, 0);
	ck_assert_double_le(bank->lowest_by_course_wh.low, bank->lowest_wh);
	ck_assert_double_ge(bank->lowest_by_course_wh.high, bank->lowest_wh);
	if (rig_figure_given(bank->days_with_panel))
		ck_assert_double_ge_tol(
			bank->days_with_panel.likely, bank->days_without_panel.likely, 1e-9);
}

static void loads_balance(const rig_trip_findings *findings)
{
	for (size_t b = 0; b < findings->n_banks; b++) {
		const rig_trip_bank *bank = &findings->banks[b];
		double unserved_wh = 0;
		for (size_t i = 0; i < findings->n_carried; i++)
			if (findings->loads[i].bank == bank->bank)
				unserved_wh += findings->loads[i].unserved_wh;
		ck_assert_double_eq_tol(
			unserved_wh, bank->unserved_wh, 1e-9 * (1 + bank->wanted_wh));
	}
	for (size_t i = 0; i < findings->n_carried; i++)
		ck_assert_double_ge_tol(findings->loads[i].days_gained, 0, 1e-9);
}

/* A thousand random coaches in ten processes; their seed is the number of the ten. */
START_TEST(energy_is_conserved_on_random_coaches)
{
	state = (uint64_t)_i;
	for (int i = 0; i < 100; i++) {
		rig_place place;
		rig_place_at(below(rig_n_places()), &place);
		rig_file *file = random_coach();
		const rig_trip_options options =
			trip_scene_days((int)below(12), 1 + (int)below(20));
		rig_trip_findings *findings = trip_scene_study(file, &place, &options);
		for (size_t b = 0; b < findings->n_banks; b++)
			bank_balances(&findings->banks[b], options.n_days);
		loads_balance(findings);
		rig_trip_free(findings);
		rig_file_free(file);
	}
}
END_TEST

Suite *trip_course_suite(void);
Suite *trip_course_suite(void)
{
	Suite *suite = suite_create("trip_course");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 300);
	tcase_add_test(all, a_course_is_a_coach_with_its_figures_at_one_end);
	tcase_add_test(all, loads_err_independently);
	tcase_add_loop_test(all, loads_run_when_the_rules_say, 0, COUNT(RULE));
	tcase_add_loop_test(all, energy_is_conserved_on_random_coaches, 0, 10);
	suite_add_tcase(suite, all);
	return suite;
}
