/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whole drawings of small coaches, line for line, as an electrician would draw them by hand: from
 * the supply to the loads, and from what charges over the bank's bus to what it feeds. */
#include <stdio.h>
#include <string.h>

#include "base/buffer.h"
#include "read_coach.h"
#include "rigbudget/oneline.h"
#include "suites.h"

static const char *const LEG[] = {"", " L1", " L2", " both"};
static const char *const GUARD[] = {"", ", breaker", ", fuse"};

static void tell_node(rig_buffer *to, const rig_oneline_findings *findings, int at)
{
	const rig_oneline_node *node = &findings->nodes[at];
	ck_assert_int_ge(node->of, -1);
	rig_buffer_format(to, "%s%s%s", node->assumed ? "(" : "", rig_node_text(node->kind),
		node->leg <= RIG_LEG_BOTH ? LEG[node->leg] : "?");
	if ((node->kind == RIG_NODE_BANK || node->kind == RIG_NODE_DC_BUS) && node->of >= 0)
		rig_buffer_format(to, " of %s", findings->coach->banks[node->of].id);
	for (size_t i = 0; i < node->n_loads; i++)
		rig_buffer_format(to, " %s", findings->coach->loads[node->loads[i]].id);
	if (node->assumed)
		rig_buffer_format(to, ")");
}

/* A line of the drawing in words, and what is told of it. */
static void tell_line(rig_buffer *to, const rig_oneline_findings *findings, size_t at)
{
	const rig_oneline_edge *edge = &findings->edges[at];
	tell_node(to, findings, edge->from);
	rig_buffer_format(to, " %s ", edge->both_ways ? "<->" : "->");
	tell_node(to, findings, edge->to);
	rig_buffer_format(to, "%s", GUARD[edge->guard]);
	if (rig_figure_given(edge->rating_a))
		rig_buffer_format(to, " %g A", edge->rating_a.likely);
	if (edge->poles > 1)
		rig_buffer_format(to, ", %d poles", edge->poles);
	rig_buffer_format(to, "%s%s%s\n", edge->cable ? ", cable" : "",
		edge->awg != NULL ? " AWG " : "", edge->awg != NULL ? edge->awg : "");
}

#define HOUSE                                                                                      \
	"{\"id\": \"house\", \"role\": \"house\", \"chemistry\": \"agm\", \"capacity_ah\": 100}"
#define CHASSIS                                                                                    \
	"{\"id\": \"engine\", \"role\": \"chassis\", \"chemistry\": \"agm\", \"capacity_ah\": 90}"
#define AC(id, more) "{\"id\": \"" id "\", \"supply\": \"ac\", " more "\"running_w\": 500}"
#define DC(id, more) "{\"id\": \"" id "\", \"supply\": \"dc\", " more "\"running_w\": 20}"
#define CIRCUIT(id, leg, amps, more)                                                               \
	"{\"id\": \"" id "\", \"leg\": \"" leg "\", " more "\"breaker_a\": " amps "}"

static const struct {
	const char *what;
	int cord_a;
	const char *parts, *lines;
} DRAWING[] = {
	{"a trailer: cord, panel, converter, one battery", 30,
		"\"circuits\": [{\"id\": \"air\", \"breaker_a\": 20}, {\"id\": \"lights\", "
		"\"supply\": \"dc\", \"bank\": \"house\", \"breaker_a\": 15, \"awg\": \"14\"}], "
		"\"loads\": [" AC("roof", "\"circuit\": \"air\", ") ", " AC("kettle", "") ", " DC(
			"lamp", "\"circuit\": \"lights\", ") ", " DC("fan",
			"") "], "
			    "\"charger\": {\"bank\": \"house\", \"amps_a\": 45}, \"banks\": [" HOUSE
			    "]",
		"shore power -> main breaker, breaker 30 A, cable\n"
		"main breaker -> AC bus L1\n"
		"AC bus L1 -> loads roof, breaker 20 A, cable\n"
		"AC bus L1 -> converter, breaker, cable\n"
		"AC bus L1 -> loads kettle, breaker, cable\n"
		"converter -> DC bus of house, fuse, cable\n"
		"battery bank of house <-> DC bus of house, fuse, cable\n"
		"DC bus of house -> loads lamp, fuse 15 A, cable AWG 14\n"
		"DC bus of house -> loads fan, fuse, cable\n"
		"10 nodes, cables 1 of 8 sized, guards 3 of 8 rated\n"},
	{"a coach: two legs, generator, energy manager, inverter with its circuit on leg 2", 50,
		"\"generator\": {\"watts_w\": 8000}, \"energy_management\": {\"order\": "
		"[\"front\"]}, "
		"\"circuits\": [" CIRCUIT("one", "L1", "20", "") ", " CIRCUIT("two", "L2", "20",
			"") ", " CIRCUIT("wide", "both", "30", "") ", " CIRCUIT("sockets", "L2",
			"15", "\"inverter\": true, ") "], \"loads\": [" AC("front",
			"\"circuit\": \"one\", ") ", " AC("rear",
			"\"circuit\": \"two\", ") ", " AC("dryer",
			"\"circuit\": \"wide\", \"volts_v\": 240, ") ", " AC("tv",
			"\"circuit\": \"sockets\", ") "], \"inverter\": {\"bank\": \"house\", "
						      "\"watts_w\": 1000}, \"wires\": [{\"id\": "
						      "\"w\", \"bank\": \"house\", \"feeds\": "
						      "\"inverter\", \"awg\": \"2/0\", \"fuse_a\": "
						      "150}], \"banks\": [" HOUSE "]",
		"shore power -> (transfer switch), 2 poles, cable\n"
		"generator -> (transfer switch), breaker, 2 poles, cable\n"
		"(transfer switch) -> energy manager, 2 poles\n"
		"energy manager -> main breaker, breaker 50 A, 2 poles, cable\n"
		"main breaker -> AC bus L1\n"
		"AC bus L1 -> loads front, breaker 20 A, cable\n"
		"main breaker -> AC bus both\n"
		"AC bus both -> loads dryer, breaker 30 A, 2 poles, cable\n"
		"main breaker -> AC bus L2\n"
		"AC bus L2 -> loads rear, breaker 20 A, cable\n"
		"AC bus L2 -> (transfer to the inverter), breaker, cable\n"
		"(transfer to the inverter) -> bus on the inverter L2\n"
		"bus on the inverter L2 -> loads tv, breaker 15 A, cable\n"
		"battery bank of house <-> DC bus of house, fuse, cable\n"
		"DC bus of house -> inverter, fuse 150 A, cable AWG 2/0\n"
		"inverter -> (transfer to the inverter), cable\n"
		"17 nodes, cables 1 of 11 sized, guards 6 of 9 rated\n"},
	{"one unit of inverter and charger, with outlets that no circuit is said to feed", 30,
		"\"loads\": [" AC("tv", "\"inverter\": true, ") ", " AC("heater",
			"\"inverter\": false, ") "], "
						 "\"inverter\": {\"name\": \"Unit\", \"bank\": "
						 "\"house\", \"watts_w\": 1000}, "
						 "\"charger\": {\"name\": \"Unit\", \"bank\": "
						 "\"house\", \"amps_a\": 50}, "
						 "\"banks\": [" HOUSE "]",
		"shore power -> main breaker, breaker 30 A, cable\n"
		"main breaker -> AC bus L1\n"
		"AC bus L1 -> inverter and charger, breaker, cable\n"
		"AC bus L1 -> loads tv heater, breaker, cable\n"
		"inverter and charger <-> DC bus of house, fuse, cable\n"
		"inverter and charger -> loads tv, cable\n"
		"battery bank of house <-> DC bus of house, fuse, cable\n"
		"8 nodes, cables 0 of 6 sized, guards 1 of 5 rated\n"},
	{"an engine that charges its own battery and, through a charger, the house", 30,
		"\"loads\": [" DC("lamp", "") "], \"dc_charger\": {\"bank\": "
					      "\"house\", \"amps_a\": 30}, \"banks\": [" CHASSIS
					      ", " HOUSE "], \"solar\": "
					      "[{\"id\": \"roof\", \"watts_w\": 200, \"bank\": "
					      "\"house\", \"controller\": \"pwm\"}, "
					      "{\"id\": \"dash\", \"watts_w\": 10, \"bank\": "
					      "\"engine\", \"controller\": "
					      "\"direct\"}]",
		"shore power -> main breaker, breaker 30 A, cable\n"
		"alternator -> DC bus of engine, cable\n"
		"DC bus of engine -> alternator charger, fuse, cable\n"
		"alternator charger -> DC bus of house, fuse, cable\n"
		"solar panels -> DC bus of engine, fuse, cable\n"
		"battery bank of engine <-> DC bus of engine, fuse, cable\n"
		"solar panels -> charge controller\n"
		"charge controller -> DC bus of house, fuse, cable\n"
		"battery bank of house <-> DC bus of house, fuse, cable\n"
		"DC bus of house -> loads lamp, fuse, cable\n"
		"12 nodes, cables 0 of 9 sized, guards 1 of 8 rated\n"},
	{"a charger for the engine's battery with no other battery behind it", 30,
		"\"loads\": [], \"dc_charger\": {\"bank\": \"engine\", \"amps_a\": 20}, \"banks\": "
		"[" CHASSIS "]",
		"shore power -> main breaker, breaker 30 A, cable\n"
		"alternator -> alternator charger\n"
		"alternator charger -> DC bus of engine, fuse, cable\n"
		"battery bank of engine <-> DC bus of engine, fuse, cable\n"
		"6 nodes, cables 0 of 3 sized, guards 1 of 3 rated\n"},
	{"without a battery: a lamp and a panel that nobody says where they go", 30,
		"\"loads\": [" DC(
			"lamp", "") "], \"solar\": [{\"id\": \"roof\", \"watts_w\": 100}]",
		"shore power -> main breaker, breaker 30 A, cable\n"
		"solar panels -> charge controller\n"
		"charge controller -> (DC bus), fuse, cable\n"
		"(DC bus) -> loads lamp, fuse, cable\n"
		"6 nodes, cables 0 of 3 sized, guards 1 of 3 rated\n"},
	{"wires: one to a circuit, one to the panel, one that leads nowhere, one of no bank", 30,
		"\"circuits\": [{\"id\": \"air\", \"breaker_a\": 20}], \"loads\": [" AC(
			"roof", "\"circuit\": \"air\", ") ", " DC("lamp",
			"") "], "
			    "\"wires\": [{\"id\": \"a\", \"circuit\": \"air\", \"awg\": \"10\"}, "
			    "{\"id\": "
			    "\"b\", \"circuit\": \"air\", \"awg\": \"12\"}, {\"id\": \"c\", "
			    "\"bank\": \"house\", "
			    "\"feeds\": \"panel\", \"awg\": \"4\", \"fuse_a\": 60}, {\"id\": "
			    "\"d\", \"bank\": "
			    "\"house\", \"awg\": \"8\", \"fuse_a\": 40}, {\"id\": \"e\", \"awg\": "
			    "\"6\", "
			    "\"fuse_a\": 50}], \"banks\": [" HOUSE "]",
		"shore power -> main breaker, breaker 30 A, cable\n"
		"main breaker -> AC bus L1\n"
		"AC bus L1 -> loads roof, breaker 20 A, cable AWG 10\n"
		"battery bank of house <-> DC bus of house, fuse 60 A, cable AWG 4\n"
		"DC bus of house -> loads lamp, fuse, cable\n"
		"DC bus of house -> wire with an open end, fuse 40 A, cable AWG 8\n"
		"left: e\n"
		"8 nodes, cables 3 of 5 sized, guards 4 of 5 rated\n"},
};

START_TEST(a_coach_is_drawn_line_for_line)
{
	char shore[40];
	snprintf(shore, sizeof shore, "{\"cord_a\": %d}", DRAWING[_i].cord_a);
	rig_file *file = read_coach(shore, DRAWING[_i].parts);
	rig_oneline_findings *findings = NULL;
	ck_assert_int_eq(rig_oneline_study(rig_file_completed(file), &findings), RIG_OK);
	rig_buffer text = {0};
	for (size_t i = 0; i < findings->n_edges; i++)
		tell_line(&text, findings, i);
	for (size_t i = 0; i < findings->n_wires_left; i++)
		rig_buffer_format(
			&text, "left: %s\n", findings->coach->wires[findings->wires_left[i]].id);
	rig_buffer_format(&text, "%zu nodes, cables %zu of %zu sized, guards %zu of %zu rated\n",
		findings->n_nodes, findings->n_cables_sized, findings->n_cables,
		findings->n_guards_rated, findings->n_guards);
	ck_assert_msg(
		strcmp(text.text, DRAWING[_i].lines) == 0, "%s:\n%s", DRAWING[_i].what, text.text);
	rig_buffer_free(&text);
	rig_oneline_free(findings);
	rig_file_free(file);
}
END_TEST

Suite *oneline_lines_suite(void);
Suite *oneline_lines_suite(void)
{
	Suite *suite = suite_create("oneline_lines");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, a_coach_is_drawn_line_for_line, 0, COUNT(DRAWING));
	suite_add_tcase(suite, all);
	return suite;
}
