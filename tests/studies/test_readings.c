/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/readings.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../rig/random_coach.h"
#include "outside.h"
#include "reading_session.h"
#include "rigbudget/supply_voltage.h"
#include "rigbudget/weather.h"
#include "suites.h"

enum { N_CAMPAIGNS = 200, MOST_LOADS = 12, MOST_READINGS = 40, TEXT_ROOM = 8192 };

static double normal(uint64_t *state)
{
	return rig_normal_quantile(fmin(1.0 - 1e-12, fmax(1e-12, random_share(state))));
}

/* ---- campaigns: coaches whose draws are known ---- */

typedef struct {
	const char *id, *behaviour;
	double watts_w, power_factor;
	int leg;
} made_load;

/* A coach of 50 A with its known draws, amps at 120 V. */
typedef struct {
	uint64_t state;
	int meter;  /* meter_kind */
	bool small; /* 30 A, one leg, half of the loads, each read once and three times all mixed */
	size_t n_loads;
	made_load loads[MOST_LOADS];
	double truth_a[MOST_LOADS];
	int dead, high; /* loads that are not what their labels say, or -1 */
	rig_reading readings[MOST_READINGS];
	size_t n_readings;
	const char *on[MOST_READINGS][MOST_LOADS];
	rig_file *file;
} campaign;

static rig_voltage_response response_of(const made_load *load)
{
	return strcmp(load->behaviour, "resistive") == 0    ? RIG_HOLDS_RESISTANCE
	       : strcmp(load->behaviour, "electronic") == 0 ? RIG_HOLDS_POWER
							    : RIG_HOLDS_SHAFT;
}

static void make_coach(campaign *c)
{
	static const made_load KINDS[] = {{"air-front", "compressor", 1500, 0.96, 1},
		{"air-rear", "compressor", 1600, 0.96, 2},
		{"water-heater", "resistive", 1440, 1.0, 1},
		{"space-heater", "resistive", 1500, 1.0, 2},
		{"microwave", "electronic", 1200, 0.95, 2}, {"coffee", "resistive", 1000, 1.0, 2},
		{"toaster", "resistive", 1100, 1.0, 1}, {"kettle", "resistive", 1350, 1.0, 1},
		{"refrigerator", "compressor", 320, 0.9, 1}, {"washer", "motor", 500, 0.7, 2}};
	char text[TEXT_ROOM];
	int n = snprintf(text, sizeof text,
		"{\"format\": \"rigbudget/1\", \"name\": \"Campaign\", \"shore\": {\"cord_a\": "
		"%d}, \"circuits\": [{\"id\": \"one\", \"leg\": \"L1\"}, {\"id\": \"two\", "
		"\"leg\": \"%s\"}], \"loads\": [",
		c->small ? 30 : 50, c->small ? "L1" : "L2");
	c->n_loads = 0;
	for (size_t k = 0; k < COUNT(KINDS); k++) {
		if (c->small && KINDS[k].leg != 1)
			continue;
		const size_t j = c->n_loads++;
		made_load *load = &c->loads[j];
		*load = KINDS[k];
		load->watts_w = round(load->watts_w * (0.8 + 0.4 * random_share(&c->state)));
		n += snprintf(text + n, sizeof text - (size_t)n,
			"%s{\"id\": \"%s\", \"circuit\": \"%s\", \"behaviour\": \"%s\", "
			"\"running_w\": {\"low\": %.17g, \"likely\": %.17g, \"high\": %.17g, "
			"\"from\": \"nameplate\"}, \"power_factor\": %.17g, \"daily_use_h\": 1}",
			j > 0 ? ", " : "", load->id, load->leg == 1 ? "one" : "two",
			load->behaviour, load->watts_w, load->watts_w, load->watts_w,
			load->power_factor);
		/* healthy ones differ by 4 %, all within the 10 % that makers allow */
		const double stray = fmin(0.1, fmax(-0.1, 0.04 * normal(&c->state)));
		c->truth_a[j] = load->watts_w * (1.0 + stray) / 120.0 / load->power_factor;
	}
	snprintf(text + n, sizeof text - (size_t)n, "]}");
	c->file = session_parse(text);
}

/* What a perfect meter shows on a leg. */
static double leg_a(const campaign *c, const bool on[], int leg, double volts_v)
{
	rig_phasor sum = {0};
	for (size_t j = 0; j < c->n_loads; j++) {
		const made_load *load = &c->loads[j];
		if (!on[j] || load->leg != leg)
			continue;
		const rig_phasor unit =
			rig_phasor_of(120.0 * load->power_factor, load->power_factor);
		const rig_feed_load feed = {unit, 120.0, response_of(load), RIG_ON_LEG_1};
		sum = rig_phasor_add(
			sum, rig_phasor_scale(unit,
				     c->truth_a[j] * rig_feed_load_a(&feed, volts_v) / 120.0));
	}
	return rig_phasor_va(sum);
}

/* What a meter of 2 % and 0.2 A may mean: one standard deviation, two that are independent, or a
 * limit within which all errors are alike likely. */
typedef enum { ONE_DEVIATION, TWO_DEVIATIONS, LIMIT, N_METERS } meter_kind;

static rig_figure meter(campaign *c, double truth)
{
	const double both = 0.02 * truth + 0.2;
	const double error = c->meter == ONE_DEVIATION ? both * normal(&c->state)
			     : c->meter == TWO_DEVIATIONS
				     ? 0.02 * truth * normal(&c->state) + 0.2 * normal(&c->state)
				     : both * (2.0 * random_share(&c->state) - 1.0);
	return rig_figure_of(fmax(0.0, truth + error), RIG_FROM_MEASURED);
}

static void read_both_legs(campaign *c, const bool on[])
{
	rig_reading *reading = &c->readings[c->n_readings];
	*reading = (rig_reading){.on = c->on[c->n_readings], .month = -1, .day = -1};
	c->n_readings++;
	const double volts_v = 112.0 + 12.0 * random_share(&c->state);
	for (size_t j = 0; j < c->n_loads; j++)
		if (on[j])
			reading->on[reading->n_on++] = c->loads[j].id;
	reading->volts_v = rig_figure_of(volts_v, RIG_FROM_MEASURED);
	reading->leg1_a = meter(c, leg_a(c, on, 1, volts_v));
	if (!c->small)
		reading->leg2_a = meter(c, leg_a(c, on, 2, volts_v));
}

/* A sensible set: each load with one of the other leg, then a dozen with half of them on. */
static void make_readings(campaign *c)
{
	bool on[MOST_LOADS] = {false};
	for (size_t i = 0; i < c->n_loads; i++) {
		for (size_t j = 0; j < c->n_loads; j++)
			on[j] = j == i || (!c->small && j == (i + 1) % c->n_loads);
		read_both_legs(c, on);
	}
	for (int i = 0; i < (c->small ? 3 : 6); i++) {
		for (size_t j = 0; j < c->n_loads; j++)
			on[j] = random_below(&c->state, 3) == 0;
		read_both_legs(c, on);
	}
}

static rig_readings_findings *study(const campaign *c)
{
	rig_readings_findings *findings = NULL;
	ck_assert_int_eq(rig_readings_study(rig_file_completed(c->file), c->readings, c->n_readings,
				 NULL, &findings),
		RIG_OK);
	return findings;
}

static void start_campaign(campaign *c, uint64_t seed, bool small)
{
	*c = (campaign){.state = seed, .small = small, .dead = -1, .high = -1};
	make_coach(c);
}

typedef struct {
	int rows, covered, intervals, dead_found, high_found, accused, falsely_set_aside, healthy;
} tally;

static bool accuses(rig_draw_verdict verdict)
{
	return verdict == RIG_DRAW_HIGH || verdict == RIG_DRAW_LOW || verdict == RIG_DRAW_DEAD;
}

static void count_campaign(const campaign *c, const rig_readings_findings *findings, tally *t)
{
	bool accused = false;
	for (size_t k = 0; k < findings->n_draws; k++) {
		const rig_readings_draw *draw = &findings->draws[k];
		const double truth_a = c->truth_a[draw->load];
		t->intervals++;
		t->covered += truth_a >= draw->found_a.low && truth_a <= draw->found_a.high;
		t->dead_found += draw->load == c->dead && draw->verdict == RIG_DRAW_DEAD;
		t->high_found += draw->load == c->high && draw->verdict == RIG_DRAW_HIGH;
		t->healthy += draw->load != c->dead && draw->load != c->high;
		accused |= draw->load != c->dead && draw->load != c->high && accuses(draw->verdict);
	}
	t->accused += accused;
	for (size_t i = 0; i < findings->n_rows; i++)
		t->falsely_set_aside += findings->rows[i].use == RIG_ROW_OUTLIER;
}

/* One of the elements is dead, one of the compressors 30 % over its label. */
static void make_faults(campaign *c)
{
	static const int ELEMENTS[] = {2, 3, 5, 6, 7};
	c->dead = c->small ? 1 + random_below(&c->state, 3)
			   : ELEMENTS[random_below(&c->state, COUNT(ELEMENTS))];
	c->high = c->small ? 0 : random_below(&c->state, 2);
	c->truth_a[c->dead] = 0.0;
	c->truth_a[c->high] =
		1.3 * c->loads[c->high].watts_w / 120.0 / c->loads[c->high].power_factor;
}

static tally run_campaigns(int kind, bool small)
{
	tally t = {0};
	for (int k = 0; k < N_CAMPAIGNS; k++) {
		campaign c;
		start_campaign(&c, 1000 + (uint64_t)k, small);
		c.meter = kind;
		make_faults(&c);
		make_readings(&c);
		rig_readings_findings *findings = study(&c);
		count_campaign(&c, findings, &t);
		t.rows += (int)findings->n_rows;
		rig_readings_free(findings);
		rig_file_free(c.file);
	}
	return t;
}

static void record_campaigns(
	const outside_series *series, const tally *t, const char *meaning, double most)
{
	OUTSIDE_WITHIN(series, 100.0 * t->covered / t->intervals, 93, most,
		"95 %% intervals that hold the true draw, of %d, error as %s", t->intervals,
		meaning);
	OUTSIDE_WITHIN(series, 100.0 * t->dead_found / N_CAMPAIGNS, 95, 100,
		"a dead element found, error as %s", meaning);
	OUTSIDE_WITHIN(series, 100.0 * t->high_found / N_CAMPAIGNS, 95, 100,
		"a compressor 30 %% over its label found, error as %s", meaning);
	OUTSIDE_WITHIN(series, 100.0 * t->accused / N_CAMPAIGNS, 0, 2,
		"campaigns with any healthy load accused, error as %s", meaning);
	OUTSIDE_WITHIN(series, 100.0 * t->falsely_set_aside / t->rows, 0, 0.2,
		"good rows set aside, error as %s", meaning);
}

static const char *const MEANING[N_METERS] = {"one deviation", "two deviations", "limits"};

START_TEST(campaigns_on_known_coaches_find_what_is_wrong_and_accuse_nobody_else)
{
	const outside_series series = {"readings",
		"200 campaigns on 50 A coaches of 10 loads, 16 readings of both legs, meter error "
		"2 % "
		"+ 0.2 A: per cent",
		"known draws, drawn at random, seeds 1000 to 1199",
		"the share that the study promises"};
	const tally t = run_campaigns(_i, false);
	/* errors that never pass their limit are kinder than those the scatter is read as */
	record_campaigns(&series, &t, MEANING[_i], _i == LIMIT ? 98 : 97);
}
END_TEST

START_TEST(short_campaigns_do_so_too)
{
	const outside_series series = {"readings",
		"200 campaigns on 30 A coaches of 5 loads, 8 readings, meter error 2 % + 0.2 A: "
		"per "
		"cent",
		"known draws, drawn at random, seeds 1000 to 1199",
		"the share that the study promises"};
	const tally t = run_campaigns(_i, true);
	record_campaigns(&series, &t, MEANING[_i],
		_i == LIMIT            ? 100
		: _i == TWO_DEVIATIONS ? 99
				       : 97);
}
END_TEST

START_TEST(two_loads_always_on_together_are_one_group_and_one_of_them_alone_parts_them)
{
	session s;
	session_start(&s, reading_two_heaters, NULL,
		(const char *const[]){
			"on=a,b leg1_a=18.1", "on=a,b leg1_a=17.9", "on=a,b leg1_a=18.0", NULL});
	ck_assert_uint_eq(s.findings->n_groups, 1);
	ck_assert_uint_eq(s.findings->groups[0].n_draws, 2);
	ck_assert_int_eq(session_draw(&s, "a")->verdict, RIG_DRAW_NOT_IDENTIFIED);
	ck_assert_int_eq(session_draw(&s, "b")->verdict, RIG_DRAW_NOT_IDENTIFIED);
	const rig_readings_next *next = &s.findings->next;
	ck_assert(next->given && next->separates);
	ck_assert_uint_eq(next->n_on, 1);
	ck_assert_double_lt(next->se_after_a, 0.5 * next->se_before_a);
	session_end(&s);
	/* and so it comes */
	session_start(&s, reading_two_heaters, NULL,
		(const char *const[]){"on=a,b leg1_a=18.1", "on=a,b leg1_a=17.9",
			"on=a,b leg1_a=18.0", "on=b leg1_a=8.0", NULL});
	ck_assert_uint_eq(s.findings->n_groups, 0);
	ck_assert_int_eq(session_draw(&s, "a")->verdict, RIG_DRAW_AGREES);
	ck_assert_int_eq(session_draw(&s, "b")->verdict, RIG_DRAW_AGREES);
	session_end(&s);
}
END_TEST

/* By hand: 1,200 W at 120 V are 10 A and 14.4 ohm less pf; at 108 V a heater draws 9 A, a 5 A box
 * of constant watts 5.556 A, and a motor of 600 W at 0.8 (6.25 A) 11 % more, 6.9375 A
 * [MOTOR-VOLTS]. All of them agree with their labels. */
static const struct {
	const char *words, *load;
	double rated_a;
} AT_108_V[] = {
	{"on=a leg1_a=8.999..9.001 volts_v=108", "a", 10.0},
	{"on=box leg1_a=5.5555..5.5557 volts_v=108", "box", 5.0},
	{"on=motor leg1_a=6.937..6.938 volts_v=108", "motor", 6.25},
	/* a heater holds its resistance: 0.81 of 1,200 W */
	{"on=a watts_w=971.9..972.1 volts_v=108", "a", 10.0},
	{"on=box watts_w=599.9..600.1 volts_v=108", "box", 5.0},
	{"on=a circuit=galley circuit_a=8.999..9.001 volts_v=108", "a", 10.0},
	/* hot to hot */
	{"on=a leg1_a=8.999..9.001 volts_v=216", "a", 10.0},
};

START_TEST(draws_are_judged_at_the_volts_that_were_read)
{
	session s;
	session_start(
		&s, reading_two_heaters, NULL, (const char *const[]){AT_108_V[_i].words, NULL});
	const rig_readings_draw *draw = session_draw(&s, AT_108_V[_i].load);
	ck_assert_double_eq_tol(draw->found_a.likely, AT_108_V[_i].rated_a, 0.002);
	ck_assert_int_eq(draw->verdict, RIG_DRAW_AGREES);
	session_end(&s);
}
END_TEST

/* 10 A in step and 6.25 A at 0.8 (5 A, 3.75 A): |15 + j 3.75| = 15.462 A, not 16.25. */
START_TEST(currents_out_of_step_add_as_phasors)
{
	session s;
	session_start(&s, reading_two_heaters, NULL,
		(const char *const[]){
			"on=a leg1_a=9.99..10.01", "on=a,motor leg1_a=15.457..15.467", NULL});
	ck_assert_double_eq_tol(session_draw(&s, "motor")->found_a.likely, 6.25, 0.03);
	session_end(&s);
}
END_TEST

START_TEST(a_misread_row_is_set_aside_and_named)
{
	session s;
	session_start(&s, reading_two_heaters, NULL,
		(const char *const[]){"on=a leg1_a=10.1", "on=b leg1_a=8.1", "on=a,b leg1_a=17.9",
			"on=a leg1_a=9.8", "on=b leg1_a=7.8", "on=a,b leg1_a=18.2",
			"on=a leg1_a=21.0", NULL});
	size_t n = 0;
	for (size_t i = 0; i < s.findings->n_rows; i++) {
		if (s.findings->rows[i].use != RIG_ROW_OUTLIER)
			continue;
		n++;
		ck_assert_int_eq(s.findings->rows[i].reading, 6);
		ck_assert_double_eq_tol(s.findings->rows[i].without, 10.0, 0.4);
	}
	ck_assert_uint_eq(n, 1);
	ck_assert_int_eq(session_draw(&s, "a")->verdict, RIG_DRAW_AGREES);
	session_end(&s);
}
END_TEST

START_TEST(a_breaker_stands_for_all_its_loads)
{
	session named, breaker;
	session_start(&named, reading_two_heaters, NULL,
		(const char *const[]){"on=a,b leg1_a=17.5", NULL});
	session_start(&breaker, reading_two_heaters, NULL,
		(const char *const[]){"breakers=galley leg1_a=17.5", NULL});
	for (size_t i = 0; i < 2; i++)
		ck_assert_double_eq(named.findings->draws[i].found_a.likely,
			breaker.findings->draws[i].found_a.likely);
	session_end(&named);
	session_end(&breaker);
}
END_TEST

START_TEST(the_order_of_the_readings_changes_nothing)
{
	session one, other;
	session_start(&one, reading_two_heaters, NULL,
		(const char *const[]){
			"on=a leg1_a=10.1", "on=b leg1_a=6.1", "on=a,box leg1_a=15.9", NULL});
	session_start(&other, reading_two_heaters, NULL,
		(const char *const[]){
			"on=a,box leg1_a=15.9", "on=b leg1_a=6.1", "on=a leg1_a=10.1", NULL});
	for (size_t i = 0; i < one.findings->n_draws; i++)
		ck_assert_double_eq_tol(one.findings->draws[i].found_a.likely,
			other.findings->draws[i].found_a.likely, 1e-9);
	session_end(&one);
	session_end(&other);
}
END_TEST

START_TEST(no_readings_are_no_findings)
{
	session s;
	session_start(&s, reading_two_heaters, NULL, (const char *const[]){NULL});
	ck_assert_ptr_nonnull(s.findings);
	ck_assert_uint_eq(s.findings->n_draws, 0);
	ck_assert_uint_eq(s.findings->n_rows, 0);
	ck_assert(!s.findings->next.given);
	session_end(&s);
	rig_readings_free(NULL);
}
END_TEST

Suite *readings_suite(void);
Suite *readings_suite(void)
{
	Suite *suite = suite_create("readings");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_loop_test(all,
		campaigns_on_known_coaches_find_what_is_wrong_and_accuse_nobody_else, 0, N_METERS);
	tcase_add_loop_test(all, short_campaigns_do_so_too, 0, N_METERS);
	tcase_add_test(
		all, two_loads_always_on_together_are_one_group_and_one_of_them_alone_parts_them);
	tcase_add_loop_test(all, draws_are_judged_at_the_volts_that_were_read, 0, COUNT(AT_108_V));
	tcase_add_test(all, currents_out_of_step_add_as_phasors);
	tcase_add_test(all, a_misread_row_is_set_aside_and_named);
	tcase_add_test(all, a_breaker_stands_for_all_its_loads);
	tcase_add_test(all, the_order_of_the_readings_changes_nothing);
	tcase_add_test(all, no_readings_are_no_findings);
	suite_add_tcase(suite, all);
	return suite;
}
