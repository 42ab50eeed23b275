/* SPDX-License-Identifier: GPL-3.0-or-later */
/* handmade.h: a small document of our own invention with every kind of block and chart, and names
 * that try to break out of each rendering. */
#ifndef TEST_HANDMADE_H
#define TEST_HANDMADE_H

#include <cjson/cJSON.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/jsonout.h"
#include "rigbudget/document.h"

/* Each tries something else: markup, attributes, entities, escapes, direction, lines, long words.
 */
static const char *const HOSTILE[] = {
	"<script>alert(1)</script>",
	"\"><img src=x onerror=alert(1)>",
	"' onmouseover='alert(1)",
	"&lt;b&gt; & &amp; &#x3c;",
	"</style></title></svg>]]>",
	"\x1b[2J\x1b]0;owned\x07",
	"line one\r\nline two\ttab",
	"\xe2\x80\xaegnirts\xe2\x80\xac",
	"\xe2\x81\xa6isolate",
	"zero\xe2\x80\x8bwidth\xef\xbb\xbf",
	"\xd7\xa9\xd7\x9c\xd7\x95\xd7\x9d 30 A",
	"\xe6\x97\xa5\xe6\x9c\xac\xe8\xaa\x9e\xe3\x81\xae\xe5\x90\x8d\xe5\x89\x8d",
	"\xf0\x9f\x94\x8b battery",
	"broken \xff\xc3( utf-8",
	"percent %s %n %d",
	"{\"json\": \"\\u0000\"}",
	"wwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwww"
	"wwwwww",
	"e\xcc\x81\xcc\x81\xcc\x81 marks",
	"",
	"   ",
};
enum { N_HOSTILE = sizeof HOSTILE / sizeof HOSTILE[0] };

static inline void add_handmade_charts(rig_document *document, const char *name)
{
	static const char *const MONTH[] = {
		"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
	rig_bar months[12];
	rig_span draw[12];
	for (int i = 0; i < 12; i++) {
		const double value = 70.0 + (i < 6 ? i : 11 - i) * 20.0;
		months[i] = (rig_bar){NULL, MONTH[i], {value * 0.75, value, value * 1.25}, 0,
			value < 100.0 ? RIG_BAR_FAILS : RIG_BAR_HOLDS, ""};
		draw[i] = (rig_span){90, 100, 110};
	}
	const rig_line steps = {name, 12, NULL, draw, true};
	const rig_chart by_month = {.kind = RIG_CHART_MONTHS,
		.title = "Harvest by month",
		.quantity = "harvest",
		.unit = "Wh a day",
		.state_text = {"", "covers it", "", "falls short"},
		.n_bars = 12,
		.bars = months,
		.n_lines = 1,
		.lines = &steps};
	rig_add_chart(document, &by_month);
	const rig_bar rungs[] = {{NULL, name, {20, 30, 40}, 0, RIG_BAR_HOLDS, "carried"},
		{NULL, "Refrigerator", {700, 900, 1200}, 0, RIG_BAR_CLOSE, "Jun"},
		{NULL, "Roof unit", {7000, 9000, 12000}, 0, RIG_BAR_FAILS, "not carried"}};
	const rig_span left = {250, 250, 250};
	const rig_line mark = {"left over", 1, NULL, &left, true};
	const rig_chart ladder = {.kind = RIG_CHART_LADDER,
		.title = "What it carries",
		.quantity = "a day's use",
		.unit = "Wh a day",
		.state_text = {"", "carried", "maybe", "not carried"},
		.n_bars = 3,
		.bars = rungs,
		.n_lines = 1,
		.lines = &mark};
	rig_add_chart(document, &ladder);
	const rig_bar legs[] = {{name, "50 A, leg 1", {38, 42, 46}, 50, RIG_BAR_HOLDS, ""},
		{name, "30 A", {70, 80, 88}, 30, RIG_BAR_FAILS, "over"}};
	const rig_chart limits = {.kind = RIG_CHART_LIMITS,
		.title = "Amps against the limit",
		.quantity = "current",
		.unit = "A",
		.state_text = {"", "fits", "", "too much"},
		.n_bars = 2,
		.bars = legs};
	rig_add_chart(document, &limits);
	const double x[] = {0, 1, 2, 3};
	const rig_span charge[] = {{100, 100, 100}, {70, 80, 85}, {60, 75, 80}, {20, 40, 60}};
	const double ends[] = {0, 3};
	const rig_span floor[] = {{50, 50, 50}, {50, 50, 50}};
	const rig_line lines[] = {{name, 4, x, charge, false}, {"floor", 2, ends, floor, true}};
	const rig_chart course = {.kind = RIG_CHART_COURSE,
		.title = "Charge through the days",
		.quantity = "state of charge",
		.unit = "%",
		.x_quantity = "days",
		.y_top = 100,
		.n_lines = 2,
		.lines = lines};
	rig_add_chart(document, &course);
	const rig_stretch cycles[] = {{0.5, 2, RIG_BAR_HOLDS}, {2, 3.5, RIG_BAR_FAILS},
		{3.5, 6, RIG_BAR_HOLDS}, {20, 20.5, RIG_BAR_HOLDS}};
	const rig_stretch rests[] = {{7, 8, RIG_BAR_HOLDS}, {8, 9, RIG_BAR_CLOSE}};
	const rig_lane lanes[] = {{name, 4, cycles}, {"Water heater", 2, rests}, {"Idle", 0, NULL}};
	const rig_chart day = {.kind = RIG_CHART_LANES,
		.title = "What runs",
		.quantity = "time",
		.unit = "h",
		.x_quantity = "hour of the day",
		.x_last = 24,
		.x_step = 4,
		.state_text = {"", "runs", "off, not asked for", "wanted, not running"},
		.n_lanes = 3,
		.lanes = lanes};
	rig_add_chart(document, &day);
}

static inline rig_document *handmade(const char *name)
{
	rig_document *document = rig_document_new();
	rig_document_title(document, "Sheet: %s", name);
	rig_document_subtitle(document, "%s", name);
	rig_add_answer(document, name, name, "%s", name);
	rig_add_heading(document, 2, "%s", name);
	rig_add_paragraph(document,
		"A paragraph about %s that is long enough to be broken into two "
		"lines at least, whatever the name.",
		name);
	rig_add_fact(document, name, name, name);
	const char *cells[] = {name, "12.3", name, "Second", "4", ""};
	const rig_column columns[] = {{name, "", RIG_ALIGN_LEFT}, {"draw", "A", RIG_ALIGN_RIGHT},
		{"note", name, RIG_ALIGN_LEFT}};
	const rig_table table = {name, 3, 2, columns, cells};
	rig_add_table(document, &table);
	add_handmade_charts(document, name);
	rig_add_heading(document, 3, "%s", name);
	rig_add_list(document, name);
	rig_add_item(document, "%s", name);
	rig_add_caution(document, "Cautions");
	rig_add_item(document, "Ask a licensed electrician about %s.", name);
	rig_json_maker maker = {0};
	rig_json_add_text(&maker, rig_document_data(document), "name", name);
	rig_json_add_number(&maker, rig_document_data(document), "third", 1.0 / 3.0);
	return document;
}

#endif
