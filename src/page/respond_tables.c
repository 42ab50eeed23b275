/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Requests for the tables of the library: keys of a rig file, lists, places; and what this is. */
#include <gsl/gsl_version.h>
#include <stdio.h>

#include "answer/list.h"
#include "page/exchange.h"
#include "rig/keys.h"

static const char *const KINDS[] = {
	[RIG_KEY_TEXT] = "text",
	[RIG_KEY_FORMAT] = "format",
	[RIG_KEY_ID] = "id",
	[RIG_KEY_REFERENCE] = "reference",
	[RIG_KEY_REFERENCES] = "references",
	[RIG_KEY_YES_NO] = "yes_no",
	[RIG_KEY_WHOLE] = "whole",
	[RIG_KEY_CHOICE] = "choice",
	[RIG_KEY_NUMBER] = "number",
	[RIG_KEY_FIGURE] = "figure",
	[RIG_KEY_OBJECT] = "object",
	[RIG_KEY_LIST] = "list",
};

/* As the page knows them: lists of the file by their key, tables by their list. */
static const char *const TARGETS[RIG_N_TARGETS] = {
	[RIG_TO_CIRCUIT] = "circuits",
	[RIG_TO_LOAD] = "loads",
	[RIG_TO_BANK] = "banks",
	[RIG_TO_ARRAY] = "solar",
	[RIG_TO_APPLIANCE] = "appliances",
	[RIG_TO_CHEMISTRY] = "batteries",
	[RIG_TO_PANEL_KIND] = "panels",
	[RIG_TO_CONDUCTOR] = "conductors",
	[RIG_TO_PLACE] = "places",
};

static void add_names(rig_json_maker *maker, cJSON *into, const rig_key *key)
{
	cJSON *names = rig_json_add_array(maker, into, "names");
	cJSON *units = rig_json_add_array(maker, into, "units");
	for (unsigned unit = 0; unit < RIG_N_KEY_NAMES && key->name[unit] != NULL; unit++) {
		rig_json_add_text(maker, names, NULL, key->name[unit]);
		rig_json_add_text(maker, units, NULL, rig_key_unit(key, unit));
	}
	rig_json_add_text(maker, into, "unit", rig_key_unit(key, 0));
}

static void add_choices(rig_json_maker *maker, cJSON *into, const rig_key *key)
{
	cJSON *choices = rig_json_add_array(maker, into, "choices");
	for (size_t i = 0; key->words != NULL && key->words[i].text != NULL; i++) {
		if (key->kind == RIG_KEY_NUMBER)
			rig_json_add_number(maker, choices, NULL, key->words[i].value);
		else
			rig_json_add_text(maker, choices, NULL, key->words[i].text);
	}
}

static void add_key(rig_json_maker *maker, cJSON *list, const rig_key *key)
{
	cJSON *into = rig_json_add_object(maker, list, NULL);
	const bool holds = key->kind == RIG_KEY_OBJECT || key->kind == RIG_KEY_LIST;
	rig_json_add_text(maker, into, "name", key->name[0]);
	add_names(maker, into, key);
	rig_json_add_text(maker, into, "kind", KINDS[key->kind]);
	rig_json_add_number(maker, into, "low", key->low);
	rig_json_add_number(maker, into, "high", key->high);
	add_choices(maker, into, key);
	rig_json_add_text(maker, into, "target", TARGETS[key->target]);
	rig_json_add_text(maker, into, "object", holds ? rig_keys_of(key->object)->name : NULL);
	rig_json_add_text(maker, into, "what", key->what);
	rig_json_add_text(maker, into, "example", key->example);
	rig_json_add_text(maker, into, "absent", key->absent);
	if (key->filled)
		rig_json_add_numbers(maker, into, "fill", 3, key->fill);
	else
		rig_json_add_null(maker, into, "fill");
	rig_json_add_truth(maker, into, "required", key->required);
}

rig_status page_keys(page_exchange *exchange)
{
	rig_json_maker *maker = &exchange->maker;
	cJSON *objects = rig_json_add_array(maker, exchange->response, "objects");
	for (int i = 0; i < RIG_N_OBJECTS; i++) {
		const rig_object_keys *row = rig_keys_of((rig_object)i);
		cJSON *object = rig_json_add_object(maker, objects, NULL);
		rig_json_add_text(maker, object, "name", row->name);
		rig_json_add_text(maker, object, "what", row->what);
		cJSON *keys = rig_json_add_array(maker, object, "keys");
		for (size_t k = 0; k < row->n_keys; k++)
			add_key(maker, keys, &row->keys[k]);
	}
	return RIG_OK;
}

static void add_table(page_exchange *exchange, const rig_table *table)
{
	rig_json_maker *maker = &exchange->maker;
	cJSON *columns = rig_json_add_array(maker, exchange->response, "columns");
	for (size_t i = 0; i < table->n_columns; i++) {
		cJSON *column = rig_json_add_object(maker, columns, NULL);
		rig_json_add_text(maker, column, "head", table->columns[i].head);
		rig_json_add_text(maker, column, "unit", table->columns[i].unit);
	}
	cJSON *rows = rig_json_add_array(maker, exchange->response, "rows");
	for (size_t i = 0; i < table->n_rows; i++) {
		cJSON *row = rig_json_add_array(maker, rows, NULL);
		for (size_t k = 0; k < table->n_columns; k++)
			rig_json_add_text(maker, row, NULL, table->cells[i * table->n_columns + k]);
	}
}

rig_status page_list(page_exchange *exchange)
{
	static const page_number_wish MOST = {"most", 0, 1e6, 0};
	double most = 0;
	const char *what = page_text(exchange, "what", NULL);
	const char *word = page_text(exchange, "word", "");
	if (what == NULL || word == NULL || !page_number(exchange, &MOST, &most))
		return RIG_BAD_INPUT;
	const rig_list_wish wish = {.word = word, .most = (size_t)most};
	rig_listing listing = {0};
	const rig_status status = rig_list_write(what, &wish, &listing);
	if (status == RIG_NOT_FOUND)
		return page_refuse(exchange, "what", "there is no such list");
	if (status != RIG_OK)
		return status;
	rig_json_add_text(&exchange->maker, exchange->response, "what", what);
	rig_json_add_number(&exchange->maker, exchange->response, "n", (double)listing.n);
	for (size_t i = 0; i < rig_document_n_blocks(listing.document); i++)
		if (rig_document_block_at(listing.document, i)->kind == RIG_BLOCK_TABLE)
			add_table(exchange, rig_document_block_at(listing.document, i)->table);
	rig_document_free(listing.document);
	return RIG_OK;
}

rig_status page_find_place(page_exchange *exchange)
{
	enum { MOST_NEAR = 6 };
	size_t near[MOST_NEAR];
	rig_place place;
	rig_json_maker *maker = &exchange->maker;
	const char *name = page_text(exchange, "name", NULL);
	if (name == NULL)
		return RIG_BAD_INPUT;
	const long found = rig_place_find(name);
	if (found >= 0)
		rig_place_at((size_t)found, &place);
	rig_json_add_text(maker, exchange->response, "found", found >= 0 ? place.name : NULL);
	cJSON *list = rig_json_add_array(maker, exchange->response, "near");
	const size_t n = rig_place_suggest(name, MOST_NEAR, near);
	for (size_t i = 0; i < n; i++) {
		rig_place_at(near[i], &place);
		rig_json_add_text(maker, list, NULL, place.name);
	}
	return RIG_OK;
}

rig_status page_style(page_exchange *exchange)
{
	rig_json_add_text(&exchange->maker, exchange->response, "css", rig_document_style());
	return RIG_OK;
}

rig_status page_version(page_exchange *exchange)
{
	rig_json_maker *maker = &exchange->maker;
	rig_json_add_text(maker, exchange->response, "version", RIG_VERSION);
	rig_json_add_text(maker, exchange->response, "gsl", gsl_version);
	rig_json_add_text(maker, exchange->response, "cjson", cJSON_Version());
	rig_json_add_text(maker, exchange->response, "licence",
		"GPL-3.0-or-later; there is no warranty, to the extent that the law allows");
	return RIG_OK;
}
