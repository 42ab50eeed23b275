/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdint.h>
#include <stdio.h>

#include "outside.h"
#include "rig/random_coach.h"
#include "rigbudget/profile.h"
#include "rigbudget/wiring.h"
#include "suites.h"

#define SECTION "supplies; breakers; conductors"
#define FOOT_M  0.3048

/* The rule CM = 10.75 I L / E is copper of 10.75 ohm cmil/ft: stranded at 24.1 C, since
 * 10.371 x 1.02 x (1 + 0.00393 x 4.1) = 10.75. */
#define RULE_COPPER_C 24.1

/* A job of which only the drop can decide. */
static rig_wire_job rule_job(double amps_a, double loop_ft, rig_copper copper)
{
	return (rig_wire_job){.supply = RIG_DC,
		.volts_v = 12,
		.amps_a = amps_a,
		.length_m = loop_ft / 2 * FOOT_M,
		.drop_frac = 0.03,
		.insulation_c = 125,
		.ambient_c = 30,
		.bundle = 1,
		.copper_known = true,
		.copper_c = RULE_COPPER_C,
		.copper = copper};
}

/* A job at 30 C with 3 % of drop allowed. */
static rig_wire_job job_of(
	rig_supply_kind supply, double volts_v, double amps_a, double length_m, double insulation_c)
{
	return (rig_wire_job){.supply = supply,
		.volts_v = volts_v,
		.amps_a = amps_a,
		.power_factor = 1,
		.length_m = length_m,
		.drop_frac = 0.03,
		.insulation_c = insulation_c,
		.ambient_c = 30,
		.bundle = 2};
}

static rig_wire_choice choice_of(const rig_wire_job *job)
{
	rig_wire_choice choice;
	ck_assert_int_eq(rig_wire_choose(job, &choice), RIG_OK);
	return choice;
}

/* Feet out and back: 10 15 20 25 30 40 50 60 70 80 90 100. */
static const double LOOP_FT[] = {10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90, 100};
static const struct {
	double amps_a;
	int awg[12];
} BOAT[] = {{5, {18, 16, 14, 12, 12, 10, 10, 10, 8, 8, 8, 6}},
	{10, {14, 12, 10, 10, 10, 8, 6, 6, 6, 6, 4, 4}},
	{20, {10, 10, 8, 6, 6, 6, 4, 4, 2, 2, 2, 2}}};

START_TEST(the_boat_table_of_3_percent_at_12_v_comes_out)
{
	static const outside_series TABLE = {SECTION,
		"thinnest gauge for a drop of 3 % at 12 V, vehicle wire",
		"[ABYC-E11] table IX, a marine service's reprint", "exact"};
	for (int i = 0; i < COUNT(LOOP_FT); i++) {
		const rig_wire_job job = rule_job(BOAT[_i].amps_a, LOOP_FT[i], RIG_COPPER_SAE);
		OUTSIDE(&TABLE, choice_of(&job).awg_by[RIG_BY_DROP], BOAT[_i].awg[i], 0,
			"%g A, %g ft out and back", BOAT[_i].amps_a, LOOP_FT[i]);
	}
}
END_TEST

/* What the areas of the gauge cost against that table: a size thinner in 7 cells of 36, never
 * thicker. */
START_TEST(the_gauge_s_own_area_is_at_most_one_size_thinner_than_the_boat_table)
{
	int n_thinner = 0;
	for (int k = 0; k < COUNT(BOAT); k++) {
		for (int i = 0; i < COUNT(LOOP_FT); i++) {
			const rig_wire_job job =
				rule_job(BOAT[k].amps_a, LOOP_FT[i], RIG_COPPER_AWG);
			const int thinner = choice_of(&job).awg_by[RIG_BY_DROP] - BOAT[k].awg[i];
			ck_assert_int_ge(thinner, 0);
			ck_assert_int_le(thinner, 2);
			n_thinner += thinner > 0;
		}
	}
	ck_assert_int_eq(n_thinner, 7);
}
END_TEST

/* Pump of 10 A, 11 ft out and 10 ft back, 3 %: 10.75 x 10 x 21 / 0.36 = 6,271 circular mils. */
START_TEST(a_boat_catalogue_s_pump_gets_its_wire)
{
	static const outside_series PUMP = {SECTION, "gauge for a pump of 10 A, 21 ft, 3 %",
		"[ABYC-E11], worked in a boat catalogue", "exact"};
	rig_wire_job job = rule_job(10, 21, RIG_COPPER_SAE);
	OUTSIDE(&PUMP, choice_of(&job).wire.awg, 10, 0, "vehicle wire of 9,343 circular mils");
	job.copper = RIG_COPPER_AWG;
	ck_assert_int_eq(choice_of(&job).wire.awg, 12); /* 6,530 circular mils */
}
END_TEST

/* Worked by hand. */
static const struct {
	const char *what;
	rig_supply_kind supply;
	double volts_v, amps_a, continuous_a, length_m, insulation_c, terminal_c;
	double need_a, fuse_a;
	int awg;
	rig_wire_limit decided_by;
} HAND[] = {
	/* 16 A for hours: 20 A [NFPA-70] 210.20; 12 AWG, which 240.4(D) allows 20 A; the terminals
	 * of 60 C give it 20 A too, as does its insulation: all three ask for 12 */
	{"a continuous load on 120 V", RIG_AC, 120, 16, 16, 0, 90, 0, 20, 20, 12, RIG_BY_TERMINAL},
	{"the same with terminals of 75 C", RIG_AC, 120, 16, 16, 0, 90, 75, 20, 20, 12,
		RIG_BY_SMALL},
	/* 13 + 7 A for hours and 12.5 A more: 37.5, so 40 A, and 8 AWG at 60 C */
	{"a supply with continuous and other loads", RIG_AC, 120, 32.5, 20, 0, 60, 0, 37.5, 40, 8,
		RIG_BY_AMPACITY},
	/* 40 A, 12 ft one way, 3 % of 12 V, 105 C: 24 ft x 40 A x 11.1 ohm cmil/ft / 0.36 V =
	 * 29,600 cmil: 4 AWG (6 has 26,251); fuse 40 A */
	{"an owner's run of 12 ft at 12 V", RIG_DC, 12, 40, 0, 12 * FOOT_M, 105, 0, 40, 40, 4,
		RIG_BY_DROP},
	/* the same in 2 ft: 8 AWG bears 80 A at 105 C; 10 AWG bears 60 but may have 30 A */
	{"a short run of 40 A", RIG_DC, 12, 40, 0, 2 * FOOT_M, 105, 0, 40, 40, 8, RIG_BY_SMALL},
	/* an inverter of 180 A for hours: 225 A; 2 AWG bears 210, 1 AWG 245 */
	{"an inverter's cable", RIG_DC, 12, 180, 180, 1, 105, 0, 225, 225, 1, RIG_BY_AMPACITY},
	/* with a holder marked 75 C the table gives 1/0 230 A */
	{"an inverter's cable at a cooler holder", RIG_DC, 12, 180, 180, 1, 105, 75, 225, 225, 0,
		RIG_BY_TERMINAL},
	/* 0.5 A: a fuse of 1 A; nothing thinner than 18 AWG is allowed */
	{"an alarm", RIG_DC, 12, 0.5, 0.5, 2, 105, 0, 0.625, 1, 18, RIG_BY_THINNEST},
};

START_TEST(hand_worked_runs_get_their_wire_and_fuse)
{
	rig_wire_job job = job_of(HAND[_i].supply, HAND[_i].volts_v, HAND[_i].amps_a,
		HAND[_i].length_m, HAND[_i].insulation_c);
	job.continuous_a = HAND[_i].continuous_a;
	job.terminal_c = HAND[_i].terminal_c;
	const rig_wire_choice choice = choice_of(&job);
	ck_assert_double_eq_tol(choice.need_a, HAND[_i].need_a, 1e-9);
	ck_assert_double_eq(choice.fuse_a, HAND[_i].fuse_a);
	ck_assert_msg(choice.wire.awg == HAND[_i].awg, "%s: %d AWG, not %d", HAND[_i].what,
		choice.wire.awg, HAND[_i].awg);
	ck_assert_msg(choice.decided_by == HAND[_i].decided_by, "%s: by %s", HAND[_i].what,
		rig_wire_limit_text(choice.decided_by));
}
END_TEST

/* [NFPA-70] 240.4(B): 6 AWG of 60 C bears 55 A; the next breaker is 60. */
START_TEST(the_next_size_rule_saves_a_size_on_ac_only)
{
	rig_wire_job job = job_of(RIG_AC, 240, 52, 0, 60);
	job.terminal_c = 60;
	ck_assert_int_eq(choice_of(&job).wire.awg, 4);
	job.next_size = true;
	ck_assert_int_eq(choice_of(&job).wire.awg, 6);
	ck_assert_double_eq(choice_of(&job).fuse_a, 60);
	/* but never a load above the ampacity */
	job.amps_a = 56;
	ck_assert_int_eq(choice_of(&job).wire.awg, 4);
	/* 6 AWG at 12 V and 60 C bears 80 A, three bundled 56 */
	rig_wire_job low = job_of(RIG_DC, 12, 52, 0, 60);
	low.bundle = 3;
	low.next_size = true;
	ck_assert_int_eq(choice_of(&low).wire.awg, 4);
}
END_TEST

/* The breaker of 60 A may stand on all of these by the next-size rule, but the wire has to bear the
 * load itself, its table's and its terminals' ampacity the load with 125 % of what is continuous.
 */
static const struct {
	double amps_a, continuous_a, insulation_c, terminal_c;
	int bundle, awg;
} NEXT_SIZE[] = {
	{50, 0, 90, 75, 7, 6},  /* 75 A x 0.7 = 52.5 A bears 50 */
	{55, 0, 90, 75, 7, 4},  /* and not 55 */
	{50, 20, 60, 75, 2, 6}, /* 55 A for 50 + 5 */
	{50, 28, 60, 75, 2, 4}, /* and not for 50 + 7 */
	{50, 20, 90, 60, 2, 6}, /* terminals of 55 A for 55 */
	{50, 28, 90, 60, 2, 4}, /* and not for 57 */
};

START_TEST(the_next_size_rule_does_not_stretch_the_wire)
{
	rig_wire_job job = job_of(RIG_AC, 240, NEXT_SIZE[_i].amps_a, 0, NEXT_SIZE[_i].insulation_c);
	job.continuous_a = NEXT_SIZE[_i].continuous_a;
	job.terminal_c = NEXT_SIZE[_i].terminal_c;
	job.bundle = NEXT_SIZE[_i].bundle;
	job.next_size = true;
	const rig_wire_choice choice = choice_of(&job);
	ck_assert_double_le(choice.fuse_a, 60);
	ck_assert_int_eq(choice.wire.awg, NEXT_SIZE[_i].awg);
}
END_TEST

START_TEST(a_fuse_that_is_to_stay_decides_the_wire)
{
	rig_wire_job job = job_of(RIG_DC, 12, 10, 1, 105);
	ck_assert_int_eq(choice_of(&job).wire.awg, 14);
	job.fuse_a = 50;
	const rig_wire_choice choice = choice_of(&job);
	ck_assert_double_eq(choice.fuse_a, 50);
	ck_assert_int_eq(choice.wire.awg, 8);
	job.fuse_a = 9;
	rig_wire_choice none = {.fuse_a = -1};
	ck_assert_int_eq(rig_wire_choose(&job, &none), RIG_NO_SOLUTION);
	ck_assert_double_eq(none.fuse_a, -1);
}
END_TEST

START_TEST(what_no_wire_can_do_has_no_answer)
{
	rig_wire_job job = job_of(RIG_DC, 12, 100, 100, 105);
	rig_wire_choice choice = {.fuse_a = -1};
	ck_assert_int_eq(rig_wire_choose(&job, &choice), RIG_NO_SOLUTION);
	job = job_of(RIG_DC, 12, 601, 0, 105);
	ck_assert_int_eq(rig_wire_choose(&job, &choice), RIG_NO_SOLUTION);
	job = job_of(RIG_DC, 12, 10, 0, 60);
	job.ambient_c = 60;
	ck_assert_int_eq(rig_wire_choose(&job, &choice), RIG_NO_SOLUTION);
	ck_assert_double_eq(choice.fuse_a, -1);
}
END_TEST

static double within(uint64_t *state, double low, double high)
{
	return low + (high - low) * random_share(state);
}

static rig_wire_job random_job(uint64_t *state)
{
	static const double AC_V[] = {120, 240}, DC_V[] = {12, 12.8, 24, 25.6, 48};
	const bool ac = random_below(state, 2) == 0;
	const double amps_a = exp(within(state, log(0.2), log(ac ? 300 : 500)));
	return (rig_wire_job){
		.supply = ac ? RIG_AC : RIG_DC,
		.volts_v = ac ? AC_V[random_below(state, 2)] : DC_V[random_below(state, 5)],
		.amps_a = amps_a,
		.continuous_a = random_below(state, 3) == 0   ? within(state, 0, amps_a)
				: random_below(state, 2) == 0 ? amps_a
							      : 0,
		.power_factor = ac ? within(state, 0.5, 1) : 1,
		.length_m = random_below(state, 8) == 0 ? 0 : exp(within(state, -2, 3.5)),
		.drop_frac = within(state, 0.01, 0.1),
		.insulation_c = within(state, 60, 150),
		.terminal_c = random_below(state, 2) == 0 ? 0 : within(state, 60, 110),
		.ambient_c = within(state, -30, 80),
		.bundle = 1 + random_below(state, 45),
		.next_size = false,
		.copper = random_below(state, 3) == 0 ? RIG_COPPER_SAE : RIG_COPPER_AWG,
	};
}

/* Standard ratings as the code lists them [NFPA-70] 240.6(A), and the small ones of fuses. */
static const double STANDARD_A[] = {1, 2, 3, 4, 5, 6, 7.5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 60,
	70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500, 600};

static double smallest_standard(rig_supply_kind supply, double need_a)
{
	for (int i = 0; i < COUNT(STANDARD_A); i++)
		if ((supply == RIG_DC || STANDARD_A[i] >= 15) &&
			STANDARD_A[i] >= need_a * (1 - 1e-9))
			return STANDARD_A[i];
	return 0;
}

/* Resistance and drop once more, from the metal's figures in American units: 10.371 ohm cmil/ft. */
static double drop_v(const rig_wire_job *job, const rig_wire_rating *rating)
{
	const double cmil = rating->area_mm2 / 0.000506707479;
	const double loop_ft = 2 * job->length_m / FOOT_M;
	const double ohm = 10.371 * 1.02 * (1 + 0.00393 * (rating->copper_c - 20)) * loop_ft / cmil;
	if (job->supply == RIG_DC)
		return ohm * job->amps_a;
	const double x_ohm = 0.33e-3 * job->length_m;
	const double lag = sqrt(1 - job->power_factor * job->power_factor);
	const double along = job->volts_v + job->amps_a * (ohm * job->power_factor + x_ohm * lag);
	const double across = job->amps_a * (x_ohm * job->power_factor - ohm * lag);
	return hypot(along, across) - job->volts_v;
}

/* Whether a wire with a fuse keeps every rule, by this file's own reckoning; drops that differ by
 * less than a thousandth are let through on either side. */
static bool keeps_rules(
	const rig_wire_job *job, const rig_wire_rating *rating, double fuse_a, double slack)
{
	static const struct {
		int awg;
		double fuse_a;
	} SMALL[] = {{18, 6}, {16, 8}, {14, 15}, {12, 20}, {10, 30}};
	for (int i = 0; i < COUNT(SMALL); i++)
		if (rating->awg == SMALL[i].awg && fuse_a > SMALL[i].fuse_a)
			return false;
	if (rating->awg > (job->supply == RIG_AC ? 14 : 18))
		return false;
	if (fuse_a > rating->table_a * rating->ambient_factor * rating->bundle_factor * (1 + 1e-9))
		return false;
	if (rating->terminal_a > 0 && fuse_a > rating->terminal_a * (1 + 1e-9))
		return false;
	return job->length_m <= 0 ||
	       drop_v(job, rating) <= job->drop_frac * job->volts_v * (1 + slack);
}

START_TEST(no_rule_is_ever_broken_and_no_thinner_wire_would_do)
{
	enum { N_CASES = 10000 };
	static const int GAUGE[] = {18, 16, 14, 12, 10, 8, 6, 4, 2, 1, 0, -1, -2, -3};
	uint64_t state = 20260301;
	int n_solved = 0, n_by[RIG_N_WIRE_LIMITS] = {0};
	for (int k = 0; k < N_CASES; k++) {
		const rig_wire_job job = random_job(&state);
		const double need_a = job.amps_a - job.continuous_a + 1.25 * job.continuous_a;
		const double fuse_a = smallest_standard(job.supply, need_a);
		rig_wire_choice choice;
		const rig_status status = rig_wire_choose(&job, &choice);
		for (int i = 0; i < COUNT(GAUGE) && fuse_a > 0; i++) {
			rig_wire_rating rating;
			ck_assert_int_eq(rig_wire_rate(&job, GAUGE[i], &rating), RIG_OK);
			/* a thinner gauge breaks a rule beyond doubt, or is the one */
			if (status == RIG_OK && GAUGE[i] == choice.wire.awg)
				break;
			ck_assert_msg(!keeps_rules(&job, &rating, fuse_a, -0.001),
				"seed 20260301, case %d: %d AWG would do", k, GAUGE[i]);
		}
		if (status != RIG_OK)
			continue;
		n_solved++;
		n_by[choice.decided_by]++;
		ck_assert_double_eq(choice.fuse_a, fuse_a);
		ck_assert_double_ge(choice.fuse_a, need_a * (1 - 1e-9));
		ck_assert_msg(keeps_rules(&job, &choice.wire, choice.fuse_a, 0.001),
			"seed 20260301, case %d: %d AWG breaks a rule; %g A, %g of %g V", k,
			choice.wire.awg, job.amps_a, drop_v(&job, &choice.wire),
			choice.wire.drop_v);
	}
	/* the cases are worth something: most have an answer, every limit decides some */
	ck_assert_int_gt(n_solved, N_CASES / 2);
	for (int i = 0; i < RIG_N_WIRE_LIMITS; i++)
		ck_assert_msg(n_by[i] > 20, "%s decides %d", rig_wire_limit_text(i), n_by[i]);
}
END_TEST

/* More load, more length, more heat, less drop allowed: never a thinner wire. */
START_TEST(a_harder_job_never_gets_a_thinner_wire)
{
	uint64_t state = 20260302;
	for (int k = 0; k < 2000; k++) {
		const rig_wire_job job = random_job(&state);
		rig_wire_job harder = job;
		harder.amps_a *= 1 + 0.2 * random_share(&state);
		harder.length_m *= 1 + random_share(&state);
		harder.ambient_c += 5 * random_share(&state);
		harder.bundle += random_below(&state, 3);
		/* marked terminals: the code's own guess gets warmer above 100 A */
		if (job.supply == RIG_AC && job.terminal_c <= 0)
			continue;
		rig_wire_choice easy, hard;
		if (rig_wire_choose(&harder, &hard) != RIG_OK)
			continue;
		ck_assert_int_eq(rig_wire_choose(&job, &easy), RIG_OK);
		ck_assert_msg(hard.wire.awg <= easy.wire.awg, "seed 20260302, case %d", k);
		ck_assert_double_ge(hard.fuse_a, easy.fuse_a);
	}
}
END_TEST

START_TEST(each_limit_has_its_words)
{
	ck_assert_str_eq(rig_wire_limit_text(RIG_BY_THINNEST), "the thinnest wire that is allowed");
	ck_assert_str_eq(rig_wire_limit_text(RIG_BY_DROP), "voltage drop");
	ck_assert_str_eq(rig_wire_limit_text(RIG_BY_AMPACITY), "ampacity");
	ck_assert_str_eq(rig_wire_limit_text(RIG_BY_TERMINAL), "terminal temperature");
	ck_assert_str_eq(rig_wire_limit_text(RIG_BY_SMALL), "the small-conductor rule");
	ck_assert_str_eq(rig_wire_limit_text(RIG_N_WIRE_LIMITS), "nothing");
	ck_assert_str_eq(rig_wire_limit_text((rig_wire_limit)-1), "nothing");
}
END_TEST

Suite *wire_choice_suite(void);
Suite *wire_choice_suite(void)
{
	Suite *suite = suite_create("wire_choice");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, the_boat_table_of_3_percent_at_12_v_comes_out, 0, COUNT(BOAT));
	tcase_add_test(all, the_gauge_s_own_area_is_at_most_one_size_thinner_than_the_boat_table);
	tcase_add_test(all, a_boat_catalogue_s_pump_gets_its_wire);
	tcase_add_loop_test(all, hand_worked_runs_get_their_wire_and_fuse, 0, COUNT(HAND));
	tcase_add_test(all, the_next_size_rule_saves_a_size_on_ac_only);
	tcase_add_loop_test(all, the_next_size_rule_does_not_stretch_the_wire, 0, COUNT(NEXT_SIZE));
	tcase_add_test(all, a_fuse_that_is_to_stay_decides_the_wire);
	tcase_add_test(all, what_no_wire_can_do_has_no_answer);
	tcase_add_test(all, no_rule_is_ever_broken_and_no_thinner_wire_would_do);
	tcase_add_test(all, a_harder_job_never_gets_a_thinner_wire);
	tcase_add_test(all, each_limit_has_its_words);
	suite_add_tcase(suite, all);
	return suite;
}
