/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stands behind a figure. */
#include <string.h>

#include "page/coaches.h"
#include "page/exchange.h"
#include "report/explain.h"

/* The text of a source's line, after its key; "" if there is none. */
static void add_source_text(rig_buffer *into, const char *key, size_t length)
{
	for (const char *line = page_sources; line != NULL; line = strchr(line, '\n')) {
		line += *line == '\n';
		if (strncmp(line, key, length) != 0)
			continue;
		const char *from = line + length + strspn(line + length, " ");
		rig_buffer_add_bytes(into, from, strcspn(from, "\n"));
		return;
	}
}

static void add_source(page_exchange *exchange, cJSON *list, const char *key, const char *text)
{
	cJSON *source = rig_json_add_object(&exchange->maker, list, NULL);
	rig_json_add_text(&exchange->maker, source, "key", key);
	rig_json_add_text(&exchange->maker, source, "text", text);
}

static void add_keyed(page_exchange *exchange, cJSON *list, const char *key, size_t length)
{
	rig_buffer name = {0}, text = {0};
	rig_buffer_add_bytes(&name, key + 1, length - 2);
	add_source_text(&text, key, length);
	add_source(exchange, list, name.text != NULL ? name.text : "",
		text.text != NULL ? text.text : "");
	exchange->maker.failed = exchange->maker.failed || name.failed || text.failed;
	rig_buffer_free(&name);
	rig_buffer_free(&text);
}

/* "[A-1] [B-2]", or words. */
static void add_sources(page_exchange *exchange, cJSON *into, const char *sources)
{
	cJSON *list = rig_json_add_array(&exchange->maker, into, "sources");
	if (sources[0] != '[')
		add_source(exchange, list, NULL, sources);
	for (const char *at = strchr(sources, '['); at != NULL; at = strchr(at + 1, '['))
		add_keyed(exchange, list, at, strcspn(at, "]") + 1);
}

static void add_explanation(page_exchange *exchange, cJSON *into, const rig_explanation *row)
{
	rig_json_maker *maker = &exchange->maker;
	rig_json_add_text(maker, into, "about", row->id);
	rig_json_add_text(maker, into, "name", row->name);
	rig_json_add_text(maker, into, "what", row->what);
	rig_json_add_text(maker, into, "formula", row->formula);
	cJSON *inputs = rig_json_add_array(maker, into, "inputs");
	for (size_t i = 0; i < RIG_MOST_INPUTS && row->inputs[i] != NULL; i++)
		rig_json_add_text(maker, inputs, NULL, row->inputs[i]);
	add_sources(exchange, into, row->sources);
	rig_json_add_text(maker, into, "doubt", row->doubt);
}

rig_status page_explain(page_exchange *exchange)
{
	const char *about = page_text(exchange, "about", "");
	if (about == NULL)
		return RIG_BAD_INPUT;
	if (about[0] == '\0') {
		cJSON *all = rig_json_add_array(&exchange->maker, exchange->response, "all");
		for (size_t i = 0; i < rig_n_explanations(); i++)
			add_explanation(exchange, rig_json_add_object(&exchange->maker, all, NULL),
				rig_explanation_at(i));
		return RIG_OK;
	}
	const rig_explanation *row = rig_explanation_find(about);
	if (row == NULL)
		return page_refuse(exchange, "about", "there is no such explanation");
	add_explanation(exchange, exchange->response, row);
	return RIG_OK;
}
