/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "answer/draft.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void rig_draft_clear(rig_draft *draft)
{
	memset(draft, 0, sizeof *draft);
	draft->coach.format = "rigbudget/1";
	draft->coach.loads = draft->loads;
	draft->coach.banks = draft->banks;
}

rig_load *rig_draft_load(rig_draft *draft, const char *profile, int count)
{
	const size_t i = draft->coach.n_loads;
	if (i == RIG_DRAFT_LOADS || strlen(profile) >= RIG_DRAFT_ID)
		return NULL;
	size_t same = 0;
	for (size_t k = 0; k < i; k++)
		same += strcmp(draft->profiles[k], profile) == 0;
	snprintf(draft->profiles[i], RIG_DRAFT_ID, "%s", profile);
	snprintf(draft->load_ids[i], RIG_DRAFT_ID, "%s", profile);
	const size_t length =
		strlen(profile) < RIG_DRAFT_ID - 8 ? strlen(profile) : RIG_DRAFT_ID - 8;
	if (same > 0)
		snprintf(draft->load_ids[i] + length, RIG_DRAFT_ID - length, "-%zu", same + 1);
	rig_load *load = &draft->loads[i];
	*load = (rig_load){.id = draft->load_ids[i],
		.profile = draft->profiles[i],
		.count = count,
		.from_hour = -1,
		.to_hour = -1,
		.priority = -1};
	draft->coach.n_loads = i + 1;
	return load;
}

rig_bank *rig_draft_bank(
	rig_draft *draft, const char *id, rig_bank_role role, const char *chemistry)
{
	rig_bank *bank = &draft->banks[draft->coach.n_banks++];
	*bank = (rig_bank){
		.id = id, .role = role, .chemistry = chemistry, .series = -1, .parallel = -1};
	/* of a starting battery nobody asks for more: one of about 800 cold-cranking amps */
	if (role == RIG_CHASSIS)
		bank->capacity_ah = rig_figure_range(55.0, 85.0, 135.0, RIG_FROM_ESTIMATED);
	return bank;
}

static void add_panel(rig_draft *draft, const rig_draft_words *words)
{
	const char *bank = words->panel_on_chassis ? "chassis" : "house";
	if (words->panel_on_chassis)
		rig_draft_bank(draft, bank, RIG_CHASSIS, "starting");
	draft->array = (rig_array){.id = "roof",
		.bank = bank,
		.count = -1,
		.watts_w = rig_figure_of(words->panel_w, RIG_FROM_STATED)};
	draft->coach.arrays = &draft->array;
	draft->coach.n_arrays = 1;
}

static bool add_loads(rig_draft *draft, const rig_draft_words *words)
{
	static const rig_draft_item USUAL[] = {{"roof_ac_13k5", 1}, {"microwave_800", 1},
		{"water_heater_element", 1}, {"fridge_absorption_control", 1}, {"led_light", 6},
		{"water_pump", 1}, {"lp_detector", 1}};
	const bool usual = words->n_loads == 0;
	const rig_draft_item *loads = usual ? USUAL : words->loads;
	const size_t n = usual ? sizeof USUAL / sizeof USUAL[0] : words->n_loads;
	for (size_t i = 0; i < n; i++)
		if (rig_draft_load(draft, loads[i].profile, loads[i].count) == NULL)
			return false;
	return true;
}

/* Copies a word, or the usual one for NULL. */
static bool keep(char *into, size_t room, const char *word, const char *usual)
{
	return (size_t)snprintf(into, room, "%s", word != NULL ? word : usual) < room;
}

bool rig_draft_cord_fits(double cord_a)
{
	return cord_a == 15 || cord_a == 20 || cord_a == 30 || cord_a == 50;
}

bool rig_draft_fill(rig_draft *draft, const rig_draft_words *words)
{
	if (!keep(draft->name, sizeof draft->name, words->name, "Our coach") ||
		!keep(draft->place, sizeof draft->place, words->place, "Flagstaff") ||
		!keep(draft->chemistry, sizeof draft->chemistry, words->chemistry, "flooded"))
		return false;
	draft->coach.name = draft->name;
	draft->coach.site.name = draft->place;
	draft->coach.cord_a = words->cord_a > 0 ? words->cord_a : 30;
	if (!add_loads(draft, words))
		return false;
	rig_draft_bank(draft, "house", RIG_HOUSE, draft->chemistry)->capacity_ah =
		rig_figure_of(words->bank_ah > 0 ? words->bank_ah : 80.0, RIG_FROM_STATED);
	if (words->panel_w > 0)
		add_panel(draft, words);
	return true;
}

rig_status rig_draft_text(const rig_draft *draft, rig_diags *diags, char **text)
{
	rig_file *file = NULL;
	*text = rig_coach_text(&draft->coach);
	if (*text == NULL)
		return RIG_NO_MEMORY;
	const rig_status status = rig_file_parse(*text, strlen(*text), diags, &file);
	rig_file_free(file);
	return status;
}
