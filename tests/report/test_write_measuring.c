/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <cjson/cJSON.h>
#include <string.h>

#include "report/writer.h"
#include "suites.h"

static rig_load loads[] = {{.id = "kettle", .name = "Kettle"}};
static rig_bank banks[] = {
	{.id = "house", .role = RIG_HOUSE}, {.id = "engine", .role = RIG_CHASSIS}};
static rig_array arrays[] = {{.id = "roof", .name = "Roof glass"}, {.id = "side"}};
static rig_wire wires[] = {{.id = "feed", .name = "Feed of the inverter"}, {.id = "pump"}};
static const rig_coach COACH = {.n_loads = 1,
	.loads = loads,
	.n_banks = 2,
	.banks = banks,
	.n_arrays = 2,
	.arrays = arrays,
	.n_wires = 2,
	.wires = wires};

static const struct {
	rig_measure_kind kind;
	int index;
	const char *name;
} NAMES[] = {{RIG_MEASURE_AC_LOAD, 0, "the draw of \"Kettle\""},
	{RIG_MEASURE_DC_LOAD, 0, "the draw of \"Kettle\""},
	{RIG_MEASURE_USE, 0, "the hours of \"Kettle\""},
	{RIG_MEASURE_LOAD_DAY, 0, "a day's use of \"Kettle\""},
	{RIG_MEASURE_FACTOR, 0, "the power factor of \"Kettle\""},
	{RIG_MEASURE_LEG, 0, "the leg that feeds \"Kettle\""},
	{RIG_MEASURE_CHARGER, -1, "the draw of the battery charger"},
	{RIG_MEASURE_STANDING, 0, "what the house battery loses with everything off"},
	{RIG_MEASURE_CAPACITY, 1, "what the chassis (starting) battery holds"},
	{RIG_MEASURE_USABLE, 0, "how far the house battery may be drawn down"},
	{RIG_MEASURE_KEEPS, 0, "what the house battery keeps of a charge"},
	{RIG_MEASURE_PANEL_W, 0, "the watts of the panel, \"Roof glass\""},
	{RIG_MEASURE_PANEL_W, 1, "the watts of the panel"},
	{RIG_MEASURE_PANEL_LOSSES, -1, "what the panel loses"},
	{RIG_MEASURE_INVERTER, -1, "the inverter's own draw"},
	{RIG_MEASURE_OPEN_V, -1, "the volts at the pedestal"},
	{RIG_MEASURE_SOURCE, -1, "how far the pedestal's volts fall under load"},
	{RIG_MEASURE_CORD, -1, "the cord"},
	{RIG_MEASURE_SUPPLY_W, -1, "the rated watts of the source"},
	{RIG_MEASURE_WIRE_A, 0, "the amps through \"Feed of the inverter\""},
	{RIG_MEASURE_WIRE_M, 1, "the length of \"pump\""},
	{RIG_MEASURE_WIRE_HEAT, -1, "the air about the wire"},
	{RIG_MEASURE_HEAT_LOSS, -1, "how the coach loses and gains heat"},
	{RIG_MEASURE_SUN, -1, "the sun of the place"}, {RIG_MEASURE_WEATHER, -1, "the weather"}};

START_TEST(each_thing_to_measure_has_its_name)
{
	rig_writer writer = {.arena = rig_arena_new(), .coach = &COACH};
	const rig_measure measure = {.kind = NAMES[_i].kind, .index = NAMES[_i].index};
	ck_assert_str_eq(rig_measure_name_said(&writer, &measure), NAMES[_i].name);
	rig_arena_free(writer.arena);
}
END_TEST

static const struct {
	double share_frac;
	bool decides, sheet;
	const char *why;
} WHY[] = {{0.42, false, false, "it makes 42 percent of the doubt about the days."},
	{0.42, true, false,
		"it makes 42 percent of the doubt about the days, and the answer hangs on it."},
	{0.42, true, true, "; the answer hangs on it."},
	{0.42, false, true, "it makes 42 percent of the doubt about the days."},
	{0.004, false, false, "; the answer hangs on it."}};

START_TEST(it_is_said_why_it_is_worth_measuring)
{
	rig_writer writer = {.arena = rig_arena_new(), .coach = &COACH, .sheet = WHY[_i].sheet};
	const rig_measure measures[2] = {{.kind = RIG_MEASURE_USE,
						 .share_frac = WHY[_i].share_frac,
						 .decides = WHY[_i].decides},
		{.kind = RIG_MEASURE_CORD, .index = -1, .share_frac = 0.1, .decides = true}};
	rig_ask_measures(&writer, "the days", 2, measures);
	ck_assert_uint_eq(writer.n_asked, 2);
	ck_assert_int_eq(strncmp(writer.asked[0].text, "The hours of \"Kettle\" (", 23), 0);
	ck_assert_msg(
		strstr(writer.asked[0].text, WHY[_i].why) != NULL, "%s", writer.asked[0].text);
	/* one of each study comes before the second of any */
	const rig_ask_rank first = WHY[_i].decides ? RIG_ASK_DECIDES : RIG_ASK_DECIDES + 1;
	ck_assert_int_eq(writer.asked[0].rank, first);
	ck_assert_int_eq(writer.asked[1].rank, RIG_ASK_DECIDES + 1);
	rig_arena_free(writer.arena);
}
END_TEST

START_TEST(the_data_name_kind_tool_and_skill)
{
	rig_writer writer = {.arena = rig_arena_new(), .coach = &COACH};
	cJSON *parent = cJSON_CreateObject();
	const rig_measure measure = {
		.kind = RIG_MEASURE_WIRE_M, .index = 1, .share_frac = 0.25, .decides = true};
	rig_put_measures(&writer, parent, 1, &measure);
	const cJSON *made =
		cJSON_GetArrayItem(cJSON_GetObjectItemCaseSensitive(parent, "measures"), 0);
	ck_assert_str_eq(cJSON_GetObjectItem(made, "kind")->valuestring, "wire_m");
	ck_assert_str_eq(cJSON_GetObjectItem(made, "name")->valuestring, "the length of \"pump\"");
	ck_assert_double_eq(cJSON_GetObjectItem(made, "share_frac")->valuedouble, 0.25);
	ck_assert(cJSON_IsTrue(cJSON_GetObjectItem(made, "decides")));
	ck_assert_ptr_nonnull(cJSON_GetObjectItem(made, "skill")->valuestring);
	cJSON_Delete(parent);
	rig_arena_free(writer.arena);
}
END_TEST

Suite *write_measuring_suite(void);
Suite *write_measuring_suite(void)
{
	Suite *suite = suite_create("write_measuring");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, each_thing_to_measure_has_its_name, 0, COUNT(NAMES));
	tcase_add_loop_test(all, it_is_said_why_it_is_worth_measuring, 0, COUNT(WHY));
	tcase_add_test(all, the_data_name_kind_tool_and_skill);
	suite_add_tcase(suite, all);
	return suite;
}
