/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold of any coach whatever, on ten thousand random ones each. A coach that fails is cut
 * down to the smallest that does, and printed. */
#include <cjson/cJSON.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "random_coach.h"
#include "rig/keys.h"
#include "rigbudget/shore.h"
#include "rigbudget/trip.h"
#include "shrink.h"
#include "suites.h"

#ifdef RIG_SANITIZED
enum { EVERY = 20 };
#else
enum { EVERY = 1 };
#endif
enum { N_COACHES = 10000, N_PARTS = 10 };

/* NULL: it holds, or the text is no valid file; else what does not. */
typedef const char *(*invariant)(const char *text);

static bool breaks(const char *text, const void *context)
{
	return (*(const invariant *)context)(text) != NULL;
}

static void hold(invariant holds, int part)
{
	for (int i = part; i < N_COACHES; i += N_PARTS * EVERY) {
		char *text = random_coach_text((uint64_t)i + 1);
		const char *broken = holds(text);
		if (broken != NULL) {
			char *small = shrink(text, breaks, &holds);
			fprintf(stderr, "coach %d: %s\n%s\n", i + 1, broken, small);
			free(small);
		}
		free(text);
		ck_assert_msg(broken == NULL, "coach %d: %s", i + 1, broken);
	}
}

static rig_file *file_of(const char *text)
{
	rig_file *file = NULL;
	return rig_file_parse(text, strlen(text), NULL, &file) == RIG_OK ? file : NULL;
}

static rig_shore_findings *shore_of(const rig_file *file)
{
	rig_shore_findings *findings = NULL;
	return rig_shore_study(rig_file_completed(file), NULL, &findings) == RIG_OK ? findings
										    : NULL;
}

static bool close_to(double a, double b)
{
	return fabs(a - b) <= 1e-9 * (1 + fabs(a) + fabs(b));
}

static bool figures_close(rig_figure a, rig_figure b)
{
	return rig_figure_given(a) == rig_figure_given(b) && close_to(a.low, b.low) &&
	       close_to(a.likely, b.likely) && close_to(a.high, b.high);
}

/* ---- one answer however the file is written ---- */

static bool same_flows(const rig_shore_findings *a, const rig_shore_findings *b)
{
	if (a->n_sets != b->n_sets || a->n_supplies != b->n_supplies)
		return false;
	for (size_t s = 0; s < a->n_sets; s++)
		for (size_t i = 0; i < a->n_supplies; i++) {
			const rig_shore_budget *x = &a->sets[s].budgets[i];
			const rig_shore_budget *y = &b->sets[s].budgets[i];
			if (!figures_close(x->watts_w, y->watts_w) ||
				!figures_close(x->va, y->va) ||
				!figures_close(x->main.amps_a, y->main.amps_a) ||
				!figures_close(x->neutral.amps_a, y->neutral.amps_a) ||
				!figures_close(x->headroom_w, y->headroom_w))
				return false;
		}
	return true;
}

/* The flows of a text and of the same told otherwise, which is freed. */
static const char *told_otherwise(const char *text, char *other, const char *fault)
{
	const char *broken = NULL;
	rig_file *one = file_of(text), *two = other == NULL ? NULL : file_of(other);
	if (one != NULL && two == NULL)
		broken = "the file is no longer read when it is told otherwise";
	if (one != NULL && two != NULL) {
		rig_shore_findings *a = shore_of(one), *b = shore_of(two);
		if ((a == NULL) != (b == NULL) || (a != NULL && !same_flows(a, b)))
			broken = fault;
		rig_shore_free(a);
		rig_shore_free(b);
	}
	rig_file_free(one);
	rig_file_free(two);
	free(other);
	return broken;
}

static void turn_number(cJSON *number, const rig_key *key, unsigned from, unsigned to)
{
	if (cJSON_IsNumber(number))
		cJSON_SetNumberHelper(number,
			rig_key_from_si(key, to, rig_key_to_si(key, from, number->valuedouble)));
}

/* Every figure of a key that has a second unit in that unit, and the other way round. */
static void turn_units(cJSON *node, rig_object object)
{
	const rig_object_keys *keys = rig_keys_of(object);
	for (cJSON *child = node->child; child != NULL; child = child->next) {
		unsigned unit = 0;
		const rig_key *key = &keys->keys[rig_key_find(keys, child->string, &unit)];
		if (key->kind == RIG_KEY_OBJECT)
			turn_units(child, key->object);
		for (cJSON *item = child->child; key->kind == RIG_KEY_LIST && item != NULL;
			item = item->next)
			turn_units(item, key->object);
		if (key->kind != RIG_KEY_FIGURE || key->name[1] == NULL)
			continue;
		const unsigned to = unit == 0 ? 1 : 0;
		turn_number(child, key, unit, to);
		for (cJSON *end = child->child; end != NULL; end = end->next)
			turn_number(end, key, unit, to);
		free(child->string);
		child->string = strdup(key->name[to]);
	}
}

static const char *units_change_nothing(const char *text)
{
	rig_file *file = file_of(text);
	if (file == NULL)
		return NULL;
	rig_file_free(file);
	cJSON *tree = cJSON_Parse(text);
	turn_units(tree, RIG_OBJECT_COACH);
	char *other = cJSON_Print(tree);
	cJSON_Delete(tree);
	return told_otherwise(text, other, "other units change the flows");
}

static void turn_list(cJSON *tree, const char *name)
{
	cJSON *list = cJSON_GetObjectItem(tree, name);
	cJSON *turned = cJSON_CreateArray();
	for (int i = cJSON_GetArraySize(list) - 1; i >= 0; i--)
		cJSON_AddItemToArray(turned, cJSON_DetachItemFromArray(list, i));
	if (list != NULL)
		cJSON_ReplaceItemInObject(tree, name, turned);
	else
		cJSON_Delete(turned);
}

static const char *order_changes_nothing(const char *text)
{
	cJSON *tree = cJSON_Parse(text);
	turn_list(tree, "loads");
	turn_list(tree, "wires");
	turn_list(tree, "habits");
	turn_list(tree, "readings");
	char *other = cJSON_Print(tree);
	cJSON_Delete(tree);
	return told_otherwise(text, other, "the order of the loads changes the flows");
}

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
		!close_to(leg[0].watts_w.likely + leg[1].watts_w.likely, budget->watts_w.likely))
		return "the legs' watts are not the whole's";
	if (placed && !within(neutral, fabs(a - b), a + b))
		return "the neutral's amps are no sum or difference of the legs'";
	if (supply->n_hots == 1 && !close_to(neutral, budget->main.amps_a.likely))
		return "on one hot the neutral does not carry what the hot carries";
	if (placed && !close_to(budget->main.amps_a.likely, fmax(a, b)))
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

static const char *sums_hold(const char *text)
{
	rig_file *file = file_of(text);
	rig_shore_findings *findings = file == NULL ? NULL : shore_of(file);
	const char *broken = NULL;
	for (size_t s = 0; findings != NULL && broken == NULL && s < findings->n_sets; s++) {
		const rig_shore_set *set = &findings->sets[s];
		for (size_t i = 0; broken == NULL && i < findings->n_supplies; i++) {
			broken = sums_of(findings->coach, &set->budgets[i], &findings->supplies[i]);
			broken = broken != NULL ? broken : choice_of(&set->budgets[i], set);
		}
	}
	rig_shore_free(findings);
	rig_file_free(file);
	return broken;
}

/* ---- stays ---- */

static rig_trip_findings *trip_of(const rig_coach *coach)
{
	rig_place place;
	rig_place_at((size_t)rig_place_find("Flagstaff"), &place);
	rig_trip_options options = rig_trip_defaults();
	options.n_days = 2;
	options.n_trips = 0;
	rig_trip_findings *findings = NULL;
	return rig_trip_study(coach, &place, &options, &findings) == RIG_OK ? findings : NULL;
}

static const char *energy_of(const rig_trip_bank *bank)
{
	const rig_trip_flows_wh_day *f = &bank->flows;
	const double in = f->harvest + f->from_store;
	const double out = f->dc + f->ac + f->inverter_loss + f->inverter_idle + f->charge_loss +
			   f->self_discharge + f->curtailed;
	const double flowed = f->harvest + fabs(f->from_store) + f->dc + f->ac;
	if (!(fabs(in - out) <= 1e-9 * (1 + flowed)))
		return "energy is lost or made";
	return bank->lowest_wh >= 0 ? NULL : "a bank holds less than nothing";
}

static const char *energy_is_conserved(const char *text)
{
	rig_file *file = file_of(text);
	rig_trip_findings *findings = file == NULL ? NULL : trip_of(rig_file_completed(file));
	const char *broken = NULL;
	for (size_t b = 0; findings != NULL && broken == NULL && b < findings->n_banks; b++)
		broken = energy_of(&findings->banks[b]);
	rig_trip_free(findings);
	rig_file_free(file);
	return broken;
}

#define PROPERTY(name)                                                                             \
	START_TEST(name##_of_any_coach)                                                            \
	{                                                                                          \
		hold(name, _i);                                                                    \
	}                                                                                          \
	END_TEST

PROPERTY(units_change_nothing)
PROPERTY(order_changes_nothing)
PROPERTY(sums_hold)
PROPERTY(energy_is_conserved)

Suite *invariants_suite(void);
Suite *invariants_suite(void)
{
	Suite *suite = suite_create("invariants");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 600);
	tcase_add_loop_test(all, units_change_nothing_of_any_coach, 0, N_PARTS);
	tcase_add_loop_test(all, order_changes_nothing_of_any_coach, 0, N_PARTS);
	tcase_add_loop_test(all, sums_hold_of_any_coach, 0, N_PARTS);
	tcase_add_loop_test(all, energy_is_conserved_of_any_coach, 0, N_PARTS);
	suite_add_tcase(suite, all);
	return suite;
}
