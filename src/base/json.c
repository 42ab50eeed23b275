/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/json.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/buffer.h"
#include "base/jsonscan.h"

struct rig_json {
	cJSON *root;
	rig_json_index index;
};

/* A walk over the tree, parents before members: the order of the text. */
typedef struct {
	cJSON *node[RIG_JSON_MAX_DEPTH + 1];  /* from the root down */
	int position[RIG_JSON_MAX_DEPTH + 1]; /* among its parent's members */
	size_t depth;
} walk;

/* To the next node; NULL at the end. */
static cJSON *onward(walk *at)
{
	cJSON *node = at->node[at->depth];
	if (node->child != NULL) {
		at->depth++;
		at->node[at->depth] = node->child;
		at->position[at->depth] = 0;
		return node->child;
	}
	while (at->depth > 0 && at->node[at->depth]->next == NULL)
		at->depth--;
	if (at->depth == 0)
		return NULL;
	at->position[at->depth]++;
	return at->node[at->depth] = at->node[at->depth]->next;
}

/* The path of the walk's node, or of a member of it. */
static void write_path(const walk *at, const char *member, rig_buffer *path)
{
	path->length = 0;
	rig_buffer_add(path, "");
	for (size_t i = 1; i <= at->depth; i++) {
		if (at->node[i]->string != NULL)
			rig_buffer_format(
				path, "%s%s", path->length > 0 ? "." : "", at->node[i]->string);
		else
			rig_buffer_format(path, "[%d]", at->position[i]);
	}
	if (member != NULL)
		rig_buffer_format(path, "%s%s", path->length > 0 ? "." : "", member);
}

static rig_where where(rig_json_place place, const char *path)
{
	return (rig_where){place.line, place.column, path};
}

static const struct rig_json_entry *entry_of(const rig_json *json, const cJSON *value)
{
	assert(value != NULL && value->valueint >= 0 && (size_t)value->valueint < json->index.n);
	return &json->index.entries[value->valueint];
}

rig_where rig_json_where(const rig_json *json, const cJSON *value, const char *path)
{
	return where(entry_of(json, value)->value, path);
}

rig_where rig_json_where_key(const rig_json *json, const cJSON *member, const char *path)
{
	assert(member->string != NULL);
	return where(entry_of(json, member)->key, path);
}

/* What the checks of the tree share. */
typedef struct {
	const rig_json *json;
	rig_diags *diags;
	struct member {
		const cJSON *node;
	} * members; /* room for as many as there are values */
	rig_buffer path;
	rig_status status;
} checker;

/* valueint is the place in the text, so that equal keys stay in order. */
static int by_key(const void *a, const void *b)
{
	const cJSON *x = ((const struct member *)a)->node, *y = ((const struct member *)b)->node;
	const int way = strcmp(x->string, y->string);
	return way != 0 ? way : (x->valueint > y->valueint) - (x->valueint < y->valueint);
}

static void report_twin(checker *check, const walk *at, const cJSON *first, const cJSON *twin)
{
	char mend[96];
	snprintf(mend, sizeof mend, "delete or rename one; the first is on line %zu",
		rig_json_where_key(check->json, first, "").line);
	write_path(at, twin->string, &check->path);
	if (!check->path.failed) {
		rig_diags_add(check->diags,
			&(rig_diag){RIG_FAULT,
				rig_json_where_key(check->json, twin, check->path.text),
				"a key stands twice in one object", twin->string, "each key once",
				mend});
	}
	check->status = RIG_BAD_INPUT;
}

static void check_keys(checker *check, const walk *at)
{
	size_t n = 0;
	for (const cJSON *it = at->node[at->depth]->child; it != NULL; it = it->next)
		check->members[n++].node = it;
	if (n < 2)
		return;
	qsort(check->members, n, sizeof check->members[0], by_key);
	const cJSON *first = check->members[0].node;
	for (size_t i = 1; i < n; i++) {
		if (strcmp(check->members[i].node->string, first->string) == 0)
			report_twin(check, at, first, check->members[i].node);
		else
			first = check->members[i].node;
	}
}

static void check_finite(checker *check, const walk *at)
{
	const cJSON *number = at->node[at->depth];
	if (isfinite(number->valuedouble))
		return;
	write_path(at, NULL, &check->path);
	if (!check->path.failed) {
		rig_diags_add(check->diags,
			&(rig_diag){RIG_FAULT,
				rig_json_where(check->json, number, check->path.text),
				"a number is too large", "", "at most 1.797e308", ""});
	}
	check->status = RIG_BAD_INPUT;
}

static size_t number_nodes(cJSON *root)
{
	walk at = {.node = {root}};
	int n = 0;
	for (cJSON *node = root; node != NULL; node = onward(&at))
		node->valueint = n++;
	return (size_t)n;
}

/* Finds what only the finished tree shows: keys that stand twice, numbers past the largest. */
static rig_status check_tree(const rig_json *json, rig_diags *diags)
{
	checker check = {.json = json, .diags = diags};
	check.members = malloc(json->index.n * sizeof check.members[0]);
	if (check.members == NULL)
		return RIG_NO_MEMORY;
	walk at = {.node = {json->root}};
	for (cJSON *node = json->root; node != NULL; node = onward(&at)) {
		if (cJSON_IsObject(node))
			check_keys(&check, &at);
		else if (cJSON_IsNumber(node))
			check_finite(&check, &at);
	}
	if (check.path.failed)
		check.status = RIG_NO_MEMORY;
	free(check.members);
	rig_buffer_free(&check.path);
	return check.status;
}

/* cJSON wants a NUL behind the text, and its length counted with that. What the scanner lets pass
 * cJSON reads; it then fails only for want of memory. */
static rig_status build_tree(rig_json *json, const char *text, size_t length)
{
	char *copy = malloc(length + 1);
	if (copy == NULL)
		return RIG_NO_MEMORY;
	memcpy(copy, text, length);
	copy[length] = '\0';
	json->root = cJSON_ParseWithLengthOpts(copy, length + 1, NULL, 1);
	free(copy);
	if (json->root == NULL)
		return RIG_NO_MEMORY;
	const size_t n = number_nodes(json->root);
	assert(n == json->index.n);
	return n == json->index.n ? RIG_OK : RIG_NO_MEMORY;
}

static rig_status fill(rig_json *json, const char *text, size_t length, rig_diags *diags)
{
	rig_status status = rig_json_scan(text, length, diags, &json->index);
	if (status == RIG_OK)
		status = build_tree(json, text, length);
	if (status == RIG_OK)
		status = check_tree(json, diags);
	return status;
}

rig_status rig_json_read(const char *text, size_t length, rig_diags *diags, rig_json **json)
{
	static const char MARK[] = "\xEF\xBB\xBF";
	*json = NULL;
	if (length > RIG_JSON_MAX_BYTES)
		return rig_fail(diags, RIG_BAD_INPUT, (rig_where){0, 0, ""},
			"the text is longer than the %d bytes allowed", RIG_JSON_MAX_BYTES);
	if (length >= 3 && memcmp(text, MARK, 3) == 0) {
		text += 3;
		length -= 3;
	}
	rig_json *made = calloc(1, sizeof *made);
	if (made == NULL)
		return RIG_NO_MEMORY;
	const rig_status status = fill(made, text, length, diags);
	if (status != RIG_OK) {
		rig_json_free(made);
		return status;
	}
	*json = made;
	return RIG_OK;
}

void rig_json_free(rig_json *json)
{
	if (json == NULL)
		return;
	cJSON_Delete(json->root);
	free(json->index.entries);
	free(json);
}

const cJSON *rig_json_root(const rig_json *json)
{
	return json->root;
}
