/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The stated coach as canonical text: keys in the order of the table, figures in the unit in which
 * the file gave them, to the last bit. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/jsonout.h"
#include "rig/keys.h"
#include "rigbudget/coach.h"

enum { MAX_DIGITS = 17, NEIGHBOURS = 8 };

/* The shortest number that comes to si when it is read in the unit. False: there is none. */
static bool shortest(const rig_key *key, unsigned unit, double si, double *number)
{
	const double near = rig_key_from_si(key, unit, si);
	if (unit == 0) {
		*number = si;
		return true;
	}
	for (int digits = 1; digits <= MAX_DIGITS; digits++) {
		char text[40];
		/* There and back in one locale: the value does not depend on it. */
		snprintf(text, sizeof text, "%.*g", digits, near);
		*number = strtod(text, NULL);
		if (rig_key_to_si(key, unit, *number) == si)
			return true;
	}
	double below = near, above = near;
	for (int i = 0; i < NEIGHBOURS; i++) {
		below = nextafter(below, -INFINITY);
		above = nextafter(above, INFINITY);
		*number = rig_key_to_si(key, unit, below) == si ? below : above;
		if (rig_key_to_si(key, unit, *number) == si)
			return true;
	}
	return false;
}

/* The three numbers in the figure's unit, or in SI where a value has no number in that unit.
 * Gives the unit. */
static unsigned in_unit(const rig_key *key, const rig_figure *figure, double number[3])
{
	const double si[3] = {figure->low, figure->likely, figure->high};
	unsigned unit = figure->unit;
	if (unit >= RIG_N_KEY_NAMES || key->name[unit] == NULL)
		unit = 0;
	for (int i = 0; i < 3; i++) {
		if (!shortest(key, unit, si[i], &number[i])) {
			for (int j = 0; j < 3; j++)
				number[j] = si[j];
			return 0;
		}
	}
	return unit;
}

static const char *word_of(rig_words words, int value)
{
	for (size_t i = 0; words[i].text != NULL; i++)
		if (words[i].value == value)
			return words[i].text;
	return NULL;
}

static void write_figure(
	rig_json_maker *maker, cJSON *parent, const rig_key *key, const rig_figure *figure)
{
	double number[3];
	if (!rig_figure_given(*figure))
		return;
	const unsigned unit = in_unit(key, figure, number);
	const char *name = key->name[unit];
	const bool exact = figure->low == figure->likely && figure->likely == figure->high;
	if (exact && figure->from == RIG_FROM_STATED && figure->source == NULL) {
		rig_json_add_number(maker, parent, name, number[1]);
		return;
	}
	cJSON *object = rig_json_add_object(maker, parent, name);
	if (!exact)
		rig_json_add_number(maker, object, "low", number[0]);
	rig_json_add_number(maker, object, "likely", number[1]);
	if (!exact)
		rig_json_add_number(maker, object, "high", number[2]);
	const char *from = word_of(RIG_ORIGIN_WORDS, (int)figure->from);
	rig_json_add_text(maker, object, "from", from == NULL ? "estimated" : from);
	if (figure->source != NULL)
		rig_json_add_text(maker, object, "note", figure->source);
}

static void write_texts(rig_json_maker *maker, cJSON *parent, const rig_key *key, const void *of)
{
	const char *const *texts = *(const char *const *const *)rig_key_value(key, of);
	const size_t n = *(const size_t *)((const char *)of + key->count_offset);
	if (texts == NULL)
		return;
	cJSON *list = rig_json_add_array(maker, parent, key->name[0]);
	for (size_t i = 0; i < n; i++)
		rig_json_add_text(maker, list, NULL, texts[i]);
}

static void write_scalar(rig_json_maker *maker, cJSON *parent, const rig_key *key, const void *of)
{
	const void *value = rig_key_value(key, of);
	const char *name = key->name[0], *word = NULL;
	switch (key->kind) {
	case RIG_KEY_YES_NO:
		if (*(const rig_choice *)value != RIG_UNSAID)
			rig_json_add_truth(
				maker, parent, name, *(const rig_choice *)value == RIG_YES);
		break;
	case RIG_KEY_NUMBER:
		if (word_of(key->words, *(const int *)value) != NULL)
			rig_json_add_number(maker, parent, name, *(const int *)value);
		break;
	case RIG_KEY_WHOLE:
		if (*(const int *)value >= key->low)
			rig_json_add_number(maker, parent, name, *(const int *)value);
		break;
	case RIG_KEY_CHOICE:
		word = word_of(key->words, *(const int *)value);
		if (word != NULL)
			rig_json_add_text(maker, parent, name, word);
		break;
	default:
		word = *(const char *const *)value;
		if (word != NULL)
			rig_json_add_text(maker, parent, name, word);
		break;
	}
}

static void write_object(rig_json_maker *maker, cJSON *into, rig_object object, const void *of);

static void write_list(rig_json_maker *maker, cJSON *parent, const rig_key *key, const void *of)
{
	const size_t n = *(const size_t *)((const char *)of + key->count_offset);
	const char *items = *(const char *const *)rig_key_value(key, of);
	if (items == NULL)
		return;
	cJSON *list = rig_json_add_array(maker, parent, key->name[0]);
	for (size_t i = 0; i < n; i++)
		write_object(maker, rig_json_add_object(maker, list, NULL), key->object,
			items + i * rig_keys_of(key->object)->size);
}

static void write_inner(rig_json_maker *maker, cJSON *parent, const rig_key *key, const void *of)
{
	const void *inner = rig_key_value(key, of);
	if (rig_keys_of(key->object)->has_present && !*(const bool *)inner)
		return;
	cJSON *object = rig_json_new_object(maker);
	write_object(maker, object, key->object, inner);
	/* Without a mark of its own an object is there if anything is in it. */
	if (!rig_keys_of(key->object)->has_present && object != NULL && object->child == NULL)
		cJSON_Delete(object);
	else
		rig_json_add_item(maker, parent, key->name[0], object);
}

static void write_object(rig_json_maker *maker, cJSON *into, rig_object object, const void *of)
{
	const rig_object_keys *keys = rig_keys_of(object);
	for (size_t i = 0; i < keys->n_keys; i++) {
		const rig_key *key = &keys->keys[i];
		switch (key->kind) {
		case RIG_KEY_OBJECT:
			write_inner(maker, into, key, of);
			break;
		case RIG_KEY_LIST:
			write_list(maker, into, key, of);
			break;
		case RIG_KEY_REFERENCES:
			write_texts(maker, into, key, of);
			break;
		case RIG_KEY_FIGURE:
			write_figure(maker, into, key, rig_key_value(key, of));
			break;
		default:
			write_scalar(maker, into, key, of);
			break;
		}
	}
}

char *rig_coach_text(const rig_coach *stated)
{
	rig_json_maker maker = {0};
	rig_buffer buffer = {0};
	cJSON *root = rig_json_new_object(&maker);
	write_object(&maker, root, RIG_OBJECT_COACH, stated);
	if (root != NULL && !maker.failed)
		rig_json_render(root, &buffer);
	cJSON_Delete(root);
	if (maker.failed || buffer.failed) {
		rig_buffer_free(&buffer);
		return NULL;
	}
	return buffer.text;
}
