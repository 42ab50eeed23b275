/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exchange.h: one request and the response to it, for the files of this room. */
#ifndef PAGE_EXCHANGE_H
#define PAGE_EXCHANGE_H

#include "base/json.h"
#include "base/jsonout.h"
#include "page/bridge.h"
#include "rigbudget/answer.h"

typedef struct {
	const cJSON *request; /* an object */
	cJSON *response;
	rig_json_maker maker;
	rig_diags *diags;  /* of the file */
	rig_diags *others; /* of the options or the request */
	const char *about; /* which of the two: "options", "request" */
	page_progress progress;
} page_exchange;

/* Each answers one kind of request. RIG_OK: the response holds the answer. Else why stands in
 * diags or others, or memory is out. */
rig_status page_answer(page_exchange *exchange);
rig_status page_whole(page_exchange *exchange);
rig_status page_accept(page_exchange *exchange);
rig_status page_check(page_exchange *exchange);
rig_status page_write(page_exchange *exchange);
rig_status page_new(page_exchange *exchange);
rig_status page_demo(page_exchange *exchange);
rig_status page_blank(page_exchange *exchange);
rig_status page_questions(page_exchange *exchange);
rig_status page_keys(page_exchange *exchange);
rig_status page_list(page_exchange *exchange);
rig_status page_find_place(page_exchange *exchange);
rig_status page_budget(page_exchange *exchange);
rig_status page_explain(page_exchange *exchange);
rig_status page_style(page_exchange *exchange);
rig_status page_version(page_exchange *exchange);

/* A member of the request; NULL if it is not there or is null. */
const cJSON *page_member(const page_exchange *exchange, const char *key);
/* A text of the request; the usual one where it is left out. NULL after a fault: it is no text. */
const char *page_text(page_exchange *exchange, const char *key, const char *usual);
/* A number of the request within a range; false after a fault. */
typedef struct {
	const char *key;
	double low, high, usual;
} page_number_wish;
bool page_number(page_exchange *exchange, const page_number_wish *wish, double *value);
/* Adds a fault about a member of the request; RIG_BAD_INPUT. */
rig_status page_refuse(page_exchange *exchange, const char *key, const char *what);

/* Reads the rig file of the request. */
rig_status page_read_file(page_exchange *exchange, rig_file **file);

/* {"low", "likely", "high"}, or null for a figure that is absent. */
void page_add_figure(page_exchange *exchange, cJSON *into, const char *key, rig_figure figure);

#endif
