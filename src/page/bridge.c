/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The kinds of request, one row each, and what every response has. */
#include "page/bridge.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/suggest.h"
#include "page/exchange.h"
#include "rigbudget/init.h"

enum { MAX_WORDS = 200 };

static const struct {
	const char *name;
	rig_status (*respond)(page_exchange *exchange);
} KINDS[] = {{"answer", page_answer}, {"whole", page_whole}, {"accept", page_accept},
	{"check", page_check}, {"write", page_write}, {"new", page_new}, {"demo", page_demo},
	{"blank", page_blank}, {"questions", page_questions}, {"keys", page_keys},
	{"list", page_list}, {"find_place", page_find_place}, {"budget", page_budget},
	{"explain", page_explain}, {"style", page_style}, {"version", page_version}};
enum { N_KINDS = sizeof KINDS / sizeof KINDS[0] };

static const char *kind_at(const void *context, size_t i)
{
	(void)context;
	return KINDS[i].name;
}

const cJSON *page_member(const page_exchange *exchange, const char *key)
{
	const cJSON *member = cJSON_GetObjectItemCaseSensitive(exchange->request, key);
	return cJSON_IsNull(member) ? NULL : member;
}

rig_status page_refuse(page_exchange *exchange, const char *key, const char *what)
{
	exchange->about = "request";
	rig_diags_add(exchange->others, &(rig_diag){.where.path = key, .what = what});
	return RIG_BAD_INPUT;
}

const char *page_text(page_exchange *exchange, const char *key, const char *usual)
{
	const cJSON *member = page_member(exchange, key);
	if (member == NULL && usual != NULL)
		return usual;
	if (member != NULL && cJSON_IsString(member))
		return member->valuestring;
	page_refuse(exchange, key, member == NULL ? "it is missing" : "it is not a text");
	return NULL;
}

bool page_number(page_exchange *exchange, const page_number_wish *wish, double *value)
{
	const cJSON *member = page_member(exchange, wish->key);
	char what[MAX_WORDS];
	*value = member == NULL ? wish->usual : member->valuedouble;
	if (member == NULL ||
		(cJSON_IsNumber(member) && *value >= wish->low && *value <= wish->high))
		return true;
	snprintf(what, sizeof what, "it is not a number from %g to %g", wish->low, wish->high);
	page_refuse(exchange, wish->key, what);
	return false;
}

rig_status page_read_file(page_exchange *exchange, rig_file **file)
{
	const char *text = page_text(exchange, "file", NULL);
	return text == NULL ? RIG_BAD_INPUT
			    : rig_file_parse(text, strlen(text), exchange->diags, file);
}

void page_add_figure(page_exchange *exchange, cJSON *into, const char *key, rig_figure figure)
{
	if (!rig_figure_given(figure)) {
		rig_json_add_null(&exchange->maker, into, key);
		return;
	}
	cJSON *parts = rig_json_add_object(&exchange->maker, into, key);
	rig_json_add_number(&exchange->maker, parts, "low", figure.low);
	rig_json_add_number(&exchange->maker, parts, "likely", figure.likely);
	rig_json_add_number(&exchange->maker, parts, "high", figure.high);
}

/* ---- faults and remarks ---- */

/* All of an entry in one line. */
static void put_in_words(rig_buffer *text, const rig_diag *diag, const char *path)
{
	const struct {
		const char *label, *words;
	} more[] = {{"found", diag->found}, {"allowed", diag->allowed}, {"to mend", diag->mend}};
	if (diag->where.line > 0)
		rig_buffer_format(
			text, "line %zu, column %zu: ", diag->where.line, diag->where.column);
	if (path[0] != '\0')
		rig_buffer_format(text, "%s: ", path);
	rig_buffer_add(text, diag->what);
	for (size_t i = 0; i < sizeof more / sizeof more[0]; i++)
		if (more[i].words[0] != '\0')
			rig_buffer_format(text, "; %s: %s", more[i].label, more[i].words);
}

/* about: "" for an entry of the file. What a question says without naming an option is about the
 * file, too. */
static void name_path(rig_buffer *path, const char *about, const rig_diag *diag)
{
	const bool named = diag->where.path[0] != '\0';
	if (named && about[0] != '\0')
		rig_buffer_format(path, "%s.", about);
	else if (strcmp(about, "request") == 0)
		rig_buffer_add(path, about);
	rig_buffer_add(path, diag->where.path);
}

static void add_entry(page_exchange *exchange, cJSON *list, const char *about, const rig_diag *diag)
{
	rig_json_maker *maker = &exchange->maker;
	rig_buffer path = {0}, words = {0};
	name_path(&path, about, diag);
	put_in_words(&words, diag, path.text != NULL ? path.text : "");
	cJSON *entry = rig_json_add_object(maker, list, NULL);
	rig_json_add_number(maker, entry, "line", (double)diag->where.line);
	rig_json_add_number(maker, entry, "column", (double)diag->where.column);
	rig_json_add_text(maker, entry, "path", path.text != NULL ? path.text : "");
	rig_json_add_text(maker, entry, "what", diag->what);
	rig_json_add_text(maker, entry, "found", diag->found);
	rig_json_add_text(maker, entry, "allowed", diag->allowed);
	rig_json_add_text(maker, entry, "remedy", diag->mend);
	rig_json_add_text(maker, entry, "text", words.text != NULL ? words.text : "");
	maker->failed = maker->failed || path.failed || words.failed;
	rig_buffer_free(&path);
	rig_buffer_free(&words);
}

static void add_entries(page_exchange *exchange, const char *key, rig_severity severity)
{
	cJSON *list = rig_json_add_array(&exchange->maker, exchange->response, key);
	const struct {
		rig_diags *diags;
		const char *about;
	} both[] = {{exchange->diags, ""}, {exchange->others, exchange->about}};
	for (size_t k = 0; k < 2; k++)
		for (size_t i = 0; i < rig_diags_count(both[k].diags); i++)
			if (rig_diags_at(both[k].diags, i)->severity == severity)
				add_entry(exchange, list, both[k].about,
					rig_diags_at(both[k].diags, i));
}

/* ---- a request and its response ---- */

static rig_status respond(page_exchange *exchange)
{
	char what[MAX_WORDS];
	const char *kind = page_text(exchange, "do", NULL);
	if (kind == NULL)
		return RIG_BAD_INPUT;
	for (size_t i = 0; i < N_KINDS; i++)
		if (strcmp(KINDS[i].name, kind) == 0)
			return KINDS[i].respond(exchange);
	const char *near = rig_suggest(kind, N_KINDS, kind_at, NULL);
	snprintf(what, sizeof what, "there is no such request%s%s%s",
		near != NULL ? "; did you mean " : "", near != NULL ? near : "",
		near != NULL ? "?" : "");
	return page_refuse(exchange, "do", what);
}

/* A response without what was begun before the fault was found. */
static void begin_anew(page_exchange *exchange, rig_status status)
{
	cJSON_Delete(exchange->response);
	exchange->response = rig_json_new_object(&exchange->maker);
	rig_json_add_truth(&exchange->maker, exchange->response, "ok", false);
	if (rig_diags_faults(exchange->diags) + rig_diags_faults(exchange->others) == 0)
		rig_diags_add(exchange->diags, &(rig_diag){.what = rig_status_text(status)});
	add_entries(exchange, "faults", RIG_FAULT);
	/* the only fault is lost where there was no memory for it */
	const cJSON *faults = cJSON_GetObjectItemCaseSensitive(exchange->response, "faults");
	if (cJSON_GetArraySize(faults) == 0)
		exchange->maker.failed = true;
}

static void exchange_words(page_exchange *exchange, const char *request, size_t n)
{
	rig_json *json = NULL;
	rig_json_maker *maker = &exchange->maker;
	exchange->response = rig_json_new_object(maker);
	rig_json_add_truth(maker, exchange->response, "ok", true);
	rig_status status = rig_json_read(request, n, exchange->others, &json);
	if (status == RIG_OK) {
		exchange->request = rig_json_root(json);
		status = cJSON_IsObject(exchange->request)
				 ? respond(exchange)
				 : page_refuse(exchange, "", "the request is not an object");
	}
	if (status != RIG_OK)
		begin_anew(exchange, status);
	add_entries(exchange, "remarks", RIG_REMARK);
	rig_json_free(json);
}

char *page_respond(const char *request, size_t n, page_progress progress)
{
	rig_init();
	page_exchange exchange = {.about = "request",
		.progress = progress,
		.diags = rig_diags_new(),
		.others = rig_diags_new()};
	rig_buffer text = {0};
	exchange.maker.failed = exchange.diags == NULL || exchange.others == NULL;
	if (!exchange.maker.failed)
		exchange_words(&exchange, request, n);
	if (!exchange.maker.failed)
		rig_json_render(exchange.response, &text);
	cJSON_Delete(exchange.response);
	rig_diags_free(exchange.diags);
	rig_diags_free(exchange.others);
	if (!exchange.maker.failed && !text.failed)
		return text.text;
	rig_buffer_free(&text);
	return NULL;
}
