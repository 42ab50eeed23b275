/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A coach is the same however its file tells it. */
#include <cjson/cJSON.h>
#include <stdlib.h>
#include <string.h>

#include "laws.h"
#include "rig/keys.h"
#include "suites.h"

static bool same_flows(const rig_shore_findings *a, const rig_shore_findings *b)
{
	if (a->n_sets != b->n_sets || a->n_supplies != b->n_supplies)
		return false;
	for (size_t s = 0; s < a->n_sets; s++)
		for (size_t i = 0; i < a->n_supplies; i++) {
			const rig_shore_budget *x = &a->sets[s].budgets[i];
			const rig_shore_budget *y = &b->sets[s].budgets[i];
			if (!law_figures_close(x->watts_w, y->watts_w) ||
				!law_figures_close(x->va, y->va) ||
				!law_figures_close(x->main.amps_a, y->main.amps_a) ||
				!law_figures_close(x->neutral.amps_a, y->neutral.amps_a) ||
				!law_figures_close(x->headroom_w, y->headroom_w))
				return false;
		}
	return true;
}

/* The flows of a coach and of the same told otherwise, whose text is freed. */
static const char *told_otherwise(const subject *it, char *other, const char *fault)
{
	const char *broken = NULL;
	rig_file *file = NULL;
	rig_shore_findings *told = NULL;
	if (other == NULL || rig_file_parse(other, strlen(other), NULL, &file) != RIG_OK) {
		broken = "the file is no longer read when it is told otherwise";
		goto out;
	}
	const rig_status status = rig_shore_study(rig_file_completed(file), NULL, &told);
	const rig_shore_findings *own = law_shore(it);
	if ((own == NULL) != (status != RIG_OK) || (own != NULL && !same_flows(own, told)))
		broken = fault;
out:
	rig_shore_free(told);
	rig_file_free(file);
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

static const char *units_change_nothing(const subject *it)
{
	cJSON *tree = cJSON_Parse(it->text);
	turn_units(tree, RIG_OBJECT_COACH);
	char *other = cJSON_Print(tree);
	cJSON_Delete(tree);
	return told_otherwise(it, other, "other units change the flows");
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

static const char *order_changes_nothing(const subject *it)
{
	cJSON *tree = cJSON_Parse(it->text);
	turn_list(tree, "loads");
	turn_list(tree, "wires");
	turn_list(tree, "habits");
	turn_list(tree, "readings");
	char *other = cJSON_Print(tree);
	cJSON_Delete(tree);
	return told_otherwise(it, other, "the order of the loads changes the flows");
}

/* ---- written and read again ---- */

/* Whether two texts say the same, but for blanks and the order of keys. */
static bool same_json(const char *one, const char *two)
{
	cJSON *a = cJSON_Parse(one), *b = cJSON_Parse(two);
	const bool same = cJSON_Compare(a, b, true);
	cJSON_Delete(a);
	cJSON_Delete(b);
	return same;
}

/* What is written says all that was read, and is what every later writing has to be. */
static const char *writing_is_a_fixed_point(const subject *it)
{
	char *once = rig_file_text(it->file), *again = NULL;
	rig_file *file = NULL;
	const char *broken = same_json(it->text, once) ? NULL : "writing loses or adds something";
	if (rig_file_parse(once, strlen(once), NULL, &file) != RIG_OK)
		broken = "what is written is not read";
	else if ((again = rig_file_text(file)) == NULL || strcmp(once, again) != 0)
		broken = "what is read is not what was written";
	free(once);
	free(again);
	rig_file_free(file);
	return broken;
}

static const law_row TELLING[] = {
	{"units change nothing", units_change_nothing, 1000},
	{"order changes nothing", order_changes_nothing, 1000},
	{"writing is a fixed point", writing_is_a_fixed_point, 1000},
};

START_TEST(tellings_of_any_coach_obey)
{
	laws_hold(TELLING, COUNT(TELLING), _i);
}
END_TEST

Suite *telling_laws_suite(void);
Suite *telling_laws_suite(void)
{
	Suite *suite = suite_create("telling_laws");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 600);
	tcase_add_loop_test(all, tellings_of_any_coach_obey, 0, N_LAW_PARTS);
	suite_add_tcase(suite, all);
	return suite;
}
