/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is asked of an inverter, and which options are refused. Nothing is run. */
#include <math.h>
#include <string.h>

#include "base/buffer.h"
#include "size_scene.h"
#include "suites.h"

static bool stop(void *context, double done_frac)
{
	(void)context;
	(void)done_frac;
	return false;
}

static const rig_parts NOTHING = {0};

/* AC loads: a lamp of 60 W twice, a kettle of 1,000 W, a pump of 300 W that starts with 30 A at
 * 120 V, 3,600 W, and an air conditioner of 1,500 W with 60 A, 7,200 W, by a soft starter half. */
#define LOADS                                                                                      \
	"\"loads\": ["                                                                             \
	"{\"id\": \"lamp\", \"running_w\": 60, \"count\": 2, \"daily_use_h\": 1, \"inverter\": "   \
	"true}, "                                                                                  \
	"{\"id\": \"kettle\", \"running_w\": 1000, \"daily_use_h\": 1, \"inverter\": true}, "      \
	"{\"id\": \"pump\", \"running_w\": 300, \"start_a\": 30, \"behaviour\": \"motor\", "       \
	"\"daily_use_h\": 1, \"inverter\": true}, "                                                \
	"{\"id\": \"air\", \"running_w\": 1500, \"start_a\": 60, \"soft_starter\": true, "         \
	"\"behaviour\": \"compressor\", \"daily_use_h\": 1, \"inverter\": false}, "                \
	"{\"id\": \"fan\", \"supply\": \"dc\", \"running_w\": 30, \"daily_use_h\": 1}]"

enum { LAMP, KETTLE, PUMP, AIR, FAN };

/* Which loads are named; none: those that run away from hookups, the first three. */
static const struct {
	const char *what, *together;
	bool all;
	size_t n_loads;
	int loads[4];
	size_t n_wanted;
	double asked_w, surge_w;
} ASKED[] = {
	/* 120 + 1,000 + 300; the pump's 3,300 W more for a moment */
	{"those that run away, at once", "", false, 0, {0}, 3, 1420, 4720},
	/* and 1,500; its start by half asks for 2,100 W more, so the pump's is harder */
	{"all at once", "", true, 0, {0}, 4, 2920, 6220},
	{"one", "", false, 1, {KETTLE}, 1, 1000, 1000},
	{"two lamps", "", false, 1, {LAMP}, 1, 120, 120},
	{"air alone: 3,600 W to start", "", false, 1, {AIR}, 1, 1500, 3600},
	{"lamps and air", "", false, 2, {LAMP, AIR}, 2, 1620, 3720},
	{"a DC load asks for nothing", "", false, 1, {FAN}, 0, 0, 0},
	/* in no set: always on beside it */
	{"a set of kettle, without the rest of sets",
		", \"together\": [{\"name\": \"a\", \"loads\": [\"kettle\"]}, {\"name\": \"b\", "
		"\"loads\": [\"pump\"]}]",
		false, 0, {0}, 3, 1120, 3720},
	{"a set of both", ", \"together\": [{\"name\": \"a\", \"loads\": [\"kettle\", \"pump\"]}]",
		false, 0, {0}, 3, 1420, 4720},
	{"a set of nothing that is wanted",
		", \"together\": [{\"name\": \"a\", \"loads\": [\"air\"]}]", false, 0, {0}, 3, 1420,
		4720},
	{"air in a set, kettle in another",
		", \"together\": [{\"name\": \"a\", \"loads\": [\"air\"]}, {\"name\": \"b\", "
		"\"loads\": [\"kettle\", \"lamp\"]}]",
		true, 0, {0}, 4, 1800, 5100},
};

START_TEST(an_inverter_is_asked_for_the_most_at_once)
{
	rig_buffer text = {0};
	rig_buffer_format(&text,
		"{\"format\": \"rigbudget/1\", \"name\": \"T\", \"place\": {\"name\": "
		"\"Flagstaff\"}, \"shore\": {\"cord_a\": 30}, " LOADS
		", \"banks\": [{\"id\": \"h\", \"chemistry\": \"agm\", \"capacity_ah\": 100}], "
		"\"inverter\": {\"watts_w\": 3000}%s}",
		ASKED[_i].together);
	rig_file *file = size_parse(text.text);
	rig_size_options options = rig_size_defaults();
	options.n_days = 1;
	options.n_trips = 100;
	options.progress = stop;
	options.all_loads = ASKED[_i].all;
	options.n_loads = ASKED[_i].n_loads;
	memcpy(options.loads, ASKED[_i].loads, sizeof ASKED[_i].loads);
	rig_size_findings *findings = NULL;
	ck_assert_int_eq(
		rig_size_study(file, &NOTHING, rig_file_place(file, NULL), &options, &findings),
		RIG_OK);
	ck_assert_msg(fabs(findings->asked_w - ASKED[_i].asked_w) < 1e-9 &&
			      fabs(findings->asked_surge_w - ASKED[_i].surge_w) < 1e-9,
		"%s: %g, %g", ASKED[_i].what, findings->asked_w, findings->asked_surge_w);
	ck_assert_uint_eq(findings->n_wanted, ASKED[_i].n_wanted);
	rig_size_free(findings);
	rig_file_free(file);
	rig_buffer_free(&text);
}
END_TEST

/* ---- options ---- */

static rig_size_options options;
static const rig_rectangle VENT = {-30, 30, 30, 30};
static rig_rectangle obstacle;

static rig_status asked(void)
{
	rig_file *file = size_scene_coach(SIZE_OLD_BANK, SIZE_OLD_ARRAY, SIZE_OLD_INVERTER);
	rig_size_findings *findings = NULL;
	const rig_status status =
		rig_size_study(file, &NOTHING, rig_file_place(file, NULL), &options, &findings);
	ck_assert((status == RIG_OK) == (findings != NULL));
	rig_size_free(findings);
	rig_file_free(file);
	return status;
}

static void usual(void)
{
	options = rig_size_defaults();
	options.n_days = 1;
	options.n_trips = 100;
	options.progress = stop;
	obstacle = VENT;
}

/* A figure at the ends of its range and beyond; NAN stands for an end that would take long. */
static const struct {
	const char *what;
	double *figure;
	double least, most, below, above;
} REAL[] = {
	{"chance", &options.wanted_frac, 0.001, 0.999, 0, 1},
	{"price", &options.price_max, 0, 1e9, -0.1, NAN},
	{"weight", &options.weight_max_kg, 0, 1e9, -0.1, NAN},
	{"area", &options.area_max_m2, 0, 1e9, -0.1, NAN},
	{"height", &options.battery_room_height_m, 0, 10, -0.1, NAN},
	{"array run", &options.array_run_m, 0.1, 30, 0, NAN},
	{"controller run", &options.controller_run_m, 0.1, 30, 0, NAN},
	{"inverter run", &options.inverter_run_m, 0.1, 30, 0, NAN},
};

START_TEST(a_figure_beyond_its_range_is_refused)
{
	const double figures[] = {REAL[_i].least, REAL[_i].most, REAL[_i].below, REAL[_i].above};
	for (int i = 0; i < 4; i++) {
		usual();
		*REAL[_i].figure = figures[i];
		if (!isnan(figures[i]))
			ck_assert_msg(
				(asked() == RIG_OK) == (i < 2), "%s %g", REAL[_i].what, figures[i]);
	}
}
END_TEST

static const struct {
	const char *what;
	int *figure, least, most, below, above;
} WHOLE[] = {
	{"days", &options.n_days, 1, 365, 0, 366},
	{"habit", &options.habit, -1, -1, -2, 0}, /* the coach has none */
	{"panels", &options.most_panels, 0, 100, -1, 101},
	{"batteries", &options.most_batteries, 0, 100, -1, 101},
};

START_TEST(a_count_beyond_its_range_is_refused)
{
	const int figures[] = {WHOLE[_i].least, WHOLE[_i].most, WHOLE[_i].below, WHOLE[_i].above};
	for (int i = 0; i < 4; i++) {
		usual();
		*WHOLE[_i].figure = figures[i];
		ck_assert_msg((asked() == RIG_OK) == (i < 2), "%s %d", WHOLE[_i].what, figures[i]);
	}
}
END_TEST

static const struct {
	size_t n_trips, n_threads, n_loads;
	int load;
	rig_status status;
} COUNTED[] = {
	{100, 1, 0, 0, RIG_OK},
	{99, 1, 0, 0, RIG_BAD_INPUT},
	{1000001, 1, 0, 0, RIG_BAD_INPUT},
	{100, 0, 0, 0, RIG_BAD_INPUT},
	{100, RIG_MAX_THREADS, 0, 0, RIG_OK},
	{100, RIG_MAX_THREADS + 1, 0, 0, RIG_BAD_INPUT},
	{100, 1, RIG_SIZE_MOST_LOADS, 0, RIG_OK},
	{100, 1, RIG_SIZE_MOST_LOADS + 1, 0, RIG_BAD_INPUT},
	{100, 1, 1, 3, RIG_OK},
	{100, 1, 1, 4, RIG_BAD_INPUT},
	{100, 1, 1, -1, RIG_BAD_INPUT},
};

START_TEST(trips_threads_and_loads_are_so_many)
{
	usual();
	options.n_trips = COUNTED[_i].n_trips;
	options.n_threads = COUNTED[_i].n_threads;
	options.n_loads = COUNTED[_i].n_loads;
	options.loads[0] = COUNTED[_i].load;
	ck_assert_int_eq(asked(), COUNTED[_i].status);
}
END_TEST

START_TEST(some_month_is_asked)
{
	for (int month = 0; month <= 12; month++) {
		usual();
		memset(options.months, 0, sizeof options.months);
		if (month < 12)
			options.months[month] = true;
		ck_assert_int_eq(asked(), month < 12 ? RIG_OK : RIG_BAD_INPUT);
	}
}
END_TEST

/* A roof or battery room, with one thing on it. */
static const struct {
	rig_floor floor;
	rig_rectangle obstacle;
	rig_status status;
} FLOOR[] = {
	{{.length_m = 30, .width_m = 30}, {0, 0, 1, 1}, RIG_OK},
	{{.length_m = 30.1, .width_m = 3}, {0, 0, 1, 1}, RIG_BAD_INPUT},
	{{.length_m = 3, .width_m = 30.1}, {0, 0, 1, 1}, RIG_BAD_INPUT},
	{{.length_m = 3}, {0, 0, 1, 1}, RIG_BAD_INPUT},
	{{.width_m = 3}, {0, 0, 1, 1}, RIG_BAD_INPUT},
	{{.length_m = -1, .width_m = -1}, {0, 0, 1, 1}, RIG_BAD_INPUT},
	{{.length_m = 3, .width_m = 3, .edge_m = -0.1}, {0, 0, 1, 1}, RIG_BAD_INPUT},
	{{.length_m = 3, .width_m = 3, .gap_m = -0.1}, {0, 0, 1, 1}, RIG_BAD_INPUT},
	{{.length_m = 3, .width_m = 3, .edge_m = 0.1, .gap_m = 0.1}, {0, 0, 1, 1}, RIG_OK},
	{{.length_m = 3, .width_m = 3}, {-30, 30, 30, 30}, RIG_OK},
	{{.length_m = 3, .width_m = 3}, {30.1, 0, 1, 1}, RIG_BAD_INPUT},
	{{.length_m = 3, .width_m = 3}, {-30.1, 0, 1, 1}, RIG_BAD_INPUT},
	{{.length_m = 3, .width_m = 3}, {0, -30.1, 1, 1}, RIG_BAD_INPUT},
	{{.length_m = 3, .width_m = 3}, {0, 0, 0, 1}, RIG_BAD_INPUT},
	{{.length_m = 3, .width_m = 3}, {0, 0, 1, 0}, RIG_BAD_INPUT},
	{{.length_m = 3, .width_m = 3}, {0, 0, 30.1, 1}, RIG_BAD_INPUT},
	{{.length_m = 3, .width_m = 3}, {0, 0, 1, 30.1}, RIG_BAD_INPUT},
};

START_TEST(a_floor_is_a_right_one)
{
	rig_floor *const floors[] = {&options.roof, &options.battery_room};
	for (int i = 0; i < 2; i++) {
		usual();
		obstacle = FLOOR[_i].obstacle;
		*floors[i] = FLOOR[_i].floor;
		floors[i]->n_obstacles = 1;
		floors[i]->obstacles = &obstacle;
		ck_assert_int_eq(asked(), FLOOR[_i].status);
		floors[i]->n_obstacles = RIG_FLOOR_OBSTACLES + 1;
		ck_assert_int_eq(asked(), RIG_BAD_INPUT);
	}
}
END_TEST

/* By the header. */
START_TEST(the_defaults_are_those_that_are_told)
{
	const rig_size_options is = rig_size_defaults();
	for (int month = 0; month < 12; month++)
		ck_assert_int_eq(is.months[month], month == 6);
	ck_assert(is.n_days == 14 && is.habit == -1 && is.n_trips == 2000 && is.seed == 1);
	ck_assert(is.n_threads == 1 && is.most_panels == 12 && is.most_batteries == 12);
	ck_assert_double_eq(is.wanted_frac, 0.95);
	ck_assert(is.array_run_m == 6 && is.controller_run_m == 2 && is.inverter_run_m == 1.5);
}
END_TEST

Suite *size_ask_suite(void);
Suite *size_ask_suite(void)
{
	Suite *suite = suite_create("size_ask");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, an_inverter_is_asked_for_the_most_at_once, 0, COUNT(ASKED));
	tcase_add_loop_test(all, a_figure_beyond_its_range_is_refused, 0, COUNT(REAL));
	tcase_add_loop_test(all, a_count_beyond_its_range_is_refused, 0, COUNT(WHOLE));
	tcase_add_loop_test(all, trips_threads_and_loads_are_so_many, 0, COUNT(COUNTED));
	tcase_add_test(all, some_month_is_asked);
	tcase_add_loop_test(all, a_floor_is_a_right_one, 0, COUNT(FLOOR));
	tcase_add_test(all, the_defaults_are_those_that_are_told);
	suite_add_tcase(suite, all);
	return suite;
}
