/* SPDX-License-Identifier: GPL-3.0-or-later */
/* budget.c: amps beside limits, for the table of circuits and loads. */
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "page/exchange.h"
#include "rigbudget/shore.h"

static const char *const LEGS[] = {
	[RIG_LEG_UNSAID] = "", [RIG_LEG_1] = "L1", [RIG_LEG_2] = "L2", [RIG_LEG_BOTH] = "both"};
static const char *const VERDICTS[] = {[RIG_SHORE_FITS] = "fits",
	[RIG_SHORE_DEPENDS] = "depends",
	[RIG_SHORE_OVER_CONTINUOUS] = "over_continuous",
	[RIG_SHORE_OVER] = "over"};

/* A coach of which one set is asked: what is switched on. */
typedef struct {
	rig_coach coach;
	rig_together set;
	int *load_index;
	const char **ids;
	rig_shore_findings *findings;
} budget_work;

static int find_load(const rig_coach *coach, const cJSON *id)
{
	for (size_t i = 0; cJSON_IsString(id) && i < coach->n_loads; i++)
		if (strcmp(coach->loads[i].id, id->valuestring) == 0)
			return (int)i;
	return -1;
}

static bool holds(const int *loads, size_t n, int load)
{
	for (size_t i = 0; i < n; i++)
		if (loads[i] == load)
			return true;
	return false;
}

static rig_status switch_on(page_exchange *exchange, budget_work *work)
{
	const cJSON *on = page_member(exchange, "on"), *item = NULL;
	const rig_coach *coach = &work->coach;
	size_t n = 0;
	if (on != NULL && !cJSON_IsArray(on))
		return page_refuse(exchange, "on", "it is not a list");
	cJSON_ArrayForEach(item, on)
	{
		const int load = find_load(coach, item);
		if (load < 0)
			return page_refuse(exchange, "on", "the file has no such load");
		if (holds(work->load_index, n, load))
			return page_refuse(exchange, "on", "a load stands there twice");
		/* a DC load has no part in a set; its fuse is in every budget */
		if (coach->loads[load].supply == RIG_AC) {
			work->load_index[n] = load;
			work->ids[n++] = coach->loads[load].id;
		}
	}
	work->set = (rig_together){.name = "what is on",
		.n_loads = n,
		.loads = work->ids,
		.load_index = work->load_index};
	work->coach.together = &work->set;
	work->coach.n_together = on != NULL;
	return RIG_OK;
}

static rig_status work_out(page_exchange *exchange, budget_work *work)
{
	work->load_index = calloc(work->coach.n_loads + 1, sizeof *work->load_index);
	work->ids = calloc(work->coach.n_loads + 1, sizeof *work->ids);
	if (work->load_index == NULL || work->ids == NULL)
		return RIG_NO_MEMORY;
	const rig_shore_options verdicts = {.verdicts_only = true};
	const rig_status status = switch_on(exchange, work);
	return status == RIG_OK ? rig_shore_study(&work->coach, &verdicts, &work->findings)
				: status;
}

/* Of the first set: what is on, or everything if nobody says. */
static const rig_shore_budget *on_supply(const rig_shore_findings *findings, const char *supply)
{
	for (size_t i = 0; i < findings->n_supplies; i++) {
		const rig_shore_supply *row = &findings->supplies[i];
		const bool named = supply[0] != '\0' && strcasecmp(row->pedestal->id, supply) == 0;
		if (named || (supply[0] == '\0' && !row->adapter))
			return &findings->sets[0].budgets[i];
	}
	return NULL;
}

static void add_flow(page_exchange *exchange, cJSON *into, const rig_shore_flow *flow)
{
	rig_json_maker *maker = &exchange->maker;
	page_add_figure(exchange, into, "amps", flow->amps_a);
	page_add_figure(exchange, into, "loaded_a", flow->loaded_a);
	page_add_figure(exchange, into, "watts", flow->watts_w);
	if (flow->limit_a > 0)
		rig_json_add_number(maker, into, "limit_a", flow->limit_a);
	else
		rig_json_add_null(maker, into, "limit_a");
	rig_json_add_text(maker, into, "verdict", VERDICTS[flow->verdict]);
}

static void add_leg(
	page_exchange *exchange, cJSON *list, const char *name, const rig_shore_flow *flow)
{
	cJSON *leg = rig_json_add_object(&exchange->maker, list, NULL);
	rig_json_add_text(&exchange->maker, leg, "name", name);
	add_flow(exchange, leg, flow);
}

static void add_legs(
	page_exchange *exchange, const rig_shore_supply *supply, const rig_shore_budget *budget)
{
	cJSON *legs = rig_json_add_array(&exchange->maker, exchange->response, "legs");
	if (supply->n_hots == 2) {
		add_leg(exchange, legs, "L1", &budget->leg[0]);
		add_leg(exchange, legs, "L2", &budget->leg[1]);
	} else {
		add_leg(exchange, legs, "main", &budget->main);
	}
	add_leg(exchange, legs, "neutral", &budget->neutral);
}

static void add_circuits(
	page_exchange *exchange, const rig_coach *coach, const rig_shore_budget *budget)
{
	rig_json_maker *maker = &exchange->maker;
	cJSON *list = rig_json_add_array(maker, exchange->response, "circuits");
	for (size_t i = 0; i < budget->n_circuits; i++) {
		const rig_shore_circuit *row = &budget->circuits[i];
		const rig_circuit *circuit = &coach->circuits[row->circuit];
		cJSON *entry = rig_json_add_object(maker, list, NULL);
		rig_json_add_text(maker, entry, "id", circuit->id);
		rig_json_add_text(
			maker, entry, "name", circuit->name != NULL ? circuit->name : circuit->id);
		rig_json_add_text(maker, entry, "supply", circuit->supply == RIG_DC ? "dc" : "ac");
		rig_json_add_text(maker, entry, "leg", LEGS[circuit->leg]);
		add_flow(exchange, entry, &row->flow);
	}
}

/* What each load draws by itself, all of its count, at its rated volts. */
static void add_loads(page_exchange *exchange, const rig_coach *coach)
{
	rig_json_maker *maker = &exchange->maker;
	cJSON *list = rig_json_add_array(maker, exchange->response, "loads");
	for (size_t i = 0; i < coach->n_loads; i++) {
		const rig_load *load = &coach->loads[i];
		const bool on_circuit = load->circuit_index >= 0;
		cJSON *entry = rig_json_add_object(maker, list, NULL);
		rig_json_add_text(maker, entry, "id", load->id);
		rig_json_add_text(maker, entry, "name", load->name != NULL ? load->name : load->id);
		rig_json_add_text(maker, entry, "circuit", load->circuit);
		rig_json_add_text(maker, entry, "supply", load->supply == RIG_DC ? "dc" : "ac");
		rig_json_add_text(maker, entry, "leg",
			on_circuit ? LEGS[coach->circuits[load->circuit_index].leg] : "");
		rig_json_add_number(maker, entry, "count", load->count);
		page_add_figure(exchange, entry, "watts", load->running_w);
	}
}

rig_status page_budget(page_exchange *exchange)
{
	budget_work work = {0};
	rig_file *file = NULL;
	const char *supply = page_text(exchange, "supply", "");
	rig_status status = supply == NULL ? RIG_BAD_INPUT : page_read_file(exchange, &file);
	if (status != RIG_OK)
		goto out;
	work.coach = *rig_file_completed(file);
	status = work_out(exchange, &work);
	if (status != RIG_OK || work.findings == NULL)
		goto out;
	const rig_shore_budget *budget = on_supply(work.findings, supply);
	if (budget == NULL) {
		status = page_refuse(exchange, "supply", "there is no such supply");
		goto out;
	}
	const rig_shore_supply *row = &work.findings->supplies[budget->supply];
	rig_json_add_text(&exchange->maker, exchange->response, "supply", row->pedestal->id);
	rig_json_add_number(&exchange->maker, exchange->response, "limit_a", row->limit_a);
	rig_json_add_text(
		&exchange->maker, exchange->response, "verdict", VERDICTS[budget->verdict]);
	add_legs(exchange, row, budget);
	add_circuits(exchange, &work.coach, budget);
	add_loads(exchange, &work.coach);
out:
	rig_shore_free(work.findings);
	free(work.load_index);
	free(work.ids);
	rig_file_free(file);
	return status;
}
