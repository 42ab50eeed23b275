/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Requests about a rig file itself: read, write, begin. */
#include <stdlib.h>
#include <string.h>

#include "answer/draft.h"
#include "page/coaches.h"
#include "page/exchange.h"

static void add_count(page_exchange *exchange, const char *key, size_t n)
{
	rig_json_add_number(&exchange->maker, exchange->response, key, (double)n);
}

rig_status page_check(page_exchange *exchange)
{
	rig_file *file = NULL;
	const rig_status status = page_read_file(exchange, &file);
	if (status != RIG_OK)
		return status;
	rig_json_maker *maker = &exchange->maker;
	const rig_coach *coach = rig_file_completed(file);
	const rig_place *place = rig_file_place(file, NULL);
	rig_json_add_text(maker, exchange->response, "name", coach->name);
	rig_json_add_number(maker, exchange->response, "cord_a", coach->cord_a);
	rig_json_add_text(maker, exchange->response, "place", place != NULL ? place->name : NULL);
	add_count(exchange, "n_circuits", coach->n_circuits);
	add_count(exchange, "n_loads", coach->n_loads);
	add_count(exchange, "n_banks", coach->n_banks);
	add_count(exchange, "n_solar", coach->n_arrays);
	add_count(exchange, "n_readings", coach->n_readings);
	cJSON *habits = rig_json_add_array(maker, exchange->response, "habits");
	for (size_t i = 0; i < coach->n_habits; i++)
		rig_json_add_text(maker, habits, NULL, coach->habits[i].name);
	rig_file_free(file);
	return RIG_OK;
}

static rig_status add_text(page_exchange *exchange, char *text)
{
	if (text == NULL)
		return RIG_NO_MEMORY;
	rig_json_add_text(&exchange->maker, exchange->response, "text", text);
	free(text);
	return RIG_OK;
}

rig_status page_write(page_exchange *exchange)
{
	rig_file *file = NULL;
	rig_status status = page_read_file(exchange, &file);
	if (status == RIG_OK)
		status = add_text(exchange, rig_file_text(file));
	rig_file_free(file);
	return status;
}

/* ---- a first coach ---- */

typedef struct {
	rig_draft draft;
	rig_draft_item loads[RIG_DRAFT_LOADS];
	rig_draft_words words;
} first_coach;

static rig_status read_load(page_exchange *exchange, first_coach *first, const cJSON *item)
{
	const cJSON *profile = cJSON_GetObjectItemCaseSensitive(item, "profile");
	const cJSON *count = cJSON_GetObjectItemCaseSensitive(item, "count");
	/* what is no number has none: NaN, which is refused */
	const double n = count == NULL ? 1.0 : cJSON_GetNumberValue(count);
	if (!cJSON_IsString(profile) || !(n >= 1.0 && n <= 1000.0) || n != (double)(int)n)
		return page_refuse(exchange, "loads",
			"a load is not {\"profile\": id, \"count\": a whole number}");
	if (first->words.n_loads == RIG_DRAFT_LOADS)
		return page_refuse(exchange, "loads", "there are too many loads");
	first->loads[first->words.n_loads++] = (rig_draft_item){profile->valuestring, (int)n};
	return RIG_OK;
}

static rig_status read_numbers(page_exchange *exchange, first_coach *first)
{
	static const page_number_wish CORD = {"cord", 15, 50, 30};
	static const page_number_wish PANEL = {"panel_w", 0, 100000, 0};
	static const page_number_wish BANK = {"bank_ah", 0.1, 100000, 80};
	double cord_a = 0;
	if (!page_number(exchange, &CORD, &cord_a) ||
		!page_number(exchange, &PANEL, &first->words.panel_w) ||
		!page_number(exchange, &BANK, &first->words.bank_ah))
		return RIG_BAD_INPUT;
	first->words.cord_a = (int)cord_a;
	return rig_draft_cord_fits(cord_a)
		       ? RIG_OK
		       : page_refuse(exchange, "cord", "it is not 15, 20, 30 or 50");
}

static rig_status read_first(page_exchange *exchange, first_coach *first)
{
	const cJSON *loads = page_member(exchange, "loads"), *item = NULL;
	const char *bank = page_text(exchange, "panel_bank", "house");
	first->words.loads = first->loads;
	first->words.name = page_text(exchange, "name", "Our coach");
	first->words.place = page_text(exchange, "place", "Flagstaff");
	first->words.chemistry = page_text(exchange, "chemistry", "flooded");
	if (bank == NULL || first->words.name == NULL || first->words.place == NULL ||
		first->words.chemistry == NULL)
		return RIG_BAD_INPUT;
	first->words.panel_on_chassis = strcmp(bank, "chassis") == 0;
	if (!first->words.panel_on_chassis && strcmp(bank, "house") != 0)
		return page_refuse(exchange, "panel_bank", "it is neither house nor chassis");
	if (loads != NULL && !cJSON_IsArray(loads))
		return page_refuse(exchange, "loads", "it is not a list");
	cJSON_ArrayForEach(item, loads)
	{
		const rig_status status = read_load(exchange, first, item);
		if (status != RIG_OK)
			return status;
	}
	return read_numbers(exchange, first);
}

rig_status page_new(page_exchange *exchange)
{
	first_coach *first = calloc(1, sizeof *first);
	char *text = NULL;
	if (first == NULL)
		return RIG_NO_MEMORY;
	rig_draft_clear(&first->draft);
	rig_status status = read_first(exchange, first);
	if (status == RIG_OK && !rig_draft_fill(&first->draft, &first->words))
		status = page_refuse(exchange, "name", "the name, the place or a kind is too long");
	if (status == RIG_OK)
		status = rig_draft_text(&first->draft, exchange->diags, &text);
	if (status == RIG_OK)
		rig_json_add_text(&exchange->maker, exchange->response, "text", text);
	free(text);
	free(first);
	return status;
}

rig_status page_blank(page_exchange *exchange)
{
	rig_coach coach;
	rig_coach_clear(&coach);
	coach.format = "rigbudget/1";
	coach.name = "Our coach";
	coach.cord_a = 30;
	return add_text(exchange, rig_coach_text(&coach));
}

static rig_status add_coach(page_exchange *exchange, cJSON *list, const page_coach *demo)
{
	rig_json_maker *maker = &exchange->maker;
	rig_diags *unheard = rig_diags_new(); /* its remarks are for whoever opens it */
	rig_file *file = NULL;
	if (unheard == NULL)
		return RIG_NO_MEMORY;
	const rig_status status = rig_file_parse(demo->text, strlen(demo->text), unheard, &file);
	if (status == RIG_OK) {
		const rig_coach *coach = rig_file_coach(file);
		cJSON *entry = rig_json_add_object(maker, list, NULL);
		rig_json_add_text(maker, entry, "id", demo->id);
		rig_json_add_text(maker, entry, "name", coach->name);
		rig_json_add_text(maker, entry, "notes", coach->notes);
		rig_json_add_text(maker, entry, "text", demo->text);
	}
	rig_file_free(file);
	rig_diags_free(unheard);
	return status;
}

rig_status page_demo(page_exchange *exchange)
{
	cJSON *list = rig_json_add_array(&exchange->maker, exchange->response, "coaches");
	rig_status status = RIG_OK;
	for (size_t i = 0; i < PAGE_N_COACHES && status == RIG_OK; i++)
		status = add_coach(exchange, list, &PAGE_COACHES[i]);
	return status;
}
