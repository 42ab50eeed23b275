/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "outside.h"
#include "shore_scene.h"
#include "suites.h"

#define SECTION "supplies; breakers; conductors"

/* Arithmetic in doubles. */
static const double TOL = 1e-9;

static const outside_series SITE = {SECTION, "What the shore study reckons with, VA",
	"[NFPA-70] 551.73, sites of 20 and 30 A second-hand; volts times amps", "arithmetic"};
static const outside_series LONG_SITE = {SECTION, "Of that for continuous loads, VA",
	"[NFPA-70] 210.20, 80 %; at 50 A also its 551.73 of 2008, second-hand", "arithmetic"};
static const struct {
	const char *name;
	int supply, n_hots;
	double va, continuous_va;
} SERVICE[] = {
	{"50 A", S50, 2, 12000, 9600},
	{"30 A", S30, 1, 3600, 2880},
	{"20 A", S20, 1, 2400, 1920},
	{"15 A", S15, 1, 1800, 1440},
};

START_TEST(a_supply_gives_what_the_code_reckons_for_its_site)
{
	shore_scene r;
	shore_start(&r, 50);
	rig_shore_findings *findings = shore_ask(&r);
	const rig_shore_supply *supply = &findings->supplies[SERVICE[_i].supply - S50];
	ck_assert_int_eq(supply->n_hots, SERVICE[_i].n_hots);
	OUTSIDE(&SITE, supply->va, SERVICE[_i].va, TOL, "%s", SERVICE[_i].name);
	OUTSIDE(&LONG_SITE, supply->continuous_va, SERVICE[_i].continuous_va, TOL, "%s",
		SERVICE[_i].name);
	ck_assert(supply->shared_hot == (SERVICE[_i].n_hots == 1));
	ck_assert(!supply->cord_limits);
	rig_shore_free(findings);
}
END_TEST

static const outside_series CORD = {SECTION,
	"Amps that a smaller cord leaves of a larger receptacle",
	"commentary to [NFPA-70] 551.71, second-hand: the breaker does not protect such a cord",
	"exact"};

START_TEST(a_smaller_cord_limits_a_larger_receptacle)
{
	shore_scene r;
	shore_start(&r, 30);
	rig_shore_findings *findings = shore_ask(&r);
	const rig_shore_supply *s = findings->supplies;
	OUTSIDE(&CORD, s[0].limit_a, 30, TOL, "30 A cord on 50 A");
	ck_assert_int_eq(s[0].n_hots, 1);
	ck_assert(s[0].cord_limits && s[0].adapter && !s[0].shared_hot);
	ck_assert(!s[1].cord_limits && !s[1].adapter);
	ck_assert(!s[2].cord_limits && s[2].adapter);
	ck_assert_double_eq_tol(s[2].limit_a, 20, TOL);
	rig_shore_free(findings);
}
END_TEST

static const outside_series RULE = {SECTION, "Supply that a number of branch circuits asks for, A",
	"[NFPA-70] 551.42; from memory", "exact"};
static const struct {
	int n_circuits;
	double breaker_a;
	int ask_a;
} ASK[] = {{0, 0, 0}, {1, 15, 15}, {1, 20, 20}, {2, 15, 30}, {5, 20, 30}, {6, 20, 50}, {1, 30, 30}};

START_TEST(the_number_of_circuits_asks_for_a_supply)
{
	shore_scene r;
	shore_start(&r, 50);
	for (int i = 0; i < ASK[_i].n_circuits; i++)
		shore_circuit(&r, RIG_LEG_1, ASK[_i].breaker_a);
	rig_shore_findings *findings = shore_ask(&r);
	ck_assert_int_eq(findings->n_ac_circuits, ASK[_i].n_circuits);
	OUTSIDE(&RULE, findings->circuits_ask_a, ASK[_i].ask_a, 0, "%d of %g A", ASK[_i].n_circuits,
		ASK[_i].breaker_a);
	rig_shore_free(findings);
}
END_TEST

static const outside_series CONTINUOUS = {SECTION,
	"Most continuous amps of one load that fit on a breaker, to 0.01",
	"80 % ladder of a design-practice table, second-hand; [NFPA-70] 210.20 from memory",
	"exact"};
static const struct {
	double breaker_a, continuous_a;
} LADDER[] = {{15, 12}, {20, 16}, {25, 20}, {30, 24}, {35, 28}, {40, 32}, {45, 36}, {50, 40},
	{60, 48}, {70, 56}, {80, 64}, {90, 72}, {100, 80}};

static rig_shore_verdict verdict_of(double breaker_a, double amps_a, bool continuous)
{
	shore_scene r;
	shore_start(&r, 50);
	const int circuit = shore_circuit(&r, RIG_LEG_1, breaker_a);
	shore_load(&r, circuit, exactly(amps_a * 120), continuous);
	rig_shore_findings *findings = shore_ask(&r);
	const rig_shore_verdict verdict = shore_on(findings, S50)->circuits[0].flow.verdict;
	rig_shore_free(findings);
	return verdict;
}

START_TEST(a_continuous_load_may_take_four_fifths_of_a_breaker)
{
	const double breaker_a = LADDER[_i].breaker_a, continuous_a = LADDER[_i].continuous_a;
	/* the largest of whole hundredths by halving */
	int fits = 0, over = (int)(100 * breaker_a) + 1;
	while (over - fits > 1) {
		const int middle = (fits + over) / 2;
		*(verdict_of(breaker_a, middle / 100.0, true) == RIG_SHORE_FITS ? &fits : &over) =
			middle;
	}
	OUTSIDE(&CONTINUOUS, fits / 100.0, continuous_a, 1e-9, "%g A", breaker_a);
	ck_assert_int_eq(verdict_of(breaker_a, breaker_a, false), RIG_SHORE_FITS);
	ck_assert_int_eq(verdict_of(breaker_a, breaker_a, true), RIG_SHORE_OVER_CONTINUOUS);
	ck_assert_int_eq(verdict_of(breaker_a, breaker_a + 0.01, false), RIG_SHORE_OVER);
}
END_TEST

static const outside_series MIXED = {SECTION,
	"13 A and 7 A of continuous loads beside 12.5 A on a 30 A main, A",
	"arithmetic on [NFPA-70] 210.20: 1.25 x 20 + 12.5", "arithmetic"};

START_TEST(continuous_loads_count_at_125_percent_beside_others)
{
	shore_scene r;
	shore_start(&r, 30);
	shore_amps(&r, -1, 13)->continuous = RIG_YES;
	shore_amps(&r, -1, 7)->continuous = RIG_YES;
	shore_amps(&r, -1, 12.5);
	rig_shore_findings *findings = shore_ask(&r);
	const rig_shore_budget *budget = shore_on(findings, S30);
	OUTSIDE(&MIXED, budget->main.amps_a.likely, 32.5, TOL, "plain sum");
	OUTSIDE(&MIXED, budget->main.loaded_a.likely, 37.5, TOL, "counted against the breaker");
	ck_assert_int_eq(budget->verdict, RIG_SHORE_OVER);
	ck_assert(budget->sure && !budget->carried);
	ck_assert_double_eq_tol(budget->headroom_a.likely, -7.5, TOL);
	ck_assert_int_eq(budget->limiting, RIG_SHORE_MAIN);
	rig_shore_free(findings);
}
END_TEST

static const outside_series NEUTRALS = {SECTION, "Amps on the neutral, shore study",
	"circuit law; that an adapter puts both legs on one hot, and that one phase on both hots "
	"adds up in the neutral, read in trade articles",
	"arithmetic"};
static const struct {
	double leg1_a, leg2_a, difference_a, sum_a;
} NEUTRAL[] = {{38, 22, 16, 60}, {40, 25, 15, 65}, {20, 20, 0, 40}, {0, 17, 17, 17}};

START_TEST(the_neutral_carries_the_difference_or_the_sum)
{
	shore_scene r;
	shore_start(&r, 50);
	const int one = shore_circuit(&r, RIG_LEG_1, 0);
	const int two = shore_circuit(&r, RIG_LEG_2, 0);
	const int both = shore_circuit(&r, RIG_LEG_BOTH, 30);
	shore_amps(&r, one, NEUTRAL[_i].leg1_a);
	shore_amps(&r, two, NEUTRAL[_i].leg2_a);
	rig_load *dryer = shore_load(&r, both, exactly(1200), false); /* 5 A at 240 V */
	dryer->volts_v = exactly(240);
	rig_shore_findings *findings = shore_ask(&r);

	const rig_shore_budget *split = shore_on(findings, S50);
	OUTSIDE(&NEUTRALS, split->neutral.amps_a.likely, NEUTRAL[_i].difference_a, TOL,
		"%g and %g A, two hots", NEUTRAL[_i].leg1_a, NEUTRAL[_i].leg2_a);
	OUTSIDE(&NEUTRALS, split->same_phase_neutral_a.likely, NEUTRAL[_i].sum_a, TOL,
		"both hots wrongly on one phase");
	ck_assert_double_eq_tol(split->leg[0].amps_a.likely, NEUTRAL[_i].leg1_a + 5, TOL);
	ck_assert_double_eq_tol(split->leg[1].amps_a.likely, NEUTRAL[_i].leg2_a + 5, TOL);
	ck_assert_uint_eq(split->n_dead, 0);

	const rig_shore_budget *shared = shore_on(findings, S30);
	ck_assert_double_eq_tol(shared->main.amps_a.likely, NEUTRAL[_i].sum_a, TOL);
	OUTSIDE(&NEUTRALS, shared->neutral.amps_a.likely, NEUTRAL[_i].sum_a, TOL,
		"through an adapter to 30 A");
	ck_assert_double_eq_tol(shared->neutral.limit_a, 30, TOL);
	ck_assert_uint_eq(shared->n_dead, 1);
	ck_assert_int_eq(shared->dead[0].load, 2);
	ck_assert(!shared->carried);
	rig_shore_free(findings);
}
END_TEST

/* By hand, 120 V. 960 W at power factor 0.8 are 1,200 VA: 8 A in step and 6 A behind.
 *   leg 1 that, leg 2 960 W at 1.0: 8 + 0j; neutral 6 A, shared hot |16 + 6j| = 17.088 A
 *   leg 2 that as well: neutral 0, shared hot 20 A */
static const struct {
	double pf2, neutral_a, shared_a;
} PHASOR[] = {{1.0, 6.0, 17.088007490635061}, {0.8, 0.0, 20.0}};

START_TEST(currents_out_of_step_add_up_as_phasors)
{
	shore_scene r;
	shore_start(&r, 50);
	const int one = shore_circuit(&r, RIG_LEG_1, 20);
	const int two = shore_circuit(&r, RIG_LEG_2, 20);
	shore_load(&r, one, exactly(960), false)->power_factor = exactly(0.8);
	shore_load(&r, two, exactly(960), false)->power_factor = exactly(PHASOR[_i].pf2);
	rig_shore_findings *findings = shore_ask(&r);
	ck_assert_double_eq_tol(
		shore_on(findings, S50)->neutral.amps_a.likely, PHASOR[_i].neutral_a, TOL);
	ck_assert_double_eq_tol(
		shore_on(findings, S30)->main.amps_a.likely, PHASOR[_i].shared_a, TOL);
	ck_assert_double_eq_tol(shore_on(findings, S50)->leg[0].va.likely, 1200, TOL);
	ck_assert_double_eq_tol(shore_on(findings, S50)->leg[0].watts_w.likely, 960, TOL);
	rig_shore_free(findings);
}
END_TEST

/* Two are under 30 A, above the 24 A for continuous loads; an adapter from 50 A changes none of it.
 */
static const outside_series ROOF_UNITS = {SECTION, "Two roof units of 13 A each on 30 A",
	"a motorhome maker's owner manual of 2019, read: 13 A each, so little beside them that one "
	"runs at a time",
	"arithmetic"};

START_TEST(two_roof_units_leave_four_amps_on_thirty)
{
	shore_scene r;
	shore_start(&r, 50);
	shore_amps(&r, shore_circuit(&r, RIG_LEG_1, 20), 13)->continuous = RIG_YES;
	shore_amps(&r, shore_circuit(&r, RIG_LEG_2, 20), 13)->continuous = RIG_YES;
	rig_shore_findings *findings = shore_ask(&r);
	OUTSIDE(&ROOF_UNITS, shore_on(findings, S30)->main.amps_a.likely, 26, TOL, "A together");
	OUTSIDE(&ROOF_UNITS,
		findings->supplies[S30 - S50].limit_a - shore_on(findings, S30)->main.amps_a.likely,
		4, TOL, "A left beside them");
	ck_assert_int_eq(shore_on(findings, S30)->verdict, RIG_SHORE_OVER_CONTINUOUS);
	ck_assert_int_eq(shore_on(findings, S50)->verdict, RIG_SHORE_FITS);
	ck_assert(shore_on(findings, S50)->sure);
	rig_shore_free(findings);

	rig_load *television = shore_amps(&r, shore_circuit(&r, RIG_LEG_1, 15), 4);
	findings = shore_ask(&r);
	ck_assert_int_eq(shore_on(findings, S30)->verdict, RIG_SHORE_OVER_CONTINUOUS);
	rig_shore_free(findings);
	television->running_w = exactly(4.1 * 120);
	findings = shore_ask(&r);
	ck_assert_int_eq(shore_on(findings, S30)->verdict, RIG_SHORE_OVER);
	rig_shore_free(findings);
}
END_TEST

/* 27 to 31 A, likely 29: fits on 30 A as things look, not for certain. */
START_TEST(a_doubt_that_decides_is_told)
{
	shore_scene r;
	shore_start(&r, 30);
	shore_load(
		&r, -1, rig_figure_range(27 * 120, 29 * 120, 31 * 120, RIG_FROM_ESTIMATED), false);
	rig_shore_findings *findings = shore_ask(&r);
	const rig_shore_budget *budget = shore_on(findings, S30);
	ck_assert_int_eq(budget->verdict, RIG_SHORE_DEPENDS);
	ck_assert(!budget->sure && !budget->carried);
	ck_assert_int_eq(shore_everything(findings)->smallest, -1);
	ck_assert_int_eq(shore_everything(findings)->smallest_likely, 1);
	ck_assert_uint_eq(budget->best.n_kept, 1);
	ck_assert_double_eq_tol(budget->headroom_a.low, -1, TOL);
	ck_assert_double_eq_tol(budget->headroom_a.high, 3, TOL);
	rig_shore_free(findings);

	const rig_shore_options careful = {.at_high = true};
	ck_assert_int_eq(rig_shore_study(&r.coach, &careful, &findings), RIG_OK);
	ck_assert_uint_eq(shore_on(findings, S30)->best.n_kept, 0);
	rig_shore_free(findings);
}
END_TEST

/* 20 A breaker with 14 + 8 A on it, on a 50 A supply. */
START_TEST(a_branch_breaker_can_be_the_limit)
{
	shore_scene r;
	shore_start(&r, 50);
	shore_amps(&r, shore_circuit(&r, RIG_LEG_2, 30), 25);
	const int kitchen = shore_circuit(&r, RIG_LEG_1, 20);
	shore_amps(&r, kitchen, 14)->priority = 3;
	shore_amps(&r, kitchen, 8)->priority = 4;
	rig_shore_findings *findings = shore_ask(&r);
	const rig_shore_budget *budget = shore_on(findings, S50);
	ck_assert_int_eq(budget->verdict, RIG_SHORE_OVER);
	ck_assert_int_eq(budget->limiting, RIG_SHORE_CIRCUIT);
	ck_assert_int_eq(budget->limiting_index, kitchen);
	ck_assert_double_eq_tol(budget->limiting_flow.amps_a.likely, 22, TOL);
	ck_assert_double_eq_tol(budget->limiting_flow.limit_a, 20, TOL);
	ck_assert_uint_eq(budget->n_circuits_over, 1);
	ck_assert_uint_eq(budget->best.n_off, 1);
	ck_assert_int_eq(budget->best.off[0].load, 2);
	rig_shore_free(findings);
}
END_TEST

/* Legs by hand: 10 A known on leg 1; 9, 8 and 6 A nobody knows where. Best deal: 10 + 6 and 9 + 8:
 * fuller 17; worst for a leg: 33 and 23. */
START_TEST(loads_of_unknown_leg_range_from_an_even_deal_to_all_on_one)
{
	shore_scene r;
	shore_start(&r, 50);
	shore_amps(&r, shore_circuit(&r, RIG_LEG_1, 20), 10);
	shore_amps(&r, -1, 9);
	shore_amps(&r, -1, 8);
	shore_amps(&r, -1, 6);
	rig_shore_findings *findings = shore_ask(&r);
	const rig_shore_budget *budget = shore_on(findings, S50);
	ck_assert(budget->unplaced);
	ck_assert_uint_eq(findings->n_unplaced, 3);
	ck_assert_double_eq_tol(budget->main.amps_a.likely, 17, TOL);
	ck_assert_double_eq_tol(budget->leg[0].amps_a.high, 33, TOL);
	ck_assert_double_eq_tol(budget->leg[1].amps_a.high, 23, TOL);
	ck_assert_double_eq_tol(budget->neutral.amps_a.likely, 1, TOL);
	ck_assert_double_ge(budget->neutral.amps_a.high, 33 - TOL);
	const rig_shore_budget *shared = shore_on(findings, S30);
	ck_assert(!shared->unplaced);
	ck_assert_double_eq_tol(shared->main.amps_a.high, 33, TOL);
	ck_assert_double_eq_tol(
		shared->leg[0].amps_a.likely + shared->leg[1].amps_a.likely, 33, TOL);
	ck_assert_double_eq_tol(
		fmax(shared->leg[0].amps_a.likely, shared->leg[1].amps_a.likely), 17, TOL);
	rig_shore_free(findings);
}
END_TEST

static const outside_series ABSORPTION = {SECTION, "Volts at which a 12 V charger gives its amps",
	"three makers' charger manuals, absorption of a lead battery; read", "0.2 V, they differ"};

/* By hand: 55 A x 14.4 V / 0.85 = 931.76 W; / 0.8 / 120 V = 9.706 A. 24 V bank: twice that. */
START_TEST(the_charger_draws_its_output_through_its_losses)
{
	shore_scene r;
	shore_start(&r, 30);
	r.coach.charger.present = true;
	r.coach.charger.amps_a = exactly(55);
	rig_shore_findings *findings = shore_ask(&r);
	ck_assert_double_eq_tol(findings->charger_w.likely, 931.7647, 5e-5);
	OUTSIDE(&ABSORPTION, findings->charger_w.likely * 0.85 / 55, 14.4, 0.2, "V");
	ck_assert_double_eq_tol(shore_on(findings, S30)->main.amps_a.likely, 9.7059, 5e-5);
	ck_assert_double_eq_tol(shore_on(findings, S30)->main.amps_a.low, 0, TOL);
	ck_assert_int_eq(shore_everything(findings)->items[0].load, RIG_SHORE_CHARGER);
	rig_shore_free(findings);

	r.bank[0] = (rig_bank){.nominal_v = exactly(24)};
	r.coach.n_banks = 1;
	r.coach.charger.bank_index = 0;
	r.coach.charger.power_factor = exactly(1);
	r.coach.charger.efficiency_frac = exactly(0.9);
	findings = shore_ask(&r);
	ck_assert_double_eq_tol(findings->charger_w.likely, 55 * 28.8 / 0.9, TOL);
	ck_assert_double_eq_tol(
		shore_on(findings, S30)->main.amps_a.likely, 55 * 28.8 / 0.9 / 120, TOL);
	rig_shore_free(findings);
}
END_TEST

/* Locked-rotor 68 A is on a roof-unit data sheet (second-hand); five times the rating as the foot
 * of the magnetic region is common practice, no source: 75 A at 15 A, 150 A at 30 A. */
START_TEST(a_hard_start_on_a_small_supply_is_flagged)
{
	shore_scene r;
	shore_start(&r, 30);
	const int circuit = shore_circuit(&r, RIG_LEG_UNSAID, 20);
	rig_load *unit = shore_amps(&r, circuit, 13);
	unit->start_a = exactly(68);
	shore_amps(&r, shore_circuit(&r, RIG_LEG_UNSAID, 15), 9);
	rig_shore_findings *findings = shore_ask(&r);
	ck_assert_int_eq(shore_on(findings, S15)->start.load, 0);
	ck_assert_double_eq_tol(shore_on(findings, S15)->start.hot_a.likely, 77, TOL);
	ck_assert(shore_on(findings, S15)->start.hot_in_trip_region);
	ck_assert(!shore_on(findings, S30)->start.hot_in_trip_region);
	ck_assert_double_eq_tol(shore_on(findings, S30)->start.circuit_a.likely, 68, TOL);
	ck_assert(!shore_on(findings, S30)->start.circuit_in_trip_region);
	rig_shore_free(findings);
	unit->start_a = exactly(101);
	findings = shore_ask(&r);
	ck_assert(shore_on(findings, S30)->start.circuit_in_trip_region);
	rig_shore_free(findings);
	unit->start_a = (rig_figure){0};
	findings = shore_ask(&r);
	ck_assert_int_eq(shore_on(findings, S30)->start.load, RIG_SHORE_NO_START);
	rig_shore_free(findings);
}
END_TEST

START_TEST(a_start_meets_the_loads_of_its_own_hot)
{
	shore_scene r;
	shore_start(&r, 50);
	rig_load *unit = shore_amps(&r, shore_circuit(&r, RIG_LEG_1, 20), 13);
	unit->start_a = exactly(68);
	shore_amps(&r, shore_circuit(&r, RIG_LEG_1, 20), 7);
	shore_amps(&r, shore_circuit(&r, RIG_LEG_2, 20), 20);
	rig_shore_findings *findings = shore_ask(&r);
	ck_assert_double_eq_tol(shore_on(findings, S50)->start.hot_a.likely, 75, TOL);
	ck_assert_double_eq_tol(shore_on(findings, S30)->start.hot_a.likely, 95, TOL);
	rig_shore_free(findings);
}
END_TEST

/* By hand: 49 A in step on leg 1, 49 A at power factor 0.1 on leg 2: 4.9 in step, 48.754 behind.
 * Neutral |44.1 - 48.754j| = 65.74 A, though each leg has 49. */
START_TEST(a_neutral_can_be_fuller_than_its_legs)
{
	shore_scene r;
	shore_start(&r, 50);
	shore_amps(&r, shore_circuit(&r, RIG_LEG_1, 50), 49)->priority = 2;
	rig_load *odd = shore_amps(&r, shore_circuit(&r, RIG_LEG_2, 50), 4.9);
	odd->power_factor = exactly(0.1);
	rig_shore_findings *findings = shore_ask(&r);
	const rig_shore_budget *budget = shore_on(findings, S50);
	ck_assert_double_eq_tol(budget->neutral.amps_a.likely, 65.74, 0.005);
	ck_assert_int_eq(budget->verdict, RIG_SHORE_OVER);
	ck_assert_int_eq(budget->limiting, RIG_SHORE_NEUTRAL);
	ck_assert_uint_eq(budget->best.n_off, 1);
	ck_assert_int_eq(budget->best.off[0].load, 1);
	rig_shore_free(findings);
}
END_TEST

/* Two loads of 14 A behind one breaker whose leg nobody says are on one leg, whichever; behind a
 * breaker over both hots they may be one on each. */
static const struct {
	rig_leg leg;
	double fuller_a;
} BEHIND[] = {{RIG_LEG_UNSAID, 28}, {RIG_LEG_BOTH, 14}};

START_TEST(loads_behind_one_breaker_share_its_leg)
{
	shore_scene r;
	shore_start(&r, 50);
	const int circuit = shore_circuit(&r, BEHIND[_i].leg, 30);
	shore_amps(&r, circuit, 14);
	shore_amps(&r, circuit, 14);
	rig_shore_findings *findings = shore_ask(&r);
	ck_assert_double_eq_tol(
		shore_on(findings, S50)->main.amps_a.likely, BEHIND[_i].fuller_a, TOL);
	rig_shore_free(findings);
}
END_TEST

START_TEST(a_dc_load_counts_on_its_fuse_only)
{
	shore_scene r;
	shore_start(&r, 30);
	const int fuse = shore_circuit(&r, RIG_LEG_UNSAID, 10);
	r.circuit[fuse].supply = RIG_DC;
	rig_load *pump = shore_load(&r, fuse, exactly(144), false); /* 12 A at 12 V */
	pump->supply = RIG_DC;
	pump->volts_v = exactly(12);
	shore_amps(&r, fuse, 5); /* a slip of the file: not on the fuse's sum */
	rig_shore_findings *findings = shore_ask(&r);
	const rig_shore_budget *budget = shore_on(findings, S30);
	ck_assert_double_eq_tol(budget->main.amps_a.likely, 5, TOL);
	ck_assert_int_eq(budget->verdict, RIG_SHORE_FITS);
	ck_assert_uint_eq(budget->n_circuits_over, 1);
	ck_assert_double_eq_tol(budget->circuits[0].flow.amps_a.likely, 12, TOL);
	ck_assert_int_eq(findings->n_ac_circuits, 0);
	rig_shore_free(findings);
}
END_TEST

static void spoil_nan(rig_load *load)
{
	load->running_w.high = NAN;
}

static void spoil_order(rig_load *load)
{
	load->running_w.low = load->running_w.likely + 1;
}

static void spoil_factor(rig_load *load)
{
	load->power_factor = exactly(0);
}

static void spoil_sign(rig_load *load)
{
	load->start_a = exactly(-1);
}

static void spoil_volts(rig_load *load)
{
	load->volts_v = exactly(0);
}

static void (*const SPOIL[])(rig_load *) = {
	spoil_nan, spoil_order, spoil_factor, spoil_sign, spoil_volts};

START_TEST(a_figure_out_of_order_is_refused_and_nothing_is_handed_out)
{
	shore_scene r;
	shore_start(&r, 30);
	SPOIL[_i](shore_amps(&r, -1, 10));
	rig_shore_findings *findings = NULL;
	ck_assert_int_eq(rig_shore_study(&r.coach, NULL, &findings), RIG_BAD_INPUT);
	ck_assert_ptr_null(findings);
}
END_TEST

START_TEST(a_set_or_a_charger_out_of_order_is_refused)
{
	shore_scene r;
	rig_shore_findings *findings = NULL;
	shore_start(&r, 30);
	shore_amps(&r, -1, 10);
	shore_together(&r, "Nobody", 1, (const int[]){7});
	ck_assert_int_eq(rig_shore_study(&r.coach, NULL, &findings), RIG_BAD_INPUT);
	r.coach.n_together = 0;
	r.coach.charger.present = true;
	r.coach.charger.amps_a = exactly(50);
	r.coach.charger.efficiency_frac = exactly(0);
	ck_assert_int_eq(rig_shore_study(&r.coach, NULL, &findings), RIG_BAD_INPUT);
	ck_assert_ptr_null(findings);
	rig_shore_free(findings);
}
END_TEST

START_TEST(an_empty_coach_draws_nothing)
{
	shore_scene r;
	shore_start(&r, 0); /* a cord that nobody names takes any supply as it is */
	rig_shore_findings *findings = shore_ask(&r);
	const rig_shore_budget *budget = shore_on(findings, S50);
	ck_assert_double_eq_tol(budget->main.amps_a.high, 0, TOL);
	ck_assert_double_eq_tol(budget->headroom_w.likely, 12000, TOL);
	ck_assert_int_eq(shore_everything(findings)->smallest, 3);
	ck_assert(!findings->supplies[1].adapter);
	rig_shore_free(findings);
}
END_TEST

START_TEST(verdicts_and_elements_have_words)
{
	ck_assert_str_eq(rig_shore_verdict_text(RIG_SHORE_FITS), "fits");
	ck_assert_str_eq(rig_shore_verdict_text(RIG_SHORE_OVER), "over the breaker");
	ck_assert_str_eq(rig_shore_element_text(RIG_SHORE_NEUTRAL), "neutral");
}
END_TEST

Suite *shore_suite(void);
Suite *shore_suite(void)
{
	Suite *suite = suite_create("shore");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_loop_test(
		all, a_supply_gives_what_the_code_reckons_for_its_site, 0, COUNT(SERVICE));
	tcase_add_test(all, a_smaller_cord_limits_a_larger_receptacle);
	tcase_add_loop_test(all, the_number_of_circuits_asks_for_a_supply, 0, COUNT(ASK));
	tcase_add_loop_test(
		all, a_continuous_load_may_take_four_fifths_of_a_breaker, 0, COUNT(LADDER));
	tcase_add_test(all, continuous_loads_count_at_125_percent_beside_others);
	tcase_add_loop_test(all, the_neutral_carries_the_difference_or_the_sum, 0, COUNT(NEUTRAL));
	tcase_add_loop_test(all, currents_out_of_step_add_up_as_phasors, 0, COUNT(PHASOR));
	tcase_add_test(all, two_roof_units_leave_four_amps_on_thirty);
	tcase_add_test(all, a_doubt_that_decides_is_told);
	tcase_add_test(all, a_branch_breaker_can_be_the_limit);
	tcase_add_test(all, loads_of_unknown_leg_range_from_an_even_deal_to_all_on_one);
	tcase_add_test(all, the_charger_draws_its_output_through_its_losses);
	tcase_add_test(all, a_hard_start_on_a_small_supply_is_flagged);
	tcase_add_test(all, a_start_meets_the_loads_of_its_own_hot);
	tcase_add_test(all, a_neutral_can_be_fuller_than_its_legs);
	tcase_add_loop_test(all, loads_behind_one_breaker_share_its_leg, 0, COUNT(BEHIND));
	tcase_add_test(all, a_dc_load_counts_on_its_fuse_only);
	tcase_add_loop_test(
		all, a_figure_out_of_order_is_refused_and_nothing_is_handed_out, 0, COUNT(SPOIL));
	tcase_add_test(all, a_set_or_a_charger_out_of_order_is_refused);
	tcase_add_test(all, an_empty_coach_draws_nothing);
	tcase_add_test(all, verdicts_and_elements_have_words);
	suite_add_tcase(suite, all);
	return suite;
}
