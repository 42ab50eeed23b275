/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/suggest.h"

#include <stdbool.h>
#include <string.h>

enum {
	MAX_LENGTH = 64, /* longer words are no slips of the keyboard */
	LEAST_BEGINNING = 4
};

static int lower(char letter)
{
	return letter >= 'A' && letter <= 'Z' ? letter - 'A' + 'a' : letter;
}

static size_t least(size_t a, size_t b)
{
	return a < b ? a : b;
}

/* Damerau-Levenshtein distance in its restricted form, where no part is edited twice. */
static size_t distance(const char *a, size_t n_a, const char *b, size_t n_b)
{
	size_t rows[3][MAX_LENGTH + 1];
	size_t *before = rows[0], *above = rows[1], *row = rows[2];
	for (size_t j = 0; j <= n_b; j++)
		before[j] = above[j] = j;
	for (size_t i = 1; i <= n_a; i++) {
		row[0] = i;
		for (size_t j = 1; j <= n_b; j++) {
			const int x = lower(a[i - 1]), y = lower(b[j - 1]);
			row[j] = least(least(above[j], row[j - 1]) + 1, above[j - 1] + (x != y));
			if (i > 1 && j > 1 && x == lower(b[j - 2]) && y == lower(a[i - 2]))
				row[j] = least(row[j], before[j - 2] + 1);
		}
		size_t *const oldest = before;
		before = above;
		above = row;
		row = oldest;
	}
	return above[n_b];
}

/* Whether name is the word and more after an underscore. */
static bool begins_with(const char *name, const char *word, size_t length)
{
	for (size_t i = 0; i < length; i++)
		if (name[i] == '\0' || lower(name[i]) != lower(word[i]))
			return false;
	return name[length] == '_';
}

const char *rig_suggest(const char *word, size_t n,
	const char *(*name_at)(const void *context, size_t i), const void *context)
{
	const size_t length = strlen(word);
	if (length == 0 || length > MAX_LENGTH)
		return NULL;
	const size_t limit = length < 6 ? 1 : length / 3;
	size_t nearest = limit + 1;
	const char *best = NULL;
	for (size_t i = 0; i < n; i++) {
		const char *name = name_at(context, i);
		const size_t name_length = strlen(name);
		if (name_length > MAX_LENGTH || name_length > length + limit ||
			length > name_length + limit)
			continue;
		const size_t far = distance(word, length, name, name_length);
		/* At least one letter has to be right. */
		if (far < nearest && far < least(length, name_length)) {
			nearest = far;
			best = name;
		}
	}
	for (size_t i = 0; i < n && best == NULL && length >= LEAST_BEGINNING; i++)
		if (begins_with(name_at(context, i), word, length))
			best = name_at(context, i);
	return best;
}
