/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/oneline.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "read_coach.h"
#include "rig/random_coach.h"
#include "suites.h"

static rig_oneline_findings *graph_of(const rig_file *file)
{
	rig_oneline_findings *findings = NULL;
	ck_assert_int_eq(rig_oneline_study(rig_file_completed(file), &findings), RIG_OK);
	return findings;
}

static int nodes_of(const rig_oneline_findings *findings, rig_node_kind kind)
{
	int n = 0;
	for (size_t i = 0; i < findings->n_nodes; i++)
		n += findings->nodes[i].kind == kind;
	return n;
}

static int first_of(const rig_oneline_findings *findings, rig_node_kind kind)
{
	for (size_t i = 0; i < findings->n_nodes; i++)
		if (findings->nodes[i].kind == kind)
			return (int)i;
	return -1;
}

static const rig_oneline_edge *edge_between(const rig_oneline_findings *findings, int from, int to)
{
	for (size_t i = 0; i < findings->n_edges; i++)
		if (findings->edges[i].from == from && findings->edges[i].to == to)
			return &findings->edges[i];
	return NULL;
}

/* Coaches in a few words, and how many nodes of a kind they have. What has to be there follows from
 * what feeds what; a transfer switch between two supplies by NFPA 70, 551.30(B) [NFPA-70], from
 * memory. */
#define BANK                                                                                       \
	"\"banks\": [{\"id\": \"b\", \"role\": \"house\", \"chemistry\": \"agm\", "                \
	"\"capacity_ah\": 100}]"
static const struct {
	const char *what, *parts;
	int cord_a;
	rig_node_kind kind;
	int n;
} PARTS[] = {
	{"a cord alone has no transfer", "\"loads\": []", 30, RIG_NODE_TRANSFER, 0},
	{"a cord and a generator need a transfer", "\"generator\": {\"watts_w\": 4000}", 30,
		RIG_NODE_TRANSFER, 1},
	{"30 A has one bus whatever the legs",
		"\"circuits\": [{\"id\": \"a\", \"breaker_a\": 20, \"leg\": \"L1\"}, "
		"{\"id\": \"c\", \"breaker_a\": 15}]",
		30, RIG_NODE_AC_BUS, 1},
	{"50 A has a bus for each leg and one for both",
		"\"circuits\": [{\"id\": \"a\", \"breaker_a\": 20, \"leg\": \"L1\"}, "
		"{\"id\": \"c\", \"breaker_a\": 15, \"leg\": \"L2\"}, "
		"{\"id\": \"d\", \"breaker_a\": 30, \"leg\": \"both\"}]",
		50, RIG_NODE_AC_BUS, 3},
	{"a tracker has a controller",
		"\"solar\": [{\"id\": \"s\", \"watts_w\": 200, \"bank\": "
		"\"b\", \"controller\": \"mppt\"}], " BANK,
		30, RIG_NODE_CONTROLLER, 1},
	{"panels that feed a bank directly have none",
		"\"solar\": [{\"id\": \"s\", \"watts_w\": 20, \"bank\": \"b\", \"controller\": "
		"\"direct\"}], " BANK,
		30, RIG_NODE_CONTROLLER, 0},
	{"an inverter with a circuit needs a transfer to the panel",
		"\"inverter\": {\"bank\": \"b\", \"watts_w\": 1000}, \"circuits\": [{\"id\": "
		"\"a\", "
		"\"breaker_a\": 15, \"inverter\": true}], " BANK,
		30, RIG_NODE_INVERTER_TRANSFER, 1},
	{"one name, one bank: one unit",
		"\"inverter\": {\"name\": \"Unit\", \"bank\": \"b\", \"watts_w\": 900}, "
		"\"charger\": {\"name\": "
		"\"Unit\", \"bank\": \"b\", \"amps_a\": 80}, " BANK,
		30, RIG_NODE_INVERTER_CHARGER, 1},
	{"two names: two units",
		"\"inverter\": {\"name\": \"Unit\", \"bank\": \"b\", \"watts_w\": 900}, "
		"\"charger\": {\"name\": "
		"\"Box\", \"bank\": \"b\", \"amps_a\": 80}, " BANK,
		30, RIG_NODE_INVERTER_CHARGER, 0},
	{"one unit has its transfer inside",
		"\"inverter\": {\"name\": \"Unit\", \"bank\": \"b\", \"watts_w\": 900}, "
		"\"charger\": {\"name\": "
		"\"Unit\", \"bank\": \"b\", \"amps_a\": 80}, \"circuits\": [{\"id\": \"a\", "
		"\"breaker_a\": 15, \"inverter\": true}], " BANK,
		30, RIG_NODE_INVERTER_TRANSFER, 0},
	{"a wire that feeds nothing named has an open end",
		"\"wires\": [{\"id\": \"w\", \"bank\": \"b\", \"awg\": \"6\"}], " BANK, 30,
		RIG_NODE_WIRE_END, 1},
	{"a wire to the inverter stands for its line",
		"\"inverter\": {\"bank\": \"b\", \"watts_w\": 900}, \"wires\": [{\"id\": \"w\", "
		"\"bank\": \"b\", "
		"\"feeds\": \"inverter\", \"awg\": \"2/0\"}], " BANK,
		30, RIG_NODE_WIRE_END, 0},
};

static rig_file *coach_with(int cord_a, const char *parts)
{
	char shore[40];
	snprintf(shore, sizeof shore, "{\"cord_a\": %d}", cord_a);
	return read_coach(shore, parts);
}

START_TEST(what_the_file_names_is_there_and_what_that_needs)
{
	rig_file *file = coach_with(PARTS[_i].cord_a, PARTS[_i].parts);
	rig_oneline_findings *findings = graph_of(file);
	ck_assert_msg(nodes_of(findings, PARTS[_i].kind) == PARTS[_i].n, "%s: %d", PARTS[_i].what,
		nodes_of(findings, PARTS[_i].kind));
	rig_oneline_free(findings);
	rig_file_free(file);
}
END_TEST

START_TEST(a_line_has_the_rating_gauge_and_length_that_the_file_gives)
{
	rig_file *file = coach_with(30,
		"\"circuits\": [{\"id\": \"a\", \"breaker_a\": 20, \"awg\": \"12\"}], "
		"\"inverter\": {\"bank\": \"b\", \"watts_w\": 900}, \"wires\": [{\"id\": \"w\", "
		"\"circuit\": \"a\", "
		"\"length_m\": 7}, {\"id\": \"v\", \"bank\": \"b\", \"feeds\": \"inverter\", "
		"\"awg\": \"4/0\", \"fuse_a\": 300, \"interrupt_a\": 20000}], " BANK);
	rig_oneline_findings *findings = graph_of(file);
	const rig_oneline_edge *branch = edge_between(
		findings, first_of(findings, RIG_NODE_AC_BUS), first_of(findings, RIG_NODE_LOADS));
	ck_assert_int_eq(branch->guard, RIG_GUARD_BREAKER);
	ck_assert_double_eq(branch->rating_a.likely, 20.0);
	ck_assert_str_eq(branch->awg, "12");
	ck_assert_double_eq(branch->length_m.likely, 7.0);
	const rig_oneline_edge *cable = edge_between(findings, first_of(findings, RIG_NODE_DC_BUS),
		first_of(findings, RIG_NODE_INVERTER));
	ck_assert_int_eq(cable->guard, RIG_GUARD_FUSE);
	ck_assert_double_eq(cable->rating_a.likely, 300.0);
	ck_assert_double_eq(cable->interrupt_a.likely, 20000.0);
	ck_assert_str_eq(cable->awg, "4/0");
	ck_assert(!rig_figure_given(cable->length_m));
	rig_oneline_free(findings);
	rig_file_free(file);
}
END_TEST

START_TEST(what_profiles_fill_in_is_not_drawn_as_stated)
{
	rig_file *file = coach_with(50, "\"loads\": []");
	rig_oneline_findings *findings = graph_of(file);
	const rig_oneline_edge *cord = edge_between(
		findings, first_of(findings, RIG_NODE_SHORE), first_of(findings, RIG_NODE_MAIN));
	ck_assert_ptr_null(cord->awg);
	ck_assert(!rig_figure_given(cord->length_m));
	ck_assert_int_eq(cord->poles, 2);
	ck_assert_double_eq(cord->rating_a.likely, 50.0);
	rig_oneline_free(findings);
	rig_file_free(file);
}
END_TEST

/* Each load hangs somewhere, once on its circuit; each circuit, bank and array is there once; lines
 * lead to nodes; nothing is fed by itself. */
static void check_whole(const rig_oneline_findings *findings, const rig_coach *coach)
{
	int *hung = calloc(coach->n_loads + 1, sizeof *hung);
	int *circuits = calloc(coach->n_circuits + 1, sizeof *circuits);
	ck_assert(hung != NULL && circuits != NULL);
	for (size_t i = 0; i < findings->n_nodes; i++) {
		const rig_oneline_node *node = &findings->nodes[i];
		for (size_t j = 0; j < node->n_loads; j++)
			hung[node->loads[j]]++;
		if (node->kind == RIG_NODE_LOADS || node->kind == RIG_NODE_CHARGER ||
			node->kind == RIG_NODE_INVERTER_CHARGER)
			if (node->of >= 0)
				circuits[node->of]++;
	}
	for (size_t i = 0; i < coach->n_loads; i++)
		ck_assert_msg(hung[i] == 1 || (hung[i] == 2 && coach->loads[i].inverter == RIG_YES),
			"load %s hangs %d times", coach->loads[i].id, hung[i]);
	for (size_t i = 0; i < coach->n_circuits; i++)
		ck_assert_msg(circuits[i] == 1, "circuit %s stands %d times", coach->circuits[i].id,
			circuits[i]);
	ck_assert_int_eq(nodes_of(findings, RIG_NODE_BANK), (int)coach->n_banks);
	ck_assert_int_eq(nodes_of(findings, RIG_NODE_ARRAY), (int)coach->n_arrays);
	for (size_t i = 0; i < findings->n_edges; i++) {
		const rig_oneline_edge *edge = &findings->edges[i];
		ck_assert(edge->from >= 0 && edge->from < (int)findings->n_nodes);
		ck_assert(edge->to >= 0 && edge->to < (int)findings->n_nodes);
		ck_assert_int_ne(edge->from, edge->to);
	}
	free(hung);
	free(circuits);
}

/* The forest under the lines across: every node but the roots hangs on exactly one line. */
static void check_forest(const rig_oneline_findings *findings)
{
	size_t n_lines = 0, n_buses = 0;
	for (size_t i = 0; i < findings->n_edges; i++)
		n_lines += !findings->edges[i].across;
	for (size_t i = 0; i < findings->n_nodes; i++)
		n_buses += findings->nodes[i].kind == RIG_NODE_DC_BUS;
	/* trees: the AC side and each DC bus, less those joined by an alternator charger */
	ck_assert_uint_le(findings->n_nodes, n_lines + 1 + n_buses);
	ck_assert_uint_ge(findings->n_nodes + 1, n_lines + 1);
}

START_TEST(random_coaches_are_whole)
{
	for (uint64_t seed = 0; seed < 1000; seed++) {
		rig_file *file = random_coach(seed);
		rig_oneline_findings *findings = graph_of(file);
		check_whole(findings, rig_file_completed(file));
		check_forest(findings);
		rig_oneline_free(findings);
		rig_file_free(file);
	}
}
END_TEST

START_TEST(every_node_has_a_name)
{
	for (int i = 0; i < RIG_N_NODE_KINDS; i++)
		ck_assert_uint_gt(strlen(rig_node_text((rig_node_kind)i)), 2);
}
END_TEST

Suite *oneline_suite(void);
Suite *oneline_suite(void)
{
	Suite *suite = suite_create("oneline");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_loop_test(all, what_the_file_names_is_there_and_what_that_needs, 0, COUNT(PARTS));
	tcase_add_test(all, a_line_has_the_rating_gauge_and_length_that_the_file_gives);
	tcase_add_test(all, what_profiles_fill_in_is_not_drawn_as_stated);
	tcase_add_test(all, random_coaches_are_whole);
	tcase_add_test(all, every_node_has_a_name);
	suite_add_tcase(suite, all);
	return suite;
}
