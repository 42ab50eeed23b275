/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What differs between two coaches, by the rows of the key table. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/buffer.h"
#include "rig/keys.h"
#include "rigbudget/compare.h"

enum { FIRST_ROWS = 32 };

typedef struct {
	rig_changes changes; /* first, so that it can be freed by it */
	rig_arena *arena;
	rig_change *rows;
	size_t room;
	bool no_memory;
} change_list;

/* The two sides of one object, and where it stands. */
typedef struct {
	const void *before, *after;
	const char *path, *thing;
} sides;

static void add(change_list *differ, const rig_change *row)
{
	if (differ->changes.n == differ->room) {
		const size_t room = differ->room == 0 ? FIRST_ROWS : differ->room * 2;
		rig_change *rows = realloc(differ->rows, room * sizeof *rows);
		if (rows == NULL) {
			differ->no_memory = true;
			return;
		}
		differ->rows = rows;
		differ->room = room;
	}
	differ->rows[differ->changes.n++] = *row;
}

static const char *made(change_list *differ, const char *text)
{
	if (text == NULL)
		differ->no_memory = true;
	return text != NULL ? text : "";
}

static const char *kept(change_list *differ, const char *text)
{
	return text == NULL ? NULL : made(differ, rig_arena_text(differ->arena, text));
}

static const char *path_of(change_list *differ, const char *parent, const char *name)
{
	return made(differ, rig_arena_format(differ->arena, "%s%s%s", parent,
				    parent[0] != '\0' ? "." : "", name));
}

/* ---- values ---- */

static const char *word_of(rig_words words, int value)
{
	for (size_t i = 0; words[i].text != NULL; i++)
		if (words[i].value == value)
			return words[i].text;
	return NULL;
}

static const char *joined(change_list *differ, const rig_key *key, const void *of)
{
	const char *const *texts = *(const char *const *const *)rig_key_value(key, of);
	const size_t n = *(const size_t *)((const char *)of + key->count_offset);
	rig_buffer all = {0};
	for (size_t i = 0; i < n; i++) {
		rig_buffer_add(&all, i > 0 ? ", " : "");
		rig_buffer_add(&all, texts[i]);
	}
	if (all.failed)
		differ->no_memory = true;
	const char *text = texts == NULL ? NULL : kept(differ, all.text != NULL ? all.text : "");
	rig_buffer_free(&all);
	return text;
}

/* The text of a value that is no figure; NULL if it is absent. */
static const char *text_of(change_list *differ, const rig_key *key, const void *of)
{
	const void *value = rig_key_value(key, of);
	switch (key->kind) {
	case RIG_KEY_YES_NO:
		if (*(const rig_choice *)value == RIG_UNSAID)
			return NULL;
		return *(const rig_choice *)value == RIG_YES ? "yes" : "no";
	case RIG_KEY_NUMBER:
		if (word_of(key->words, *(const int *)value) == NULL)
			return NULL;
		return made(differ, rig_arena_format(differ->arena, "%d", *(const int *)value));
	case RIG_KEY_WHOLE:
		if (*(const int *)value < key->low)
			return NULL;
		return made(differ, rig_arena_format(differ->arena, "%d", *(const int *)value));
	case RIG_KEY_CHOICE:
		return word_of(key->words, *(const int *)value);
	case RIG_KEY_REFERENCES:
		return joined(differ, key, of);
	default:
		return kept(differ, *(const char *const *)value);
	}
}

static bool same_text(const char *a, const char *b)
{
	return (a == NULL) == (b == NULL) && (a == NULL || strcmp(a, b) == 0);
}

static bool same_figure(const rig_figure *a, const rig_figure *b)
{
	return a->low == b->low && a->likely == b->likely && a->high == b->high &&
	       a->from == b->from && same_text(a->source, b->source);
}

static rig_change_value in_unit(
	change_list *differ, const rig_key *key, unsigned unit, const rig_figure *figure)
{
	rig_change_value value = {.given = rig_figure_given(*figure), .figure = *figure};
	if (!value.given)
		return value;
	value.figure.low = rig_key_from_si(key, unit, figure->low);
	value.figure.likely = rig_key_from_si(key, unit, figure->likely);
	value.figure.high = rig_key_from_si(key, unit, figure->high);
	value.figure.source = kept(differ, figure->source);
	return value;
}

static rig_change_kind kind_of(bool before, bool after)
{
	return before == after ? RIG_CHANGE_OTHER
			       : (after ? RIG_CHANGE_ADDED : RIG_CHANGE_TAKEN_OUT);
}

static void compare_figure(change_list *differ, const sides *at, const rig_key *key)
{
	const rig_figure *before = rig_key_value(key, at->before);
	const rig_figure *after = rig_key_value(key, at->after);
	if (same_figure(before, after))
		return;
	unsigned unit = rig_figure_given(*after) ? after->unit : before->unit;
	if (unit >= RIG_N_KEY_NAMES || key->name[unit] == NULL)
		unit = 0;
	add(differ,
		&(rig_change){.kind = kind_of(rig_figure_given(*before), rig_figure_given(*after)),
			.path = path_of(differ, at->path, key->name[unit]),
			.thing = at->thing,
			.key = key->name[unit],
			.what = key->what,
			.unit = rig_key_unit(key, unit),
			.before = in_unit(differ, key, unit, before),
			.after = in_unit(differ, key, unit, after)});
}

static void compare_scalar(change_list *differ, const sides *at, const rig_key *key)
{
	const char *before = text_of(differ, key, at->before);
	const char *after = text_of(differ, key, at->after);
	if (same_text(before, after))
		return;
	add(differ, &(rig_change){.kind = kind_of(before != NULL, after != NULL),
			    .path = path_of(differ, at->path, key->name[0]),
			    .thing = at->thing,
			    .key = key->name[0],
			    .what = key->what,
			    .unit = "",
			    .note = strcmp(key->name[0], "notes") == 0 ||
				    strcmp(key->name[0], "name") == 0,
			    .before = {.given = before != NULL, .text = before},
			    .after = {.given = after != NULL, .text = after}});
}

/* ---- things ---- */

static const char *text_at(const rig_object_keys *keys, const void *item, const char *name)
{
	unsigned unit;
	const int i = rig_key_find(keys, name, &unit);
	if (i < 0 || (keys->keys[i].kind != RIG_KEY_TEXT && keys->keys[i].kind != RIG_KEY_ID &&
			     keys->keys[i].kind != RIG_KEY_REFERENCE))
		return NULL;
	return *(const char *const *)rig_key_value(&keys->keys[i], item);
}

/* By what a thing of a list is known; NULL if by nothing. */
static const char *label_of(const rig_object_keys *keys, const void *item)
{
	static const char *const KNOWN_BY[] = {"id", "name", "text", "load"};
	for (size_t i = 0; i < sizeof KNOWN_BY / sizeof KNOWN_BY[0]; i++) {
		const char *label = text_at(keys, item, KNOWN_BY[i]);
		if (label != NULL)
			return label;
	}
	return NULL;
}

static const char *name_of(const rig_object_keys *keys, const void *item)
{
	const char *name = text_at(keys, item, "name");
	return name != NULL ? name : label_of(keys, item);
}

static void add_whole(change_list *differ, const sides *at, const rig_key *key)
{
	add(differ, &(rig_change){.kind = kind_of(at->before != NULL, at->after != NULL),
			    .path = at->path,
			    .thing = at->thing,
			    .key = key->name[0],
			    .what = key->what,
			    .unit = ""});
}

static void compare_object(change_list *differ, const sides *at, rig_object object);

static void compare_inner(change_list *differ, const sides *at, const rig_key *key)
{
	const void *before = rig_key_value(key, at->before);
	const void *after = rig_key_value(key, at->after);
	sides inner = {before, after, path_of(differ, at->path, key->name[0]), at->thing};
	if (rig_keys_of(key->object)->has_present) {
		const bool had = *(const bool *)before, has = *(const bool *)after;
		if (had != has) {
			inner.before = had ? before : NULL;
			inner.after = has ? after : NULL;
			add_whole(differ, &inner, key);
		}
		if (!had || !has)
			return;
	}
	if (inner.thing[0] == '\0')
		inner.thing = rig_keys_of(key->object)->name;
	compare_object(differ, &inner, key->object);
}

typedef struct {
	const char *items;
	size_t n, size;
	bool *taken; /* those that have their fellow */
} item_list;

static item_list list_of(change_list *differ, const rig_key *key, const void *of)
{
	item_list list = {.items = *(const char *const *)rig_key_value(key, of),
		.size = rig_keys_of(key->object)->size};
	list.n = list.items == NULL ? 0 : *(const size_t *)((const char *)of + key->count_offset);
	list.taken = rig_arena_take(differ->arena, list.n + 1, sizeof *list.taken);
	if (list.taken == NULL) {
		differ->no_memory = true;
		list.n = 0;
	}
	return list;
}

/* The first free item of that label; of things without one, the first free one without. */
static const void *fellow(const rig_object_keys *keys, const char *label, item_list *list)
{
	for (size_t i = 0; i < list->n; i++) {
		const void *item = list->items + i * list->size;
		if (list->taken[i] || !same_text(label, label_of(keys, item)))
			continue;
		list->taken[i] = true;
		return item;
	}
	return NULL;
}

static void compare_item(change_list *differ, const sides *list, const rig_key *key,
	const sides *item, size_t number)
{
	const rig_object_keys *keys = rig_keys_of(key->object);
	const void *one = item->after != NULL ? item->after : item->before;
	const char *label = label_of(keys, one);
	if (label == NULL)
		label = made(differ, rig_arena_format(differ->arena, "%zu", number + 1));
	const char *name = name_of(keys, one);
	const char *base = path_of(differ, list->path, key->name[0]);
	const sides at = {item->before, item->after,
		made(differ, rig_arena_format(differ->arena, "%s[%s]", base, label)),
		kept(differ, name != NULL ? name : label)};
	if (at.before == NULL || at.after == NULL)
		add_whole(differ, &at, key);
	else
		compare_object(differ, &at, key->object);
}

static void compare_list(change_list *differ, const sides *at, const rig_key *key)
{
	const rig_object_keys *keys = rig_keys_of(key->object);
	item_list before = list_of(differ, key, at->before);
	const item_list after = list_of(differ, key, at->after);
	for (size_t i = 0; i < after.n; i++) {
		const void *item = after.items + i * after.size;
		const sides pair = {
			.before = fellow(keys, label_of(keys, item), &before), .after = item};
		compare_item(differ, at, key, &pair, i);
	}
	for (size_t i = 0; i < before.n; i++) {
		const sides alone = {.before = before.items + i * before.size};
		if (!before.taken[i])
			compare_item(differ, at, key, &alone, i);
	}
}

static void compare_object(change_list *differ, const sides *at, rig_object object)
{
	const rig_object_keys *keys = rig_keys_of(object);
	for (size_t i = 0; i < keys->n_keys && !differ->no_memory; i++) {
		const rig_key *key = &keys->keys[i];
		switch (key->kind) {
		case RIG_KEY_FORMAT:
			break;
		case RIG_KEY_OBJECT:
			compare_inner(differ, at, key);
			break;
		case RIG_KEY_LIST:
			compare_list(differ, at, key);
			break;
		case RIG_KEY_FIGURE:
			compare_figure(differ, at, key);
			break;
		default:
			compare_scalar(differ, at, key);
			break;
		}
	}
}

rig_status rig_coach_changes(const rig_coach *before, const rig_coach *after, rig_changes **changes)
{
	change_list *it = calloc(1, sizeof *it);
	if (it == NULL)
		return RIG_NO_MEMORY;
	it->arena = rig_arena_new();
	it->no_memory = it->arena == NULL;
	const sides whole = {before, after, "", ""};
	if (!it->no_memory)
		compare_object(it, &whole, RIG_OBJECT_COACH);
	it->changes.rows = it->rows;
	if (it->no_memory) {
		rig_changes_free(&it->changes);
		return RIG_NO_MEMORY;
	}
	*changes = &it->changes;
	return RIG_OK;
}

void rig_changes_free(rig_changes *changes)
{
	if (changes == NULL)
		return;
	change_list *it = (change_list *)(void *)changes;
	rig_arena_free(it->arena);
	free(it->rows);
	free(it);
}
