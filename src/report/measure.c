/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#include "amount.h"

/* Exact by definition: the foot is 0.3048 m, the gallon 231 cubic inches; the international BTU is
 * 1,055.06 J [NIST-SP811]. */
static const struct {
	const char *us;
	double factor;
	const char *si;
} UNITS[] = {{"cu ft", 28.316846592, "litres"}, {"gal", 3.785411784, "litres"}, {"in", 2.54, "cm"},
	{"BTU/h", 1055.06 / 3.6e6, "kW"}};
enum { N_UNITS = sizeof UNITS / sizeof UNITS[0] };

/* Reads "13,500" or "18"; NULL if there is no number at text. */
static const char *read_number(const char *text, double *value)
{
	if (!isdigit((unsigned char)*text))
		return NULL;
	double whole = 0.0;
	double place = 0.0;
	for (;; text++) {
		if (isdigit((unsigned char)*text)) {
			const double digit = *text - '0';
			whole = place > 0.0 ? whole + digit * place : whole * 10.0 + digit;
			place /= 10.0;
		} else if (*text == '.' && place == 0.0 && isdigit((unsigned char)text[1])) {
			place = 0.1;
		} else if (*text != ',' || !isdigit((unsigned char)text[1])) {
			*value = whole;
			return text;
		}
	}
}

/* The unit that stands at text as a word; N_UNITS if none. */
static size_t unit_at(const char *text)
{
	size_t i = 0;
	for (; i < N_UNITS; i++) {
		const size_t length = strlen(UNITS[i].us);
		if (strncmp(text, UNITS[i].us, length) == 0 &&
			!isalnum((unsigned char)text[length]))
			break;
	}
	return i;
}

/* Adds "18 to 20 cu ft" or "16 cu ft" in SI; NULL if no such thing stands at text. */
static const char *add_size(rig_buffer *words, const char *text)
{
	double first = 0.0;
	const char *end = read_number(text, &first);
	if (end == NULL)
		return NULL;
	double last = first;
	if (strncmp(end, " to ", 4) == 0) {
		end = read_number(end + 4, &last);
		if (end == NULL)
			return NULL;
	}
	if (*end != ' ')
		return NULL;
	const size_t unit = unit_at(end + 1);
	if (unit == N_UNITS)
		return NULL;
	rig_amount_span(words, first * UNITS[unit].factor, last * UNITS[unit].factor, 2);
	rig_buffer_format(words, " %s", UNITS[unit].si);
	return end + 1 + strlen(UNITS[unit].us);
}

const char *rig_measure_label(rig_arena *arena, const char *label, rig_units units)
{
	if (units == RIG_UNITS_US)
		return label;
	rig_buffer words = {0};
	bool inside = false; /* a number or word that has begun */
	for (const char *at = label; *at != '\0';) {
		const char *after = inside ? NULL : add_size(&words, at);
		if (after != NULL) {
			at = after;
			continue;
		}
		inside = isalnum((unsigned char)*at) != 0;
		rig_buffer_add_bytes(&words, at++, 1);
	}
	if (words.failed)
		rig_arena_fail(arena);
	const char *text =
		words.failed || words.text == NULL ? "" : rig_arena_text(arena, words.text);
	rig_buffer_free(&words);
	return text == NULL ? "" : text;
}
