/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold of the flows of any coach on any supply. */
#include <math.h>

#include "altered.h"
#include "flows.h"
#include "laws.h"
#include "suites.h"

static const double DEAL_A = FLOWS_DEAL_A;

/* What two coaches are to have in common on a supply. */
typedef const char *(*comparison)(const rig_shore_budget *one, const rig_shore_budget *two);

static const char *compare(const rig_coach *one, const rig_coach *two, comparison alike)
{
	flows a, b;
	const char *broken = NULL;
	const bool first = flows_of(one, &a), second = flows_of(two, &b);
	if (first != second)
		broken = "one of the two has no budget";
	const bool asked = first && !a.loosely_dealt && !b.loosely_dealt;
	for (size_t i = 0; asked && second && broken == NULL && i < a.n; i++)
		broken = alike(&a.budgets[i], &b.budgets[i]);
	flows_free(&a);
	flows_free(&b);
	return asked || broken != NULL ? broken : NOT_ASKED;
}

/* ---- what draws nothing changes nothing ---- */

static bool same_figure(rig_figure a, rig_figure b)
{
	return a.low == b.low && a.likely == b.likely && a.high == b.high;
}

static bool same_flow(const rig_shore_flow *a, const rig_shore_flow *b)
{
	return same_figure(a->watts_w, b->watts_w) && same_figure(a->va, b->va) &&
	       same_figure(a->amps_a, b->amps_a) && same_figure(a->loaded_a, b->loaded_a) &&
	       a->verdict == b->verdict;
}

static const char *to_the_bit(const rig_shore_budget *a, const rig_shore_budget *b)
{
	if (!same_flow(&a->main, &b->main) || !same_flow(&a->leg[0], &b->leg[0]) ||
		!same_flow(&a->leg[1], &b->leg[1]) || !same_flow(&a->neutral, &b->neutral))
		return "what draws nothing changes a flow";
	if (!same_figure(a->watts_w, b->watts_w) || !same_figure(a->va, b->va) ||
		!same_figure(a->headroom_a, b->headroom_a) || a->verdict != b->verdict)
		return "what draws nothing changes a sum or a verdict";
	for (size_t i = 0; i < a->n_circuits; i++)
		if (!same_flow(&a->circuits[i].flow, &b->circuits[i].flow))
			return "what draws nothing changes a circuit";
	return NULL;
}

static const char *nothing_changes_nothing(const subject *it)
{
	altered other;
	altered_of(&other, it->coach);
	if (it->coach->n_loads == 0)
		return NOT_ASKED;
	rig_load *twin = altered_twin(&other, it->number % it->coach->n_loads);
	twin->running_w = twin->running_a = rig_figure_of(0, RIG_FROM_STATED);
	twin->start_a = (rig_figure){0};
	(void)altered_circuit(&other, it->number % 2 == 0 ? RIG_LEG_1 : RIG_LEG_UNSAID);
	return compare(it->coach, &other.coach, to_the_bit);
}

/* ---- a load in two halves ---- */

static bool flows_close(const rig_shore_flow *a, const rig_shore_flow *b)
{
	return law_figures_close(a->watts_w, b->watts_w) && law_figures_close(a->va, b->va) &&
	       law_figures_close(a->amps_a, b->amps_a) &&
	       law_figures_close(a->loaded_a, b->loaded_a);
}

/* Halves of unknown leg can be dealt more evenly than the whole. */
static const char *as_one(const rig_shore_budget *a, const rig_shore_budget *b)
{
	if (!law_figures_close(a->watts_w, b->watts_w) || !law_figures_close(a->va, b->va))
		return "two halves draw another sum than the whole";
	if (a->unplaced)
		return b->main.loaded_a.likely <= a->main.loaded_a.likely + DEAL_A
			       ? NULL
			       : "halves of unknown leg load a hot more than the whole";
	return flows_close(&a->main, &b->main) && flows_close(&a->neutral, &b->neutral)
		       ? NULL
		       : "two halves load a hot or the neutral otherwise than the whole";
}

static const char *halves_are_the_whole(const subject *it)
{
	altered other;
	altered_of(&other, it->coach);
	if (it->coach->n_loads == 0)
		return NOT_ASKED;
	rig_load *one = &other.loads[it->number % it->coach->n_loads];
	one->running_w = scaled(one->running_w, 0.5);
	(void)altered_twin(&other, it->number % it->coach->n_loads);
	return compare(it->coach, &other.coach, as_one);
}

/* ---- more draw ---- */

static const char *no_less(const rig_shore_budget *a, const rig_shore_budget *b)
{
	if (!law_at_least(b->watts_w.likely, a->watts_w.likely) ||
		!law_at_least(b->va.likely, a->va.likely))
		return "more draw makes a smaller sum";
	const double loose_a = a->unplaced ? DEAL_A : 0;
	if (!law_at_least(b->main.loaded_a.likely + loose_a, a->main.loaded_a.likely) ||
		!law_at_least(b->main.loaded_a.high, a->main.loaded_a.high))
		return "more draw loads the fuller hot less";
	if (!law_at_least(a->headroom_a.likely + loose_a, b->headroom_a.likely))
		return "more draw leaves more headroom";
	if (b->verdict < a->verdict && !a->unplaced)
		return "more draw makes the verdict lighter";
	return b->n_circuits_over < a->n_circuits_over ? "more draw clears a circuit" : NULL;
}

static const char *more_draw_never_loads_less(const subject *it)
{
	altered other;
	altered_of(&other, it->coach);
	if (it->coach->n_loads == 0)
		return NOT_ASKED;
	rig_load *one = &other.loads[it->number % it->coach->n_loads];
	if (one->supply == RIG_DC || one->running_w.likely <= 0)
		return NOT_ASKED;
	one->running_w = scaled(one->running_w, 1.25);
	return compare(it->coach, &other.coach, no_less);
}

/* ---- everything twice as large: to the last bit, since 2 is a power of 2 ---- */

static bool twice(rig_figure a, rig_figure b)
{
	return same_figure(scaled(a, 2), b);
}

static bool flow_twice(const rig_shore_flow *a, const rig_shore_flow *b)
{
	return twice(a->watts_w, b->watts_w) && twice(a->va, b->va) &&
	       twice(a->amps_a, b->amps_a) && twice(a->loaded_a, b->loaded_a);
}

static const char *all_twice(const rig_shore_budget *a, const rig_shore_budget *b)
{
	if (a->unplaced)
		return fabs(2 * a->main.loaded_a.likely - b->main.loaded_a.likely) <= 2 * DEAL_A &&
				       twice(a->watts_w, b->watts_w) && twice(a->va, b->va)
			       ? NULL
			       : "twice the draws of unknown leg are not twice the flows";
	if (!flow_twice(&a->main, &b->main) || !flow_twice(&a->leg[0], &b->leg[0]) ||
		!flow_twice(&a->leg[1], &b->leg[1]) || !flow_twice(&a->neutral, &b->neutral))
		return "twice the draws are not twice the flows";
	for (size_t i = 0; i < a->n_circuits; i++)
		if (!flow_twice(&a->circuits[i].flow, &b->circuits[i].flow) ||
			a->circuits[i].flow.verdict != b->circuits[i].flow.verdict)
			return "twice the draws on twice the breaker are judged otherwise";
	return NULL;
}

static const char *twice_is_twice(const subject *it)
{
	altered other;
	altered_of(&other, it->coach);
	altered_scale(&other, 2);
	return compare(it->coach, &other.coach, all_twice);
}

/* ---- the legs change places ---- */

static const char *mirrored(const rig_shore_budget *a, const rig_shore_budget *b)
{
	if (a->unplaced)
		return fabs(a->main.loaded_a.likely - b->main.loaded_a.likely) <= DEAL_A
			       ? NULL
			       : "the fuller leg hangs on which of them is called the first";
	if (!same_flow(&a->leg[0], &b->leg[1]) || !same_flow(&a->leg[1], &b->leg[0]))
		return "the legs change places and their flows do not";
	return same_flow(&a->neutral, &b->neutral) && a->verdict == b->verdict
		       ? NULL
		       : "the legs change places and the neutral or the verdict with them";
}

static const char *legs_mirror(const subject *it)
{
	altered other;
	altered_of(&other, it->coach);
	altered_swap_legs(&other);
	for (size_t i = 0; i < other.coach.n_circuits; i++)
		if (other.circuits[i].leg != it->coach->circuits[i].leg)
			return compare(it->coach, &other.coach, mirrored);
	return NOT_ASKED;
}

/* ---- sums by circuit are sums by leg ---- */

/* Watts by leg, added up from the circuits and from the loads on none. */
static void add_watts(const rig_coach *coach, const rig_shore_budget *budget, double leg_w[2])
{
	for (size_t i = 0; i < budget->n_circuits; i++) {
		const rig_circuit *circuit = &coach->circuits[budget->circuits[i].circuit];
		const double watts_w = budget->circuits[i].flow.watts_w.likely;
		if (circuit->supply == RIG_DC)
			continue;
		const bool both = circuit->leg == RIG_LEG_BOTH;
		leg_w[0] += circuit->leg == RIG_LEG_2 ? 0 : both ? watts_w / 2 : watts_w;
		leg_w[1] += circuit->leg == RIG_LEG_2 ? watts_w : both ? watts_w / 2 : 0;
	}
}

static bool all_on_circuits(const rig_coach *coach)
{
	for (size_t i = 0; i < coach->n_loads; i++) {
		const rig_load *load = &coach->loads[i];
		if (load->supply != RIG_DC && load->circuit_index < 0)
			return false;
	}
	return !coach->charger.present || coach->charger.circuit_index >= 0;
}

static const char *circuits_sum_to_legs(const subject *it)
{
	altered other;
	altered_of(&other, it->coach);
	const int circuit = altered_circuit(&other, RIG_LEG_1);
	for (size_t i = 0; i < other.coach.n_loads; i++)
		if (other.loads[i].supply != RIG_DC && other.loads[i].circuit_index < 0)
			other.loads[i].circuit_index = circuit;
	if (other.coach.charger.circuit_index < 0)
		other.coach.charger.circuit_index = circuit;
	flows made;
	const char *broken = all_on_circuits(&other.coach) ? NULL : "not all are on a circuit";
	const bool known = flows_of(&other.coach, &made);
	for (size_t i = 0; known && broken == NULL && i < made.n; i++) {
		const rig_shore_budget *budget = &made.budgets[i];
		double leg_w[2] = {0, 0};
		add_watts(&other.coach, budget, leg_w);
		if (!law_close(leg_w[0] + leg_w[1], budget->watts_w.likely))
			broken = "the circuits' watts are not the whole's";
		if (made.supplies[i].n_hots == 2 && !budget->unplaced &&
			(!law_close(leg_w[0], budget->leg[0].watts_w.likely) ||
				!law_close(leg_w[1], budget->leg[1].watts_w.likely)))
			broken = "a leg's circuits do not add up to the leg";
	}
	flows_free(&made);
	return known ? broken : NOT_ASKED;
}

/* ---- the amps said to be left are left ---- */

/* All in phase, so that amps are plain sums. */
static void put_in_phase(altered *it)
{
	for (size_t i = 0; i < it->coach.n_loads; i++)
		it->loads[i].power_factor = rig_figure_of(1, RIG_FROM_STATED);
	it->coach.charger.power_factor = rig_figure_of(1, RIG_FROM_STATED);
}

/* The verdict of the fuller hot with so many more amps on it. */
static int verdict_with(altered *it, size_t supply, int leg, double amps_a)
{
	const size_t n_loads = it->coach.n_loads, n_circuits = it->coach.n_circuits;
	rig_load *load = &it->loads[it->coach.n_loads++];
	rig_load_clear(load);
	load->id = "more";
	load->supply = RIG_AC;
	load->circuit_index = altered_circuit(it, leg == 0 ? RIG_LEG_1 : RIG_LEG_2);
	load->volts_v = rig_figure_of(120, RIG_FROM_STATED);
	load->running_w = rig_figure_of(120 * amps_a, RIG_FROM_STATED);
	flows made;
	const int verdict =
		flows_of(&it->coach, &made) ? (int)made.budgets[supply].main.verdict : -1;
	flows_free(&made);
	it->coach.n_loads = n_loads;
	it->coach.n_circuits = n_circuits;
	return verdict;
}

static const char *headroom_is_what_is_left(const subject *it)
{
	altered other;
	altered_of(&other, it->coach);
	put_in_phase(&other);
	flows made;
	const bool known = flows_of(&other.coach, &made);
	const char *broken = NOT_ASKED;
	for (size_t i = 0; known && i < made.n; i++) {
		const rig_shore_budget *budget = &made.budgets[i];
		const double left_a = budget->headroom_a.likely;
		if (left_a <= 0.01 || budget->unplaced || budget->main.limit_a <= 0)
			continue;
		const int leg =
			budget->leg[1].loaded_a.likely > budget->leg[0].loaded_a.likely ? 1 : 0;
		broken = NULL;
		if (verdict_with(&other, i, leg, left_a * 0.999) > RIG_SHORE_DEPENDS)
			broken = "the amps said to be left are not left";
		else if (verdict_with(&other, i, leg, left_a * 1.001) <= RIG_SHORE_DEPENDS)
			broken = "more amps are left than said";
		break;
	}
	flows_free(&made);
	return broken;
}

/* ---- nothing at all ---- */

static const char *an_empty_coach_draws_nothing(const subject *it)
{
	altered other;
	flows made;
	altered_of(&other, it->coach);
	other.coach.n_loads = 0;
	const bool known = flows_with(&other.coach, false, &made);
	const char *broken = NULL;
	for (size_t i = 0; known && i < made.n; i++) {
		const rig_shore_budget *budget = &made.budgets[i];
		if (budget->watts_w.high != 0 || budget->va.high != 0 ||
			budget->main.amps_a.high != 0 || budget->neutral.amps_a.high != 0)
			broken = "something flows in a coach with nothing on";
		if (budget->verdict != RIG_SHORE_FITS || !budget->carried)
			broken = "a supply does not carry nothing";
	}
	flows_free(&made);
	return known ? broken : "a coach with nothing on has no budget";
}

static const law_row FLOWS[] = {
	{"what draws nothing changes nothing", nothing_changes_nothing, 600},
	{"two halves are the whole", halves_are_the_whole, 600},
	{"more draw never loads less", more_draw_never_loads_less, 200},
	{"twice is twice", twice_is_twice, 600},
	{"legs mirror", legs_mirror, 200},
	{"circuits sum to legs", circuits_sum_to_legs, 600},
	{"an empty coach draws nothing", an_empty_coach_draws_nothing, 1000},
	{"headroom is what is left", headroom_is_what_is_left, 60},
};

START_TEST(flows_of_any_coach_obey)
{
	laws_hold(FLOWS, COUNT(FLOWS), _i);
}
END_TEST

Suite *flow_laws_suite(void);
Suite *flow_laws_suite(void)
{
	Suite *suite = suite_create("flow_laws");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 600);
	tcase_add_loop_test(all, flows_of_any_coach_obey, 0, N_LAW_PARTS);
	suite_add_tcase(suite, all);
	return suite;
}
