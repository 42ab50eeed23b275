/* SPDX-License-Identifier: GPL-3.0-or-later */
/* wellformed.h: whether tags nest, attributes are quoted, references are known and no attribute
 * runs a script. Stricter than HTML: every element but the void ones must be closed. */
#ifndef TEST_WELLFORMED_H
#define TEST_WELLFORMED_H

#include <ctype.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

enum { MOST_OPEN = 64, MOST_TAG = 32 };

typedef struct {
	char open[MOST_OPEN][MOST_TAG];
	int depth;
	char fault[200];
} tag_stack;

static bool is_void(const char *tag)
{
	static const char *const VOID[] = {"meta", "br", "hr", "img", "link"};
	for (size_t i = 0; i < sizeof VOID / sizeof VOID[0]; i++)
		if (strcmp(tag, VOID[i]) == 0)
			return true;
	return false;
}

static bool reference_is_known(const char *at)
{
	static const char *const KNOWN[] = {"&amp;", "&lt;", "&gt;", "&quot;", "&#39;", "&#8206;"};
	for (size_t i = 0; i < sizeof KNOWN / sizeof KNOWN[0]; i++)
		if (strncmp(at, KNOWN[i], strlen(KNOWN[i])) == 0)
			return true;
	return false;
}

static const char *fault(tag_stack *stack, const char *what, const char *at)
{
	snprintf(stack->fault, sizeof stack->fault, "%s: %.60s", what, at);
	return NULL;
}

/* Past one attribute; NULL at a fault. */
static const char *read_attribute(tag_stack *stack, const char *at)
{
	const char *start = at;
	while (isalnum((unsigned char)*at) || *at == '-' || *at == ':')
		at++;
	if (at == start || *at != '=' || at[1] != '"')
		return fault(stack, "attribute without quotes", start);
	if (strncmp(start, "on", 2) == 0 || strncmp(start, "src", 3) == 0 ||
		strncmp(start, "href", 4) == 0)
		return fault(stack, "attribute that runs or fetches", start);
	for (at += 2; *at != '"'; at++) {
		if (*at == '\0' || *at == '<')
			return fault(stack, "attribute without end", start);
		if (*at == '&' && !reference_is_known(at))
			return fault(stack, "unknown reference", at);
	}
	return at + 1;
}

static const char *close_tag(tag_stack *stack, const char *tag, const char *at)
{
	if (stack->depth == 0 || strcmp(stack->open[stack->depth - 1], tag) != 0)
		return fault(stack, "closes what is not open", at);
	stack->depth--;
	return *at == '>' ? at + 1 : fault(stack, "closing tag without end", at);
}

static const char *read_tag(tag_stack *stack, const char *at)
{
	const bool closes = at[1] == '/';
	at += closes ? 2 : 1;
	char tag[MOST_TAG] = "";
	size_t n = 0;
	while (isalnum((unsigned char)*at) && n + 1 < sizeof tag)
		tag[n++] = *at++;
	if (n == 0)
		return fault(stack, "stray <", at);
	if (closes)
		return close_tag(stack, tag, at);
	while (*at == ' ') {
		at = read_attribute(stack, at + 1);
		if (at == NULL)
			return NULL;
	}
	if (strncmp(at, "/>", 2) == 0)
		return at + 2;
	if (*at != '>')
		return fault(stack, "tag without end", at);
	if (!is_void(tag)) {
		if (stack->depth == MOST_OPEN)
			return fault(stack, "too deep", at);
		memcpy(stack->open[stack->depth++], tag, sizeof tag);
	}
	return at + 1;
}

/* NULL if the page is well formed, else what is wrong, in the stack. */
static const char *page_fault(const char *page, tag_stack *stack)
{
	static const char DOCTYPE[] = "<!DOCTYPE html>";
	memset(stack, 0, sizeof *stack);
	const char *at = page;
	if (strncmp(at, DOCTYPE, strlen(DOCTYPE)) == 0)
		at += strlen(DOCTYPE);
	while (at != NULL && *at != '\0') {
		const bool style =
			stack->depth > 0 && strcmp(stack->open[stack->depth - 1], "style") == 0;
		if (style && strncmp(at, "</style>", 8) != 0)
			at++;
		else if (*at == '<')
			at = read_tag(stack, at);
		else if (*at == '&' && !reference_is_known(at))
			at = fault(stack, "unknown reference", at);
		else if (*at == '>' || ((unsigned char)*at < 0x20 && *at != '\n'))
			at = fault(stack, "stray character", at);
		else
			at++;
	}
	if (at != NULL && stack->depth == 0)
		return NULL;
	return stack->fault[0] != '\0' ? stack->fault : "something stays open";
}

#endif
