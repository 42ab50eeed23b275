/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a trip study finds over many trips: chance, quantiles, side questions, inputs. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/buffer.h"
#include "read_coach.h"
#include "rigbudget/trip.h"
#include "suites.h"

enum { NOVEMBER = 10, JULY = 6 };

static rig_file *coach_of(const char *rest)
{
	return read_coach("{\"cord_a\": 30}", rest);
}

#define BANK(wh)                                                                                   \
	"\"banks\": [{\"id\": \"house\", \"chemistry\": \"ideal\", \"nominal_v\": 12, "            \
	"\"capacity_wh\": " wh ", \"usable_frac\": 1, \"charge_efficiency_frac\": 0.9}]"
#define STEADY(id, watts)                                                                          \
	"{\"id\": \"" id "\", \"supply\": \"dc\", \"running_w\": " watts                           \
	", \"duty_frac\": 1, \"daily_use_h\": 24}"
#define PANEL                                                                                      \
	"\"solar\": [{\"id\": \"roof\", \"bank\": \"house\", \"watts_w\": 200, \"noct_c\": 45, "   \
	"\"roof_rise_k\": 0, \"temp_coefficient_per_k\": -0.004, \"losses_frac\": 0.15, "          \
	"\"shade_frac\": 0, \"tilt_deg\": 0, \"controller\": \"direct\"}]"

static rig_place flagstaff(void)
{
	rig_place place;
	const long found = rig_place_find("Flagstaff");
	ck_assert(found >= 0);
	rig_place_at((size_t)found, &place);
	return place;
}

static rig_trip_findings *study(const rig_file *file, const rig_trip_options *options)
{
	const rig_place place = flagstaff();
	rig_trip_findings *findings = NULL;
	ck_assert_int_eq(
		rig_trip_study(rig_file_completed(file), &place, options, &findings), RIG_OK);
	return findings;
}

static rig_trip_options stay_of(int month, int n_days, size_t n_trips)
{
	rig_trip_options options = rig_trip_defaults();
	options.month = month;
	options.n_days = n_days;
	options.n_trips = n_trips;
	return options;
}

/* A bank on the edge in March with a doubtful load; more: further keys of the coach. */
static rig_file *edge_coach_with(const char *more)
{
	rig_buffer text = {0};
	rig_buffer_format(&text,
		BANK("1500") ", " PANEL ", \"loads\": [" STEADY(
			"all", "30") ", "
				     "{\"id\": \"fan\", \"supply\": \"dc\", \"running_w\": "
				     "{\"low\": 1, \"likely\": 4, \"high\": 10, \"from\": "
				     "\"estimated\"}, \"duty_frac\": 1, \"daily_use_h\": 24}]%s",
		more);
	rig_file *file = coach_of(text.text);
	rig_buffer_free(&text);
	return file;
}

static rig_file *edge_coach(void)
{
	return edge_coach_with("");
}

/* ---- the same answer ---- */

static const struct {
	size_t n_threads;
	bool plain_code;
} WAYS[] = {{2, false}, {8, false}, {1, true}};

START_TEST(threads_and_vectors_change_no_bit)
{
	rig_file *file = edge_coach();
	rig_trip_options options = stay_of(2, 14, 3000);
	rig_trip_findings *one = study(file, &options);
	options.n_threads = WAYS[_i].n_threads;
	options.plain_code = WAYS[_i].plain_code;
	rig_trip_findings *two = study(file, &options);
	ck_assert_mem_eq(one->chance.out_by_day_frac, two->chance.out_by_day_frac,
		one->chance.n_days * sizeof(double));
	for (int k = 0; k < RIG_TRIP_QUANTILES; k++)
		ck_assert_mem_eq(one->chance.charge_frac[k], two->chance.charge_frac[k],
			one->n_hours * sizeof(double));
	ck_assert(one->chance.unserved_wh == two->chance.unserved_wh);
	ck_assert_uint_eq(one->n_inputs, two->n_inputs);
	for (size_t i = 0; i < one->n_inputs; i++)
		ck_assert(one->inputs[i].share_frac == two->inputs[i].share_frac);
	for (int month = 0; month < 12; month++)
		ck_assert(one->out_by_month_frac[month].likely ==
			  two->out_by_month_frac[month].likely);
	ck_assert(one->more_panel.more == two->more_panel.more);
	ck_assert(one->more_panel.more_high == two->more_panel.more_high);
	ck_assert(one->more_bank.more == two->more_bank.more);
	for (size_t i = 0; i < one->n_carried; i++)
		ck_assert(one->loads[i].out_if_cut_frac == two->loads[i].out_if_cut_frac);
	rig_trip_free(one);
	rig_trip_free(two);
	rig_file_free(file);
}
END_TEST

/* ---- the band of charge ---- */

/* Without sun, doubt or cold all trips are one trip: 24 h of 30 W out of 1500 Wh. */
START_TEST(a_trip_without_chance_has_a_band_of_no_width)
{
	rig_file *file = coach_of(BANK("1500") ", \"loads\": [" STEADY("all", "30") "]");
	const rig_trip_options options = stay_of(NOVEMBER, 3, 100);
	rig_trip_findings *findings = study(file, &options);
	const rig_trip_chance *chance = &findings->chance;
	for (size_t hour = 0; hour < 72; hour++) {
		const double charge = fmax(0, 1 - 30 * (double)(hour + 1) / 1500);
		for (int k = 0; k < RIG_TRIP_QUANTILES; k++)
			ck_assert_double_eq_tol(chance->charge_frac[k][hour], charge,
				chance->charge_step_frac + 1e-9);
	}
	/* 1500 / 30 = 50 h: it runs out on the third day; 22 h of 30 W go without */
	ck_assert_double_eq(chance->out_by_day[1].likely, 0);
	ck_assert_double_eq(chance->out_by_day[2].likely, 1);
	ck_assert_double_eq_tol(chance->unserved_wh, 22 * 30, 1e-6);
	ck_assert_double_eq_tol(findings->loads[0].trips_unserved_wh, 22 * 30, 1e-6);
	rig_trip_free(findings);
	rig_file_free(file);
}
END_TEST

START_TEST(quantiles_rise_and_their_middle_goes_with_the_likely_course)
{
	rig_file *file = edge_coach();
	const rig_trip_options options = stay_of(JULY, 7, 2000);
	rig_trip_findings *findings = study(file, &options);
	const rig_trip_chance *chance = &findings->chance;
	for (size_t hour = 0; hour < findings->n_hours; hour++) {
		for (int k = 1; k < RIG_TRIP_QUANTILES; k++)
			ck_assert_double_ge(
				chance->charge_frac[k][hour], chance->charge_frac[k - 1][hour]);
		/* a sunny month on the mean day and in the middle of many: half a day's use */
		const double likely = findings->banks[0].hours[hour].store_wh / 1500;
		ck_assert_double_eq_tol(chance->charge_frac[2][hour], likely, 0.25);
	}
	rig_trip_free(findings);
	rig_file_free(file);
}
END_TEST

/* ---- side questions ---- */

/* The month of the stay in its own words and among the twelve: fewer skies to read a day off, and
 * the same trips. */
START_TEST(the_chance_by_month_is_that_of_a_stay_in_the_month)
{
	rig_file *file = edge_coach();
	rig_trip_options options = stay_of(2, 14, 400);
	options.n_side_trips = 400;
	rig_trip_findings *findings = study(file, &options);
	ck_assert_uint_eq(findings->n_side_trips, 400);
	const double out = 1 - findings->chance.never_out_frac;
	ck_assert(out > 0.1 && out < 0.95);
	ck_assert_double_eq_tol(findings->side_out_frac.likely, out, 1e-12);
	ck_assert_double_eq_tol(findings->out_by_month_frac[2].likely, out, 0.02);
	/* dark December is harder than June */
	ck_assert_double_gt(findings->out_by_month_frac[11].likely,
		findings->out_by_month_frac[5].likely + 0.3);
	rig_trip_free(findings);
	rig_file_free(file);
}
END_TEST

/* Side questions are asked side by side; each answer stands with its own load, month and habit,
 * however many habits there are. */
START_TEST(each_side_answer_stands_in_its_place)
{
	static const char HABITS[] =
		", \"habits\": [{\"name\": \"still\", \"use\": [{\"load\": \"fan\", "
		"\"daily_use_h\": 0}]}, {\"name\": \"usual\", \"use\": [{\"load\": \"fan\", "
		"\"daily_use_h\": 24}]}]";
	rig_file *plain = edge_coach(), *file = edge_coach_with(HABITS);
	const rig_trip_options options = stay_of(2, 14, 256);
	rig_trip_findings *one = study(plain, &options), *other = study(file, &options);
	ck_assert_uint_eq(one->n_habits, 0);
	ck_assert_uint_eq(other->n_habits, 2);
	for (size_t i = 0; i < 2; i++) {
		ck_assert_int_eq(other->loads[i].load, one->loads[i].load);
		ck_assert_double_eq(other->loads[i].out_if_cut_frac, one->loads[i].out_if_cut_frac);
		/* fewer run out without either */
		ck_assert_double_gt(one->loads[i].out_gained_frac, 0);
	}
	ck_assert_double_ne(one->loads[0].out_if_cut_frac, one->loads[1].out_if_cut_frac);
	for (int month = 0; month < 12; month++)
		ck_assert_double_eq(other->out_by_month_frac[month].likely,
			one->out_by_month_frac[month].likely);
	ck_assert_double_lt(other->habits[0].out_frac.likely, other->habits[1].out_frac.likely);
	rig_trip_free(one);
	rig_trip_free(other);
	rig_file_free(plain);
	rig_file_free(file);
}
END_TEST

START_TEST(a_load_cut_gains_what_it_cost)
{
	rig_file *file = coach_of(BANK("1500") ", \"loads\": [" STEADY("heavy", "30") ", " STEADY(
		"light", "0.5") "]");
	const rig_trip_options options = stay_of(NOVEMBER, 14, 100);
	rig_trip_findings *findings = study(file, &options);
	ck_assert_double_eq(findings->side_out_frac.likely, 1);
	/* 0.5 W alone takes 168 Wh of 1500 in 14 days */
	ck_assert_str_eq(findings->loads[0].id, "heavy");
	ck_assert_double_eq(findings->loads[0].out_if_cut_frac, 0);
	ck_assert_double_eq(findings->loads[0].out_gained_frac, 1);
	ck_assert_double_eq(findings->loads[1].out_if_cut_frac, 1);
	ck_assert_double_eq(findings->loads[1].out_gained_frac, 0);
	rig_trip_free(findings);
	rig_file_free(file);
}
END_TEST

/* 50 W for three days are 3600 Wh; the bank has 1000. The search ends within a twentieth. */
START_TEST(more_bank_is_what_is_missing)
{
	rig_file *file = coach_of(BANK("1000") ", \"loads\": [" STEADY("all", "50") "]");
	rig_trip_options options = stay_of(NOVEMBER, 3, 100);
	rig_trip_findings *findings = study(file, &options);
	ck_assert(findings->more_bank.asked && findings->more_bank.reached);
	ck_assert(!findings->more_bank.enough);
	ck_assert_double_ge(findings->more_bank.more, 2600);
	ck_assert_double_le(findings->more_bank.more, 2600 / 0.95 + 1);
	/* all trips are alike: 0 or 100 of 100 run out, so both ends are surely on their side */
	ck_assert_double_lt(findings->more_bank.more_low, 2600);
	ck_assert_double_gt(findings->more_bank.more_low, 2600 * 0.9);
	ck_assert_double_eq(findings->more_bank.more_high, findings->more_bank.more);
	rig_trip_free(findings);
	rig_file_free(file);
	file = coach_of(BANK("4000") ", \"loads\": [" STEADY("all", "50") "]");
	findings = study(file, &options);
	ck_assert(findings->more_bank.enough && findings->more_panel.enough);
	ck_assert_double_eq(findings->more_bank.more, 0);
	rig_trip_free(findings);
	rig_file_free(file);
}
END_TEST

/* 50 W take 1200 Wh a day; a W of flat panel in July at this place brings about 5 Wh after its
 * losses, so some 250 to 450 W are asked for, more the surer it is to be. */
START_TEST(more_panel_is_what_a_days_use_asks)
{
	rig_file *file = coach_of(BANK("2400") ", \"loads\": [" STEADY("all", "50") "]");
	rig_trip_options options = stay_of(JULY, 14, 256);
	rig_trip_findings *sure = study(file, &options);
	options.wanted_out_frac = 0.5;
	rig_trip_findings *even = study(file, &options);
	ck_assert(sure->more_panel.reached && even->more_panel.reached);
	ck_assert_double_ge(even->more_panel.more, 200);
	ck_assert_double_ge(sure->more_panel.more, even->more_panel.more);
	ck_assert_double_le(sure->more_panel.more, 600);
	rig_trip_free(sure);
	rig_trip_free(even);
	rig_file_free(file);
}
END_TEST

/* ---- what the weather asks ---- */

/* 200 W/K, 20 C, nothing inside: in an hour of T outdoors the burner of 8000 W runs for
 * (20 - T) 200 / 8000 of it, and its blower of 100 W as long. */
START_TEST(a_furnace_runs_for_what_the_coach_loses)
{
	rig_file *file = coach_of(BANK(
		"9000") ", \"body\": {\"loss_w_per_k\": 200, "
			"\"heat_to_c\": 20, \"gains_w\": 0}, \"loads\": [{\"id\": \"furnace\", "
			"\"supply\": \"dc\", \"running_w\": 100, \"heat_w\": 8000}]");
	const rig_trip_options options = stay_of(NOVEMBER, 5, 0);
	const rig_place place = flagstaff();
	rig_trip_findings *findings = study(file, &options);
	rig_day_hours day;
	double wh = 0;
	rig_mean_day(&place, NOVEMBER, &day);
	for (int hour = 0; hour < 24; hour++)
		wh += 100 * fmin(1, fmax(0, (20 - day.temp_c[hour]) * 200 / 8000));
	ck_assert(findings->loads[0].by_weather);
	ck_assert((findings->notes & RIG_TRIP_BY_WEATHER) != 0);
	ck_assert_double_eq_tol(findings->loads[0].wh_day.likely, wh, 1e-9 * wh);
	ck_assert_double_eq_tol(findings->banks[0].flows.dc, wh, 1e-9 * wh);
	rig_trip_free(findings);
	rig_file_free(file);
}
END_TEST

/* The same furnace whose hours the file states is on the clock. */
START_TEST(hours_of_the_file_win_over_the_weather)
{
	rig_file *file = coach_of(BANK(
		"9000") ", \"loads\": [{\"id\": \"furnace\", "
			"\"profile\": \"furnace_35k\", \"supply\": \"dc\", \"running_w\": 100, "
			"\"duty_frac\": 0.5, \"daily_use_h\": 6}]");
	const rig_trip_options options = stay_of(NOVEMBER, 5, 0);
	rig_trip_findings *findings = study(file, &options);
	ck_assert(!findings->loads[0].by_weather);
	ck_assert_double_eq_tol(findings->loads[0].wh_day.likely, 300, 1e-9);
	rig_trip_free(findings);
	rig_file_free(file);
}
END_TEST

/* ---- an inverter that sleeps ---- */

/* A refrigerator that draws 100 W half of the time behind an inverter of 1000 W with 1 % fixed loss
 * and no other. Asleep it would idle half of the time; but something has to hear the thermostat, so
 * that it idles 24 h: 1200 + 240 Wh. */
START_TEST(a_cycling_load_keeps_its_inverter_awake)
{
	rig_file *file = coach_of(BANK(
		"9000") ", \"inverter\": {\"bank\": \"house\", "
			"\"watts_w\": 1000, \"loss_fixed_frac\": 0.01, \"loss_linear_frac\": 0, "
			"\"loss_square_frac\": 0, \"always_on\": false}, \"loads\": [{\"id\": "
			"\"refrigerator\", \"running_w\": 100, \"inverter\": true, \"duty_frac\": "
			"0.5, "
			"\"daily_use_h\": 24}]");
	const rig_trip_options options = stay_of(NOVEMBER, 2, 0);
	rig_trip_findings *findings = study(file, &options);
	ck_assert_double_eq_tol(findings->banks[0].flows.ac, 1200, 1e-9);
	ck_assert_double_eq_tol(findings->banks[0].flows.inverter_idle, 240, 1e-9);
	rig_trip_free(findings);
	rig_file_free(file);
}
END_TEST

/* ---- which input to measure ---- */

#define DOUBTFUL(id, low, high)                                                                    \
	"{\"id\": \"" id "\", \"supply\": \"dc\", \"running_w\": {\"low\": " low                   \
	", \"likely\": 20, \"high\": " high                                                        \
	", \"from\": \"estimated\"}, \"duty_frac\": 1, \"daily_use_h\": 24}"

/* Without sun what is left after a day is linear in the loads' watts, so that each has the share of
 * its variance: half and half for two alike; (8^2) / (8^2 + 2^2) = 0.94 for widths of 8 and 2. */
static const struct {
	const char *rest;
	double first, second;
} SHARES[] = {
	{BANK("9000") ", \"loads\": [" DOUBTFUL("a", "14", "26") ", " DOUBTFUL("b", "14", "26") "]",
		0.5, 0.5},
	{BANK("9000") ", \"loads\": [" DOUBTFUL("a", "12", "28") ", " DOUBTFUL("b", "18", "22") "]",
		16.0 / 17, 1.0 / 17}};

static double share_of_load(const rig_trip_findings *findings, int load)
{
	for (size_t i = 0; i < findings->n_inputs; i++)
		if (findings->inputs[i].kind == RIG_INPUT_LOAD && findings->inputs[i].index == load)
			return findings->inputs[i].share_frac;
	return NAN;
}

START_TEST(the_spread_is_shared_out_by_its_causes)
{
	rig_file *file = coach_of(SHARES[_i].rest);
	const rig_trip_options options = stay_of(NOVEMBER, 2, 8000);
	rig_trip_findings *findings = study(file, &options);
	ck_assert_uint_eq(findings->n_inputs, 3);
	/* within three standard errors of a share of 8000 trips */
	ck_assert_double_eq_tol(share_of_load(findings, 0), SHARES[_i].first, 0.03);
	ck_assert_double_eq_tol(share_of_load(findings, 1), SHARES[_i].second, 0.03);
	for (size_t i = 1; i < findings->n_inputs; i++)
		ck_assert_double_ge(
			findings->inputs[i - 1].share_frac, findings->inputs[i].share_frac);
	rig_trip_free(findings);
	rig_file_free(file);
}
END_TEST

START_TEST(doubt_widens_the_band)
{
	rig_file *file = coach_of(BANK("9000") ", \"loads\": [" DOUBTFUL("a", "10", "30") "]");
	rig_trip_options options = stay_of(NOVEMBER, 5, 1000);
	rig_trip_findings *drawn = study(file, &options);
	options.likely_inputs = true;
	rig_trip_findings *likely = study(file, &options);
	ck_assert_uint_eq(likely->n_inputs, 0);
	const size_t last = drawn->n_hours - 1;
	/* 120 h of a triangle from 10 to 30 W: between its 5 and 95 % lie 13.7 W, 0.182 of 9000 Wh
	 */
	ck_assert_double_eq_tol(
		drawn->chance.charge_frac[4][last] - drawn->chance.charge_frac[0][last], 0.182,
		0.012);
	ck_assert_double_le(
		likely->chance.charge_frac[4][last] - likely->chance.charge_frac[0][last],
		likely->chance.charge_step_frac);
	rig_trip_free(drawn);
	rig_trip_free(likely);
	rig_file_free(file);
}
END_TEST

/* ---- watched ---- */

typedef struct {
	double last;
	int n_told;
	bool fell, stops;
} watcher;

static bool watch(void *context, double done_frac)
{
	watcher *it = context;
	it->fell = it->fell || done_frac < it->last;
	it->last = done_frac;
	it->n_told++;
	return !it->stops;
}

START_TEST(a_study_tells_how_far_it_is_and_can_be_stopped)
{
	rig_file *file = edge_coach();
	rig_trip_options options = stay_of(2, 14, 3000);
	watcher seen = {0};
	options.progress = watch;
	options.context = &seen;
	rig_trip_findings *whole = study(file, &options);
	ck_assert(!whole->stopped && !seen.fell && seen.n_told > 5);
	ck_assert_double_eq(seen.last, 1);
	seen = (watcher){.stops = true};
	rig_trip_findings *part = study(file, &options);
	ck_assert(part->stopped);
	ck_assert_uint_lt(part->chance.n_trips, 3000);
	ck_assert_uint_gt(part->chance.n_trips, 0);
	ck_assert_uint_eq(part->n_side_trips, 0);
	rig_trip_free(whole);
	rig_trip_free(part);
	rig_file_free(file);
}
END_TEST

START_TEST(wrong_options_of_many_trips_are_refused)
{
	rig_file *file = edge_coach();
	const rig_place place = flagstaff();
	rig_trip_options wrong[4] = {
		stay_of(2, 14, 10), stay_of(2, 14, 10), stay_of(2, 14, 10), stay_of(2, 14, 10)};
	wrong[0].n_threads = 0;
	wrong[1].n_threads = RIG_MAX_THREADS + 1;
	wrong[2].wanted_out_frac = 0;
	wrong[3].drive_every_days = -1;
	for (int i = 0; i < 4; i++) {
		rig_trip_findings *findings = NULL;
		ck_assert_int_eq(
			rig_trip_study(rig_file_completed(file), &place, &wrong[i], &findings),
			RIG_BAD_INPUT);
		ck_assert_ptr_null(findings);
	}
	rig_file_free(file);
}
END_TEST

Suite *trip_many_suite(void);
Suite *trip_many_suite(void)
{
	Suite *suite = suite_create("trip_many");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_loop_test(all, threads_and_vectors_change_no_bit, 0, COUNT(WAYS));
	tcase_add_test(all, a_trip_without_chance_has_a_band_of_no_width);
	tcase_add_test(all, quantiles_rise_and_their_middle_goes_with_the_likely_course);
	tcase_add_test(all, the_chance_by_month_is_that_of_a_stay_in_the_month);
	tcase_add_test(all, each_side_answer_stands_in_its_place);
	tcase_add_test(all, a_load_cut_gains_what_it_cost);
	tcase_add_test(all, more_bank_is_what_is_missing);
	tcase_add_test(all, more_panel_is_what_a_days_use_asks);
	tcase_add_test(all, a_furnace_runs_for_what_the_coach_loses);
	tcase_add_test(all, hours_of_the_file_win_over_the_weather);
	tcase_add_test(all, a_cycling_load_keeps_its_inverter_awake);
	tcase_add_loop_test(all, the_spread_is_shared_out_by_its_causes, 0, COUNT(SHARES));
	tcase_add_test(all, doubt_widens_the_band);
	tcase_add_test(all, a_study_tells_how_far_it_is_and_can_be_stopped);
	tcase_add_test(all, wrong_options_of_many_trips_are_refused);
	suite_add_tcase(suite, all);
	return suite;
}
