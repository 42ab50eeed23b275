/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold of the flows of any coach. */
#include <stdint.h>

#include "shore_scene.h"
#include "suites.h"

/* SplitMix64, only to make coaches. */
static uint64_t stream;

static double uniform(void)
{
	stream += 0x9E3779B97F4A7C15u;
	uint64_t z = stream;
	z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
	z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
	return (double)((z ^ (z >> 31)) >> 11) / 9007199254740992.0;
}

static rig_figure about(double value)
{
	return rig_figure_range(0.7 * value, value, 1.2 * value, RIG_FROM_ESTIMATED);
}

/* Up to ten loads on six circuits or none; two in ten of 240 V if asked. In steps, so that some are
 * alike. */
static void start_random(shore_scene *r, bool with_240_v)
{
	shore_start(r, 50);
	for (int i = 0; i < 5; i++)
		shore_circuit(r, i % 2 ? RIG_LEG_2 : RIG_LEG_1, 15 + 5 * (int)(4 * uniform()));
	const int wide = shore_circuit(r, RIG_LEG_BOTH, 30);
	const int n = 3 + (int)(8 * uniform());
	for (int i = 0; i < n; i++) {
		const int circuit = (int)(6 * uniform()) - 1;
		rig_load *load = shore_load(
			r, circuit, about(200 + 200 * (int)(9 * uniform())), uniform() < 0.5);
		load->power_factor = rig_figure_range(0.7, 0.85, 1.0, RIG_FROM_ESTIMATED);
		load->priority = 1 + (int)(4 * uniform());
		load->start_a =
			uniform() < 0.3 ? exactly(30 + 30 * (int)(2 * uniform())) : (rig_figure){0};
		if (with_240_v && uniform() < 0.2) {
			load->volts_v = exactly(240);
			load->circuit_index = wide;
		}
	}
}

static void check_same(rig_figure a, rig_figure b)
{
	ck_assert_double_eq_tol(a.low, b.low, 1e-9);
	ck_assert_double_eq_tol(a.likely, b.likely, 1e-9);
	ck_assert_double_eq_tol(a.high, b.high, 1e-9);
}

static void check_same_choice(const rig_shore_choice *a, const rig_shore_choice *b, int n_loads)
{
	ck_assert_uint_eq(a->n_kept, b->n_kept);
	ck_assert_uint_eq(a->n_off, b->n_off);
	for (size_t i = 0; i < a->n_kept; i++)
		ck_assert_int_eq(a->kept[i].load, n_loads - 1 - b->kept[i].load);
	for (size_t i = 0; i < a->n_off; i++)
		ck_assert_int_eq(a->off[i].load, n_loads - 1 - b->off[i].load);
	check_same(a->most_loaded.amps_a, b->most_loaded.amps_a);
}

START_TEST(the_order_of_the_loads_changes_nothing)
{
	stream = 21;
	for (int k = 0; k < 60; k++) {
		shore_scene r;
		start_random(&r, true);
		rig_shore_findings *a = shore_ask(&r);
		const int n = (int)r.coach.n_loads;
		rig_load turned[SHORE_MOST];
		for (int i = 0; i < n; i++)
			turned[i] = r.load[n - 1 - i];
		r.coach.loads = turned;
		rig_shore_findings *b = shore_ask(&r);
		for (int s = S50; s <= S15; s++) {
			const rig_shore_budget *x = shore_on(a, s), *y = shore_on(b, s);
			ck_assert_int_eq(x->verdict, y->verdict);
			ck_assert_int_eq(x->sure, y->sure);
			ck_assert_int_eq(x->limiting, y->limiting);
			ck_assert_int_eq(x->limiting_index, y->limiting_index);
			check_same(x->main.amps_a, y->main.amps_a);
			check_same(x->neutral.amps_a, y->neutral.amps_a);
			check_same(x->headroom_w, y->headroom_w);
			check_same(x->start.hot_a, y->start.hot_a);
			check_same_choice(&x->greedy, &y->greedy, n);
			check_same_choice(&x->best, &y->best, n);
			check_same_choice(&x->by_weight, &y->by_weight, n);
		}
		rig_shore_free(a);
		rig_shore_free(b);
	}
}
END_TEST

START_TEST(sums_by_circuit_equal_sums_by_leg_and_the_whole)
{
	stream = 22;
	for (int k = 0; k < 100; k++) {
		shore_scene r;
		start_random(&r, true);
		for (size_t i = 0; i < r.coach.n_loads; i++)
			if (r.load[i].circuit_index < 0)
				r.load[i].circuit_index = 0;
		rig_shore_findings *findings = shore_ask(&r);
		for (int s = S50; s <= S15; s++) {
			const rig_shore_budget *budget = shore_on(findings, s);
			double circuits_w = 0;
			for (size_t i = 0; i < budget->n_circuits; i++)
				circuits_w += budget->circuits[i].flow.watts_w.likely;
			ck_assert_double_eq_tol(circuits_w, budget->watts_w.likely, 1e-6);
			ck_assert_double_eq_tol(
				budget->leg[0].watts_w.likely + budget->leg[1].watts_w.likely,
				budget->watts_w.likely, 1e-6);
		}
		rig_shore_free(findings);
	}
}
END_TEST

/* With 240 V loads it would not hold: a small supply leaves them dead. */
START_TEST(more_supply_never_fits_less)
{
	stream = 23;
	for (int k = 0; k < 100; k++) {
		shore_scene r;
		start_random(&r, false);
		rig_shore_findings *findings = shore_ask(&r);
		for (int s = S50; s < S15; s++) {
			const rig_shore_budget *more = shore_on(findings, s),
					       *less = shore_on(findings, s + 1);
			/* the doubt about legs is there on two hots only */
			if (more->verdict != RIG_SHORE_DEPENDS)
				ck_assert_int_le(more->verdict, less->verdict);
			ck_assert_uint_le(
				more->best.n_off == 0 ? 0 : 1, less->best.n_off == 0 ? 0 : 1);
			ck_assert_double_ge(more->by_weight.weight, less->by_weight.weight);
		}
		rig_shore_free(findings);
	}
}
END_TEST

/* Every draw within its range by chance: what flows must lie within what was said. */
START_TEST(any_draws_within_their_ranges_give_flows_within_theirs)
{
	stream = 24;
	for (int k = 0; k < 200; k++) {
		shore_scene r;
		start_random(&r, true);
		for (size_t i = 0; i < r.coach.n_loads; i++)
			if (r.load[i].circuit_index < 0)
				r.load[i].circuit_index = 1;
		rig_shore_findings *wide = shore_ask(&r);
		shore_scene drawn = r;
		drawn.coach.circuits = drawn.circuit;
		drawn.coach.loads = drawn.load;
		for (size_t i = 0; i < r.coach.n_loads; i++) {
			const rig_figure w = r.load[i].running_w, pf = r.load[i].power_factor;
			drawn.load[i].running_w = exactly(w.low + (w.high - w.low) * uniform());
			drawn.load[i].power_factor =
				exactly(pf.low + (pf.high - pf.low) * uniform());
		}
		rig_shore_findings *sharp = shore_ask(&drawn);
		for (int s = S50; s <= S30; s++) {
			const rig_shore_budget *w = shore_on(wide, s), *d = shore_on(sharp, s);
			const rig_figure range[] = {w->main.loaded_a, w->neutral.amps_a, w->va,
				w->leg[0].amps_a, w->leg[1].watts_w};
			const double value[] = {d->main.loaded_a.likely, d->neutral.amps_a.likely,
				d->va.likely, d->leg[0].amps_a.likely, d->leg[1].watts_w.likely};
			for (int i = 0; i < COUNT(value); i++) {
				ck_assert_double_ge(value[i], range[i].low - 1e-9);
				ck_assert_double_le(value[i], range[i].high + 1e-9);
			}
		}
		rig_shore_free(wide);
		rig_shore_free(sharp);
	}
}
END_TEST

/* By hand, at power factor 1: a neutral carries the difference of its legs, which is least and most
 * at ends of the two ranges. */
static const struct {
	double one_a[3], two_a[3], neutral_a[3];
} SPAN[] = {
	{{10, 15, 20}, {12, 13, 14}, {0, 2, 8}}, /* the ranges overlap; 20 - 12 */
	{{10, 11, 12}, {14, 17, 20}, {2, 6, 10}},
	{{14, 17, 20}, {10, 11, 12}, {2, 6, 10}},
};

START_TEST(a_neutral_ranges_over_the_differences_of_its_legs)
{
	shore_scene r;
	shore_start(&r, 50);
	const double *leg_a[] = {SPAN[_i].one_a, SPAN[_i].two_a};
	for (int leg = 0; leg < 2; leg++)
		shore_load(&r, shore_circuit(&r, leg == 0 ? RIG_LEG_1 : RIG_LEG_2, 30),
			rig_figure_range(120 * leg_a[leg][0], 120 * leg_a[leg][1],
				120 * leg_a[leg][2], RIG_FROM_ESTIMATED),
			false);
	rig_shore_findings *findings = shore_ask(&r);
	const rig_figure neutral_a = shore_on(findings, S50)->neutral.amps_a;
	ck_assert_double_eq_tol(neutral_a.low, SPAN[_i].neutral_a[0], 1e-9);
	ck_assert_double_eq_tol(neutral_a.likely, SPAN[_i].neutral_a[1], 1e-9);
	ck_assert_double_eq_tol(neutral_a.high, SPAN[_i].neutral_a[2], 1e-9);
	rig_shore_free(findings);
}
END_TEST

/* 144 W behind a fuse by what is known of the volts: the bank's, else the load's, else 12 V. */
static const struct {
	double bank_v, load_v, amps_a;
} DIRECT[] = {{24, 12, 6}, {0, 24, 6}, {48, 24, 3}, {0, 12, 12}, {0, 0, 12}};

START_TEST(a_dc_load_runs_at_the_volts_of_its_bank)
{
	shore_scene r;
	shore_start(&r, 30);
	const int fuse = shore_circuit(&r, RIG_LEG_UNSAID, 15);
	r.circuit[fuse].supply = RIG_DC;
	rig_load *pump = shore_load(&r, fuse, exactly(144), true);
	pump->supply = RIG_DC;
	pump->volts_v = DIRECT[_i].load_v > 0 ? exactly(DIRECT[_i].load_v) : (rig_figure){0};
	r.coach.n_banks = 1;
	pump->bank_index = 0;
	if (DIRECT[_i].bank_v > 0)
		r.bank[0].nominal_v = exactly(DIRECT[_i].bank_v);
	rig_shore_findings *findings = shore_ask(&r);
	const rig_shore_flow *flow = &shore_on(findings, S30)->circuits[0].flow;
	ck_assert_double_eq_tol(flow->watts_w.likely, 144, 1e-9);
	ck_assert_double_eq_tol(flow->amps_a.likely, DIRECT[_i].amps_a, 1e-9);
	/* it runs for hours */
	ck_assert_double_eq_tol(flow->loaded_a.likely, 1.25 * DIRECT[_i].amps_a, 1e-9);
	rig_shore_free(findings);
}
END_TEST

/* Two ovens of 240 V and a lamp on one hot: both ovens are dead, and told as one thing. */
START_TEST(several_of_a_load_of_240_v_are_dead_together)
{
	shore_scene r;
	shore_start(&r, 30);
	shore_amps(&r, -1, 1);
	rig_load *ovens = shore_amps(&r, -1, 5);
	ovens->volts_v = exactly(240);
	ovens->count = 2;
	rig_shore_findings *findings = shore_ask(&r);
	const rig_shore_budget *budget = shore_on(findings, S30);
	ck_assert_uint_eq(budget->n_dead, 1);
	ck_assert_int_eq(budget->dead[0].load, 1);
	ck_assert_int_eq(budget->dead[0].count, 2);
	ck_assert_double_eq_tol(budget->main.amps_a.likely, 1, 1e-9);
	rig_shore_free(findings);
}
END_TEST

Suite *shore_flows_suite(void);
Suite *shore_flows_suite(void)
{
	Suite *suite = suite_create("shore_flows");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_test(all, the_order_of_the_loads_changes_nothing);
	tcase_add_test(all, sums_by_circuit_equal_sums_by_leg_and_the_whole);
	tcase_add_test(all, more_supply_never_fits_less);
	tcase_add_test(all, any_draws_within_their_ranges_give_flows_within_theirs);
	tcase_add_loop_test(all, a_neutral_ranges_over_the_differences_of_its_legs, 0, COUNT(SPAN));
	tcase_add_loop_test(all, a_dc_load_runs_at_the_volts_of_its_bank, 0, COUNT(DIRECT));
	tcase_add_test(all, several_of_a_load_of_240_v_are_dead_together);
	suite_add_tcase(suite, all);
	return suite;
}
