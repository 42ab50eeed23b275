/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The key table as JSON Schema 2020-12. What a schema cannot say (unknown ids, contradictions) only
 * the reader checks. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/json.h"
#include "base/jsonout.h"
#include "rig/keys.h"
#include "rigbudget/coach.h"
#include "rigbudget/parts.h"

static const char ID_PATTERN[] = "^[A-Za-z0-9_-]{1,64}$";

/* A limit in the unit of the key's name, to twelve digits: nobody reads more. */
static double limit_in(const rig_key *key, unsigned unit, double si, int digits)
{
	char text[40];
	snprintf(text, sizeof text, "%.*g", digits, rig_key_from_si(key, unit, si));
	return strtod(text, NULL);
}

static void add_description(rig_json_maker *maker, cJSON *into, const rig_key *key, unsigned unit)
{
	rig_buffer text = {0};
	rig_buffer_add(&text, key->what);
	const char *word = rig_key_unit(key, unit);
	if (*word != '\0')
		rig_buffer_format(&text, ", %s", word);
	if (key->absent != NULL)
		rig_buffer_format(&text, ". Left out: %s", key->absent);
	maker->failed |= text.failed;
	rig_json_add_text(maker, into, "description", text.failed ? "" : text.text);
	rig_buffer_free(&text);
}

static void add_example(rig_json_maker *maker, cJSON *into, const rig_key *key, unsigned unit)
{
	rig_json *example = NULL;
	if (key->example == NULL)
		return;
	cJSON *list = rig_json_add_array(maker, into, "examples");
	if (rig_json_read(key->example, strlen(key->example), NULL, &example) != RIG_OK) {
		maker->failed = true; /* examples are right: memory is out */
		return;
	}
	const cJSON *root = rig_json_root(example);
	if (key->kind == RIG_KEY_FIGURE && unit > 0)
		rig_json_add_number(maker, list, NULL, limit_in(key, unit, root->valuedouble, 3));
	else
		rig_json_add_item(maker, list, NULL, cJSON_Duplicate(root, true));
	rig_json_free(example);
}

static void add_range(rig_json_maker *maker, cJSON *into, const rig_key *key, unsigned unit)
{
	const bool figure = key->kind == RIG_KEY_FIGURE;
	rig_json_add_number(
		maker, into, "minimum", figure ? limit_in(key, unit, key->low, 12) : key->low);
	rig_json_add_number(
		maker, into, "maximum", figure ? limit_in(key, unit, key->high, 12) : key->high);
}

/* A number, or an object of the shape of $defs/figure whose numbers keep to the same range. */
static void add_figure(rig_json_maker *maker, cJSON *into, const rig_key *key, unsigned unit)
{
	cJSON *types = rig_json_add_array(maker, into, "type");
	rig_json_add_text(maker, types, NULL, "number");
	rig_json_add_text(maker, types, NULL, "object");
	add_range(maker, into, key, unit);
	rig_json_add_text(maker, into, "$ref", "#/$defs/figure");
	cJSON *parts = rig_json_add_object(maker, into, "patternProperties");
	add_range(maker, rig_json_add_object(maker, parts, "^(low|likely|high)$"), key, unit);
}

static void add_words(rig_json_maker *maker, cJSON *into, const rig_key *key)
{
	cJSON *list = rig_json_add_array(maker, into, "enum");
	for (size_t i = 0; key->words[i].text != NULL; i++) {
		if (key->kind == RIG_KEY_NUMBER)
			rig_json_add_number(maker, list, NULL, key->words[i].value);
		else
			rig_json_add_text(maker, list, NULL, key->words[i].text);
	}
}

static void add_reference(rig_json_maker *maker, cJSON *into, const rig_key *key)
{
	rig_json_add_text(maker, into, "type", "string");
	if (key->target == RIG_TO_PLACE) {
		rig_json_add_number(maker, into, "maxLength", RIG_MAX_TEXT);
	} else if (!rig_target_is_table(key->target)) {
		rig_json_add_text(maker, into, "pattern", ID_PATTERN);
	} else {
		cJSON *list = rig_json_add_array(maker, into, "enum");
		for (size_t i = 0; i < rig_target_count(key->target); i++)
			rig_json_add_text(maker, list, NULL, rig_target_at(key->target, i));
	}
}

static void add_definition(rig_json_maker *maker, cJSON *into, rig_object object)
{
	char text[64];
	snprintf(text, sizeof text, "#/$defs/%s", rig_keys_of(object)->name);
	rig_json_add_text(maker, into, "$ref", text);
}

static void add_list(rig_json_maker *maker, cJSON *into, const rig_key *key)
{
	rig_json_add_text(maker, into, "type", "array");
	if (key->low > 0)
		rig_json_add_number(maker, into, "minItems", key->low);
	rig_json_add_number(maker, into, "maxItems", key->high);
	cJSON *items = rig_json_add_object(maker, into, "items");
	if (key->kind == RIG_KEY_LIST) {
		add_definition(maker, items, key->object);
	} else {
		rig_json_add_truth(maker, into, "uniqueItems", true);
		add_reference(maker, items, key);
	}
}

static void add_text(rig_json_maker *maker, cJSON *into, const rig_key *key)
{
	rig_json_add_text(maker, into, "type", "string");
	if (key->kind == RIG_KEY_ID) {
		rig_json_add_text(maker, into, "pattern", ID_PATTERN);
		return;
	}
	if (key->required)
		rig_json_add_number(maker, into, "minLength", 1);
	rig_json_add_number(maker, into, "maxLength", key->high);
}

/* The example is the one text that is allowed. */
static void add_format(rig_json_maker *maker, cJSON *into, const rig_key *key)
{
	rig_json *example = NULL;
	if (rig_json_read(key->example, strlen(key->example), NULL, &example) != RIG_OK) {
		maker->failed = true;
		return;
	}
	rig_json_add_text(maker, into, "const", cJSON_GetStringValue(rig_json_root(example)));
	rig_json_free(example);
}

static void add_value(rig_json_maker *maker, cJSON *into, const rig_key *key, unsigned unit)
{
	switch (key->kind) {
	case RIG_KEY_TEXT:
	case RIG_KEY_ID:
		add_text(maker, into, key);
		break;
	case RIG_KEY_FORMAT:
		add_format(maker, into, key);
		break;
	case RIG_KEY_REFERENCE:
		add_reference(maker, into, key);
		break;
	case RIG_KEY_YES_NO:
		rig_json_add_text(maker, into, "type", "boolean");
		break;
	case RIG_KEY_WHOLE:
		rig_json_add_text(maker, into, "type", "integer");
		add_range(maker, into, key, 0);
		break;
	case RIG_KEY_CHOICE:
	case RIG_KEY_NUMBER:
		add_words(maker, into, key);
		break;
	case RIG_KEY_FIGURE:
		add_figure(maker, into, key, unit);
		break;
	case RIG_KEY_OBJECT:
		add_definition(maker, into, key->object);
		break;
	case RIG_KEY_REFERENCES:
	case RIG_KEY_LIST:
		add_list(maker, into, key);
		break;
	}
}

/* One of a key's names, not several. */
static void add_exclusions(rig_json_maker *maker, cJSON *into, const rig_object_keys *keys)
{
	cJSON *all = NULL;
	for (size_t i = 0; i < keys->n_keys; i++) {
		for (unsigned u = 1; u < RIG_N_KEY_NAMES && keys->keys[i].name[u] != NULL; u++) {
			for (unsigned v = 0; v < u; v++) {
				if (all == NULL)
					all = rig_json_add_array(maker, into, "allOf");
				cJSON *not = rig_json_add_object(
					maker, rig_json_add_object(maker, all, NULL), "not");
				cJSON *both = rig_json_add_array(maker, not, "required");
				rig_json_add_text(maker, both, NULL, keys->keys[i].name[v]);
				rig_json_add_text(maker, both, NULL, keys->keys[i].name[u]);
			}
		}
	}
}

static void add_object(rig_json_maker *maker, cJSON *into, rig_object object)
{
	const rig_object_keys *keys = rig_keys_of(object);
	rig_json_add_text(maker, into, "description", keys->what);
	rig_json_add_text(maker, into, "type", "object");
	cJSON *properties = rig_json_add_object(maker, into, "properties");
	for (size_t i = 0; i < keys->n_keys; i++) {
		const rig_key *key = &keys->keys[i];
		for (unsigned u = 0; u < RIG_N_KEY_NAMES && key->name[u] != NULL; u++) {
			char title[96];
			snprintf(title, sizeof title, "%s: %s", keys->name, key->name[u]);
			cJSON *property = rig_json_add_object(maker, properties, key->name[u]);
			rig_json_add_text(maker, property, "title", title);
			add_description(maker, property, key, u);
			add_value(maker, property, key, u);
			add_example(maker, property, key, u);
		}
	}
	cJSON *required = NULL;
	for (size_t i = 0; i < keys->n_keys; i++) {
		if (!keys->keys[i].required)
			continue;
		if (required == NULL)
			required = rig_json_add_array(maker, into, "required");
		rig_json_add_text(maker, required, NULL, keys->keys[i].name[0]);
	}
	add_exclusions(maker, into, keys);
	rig_json_add_truth(maker, into, "additionalProperties", false);
}

/* The shape of a figure that is written as an object; numbers pass it by. */
static void add_figure_shape(rig_json_maker *maker, cJSON *into)
{
	rig_json_add_text(maker, into, "description",
		"A figure with its doubt and its origin: low <= likely <= high");
	cJSON *properties = rig_json_add_object(maker, into, "properties");
	for (size_t i = 0; i < RIG_N_FIGURE_PARTS; i++) {
		const char *name = RIG_FIGURE_PARTS[i].text;
		cJSON *property = rig_json_add_object(maker, properties, name);
		rig_json_add_text(maker, property, "title", name);
		rig_json_add_text(maker, property, "description", RIG_FIGURE_PARTS[i].what);
		if (strcmp(name, "from") == 0)
			add_words(maker, property, &(rig_key){.words = RIG_ORIGIN_WORDS});
		else
			rig_json_add_text(maker, property, "type",
				strcmp(name, "note") == 0 ? "string" : "number");
		if (strcmp(name, "note") == 0)
			rig_json_add_number(maker, property, "maxLength", RIG_MAX_TEXT);
	}
	cJSON *required = rig_json_add_array(maker, into, "required");
	rig_json_add_text(maker, required, NULL, "likely");
	rig_json_add_text(maker, required, NULL, "from");
	cJSON *pairs = rig_json_add_object(maker, into, "dependentRequired");
	rig_json_add_text(maker, rig_json_add_array(maker, pairs, "low"), NULL, "high");
	rig_json_add_text(maker, rig_json_add_array(maker, pairs, "high"), NULL, "low");
	rig_json_add_truth(maker, into, "additionalProperties", false);
}

/* The schema of a file: its top object, and the objects from first to last - 1 in it. */
static char *schema_of(const char *title, rig_object top, int first, int last)
{
	rig_json_maker maker = {0};
	rig_buffer buffer = {0};
	cJSON *root = rig_json_new_object(&maker);
	rig_json_add_text(&maker, root, "$schema", "https://json-schema.org/draft/2020-12/schema");
	rig_json_add_text(&maker, root, "title", title);
	add_object(&maker, root, top);
	cJSON *definitions = rig_json_add_object(&maker, root, "$defs");
	add_figure_shape(&maker, rig_json_add_object(&maker, definitions, "figure"));
	for (int object = first; object < last; object++)
		add_object(&maker,
			rig_json_add_object(
				&maker, definitions, rig_keys_of((rig_object)object)->name),
			(rig_object)object);
	if (root != NULL && !maker.failed)
		rig_json_render(root, &buffer);
	cJSON_Delete(root);
	if (maker.failed || buffer.failed) {
		rig_buffer_free(&buffer);
		return NULL;
	}
	return buffer.text;
}

char *rig_schema_text(void)
{
	return schema_of("Rig file, format " RIG_FORMAT, RIG_OBJECT_COACH, RIG_OBJECT_COACH + 1,
		RIG_N_OBJECTS);
}

char *rig_parts_schema_text(void)
{
	return schema_of("Parts file, format " RIG_PARTS_FORMAT, RIG_OBJECT_PARTS,
		RIG_OBJECT_PARTS + 1, RIG_N_ALL_OBJECTS);
}
