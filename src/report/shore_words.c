/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "shore_words.h"

#include <string.h>

enum { MOST_NAMES = 16 };

const char *rig_shore_kind_said(rig_shore_set_kind kind)
{
	switch (kind) {
	case RIG_SHORE_SET_TOGETHER:
		return "what the file names together";
	case RIG_SHORE_SET_STANDING:
		return "what draws with nobody at a switch";
	case RIG_SHORE_SET_COMPRESSORS:
		return "all compressors at once";
	case RIG_SHORE_SET_COMPRESSORS_AND_HEAT:
		return "all compressors and the largest heater";
	case RIG_SHORE_SET_CONTINUOUS:
		return "all that can run for hours";
	default:
		return "everything at once";
	}
}

const char *rig_shore_set_said(rig_writer *writer, const rig_shore_set *set)
{
	if (set->kind == RIG_SHORE_SET_TOGETHER)
		return set->name == NULL ? rig_said(writer, "set %d of the file", set->together + 1)
					 : set->name;
	return rig_shore_kind_said(set->kind);
}

size_t rig_shore_own_supply(const rig_shore_findings *findings)
{
	for (size_t i = 0; i < findings->n_supplies; i++) {
		if (!findings->supplies[i].adapter)
			return i;
	}
	return 0;
}

const rig_shore_set *rig_shore_everything(const rig_shore_findings *findings)
{
	const rig_shore_set *set = findings->sets;
	while (set->kind != RIG_SHORE_SET_EVERYTHING)
		set++;
	return set;
}

const rig_shore_set *rig_shore_focus_set(const rig_shore_findings *findings)
{
	const rig_shore_set *focus = rig_shore_everything(findings);
	for (size_t i = findings->n_sets; i > 0; i--) {
		const rig_shore_set *set = &findings->sets[i - 1];
		if (set->kind == RIG_SHORE_SET_TOGETHER ||
			set->kind == RIG_SHORE_SET_COMPRESSORS_AND_HEAT)
			focus = set;
	}
	return focus;
}

const char *rig_shore_items_said(rig_writer *writer, size_t n, const rig_shore_item *items)
{
	const char **names = rig_arena_take(writer->arena, n, sizeof *names);
	if (names == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return "";
	}
	for (size_t i = 0; i < n; i++)
		names[i] = rig_loads_said(writer, items[i].load, items[i].count);
	return rig_joined(writer, n, names, MOST_NAMES);
}

const char *rig_shore_off_said(rig_writer *writer, const rig_shore_choice *choice)
{
	const char *rest = NULL;
	rig_shore_item *switched = rig_arena_take(writer->arena, choice->n_off, sizeof *switched);
	if (switched == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return "";
	}
	size_t n = 0;
	for (size_t i = 0; i < choice->n_off; i++) {
		if (choice->off[i].load == RIG_SHORE_CHARGER)
			rest = "let the battery charger rest";
		else
			switched[n++] = choice->off[i];
	}
	if (n == 0)
		return rest == NULL ? "" : rest;
	const char *names = rig_shore_items_said(writer, n, switched);
	return rest == NULL ? rig_said(writer, "turn off %s", names)
			    : rig_said(writer, "turn off %s%s and %s", names,
				      strchr(names, ';') == NULL ? "," : ";", rest);
}

size_t rig_shore_asked_end(const rig_shore_findings *findings)
{
	const size_t end = rig_shore_own_supply(findings) + RIG_SHORE_MOST_ASKED;
	return end < findings->n_supplies ? end : findings->n_supplies;
}
