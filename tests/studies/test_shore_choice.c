/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The chosen sets of random coaches against the optimum of a mixed-integer solver [GLPK]. All loads
 * have power factor 1, since the solver knows straight lines only. */
#include <glpk.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "exactly.h"
#include "outside.h"
#include "rigbudget/shore.h"
#include "suites.h"

enum { MOST_LOADS = 24, MOST_CIRCUITS = 8, N_COACHES_A_SEED = 250, N_GROUPS = 5 };
static const int PRIORITY[N_GROUPS] = {1, 3, 5, 7, 9};

/* SplitMix64, only to make cases. */
static uint64_t stream;

static int pick(int n)
{
	stream += 0x9E3779B97F4A7C15u;
	uint64_t z = stream;
	z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
	z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
	return (int)((z ^ (z >> 31)) % (unsigned)n);
}

typedef struct {
	rig_coach coach;
	rig_circuit circuit[MOST_CIRCUITS];
	rig_load load[MOST_LOADS];
	char id[MOST_LOADS][24];
} trial;

/* Circuits on either leg, on an unknown one, and the last over both for loads of 240 V; some loads
 * on no circuit that anybody knows. */
static void make(trial *t)
{
	static const rig_leg LEG[] = {RIG_LEG_1, RIG_LEG_2, RIG_LEG_UNSAID};
	*t = (trial){.coach = {.cord_a = pick(3) ? 50 : 30}};
	rig_coach *coach = &t->coach;
	coach->circuits = t->circuit;
	coach->loads = t->load;
	coach->charger.circuit_index = coach->charger.bank_index = -1;
	coach->n_circuits = MOST_CIRCUITS;
	coach->n_loads = 6 + (size_t)pick(MOST_LOADS - 5);
	for (int i = 0; i < MOST_CIRCUITS; i++)
		t->circuit[i] = (rig_circuit){.supply = RIG_AC,
			.leg = i == MOST_CIRCUITS - 1 ? RIG_LEG_BOTH : LEG[pick(3)],
			.breaker_a = exactly(pick(2) ? 15 : 20),
			.bank_index = -1};
	for (size_t i = 0; i < coach->n_loads; i++) {
		const bool two_hots = coach->cord_a == 50 && pick(10) == 0;
		const int circuit = two_hots ? MOST_CIRCUITS - 1 : pick(MOST_CIRCUITS) - 1;
		snprintf(t->id[i], sizeof t->id[i], "l%02zu", i);
		t->load[i] = (rig_load){.id = t->id[i],
			.count = 1,
			.supply = RIG_AC,
			.behaviour = RIG_RESISTIVE,
			.volts_v = exactly(two_hots ? 240 : 120),
			.running_w = exactly(100 + 50 * pick(34)),
			.power_factor = exactly(1),
			.priority = PRIORITY[pick(N_GROUPS)],
			.continuous = pick(3) ? RIG_NO : RIG_YES,
			.circuit_index = circuit,
			.bank_index = -1};
	}
}

/* One supply's model: two columns a load (on leg 1 or across both; on leg 2) and one a circuit (its
 * unknown leg is 1). */
typedef struct {
	const trial *t;
	const rig_shore_supply *supply;
	glp_prob *lp;
	int n;
} model;

static bool is_across(const model *m, int i)
{
	return m->t->load[i].volts_v.likely > 180;
}

static bool is_dead(const model *m, int i)
{
	return is_across(m, i) && m->supply->n_hots < 2;
}

static double factor(const model *m, int i)
{
	return m->t->load[i].continuous == RIG_YES ? 1.25 : 1.0;
}

/* Watts on one hot. */
static double hot_w(const model *m, int i)
{
	return m->t->load[i].running_w.likely / (is_across(m, i) ? 2 : 1);
}

static int on_one(int i)
{
	return 2 * i + 1;
}

static int on_two(int i)
{
	return 2 * i + 2;
}

static int leg_of_circuit(const model *m, int circuit)
{
	return 2 * m->n + circuit + 1;
}

/* One row: sum of up to all columns within bounds. */
typedef struct {
	int n;
	int column[2 * MOST_LOADS + MOST_CIRCUITS + 1];
	double value[2 * MOST_LOADS + MOST_CIRCUITS + 1];
} row;

static void add(row *to, int column, double value)
{
	to->n++;
	to->column[to->n] = column;
	to->value[to->n] = value;
}

static void put(const model *m, const row *of, int type, double low, double high)
{
	if (of->n == 0)
		return;
	const int at = glp_add_rows(m->lp, 1);
	glp_set_row_bnds(m->lp, at, type, low, high);
	glp_set_mat_row(m->lp, at, of->n, of->column, of->value);
}

static void put_hots(const model *m)
{
	row one = {0}, two = {0}, neutral = {0};
	const double limit_w = m->supply->limit_a * 120;
	for (int i = 0; i < m->n; i++) {
		const double loaded_w = hot_w(m, i) * factor(m, i);
		add(&one, on_one(i), loaded_w);
		add(&two, on_two(i), loaded_w);
		if (is_across(m, i)) {
			add(&two, on_one(i), loaded_w);
			continue;
		}
		add(&neutral, on_one(i), hot_w(m, i));
		add(&neutral, on_two(i), -hot_w(m, i));
	}
	put(m, &one, GLP_UP, 0, limit_w);
	put(m, &two, GLP_UP, 0, limit_w);
	put(m, &neutral, GLP_DB, -limit_w, limit_w);
}

static void put_circuits(const model *m)
{
	for (int c = 0; c < MOST_CIRCUITS; c++) {
		row sum = {0};
		for (int i = 0; i < m->n; i++) {
			if (m->t->load[i].circuit_index != c)
				continue;
			add(&sum, on_one(i), hot_w(m, i) * factor(m, i));
			add(&sum, on_two(i), hot_w(m, i) * factor(m, i));
		}
		put(m, &sum, GLP_UP, 0, m->t->circuit[c].breaker_a.likely * 120);
	}
}

static void fix_off(const model *m, int column)
{
	glp_set_col_bnds(m->lp, column, GLP_FX, 0, 0);
}

/* Where a load may be: on one leg at a time, on its circuit's. */
static void put_places(const model *m)
{
	for (int i = 0; i < m->n; i++) {
		const int circuit = m->t->load[i].circuit_index;
		const rig_leg leg = circuit < 0 ? RIG_LEG_UNSAID : m->t->circuit[circuit].leg;
		const bool split = m->supply->n_hots == 2;
		row once = {0};
		add(&once, on_one(i), 1);
		add(&once, on_two(i), 1);
		put(m, &once, GLP_UP, 0, 1);
		if (is_dead(m, i) || (split && !is_across(m, i) && leg == RIG_LEG_2))
			fix_off(m, on_one(i));
		if (!split || is_across(m, i) || leg == RIG_LEG_1)
			fix_off(m, on_two(i));
		if (!split || is_across(m, i) || circuit < 0 || leg != RIG_LEG_UNSAID)
			continue;
		row one = {0}, two = {0};
		add(&one, on_one(i), 1);
		add(&one, leg_of_circuit(m, circuit), -1);
		put(m, &one, GLP_UP, 0, 0);
		add(&two, on_two(i), 1);
		add(&two, leg_of_circuit(m, circuit), 1);
		put(m, &two, GLP_UP, 0, 1);
	}
}

static model build(const trial *t, const rig_shore_supply *supply)
{
	model m = {.t = t, .supply = supply, .lp = glp_create_prob(), .n = (int)t->coach.n_loads};
	glp_add_cols(m.lp, 2 * m.n + MOST_CIRCUITS);
	for (int i = 1; i <= 2 * m.n + MOST_CIRCUITS; i++)
		glp_set_col_kind(m.lp, i, GLP_BV);
	put_hots(&m);
	put_circuits(&m);
	put_places(&m);
	return m;
}

static void aim(const model *m, int direction, const double of[])
{
	glp_set_obj_dir(m->lp, direction);
	for (int i = 0; i < m->n; i++) {
		glp_set_obj_coef(m->lp, on_one(i), of[i]);
		glp_set_obj_coef(m->lp, on_two(i), of[i]);
	}
}

static double solve(const model *m)
{
	glp_iocp options;
	glp_init_iocp(&options);
	options.msg_lev = GLP_MSG_OFF;
	/* without its presolver, which stops the process where it solves a problem whole */
	glp_smcp simplex;
	glp_init_smcp(&simplex);
	simplex.msg_lev = GLP_MSG_OFF;
	ck_assert_int_eq(glp_simplex(m->lp, &simplex), 0);
	ck_assert_int_eq(glp_intopt(m->lp, &options), 0);
	ck_assert_int_eq(glp_mip_status(m->lp), GLP_OPT);
	return glp_mip_obj_val(m->lp);
}

/* As many of each priority as can be beside those before: exactly that many from then on. */
static int most_of(const model *m, int priority)
{
	double of[MOST_LOADS] = {0};
	row those = {0};
	for (int i = 0; i < m->n; i++)
		if (m->t->load[i].priority == priority) {
			of[i] = 1;
			add(&those, on_one(i), 1);
			add(&those, on_two(i), 1);
		}
	aim(m, GLP_MAX, of);
	const double most = round(solve(m));
	put(m, &those, GLP_FX, most, most);
	return (int)most;
}

static int kept_of(const trial *t, const rig_shore_choice *choice, int priority)
{
	int n = 0;
	for (size_t i = 0; i < choice->n_kept; i++)
		n += t->load[choice->kept[i].load].priority == priority;
	return n;
}

static double loaded_w(const model *m, const rig_shore_choice *choice)
{
	double sum_w = 0;
	for (size_t i = 0; i < choice->n_kept; i++) {
		const int load = choice->kept[i].load;
		sum_w += m->t->load[load].running_w.likely * factor(m, load);
	}
	return sum_w;
}

static void check_weight(
	const trial *t, const rig_shore_supply *supply, const rig_shore_budget *budget)
{
	double of[MOST_LOADS] = {0};
	const model m = build(t, supply);
	for (int i = 0; i < m.n; i++)
		of[i] = 10 - t->load[i].priority;
	aim(&m, GLP_MAX, of);
	ck_assert_double_eq_tol(budget->by_weight.weight, solve(&m), 1e-6);
	ck_assert(budget->by_weight.proved);
	glp_delete_prob(m.lp);
}

/* Counts by priority, and of equals the least loaded watts. A load that must run is fixed first. */
static void check_priority(
	const trial *t, const rig_shore_supply *supply, const rig_shore_choice *choice, int wanted)
{
	double of[MOST_LOADS] = {0};
	const model m = build(t, supply);
	row must = {0};
	if (wanted >= 0) {
		add(&must, on_one(wanted), 1);
		add(&must, on_two(wanted), 1);
		put(&m, &must, GLP_FX, 1, 1);
	}
	for (int i = 0; i < N_GROUPS; i++)
		ck_assert_int_eq(kept_of(t, choice, PRIORITY[i]), most_of(&m, PRIORITY[i]));
	for (int i = 0; i < m.n; i++)
		of[i] = t->load[i].running_w.likely * factor(&m, i);
	aim(&m, GLP_MIN, of);
	ck_assert_double_eq_tol(loaded_w(&m, choice), solve(&m), 1e-6);
	ck_assert(choice->proved);
	glp_delete_prob(m.lp);
}

static const rig_shore_set *everything(const rig_shore_findings *findings)
{
	for (size_t i = 0; i < findings->n_sets; i++)
		if (findings->sets[i].kind == RIG_SHORE_SET_EVERYTHING)
			return &findings->sets[i];
	ck_abort_msg("there is no set of everything");
	return NULL;
}

static const outside_series OPTIMUM = {"supplies; breakers; conductors",
	"random coaches whose chosen sets were held against a solver's optimum, all of them equal",
	"[GLPK] glp_intopt", "exact: by weight, by count of each priority, by watts"};

START_TEST(chosen_sets_equal_the_optimum_of_a_solver)
{
	int n_ways = 0, n_cut = 0, n_done = 0;
	glp_term_out(GLP_OFF);
	printf("shore_choice: seed %d\n", _i);
	stream = (uint64_t)_i;
	for (int i = 0; i < N_COACHES_A_SEED; i++) {
		trial t;
		rig_shore_findings *findings = NULL;
		make(&t);
		ck_assert_int_eq(rig_shore_study(&t.coach, NULL, &findings), RIG_OK);
		/* one supply a coach, in turn */
		const size_t at = (size_t)i % findings->n_supplies;
		const rig_shore_supply *supply = &findings->supplies[at];
		const rig_shore_budget *budget = &everything(findings)->budgets[at];
		check_weight(&t, supply, budget);
		check_priority(&t, supply, &budget->best, -1);
		n_cut += budget->best.n_off > 0;
		n_done++;
		if (budget->n_ways > 0 && budget->ways[0].possible) {
			const rig_shore_way *way = &budget->ways[0];
			check_priority(&t, supply, &way->choice, way->wanted.load);
			n_ways++;
		}
		rig_shore_free(findings);
	}
	OUTSIDE(&OPTIMUM, n_done, N_COACHES_A_SEED, 0, "seed %d", _i);
	ck_assert_int_gt(n_cut, 100);
	ck_assert_int_gt(n_ways, 100);
	glp_free_env();
}
END_TEST

/* By hand, 30 A: heater 1,500 W, kettle 1,200 W, microwave 1,100 W, lamp 200 W of priorities 1
 * to 4. All are 4,000 W; heater, kettle and lamp 2,900, with the microwave 3,800: off goes the
 * microwave. To run it all the same, nothing of less than 400 W will do: the kettle goes, the lamp
 * stays. */
START_TEST(a_way_names_what_goes_off)
{
	static const double WATTS_W[] = {1500, 1200, 1100, 200};
	trial t;
	make(&t);
	t.coach.cord_a = 30;
	t.coach.n_loads = 4;
	for (int i = 0; i < 4; i++) {
		t.load[i].volts_v = exactly(120);
		t.load[i].running_w = exactly(WATTS_W[i]);
		t.load[i].priority = i + 1;
		t.load[i].continuous = RIG_NO;
		t.load[i].circuit_index = -1;
	}
	rig_shore_findings *findings = NULL;
	ck_assert_int_eq(rig_shore_study(&t.coach, NULL, &findings), RIG_OK);
	const rig_shore_budget *on30 = &everything(findings)->budgets[1];
	ck_assert_int_eq(on30->best.off[0].load, 2);
	ck_assert_uint_eq(on30->best.n_off, 1);
	ck_assert_uint_eq(on30->n_ways, 1);
	ck_assert(on30->ways[0].possible);
	ck_assert_int_eq(on30->ways[0].wanted.load, 2);
	ck_assert_int_eq(on30->ways[0].wanted.count, 1);
	ck_assert_uint_eq(on30->ways[0].n_gives_way, 1);
	ck_assert_int_eq(on30->ways[0].gives_way[0].count, 1);
	ck_assert_int_eq(on30->ways[0].gives_way[0].load, 1);
	ck_assert_uint_eq(on30->ways[0].choice.n_kept, 3);
	/* next best: without the kettle, then without the heater */
	ck_assert_uint_eq(on30->n_next, 2);
	ck_assert_int_eq(on30->next[0].off[0].load, 1);
	ck_assert_int_eq(on30->next[1].off[0].load, 0);
	/* a 50 A receptacle gives a 30 A cord no more */
	ck_assert_uint_eq(everything(findings)->budgets[0].n_ways, on30->n_ways);
	rig_shore_free(findings);
}
END_TEST

/* 40 A of one load never runs on 30 A. */
START_TEST(a_load_too_large_for_the_supply_has_no_way)
{
	trial t;
	make(&t);
	t.coach.cord_a = 30;
	t.coach.n_loads = 2;
	for (int i = 0; i < 2; i++) {
		t.load[i].volts_v = exactly(120);
		t.load[i].running_w = exactly(i ? 300 : 4800);
		t.load[i].circuit_index = -1;
	}
	rig_shore_findings *findings = NULL;
	ck_assert_int_eq(rig_shore_study(&t.coach, NULL, &findings), RIG_OK);
	const rig_shore_budget *on30 = &everything(findings)->budgets[1];
	ck_assert_uint_eq(on30->n_ways, 1);
	ck_assert(!on30->ways[0].possible);
	ck_assert_uint_eq(on30->ways[0].n_gives_way, 0);
	rig_shore_free(findings);
}
END_TEST

/* Sixty-eight amps, with a soft starter 0.3 to 0.5 of them. */
START_TEST(a_soft_starter_lowers_the_start)
{
	trial t;
	make(&t);
	t.coach.cord_a = 30;
	t.coach.n_loads = 1;
	t.load[0].volts_v = exactly(120);
	t.load[0].start_a = exactly(68);
	for (int soft = 0; soft < 2; soft++) {
		rig_shore_findings *findings = NULL;
		t.load[0].soft_starter = soft ? RIG_YES : RIG_NO;
		ck_assert_int_eq(rig_shore_study(&t.coach, NULL, &findings), RIG_OK);
		const rig_figure start_a = everything(findings)->budgets[1].start.start_a;
		ck_assert_double_eq_tol(start_a.low, soft ? 20.4 : 68, 1e-9);
		ck_assert_double_eq_tol(start_a.high, soft ? 34 : 68, 1e-9);
		rig_shore_free(findings);
	}
}
END_TEST

Suite *shore_choice_suite(void);
Suite *shore_choice_suite(void)
{
	Suite *suite = suite_create("shore_choice");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 300);
	tcase_add_loop_test(all, chosen_sets_equal_the_optimum_of_a_solver, 0, 2);
	tcase_add_test(all, a_way_names_what_goes_off);
	tcase_add_test(all, a_load_too_large_for_the_supply_has_no_way);
	tcase_add_test(all, a_soft_starter_lowers_the_start);
	suite_add_tcase(suite, all);
	return suite;
}
