/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold of what any coach is told to keep on and to turn off. */
#include <math.h>

#include "altered.h"
#include "flows.h"
#include "laws.h"
#include "suites.h"

/* ---- sums ---- */

static bool within(double value, double low, double high)
{
	const double slack = 1e-9 * (1 + fabs(value) + fabs(low) + fabs(high));
	return value >= low - slack && value <= high + slack;
}

/* Amps are lengths of phasors: a sum is no longer than its parts together, nor shorter than what
 * the longer has over the other. Watts just add up. */
static const char *sums_of(
	const rig_coach *coach, const rig_shore_budget *budget, const rig_shore_supply *supply)
{
	const rig_shore_flow *leg = budget->leg;
	const double a = leg[0].amps_a.likely, b = leg[1].amps_a.likely;
	const double neutral = budget->neutral.amps_a.likely;
	const bool placed = supply->n_hots == 2 && !budget->unplaced;
	if (placed &&
		!law_close(leg[0].watts_w.likely + leg[1].watts_w.likely, budget->watts_w.likely))
		return "the legs' watts are not the whole's";
	if (placed && !within(neutral, fabs(a - b), a + b))
		return "the neutral's amps are no sum or difference of the legs'";
	if (supply->n_hots == 1 && !law_close(neutral, budget->main.amps_a.likely))
		return "on one hot the neutral does not carry what the hot carries";
	if (placed && !law_close(budget->main.amps_a.likely, fmax(a, b)))
		return "the main flow is not the fuller leg";
	if (!within(budget->va.likely, budget->watts_w.likely, HUGE_VAL))
		return "fewer volt-amperes than watts";
	double circuits_w = 0;
	for (size_t i = 0; i < budget->n_circuits; i++)
		if (coach->circuits[budget->circuits[i].circuit].supply == RIG_AC)
			circuits_w += budget->circuits[i].flow.watts_w.likely;
	return circuits_w <= budget->watts_w.likely * (1 + 1e-9) + 1e-9
		       ? NULL
		       : "the circuits carry more than the whole";
}

/* What is kept and what goes off is the set; what is kept fits where it is said to. */
static const char *choice_of(const rig_shore_budget *budget, const rig_shore_set *set)
{
	const rig_shore_choice *best = &budget->best;
	if (best->n_kept + best->n_off > 2 * set->n_items)
		return "more is kept and turned off than there is";
	if (budget->carried && best->n_off > 0)
		return "a set that is carried has something turned off";
	if (best->proved && best->most_loaded.limit_a > 0 &&
		best->most_loaded.loaded_a.likely > best->most_loaded.limit_a * (1 + 1e-9))
		return "what is kept does not fit";
	return budget->by_weight.proved &&
			       budget->by_weight.weight < best->weight - 1e-9 - 1e-9 * best->weight
		       ? "the heaviest choice weighs less than another"
		       : NULL;
}

static const char *sums_hold(const subject *it)
{
	const rig_shore_findings *findings = law_shore(it);
	const char *broken = NULL;
	for (size_t s = 0; findings != NULL && broken == NULL && s < findings->n_sets; s++) {
		const rig_shore_set *set = &findings->sets[s];
		for (size_t i = 0; broken == NULL && i < findings->n_supplies; i++) {
			broken = sums_of(findings->coach, &set->budgets[i], &findings->supplies[i]);
			broken = broken != NULL ? broken : choice_of(&set->budgets[i], set);
		}
	}
	return findings != NULL ? broken : NOT_ASKED;
}

/* ---- what is kept on fits, and what is off does not ---- */

/* A coach of the items that are kept, and perhaps one more of one that is off. */
static void keep_only(altered *it, const rig_shore_choice *choice, bool *charger)
{
	size_t n = 0;
	*charger = false;
	for (size_t i = 0; i < choice->n_kept; i++) {
		const rig_shore_item *item = &choice->kept[i];
		if (item->load == RIG_SHORE_CHARGER) {
			*charger = true;
			continue;
		}
		it->loads[n] = it->coach.loads[item->load];
		it->loads[n++].count = item->count;
	}
	it->coach.n_loads = n;
	it->coach.loads = it->loads;
}

static const char *choice_fits(
	const rig_shore_findings *findings, const rig_shore_choice *choice, size_t supply)
{
	altered kept;
	altered_of(&kept, findings->coach);
	kept.coach.loads = findings->coach->loads;
	bool charger;
	keep_only(&kept, choice, &charger);
	flows made;
	const bool known = flows_with(&kept.coach, charger, &made);
	const rig_shore_budget *budget = &made.budgets[supply];
	const char *broken = NULL;
	if (!known || budget->n_dead > 0)
		broken = "what is kept on has something dead in it";
	else if (budget->verdict > RIG_SHORE_DEPENDS)
		broken = "what is kept on does not fit";
	else if (!law_close(budget->watts_w.likely, choice->watts_w.likely))
		broken = "what is kept on draws other watts than said";
	flows_free(&made);
	return broken;
}

/* One more of the first that is off; lumps of many go together and are left alone. */
static const char *nothing_more_fits(
	const rig_shore_findings *findings, const rig_shore_choice *best, size_t supply)
{
	enum { LUMP = 8 };
	const rig_shore_item *more = &best->off[best->n_off - 1];
	if (!best->proved || (more->load >= 0 && findings->coach->loads[more->load].count > LUMP))
		return NULL;
	altered kept;
	altered_of(&kept, findings->coach);
	kept.coach.loads = findings->coach->loads;
	bool charger;
	keep_only(&kept, best, &charger);
	if (more->load >= 0) {
		kept.loads[kept.coach.n_loads] = findings->coach->loads[more->load];
		kept.loads[kept.coach.n_loads++].count = 1;
	}
	flows made;
	const bool known =
		flows_with(&kept.coach, charger || more->load == RIG_SHORE_CHARGER, &made);
	const bool fits = known && made.budgets[supply].verdict <= RIG_SHORE_DEPENDS;
	flows_free(&made);
	return fits ? "something is off that could run beside what is kept on" : NULL;
}

static const char *set_is_cut_right(
	const rig_shore_findings *findings, const rig_shore_set *set, size_t supply)
{
	const rig_shore_budget *budget = &set->budgets[supply];
	const rig_shore_choice *choices[] = {
		&budget->best, &budget->greedy, &budget->by_weight, budget->next};
	const char *broken = NULL;
	for (size_t i = 0; i < 3 + (budget->n_next > 0) && broken == NULL; i++)
		broken = choice_fits(findings, choices[i], supply);
	for (size_t i = 0; i < budget->n_ways && broken == NULL; i++)
		if (budget->ways[i].possible)
			broken = choice_fits(findings, &budget->ways[i].choice, supply);
	if (broken == NULL && budget->best.n_off > 0)
		broken = nothing_more_fits(findings, &budget->best, supply);
	return broken;
}

static const char *what_is_kept_fits(const subject *it)
{
	const rig_shore_findings *findings = law_shore(it);
	const char *broken = NOT_ASKED;
	if (findings == NULL)
		return NOT_ASKED;
	const rig_shore_set *set = &findings->sets[it->number % findings->n_sets];
	for (size_t i = 0; i < findings->n_supplies; i++)
		if (set->budgets[i].best.n_off > 0 && (broken == NULL || broken == NOT_ASKED))
			broken = set_is_cut_right(findings, set, i);
	return broken;
}

/* ---- a verdict means what it says ---- */

static const char *carried_means_carried(
	const rig_shore_findings *findings, const rig_shore_set *set, size_t supply)
{
	const rig_shore_budget *budget = &set->budgets[supply];
	if (budget->carried != (budget->verdict == RIG_SHORE_FITS && budget->n_dead == 0))
		return "carried is something else than a set that fits and is alive";
	if (!budget->carried)
		return NULL;
	if (budget->best.n_off > 0 || budget->greedy.n_off > 0 || budget->n_ways > 0)
		return "a set that is carried has something turned off";
	if (budget->headroom_a.low < 0)
		return "a set that is carried has no headroom at its high draws";
	for (size_t i = 0; i < supply; i++)
		if (!set->budgets[i].carried && findings->supplies[i].limit_a > 0)
			return "a smaller supply carries what a larger does not";
	return NULL;
}

static const char *smallest_is_smallest(
	const rig_shore_findings *findings, const rig_shore_set *set)
{
	int smallest = -1, likely = -1;
	for (size_t i = 0; i < findings->n_supplies; i++) {
		const rig_shore_budget *budget = &set->budgets[i];
		smallest = budget->carried ? (int)i : smallest;
		likely = budget->n_dead == 0 && budget->verdict <= RIG_SHORE_DEPENDS ? (int)i
										     : likely;
	}
	return smallest == set->smallest && likely == set->smallest_likely
		       ? NULL
		       : "another supply is the smallest that carries the set";
}

/* Asked of coaches of which some supply carries some set. */
static const char *verdicts_mean_what_they_say(const subject *it)
{
	const rig_shore_findings *findings = law_shore(it);
	const char *broken = NULL;
	bool any = false;
	for (size_t s = 0; findings != NULL && broken == NULL && s < findings->n_sets; s++) {
		broken = smallest_is_smallest(findings, &findings->sets[s]);
		for (size_t i = 0; broken == NULL && i < findings->n_supplies; i++) {
			broken = carried_means_carried(findings, &findings->sets[s], i);
			any = any || findings->sets[s].budgets[i].carried;
		}
	}
	return any || broken != NULL ? broken : NOT_ASKED;
}

static const law_row CHOICES[] = {
	{"sums hold", sums_hold, 1000},
	{"what is kept fits", what_is_kept_fits, 300},
	{"verdicts mean what they say", verdicts_mean_what_they_say, 100},
};

START_TEST(choices_of_any_coach_obey)
{
	laws_hold(CHOICES, COUNT(CHOICES), _i);
}
END_TEST

Suite *choice_laws_suite(void);
Suite *choice_laws_suite(void)
{
	Suite *suite = suite_create("choice_laws");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 600);
	tcase_add_loop_test(all, choices_of_any_coach_obey, 0, N_LAW_PARTS);
	suite_add_tcase(suite, all);
	return suite;
}
