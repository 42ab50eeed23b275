/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "shrink.h"

#include <cjson/cJSON.h>
#include <stdlib.h>

typedef struct {
	cJSON *whole;
	shrink_fails fails;
	const void *context;
} shrinking;

static bool still_fails(const shrinking *it)
{
	char *text = cJSON_Print(it->whole);
	const bool fails = text != NULL && it->fails(text, it->context);
	free(text);
	return fails;
}

/* A first child's `prev` is the last; what is taken out keeps its own, to be put back by. */
static void take_out(cJSON *parent, cJSON *child)
{
	if (parent->child == child)
		parent->child = child->next;
	else
		child->prev->next = child->next;
	if (child->next != NULL)
		child->next->prev = child->prev;
	else if (parent->child != NULL)
		parent->child->prev = child->prev;
}

static void put_back(cJSON *parent, cJSON *child)
{
	if (parent->child == child->next)
		parent->child = child;
	else
		child->prev->next = child;
	if (child->next != NULL)
		child->next->prev = child;
	else
		parent->child->prev = child;
}

/* Whether anything below the parent could be left out. */
static bool pass(const shrinking *it, cJSON *parent)
{
	bool shorter = false;
	for (int at = cJSON_GetArraySize(parent) - 1; at >= 0; at--) {
		cJSON *child = cJSON_GetArrayItem(parent, at);
		if (child == NULL)
			break;
		take_out(parent, child);
		if (still_fails(it)) {
			child->next = NULL;
			cJSON_Delete(child);
			shorter = true;
		} else {
			put_back(parent, child);
			shorter = pass(it, child) || shorter;
		}
	}
	return shorter;
}

char *shrink(const char *text, shrink_fails fails, const void *context)
{
	const shrinking it = {cJSON_Parse(text), fails, context};
	char *small = NULL;
	if (it.whole != NULL && still_fails(&it)) {
		while (pass(&it, it.whole))
			;
		small = cJSON_Print(it.whole);
	}
	cJSON_Delete(it.whole);
	return small;
}
