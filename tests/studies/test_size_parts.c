/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a list and the limits allow, counted: with two of array, bank and inverter held, the
 * candidates are as many as the third has ways. Nothing is run. */
#include "base/buffer.h"
#include "size_scene.h"
#include "suites.h"

static rig_part_panel panel[2];
static rig_part_controller controller[2];
static rig_part_battery battery[2];
static rig_part_inverter inverter[2];
static rig_parts parts;
static rig_size_options options;
static uint32_t notes;

static rig_figure label(double value)
{
	return value > 0 ? rig_figure_of(value, RIG_FROM_NAMEPLATE) : (rig_figure){0};
}

static bool stop(void *context, double done_frac)
{
	(void)context;
	(void)done_frac;
	return false;
}

/* One of each: 132 W or 10 A at 13.2 V, a tracker of 20 A, lithium of 12.8 V, 1,000 W. */
static void setup(void)
{
	panel[0] = (rig_part_panel){.id = "p",
		.panel = "crystalline",
		.watts_w = label(132),
		.length_m = label(1),
		.width_m = label(0.5),
		.weight_kg = label(6),
		.price = label(100),
		.vmp_v = label(20),
		.voc_v = label(24),
		.isc_a = label(7)};
	controller[0] = (rig_part_controller){.id = "c",
		.controller = RIG_MPPT,
		.limit_a = label(20),
		.voc_limit_v = label(100),
		.weight_kg = label(1),
		.price = label(50)};
	battery[0] = (rig_part_battery){.id = "b",
		.chemistry = "lithium_iron_phosphate",
		.nominal_v = label(12.8),
		.capacity_ah = label(100),
		.length_m = label(0.3),
		.width_m = label(0.2),
		.height_m = label(0.25),
		.weight_kg = label(12),
		.price = label(400),
		.most_series = -1};
	inverter[0] = (rig_part_inverter){.id = "i",
		.nominal_v = label(12),
		.watts_w = label(1000),
		.surge_w = label(2000),
		.idle_w = label(8),
		.weight_kg = label(4),
		.price = label(200)};
	panel[1] = panel[0];
	controller[1] = controller[0];
	battery[1] = battery[0];
	inverter[1] = inverter[0];
	parts = (rig_parts){.n_panels = 1,
		.panels = panel,
		.n_controllers = 1,
		.controllers = controller,
		.n_batteries = 1,
		.batteries = battery,
		.n_inverters = 1,
		.inverters = inverter};
	options = rig_size_defaults();
	options.n_days = 1;
	options.n_trips = 100;
	options.most_panels = options.most_batteries = 4;
	options.bank = options.inverter = RIG_SIZE_KEEP;
	options.progress = stop;
}

static size_t counted_with(const char *bank)
{
	rig_file *file = size_scene_coach(bank, SIZE_OLD_ARRAY, SIZE_OLD_INVERTER);
	rig_size_findings *findings = NULL;
	ck_assert_int_eq(
		rig_size_study(file, &parts, rig_file_place(file, NULL), &options, &findings),
		RIG_OK);
	ck_assert(findings->stopped || findings->n_candidates == 0);
	ck_assert_uint_eq(findings->n_options, 0);
	const size_t n = findings->n_candidates;
	notes = findings->notes;
	rig_size_free(findings);
	rig_file_free(file);
	return n;
}

static size_t counted(void)
{
	return counted_with(SIZE_OLD_BANK);
}

/* Up to four panels; none is a way, too. A cold panel has 1.25 times its open volts, and a tracker
 * asks for 1.15 x 13.2 = 15.2 V of a string. 0: as above. */
static const struct {
	const char *what;
	double vmp_v, voc_v, limit_a, voc_limit_v;
	rig_controller kind;
	int most;
	size_t n;
} ARRAY[] = {
	{"three want two controllers and cannot be shared out", 20, 24, 20, 100, RIG_MPPT, 0, 4},
	{"40 A take all", 20, 24, 40, 100, RIG_MPPT, 0, 5},
	{"one controller for each", 20, 24, 10, 100, RIG_MPPT, 0, 5},
	{"one panel wants two controllers", 20, 24, 9.9, 100, RIG_MPPT, 0, 1},
	{"two a coach", 20, 24, 20, 100, RIG_MPPT, 2, 3},
	{"more a coach than are asked for", 20, 24, 20, 100, RIG_MPPT, 9, 4},
	{"30 V cold", 20, 24, 20, 30, RIG_MPPT, 0, 4},
	{"30 V cold on 29 V", 20, 24, 20, 29, RIG_MPPT, 0, 1},
	{"two in series at least, so 2 and 4", 8, 10, 20, 100, RIG_MPPT, 0, 3},
	{"15.0 V of two are too few: 3 and 4", 7.5, 9, 40, 100, RIG_MPPT, 0, 3},
	{"15.2 V of two will do: 2, 3 and 4", 7.6, 9, 40, 100, RIG_MPPT, 0, 4},
	{"two strings of two where four are too many", 8, 10, 40, 25, RIG_MPPT, 0, 3},
	{"best at 0.82 of 19 V: 15.6 V", 0, 19, 20, 100, RIG_MPPT, 0, 4},
	{"best at 0.82 of 18 V: 14.8 V, so two", 0, 18, 20, 100, RIG_MPPT, 0, 3},
	{"a series controller, none in series", 20, 24, 20, 100, RIG_PWM, 0, 4},
	{"a series controller and panels of 8 V", 8, 10, 20, 100, RIG_PWM, 0, 1},
	{"60 V may be touched", 60, 70, 20, 100, RIG_MPPT, 0, 4},
	{"61 V may not", 61, 70, 20, 100, RIG_MPPT, 0, 1},
};

START_TEST(so_many_arrays_go_with_a_controller)
{
	panel[0].vmp_v = label(ARRAY[_i].vmp_v);
	panel[0].voc_v = label(ARRAY[_i].voc_v);
	panel[0].most = ARRAY[_i].most;
	controller[0].limit_a = label(ARRAY[_i].limit_a);
	controller[0].voc_limit_v = label(ARRAY[_i].voc_limit_v);
	controller[0].controller = ARRAY[_i].kind;
	const size_t n = counted();
	ck_assert_msg(n == ARRAY[_i].n, "%s: %zu", ARRAY[_i].what, n);
	ck_assert_uint_eq(notes, 0);
}
END_TEST

/* Beside four ways of the first panel, none among them: a second like it, in one thing else. Of
 * two alike the first stands for both; one that is worse in all is not listed. */
static const struct {
	const char *what;
	double watts_w, price, weight_kg, width_m;
	const char *kind;
	size_t n;
} SECOND[] = {
	{"alike", 132, 100, 6, 0.5, "crystalline", 4},
	{"dearer", 132, 101, 6, 0.5, "crystalline", 4},
	{"heavier", 132, 100, 6.1, 0.5, "crystalline", 4},
	{"larger", 132, 100, 6, 0.6, "crystalline", 4},
	{"weaker", 120, 100, 6, 0.5, "crystalline", 4},
	{"cheaper takes its place", 132, 90, 6, 0.5, "crystalline", 4},
	{"lighter takes its place", 132, 100, 5, 0.5, "crystalline", 4},
	{"smaller takes its place", 132, 100, 6, 0.4, "crystalline", 4},
	{"dearer and lighter", 132, 101, 5.9, 0.5, "crystalline", 7},
	{"heavier and cheaper", 132, 99, 6.1, 0.5, "crystalline", 7},
	{"larger and cheaper", 132, 99, 6, 0.6, "crystalline", 7},
	{"weaker and cheaper", 120, 99, 6, 0.5, "crystalline", 7},
	{"dearer, of another kind", 132, 101, 6, 0.5, "crystalline_new", 7},
};

START_TEST(an_array_that_another_beats_is_not_listed)
{
	parts.n_panels = 2;
	panel[1].watts_w = label(SECOND[_i].watts_w);
	panel[1].price = label(SECOND[_i].price);
	panel[1].weight_kg = label(SECOND[_i].weight_kg);
	panel[1].width_m = label(SECOND[_i].width_m);
	panel[1].panel = SECOND[_i].kind;
	const size_t n = counted();
	ck_assert_msg(n == SECOND[_i].n, "%s: %zu", SECOND[_i].what, n);
}
END_TEST

/* Two controllers behind the same panels: 10, 20 and 40 A; the better one beats the other unless it
 * is dearer. */
static const struct {
	double efficiency_frac, price;
	rig_controller kind;
	size_t n;
} SECOND_CONTROLLER[] = {
	{0, 50, RIG_MPPT, 4},
	{0, 60, RIG_MPPT, 4},
	{0, 40, RIG_MPPT, 4},
	{0.97, 50, RIG_MPPT, 7},
	{0, 60, RIG_PWM, 7},
};

START_TEST(a_controller_that_another_beats_is_not_listed)
{
	parts.n_controllers = 2;
	controller[1].efficiency_frac = label(SECOND_CONTROLLER[_i].efficiency_frac);
	controller[1].price = label(SECOND_CONTROLLER[_i].price);
	controller[1].controller = SECOND_CONTROLLER[_i].kind;
	ck_assert_uint_eq(counted(), SECOND_CONTROLLER[_i].n);
}
END_TEST

/* One, two and four panels and none, each with what it costs, weighs and covers. */
static const struct {
	double price_max, weight_max_kg, area_max_m2;
	size_t n;
} LIMIT[] = {
	{0, 0, 0, 4},
	{500, 0, 0, 4}, /* 4 x 100 + 2 x 50 */
	{499.99, 0, 0, 3},
	{150, 0, 0, 2},
	{149, 0, 0, 1},
	{0, 26, 0, 4}, /* 4 x 6 + 2 x 1 kg */
	{0, 25.9, 0, 3},
	{0, 7, 0, 2},
	{0, 0, 2, 4},
	{0, 0, 1.9, 3},
	{0, 0, 0.4, 1},
};

START_TEST(limits_of_price_weight_and_area_shut_out_what_is_above)
{
	options.price_max = LIMIT[_i].price_max;
	options.weight_max_kg = LIMIT[_i].weight_max_kg;
	options.area_max_m2 = LIMIT[_i].area_max_m2;
	ck_assert_uint_eq(counted(), LIMIT[_i].n);
	ck_assert_int_eq(notes, LIMIT[_i].n < 4 ? RIG_SIZE_LIMITS_BIND : 0);
}
END_TEST

/* Panels of 1 by 0.5 m on a roof. */
static const struct {
	double length_m, width_m;
	size_t n;
	uint32_t notes;
} ROOF[] = {
	{2, 1, 4, 0},
	{1.5, 1, 3, 0}, /* three, of which two are a way */
	{1, 0.5, 2, 0},
	{0.9, 0.9, 1, RIG_SIZE_NO_PANELS_FIT},
};

START_TEST(the_roof_takes_so_many)
{
	options.roof = (rig_floor){.length_m = ROOF[_i].length_m, .width_m = ROOF[_i].width_m};
	ck_assert_uint_eq(counted(), ROOF[_i].n);
	ck_assert_uint_eq(notes, ROOF[_i].notes);
}
END_TEST

/* New banks of up to four batteries for 12 V; the present one is no way where it is to go. */
static const struct {
	const char *what;
	double nominal_v;
	int most_series, most_parallel, most_batteries;
	size_t n;
	uint32_t notes;
} BANK[] = {
	{"12.8 V", 12.8, -1, 0, 4, 4, 0},
	{"12 V", 12, -1, 0, 3, 3, 0},
	{"6 V, two in series", 6, -1, 0, 4, 2, 0},
	{"6 V, not even one pair", 6, -1, 0, 1, 0, 0},
	{"3.2 V, four in series", 3.2, -1, 0, 4, 1, 0},
	{"6.4 V", 6.4, 2, 0, 4, 2, 0},
	{"6 V that may not stand in series", 6, 1, 0, 4, 0, RIG_SIZE_WRONG_VOLTS},
	{"8 V", 8, -1, 0, 4, 0, RIG_SIZE_WRONG_VOLTS},
	{"24 V", 24, -1, 0, 4, 0, RIG_SIZE_WRONG_VOLTS},
	{"two in parallel at most", 12.8, -1, 2, 4, 2, 0},
	{"as many in parallel as it takes", 12.8, -1, 9, 4, 4, 0},
	{"none asked for", 12.8, -1, 0, 0, 0, 0},
};

START_TEST(so_many_banks_can_be_made_of_a_battery)
{
	options.most_panels = 0;
	options.bank = RIG_SIZE_REPLACE;
	options.most_batteries = BANK[_i].most_batteries;
	battery[0].nominal_v = label(BANK[_i].nominal_v);
	battery[0].most_series = BANK[_i].most_series;
	battery[0].most_parallel = BANK[_i].most_parallel;
	const size_t n = counted();
	ck_assert_msg(n == BANK[_i].n, "%s: %zu", BANK[_i].what, n);
	ck_assert_uint_eq(notes & ~(uint32_t)RIG_SIZE_NO_PANELS_FIT, BANK[_i].notes);
	options.bank = RIG_SIZE_EITHER;
	ck_assert_uint_eq(counted(), BANK[_i].n + 1);
}
END_TEST

/* The volts of the present bank decide. */
static const struct {
	const char *bank;
	double nominal_v;
	size_t n;
} OF_VOLTS[] = {
	{"{\"id\": \"house\", \"chemistry\": \"agm\", \"capacity_ah\": 80, \"nominal_v\": 24}", 12,
		2},
	{"{\"id\": \"house\", \"chemistry\": \"agm\", \"capacity_ah\": 80, \"nominal_v\": 24}", 24,
		4},
	{"{\"id\": \"house\", \"chemistry\": \"agm\", \"capacity_ah\": 80, \"nominal_v\": 24}", 48,
		0},
	{"{\"id\": \"house\", \"chemistry\": \"agm\", \"capacity_ah\": 80, \"nominal_v\": 48}",
		12.8, 1},
};

START_TEST(a_new_bank_has_the_volts_of_the_present_one)
{
	options.most_panels = 0;
	options.bank = RIG_SIZE_REPLACE;
	battery[0].nominal_v = label(OF_VOLTS[_i].nominal_v);
	ck_assert_uint_eq(counted_with(OF_VOLTS[_i].bank), OF_VOLTS[_i].n);
}
END_TEST

/* The house bank with most in it is sized; of two alike the first; never the engine's. */
#define BANK_OF(id, role, ah)                                                                      \
	"{\"id\": \"" id "\", \"role\": \"" role "\", \"chemistry\": \"agm\", "                    \
	"\"capacity_ah\": " ah "}"
static const struct {
	const char *banks;
	int bank;
} SIZED[] = {
	{BANK_OF("house", "house", "80"), 0},
	{BANK_OF("front", "chassis", "200") ", " BANK_OF("house", "house", "80"), 1},
	{BANK_OF("house", "house", "80") ", " BANK_OF("b", "house", "90"), 1},
	{BANK_OF("house", "house", "90") ", " BANK_OF("b", "house", "80"), 0},
	{BANK_OF("house", "house", "80") ", " BANK_OF("b", "house", "80"), 0},
	{BANK_OF("house", "house", "70") ", " BANK_OF("b", "house", "90") ", " BANK_OF(
		 "c", "house", "80"),
		1},
};

START_TEST(the_largest_house_bank_is_sized)
{
	rig_buffer text = {0};
	rig_buffer_format(&text,
		"{\"format\": \"rigbudget/1\", \"name\": \"T\", \"place\": {\"name\": "
		"\"Flagstaff\"}, \"shore\": {\"cord_a\": 30}, \"loads\": [], \"banks\": [%s]}",
		SIZED[_i].banks);
	rig_file *file = size_parse(text.text);
	rig_size_findings *findings = NULL;
	ck_assert_int_eq(
		rig_size_study(file, &parts, rig_file_place(file, NULL), &options, &findings),
		RIG_OK);
	ck_assert_int_eq(findings->bank, SIZED[_i].bank);
	rig_size_free(findings);
	rig_file_free(file);
	rig_buffer_free(&text);
}
END_TEST

/* Batteries of 0.3 by 0.2 m, 0.25 m high, side by side. */
static const struct {
	double length_m, width_m, height_m;
	size_t n;
} ROOM[] = {
	{0, 0, 0, 4},
	{0, 0, 0.25, 4},
	{0, 0, 0.24, 0},
	{0.6, 0.4, 0.25, 4},
	{0.6, 0.3, 0, 3},
	{0.3, 0.2, 0, 1},
	{0.29, 0.29, 0, 0},
};

START_TEST(the_battery_room_takes_so_many)
{
	options.most_panels = 0;
	options.bank = RIG_SIZE_REPLACE;
	options.battery_room =
		(rig_floor){.length_m = ROOM[_i].length_m, .width_m = ROOM[_i].width_m};
	options.battery_room_height_m = ROOM[_i].height_m;
	ck_assert_uint_eq(counted(), ROOM[_i].n);
}
END_TEST

/* The television's 70 W through an inverter of 85 % from 12 V are 6.86 A. */
static const struct {
	double discharge_limit_a;
	size_t n;
} DISCHARGE[] = {{0, 4}, {6.87, 4}, {6.85, 3}, {3.44, 3}, {2.28, 1}, {1.7, 0}};

START_TEST(a_bank_that_the_inverter_asks_too_much_of_is_no_way)
{
	options.most_panels = 0;
	options.bank = RIG_SIZE_REPLACE;
	battery[0].discharge_limit_a = label(DISCHARGE[_i].discharge_limit_a);
	ck_assert_uint_eq(counted(), DISCHARGE[_i].n);
}
END_TEST

/* Instead of the present one of 600 W. The television wants 70 W. */
static const struct {
	const char *what;
	double nominal_v, watts_w, surge_w;
	size_t n;
	uint32_t notes;
} INVERTER[] = {
	{"12 V", 12, 1000, 2000, 1, 0},
	{"12.8 V", 12.8, 1000, 2000, 1, 0},
	{"11.5 V", 11.5, 1000, 2000, 1, 0},
	{"13.2 V", 13.2, 1000, 2000, 1, 0},
	{"13.3 V", 13.3, 1000, 2000, 0, RIG_SIZE_WRONG_VOLTS | RIG_SIZE_NO_INVERTER},
	{"11.4 V", 11.4, 1000, 2000, 0, RIG_SIZE_WRONG_VOLTS | RIG_SIZE_NO_INVERTER},
	{"24 V", 24, 1000, 2000, 0, RIG_SIZE_WRONG_VOLTS | RIG_SIZE_NO_INVERTER},
	{"just enough", 12, 70, 70, 1, 0},
	{"too few watts", 12, 69, 200, 0, RIG_SIZE_INVERTER_SMALL | RIG_SIZE_NO_INVERTER},
	{"too little surge", 12, 100, 69, 0, RIG_SIZE_INVERTER_SMALL | RIG_SIZE_NO_INVERTER},
};

START_TEST(an_inverter_fits_the_bank_and_the_loads)
{
	options.most_panels = 0;
	options.inverter = RIG_SIZE_REPLACE;
	inverter[0].nominal_v = label(INVERTER[_i].nominal_v);
	inverter[0].watts_w = label(INVERTER[_i].watts_w);
	inverter[0].surge_w = label(INVERTER[_i].surge_w);
	const size_t n = counted();
	ck_assert_msg(n == INVERTER[_i].n, "%s: %zu", INVERTER[_i].what, n);
	ck_assert_uint_eq(notes & ~(uint32_t)RIG_SIZE_NO_PANELS_FIT, INVERTER[_i].notes);
	options.inverter = RIG_SIZE_EITHER;
	ck_assert_uint_eq(counted(), INVERTER[_i].n + 1);
}
END_TEST

/* Ways multiply: none, 1, 2 and 4 panels; the present bank and four; the present inverter and two.
 */
START_TEST(all_go_with_all)
{
	parts.n_inverters = 2;
	options.bank = options.inverter = RIG_SIZE_EITHER;
	ck_assert_uint_eq(counted(), 4UL * 5 * 3);
	/* what they cost together counts: the dearest way is 500 + 1,600 + 200 */
	options.price_max = 2300;
	ck_assert_uint_eq(counted(), 4UL * 5 * 3);
	options.price_max = 2299;
	ck_assert_uint_eq(counted(), 4 * 5 * 3 - 2);
	ck_assert_uint_eq(notes, RIG_SIZE_LIMITS_BIND);
}
END_TEST

START_TEST(a_list_of_nothing_leaves_the_present_system)
{
	parts = (rig_parts){0};
	options.bank = options.inverter = RIG_SIZE_EITHER;
	ck_assert_uint_eq(counted(), 1);
	ck_assert_uint_eq(notes, RIG_SIZE_NO_PANELS_FIT);
	parts.invented = RIG_YES;
	(void)counted();
	ck_assert_uint_eq(notes, RIG_SIZE_NO_PANELS_FIT | RIG_SIZE_INVENTED);
}
END_TEST

Suite *size_parts_suite(void);
Suite *size_parts_suite(void)
{
	Suite *suite = suite_create("size_parts");
	TCase *all = tcase_create("all");
	tcase_add_checked_fixture(all, setup, NULL);
	tcase_add_loop_test(all, so_many_arrays_go_with_a_controller, 0, COUNT(ARRAY));
	tcase_add_loop_test(all, an_array_that_another_beats_is_not_listed, 0, COUNT(SECOND));
	tcase_add_loop_test(
		all, a_controller_that_another_beats_is_not_listed, 0, COUNT(SECOND_CONTROLLER));
	tcase_add_loop_test(
		all, limits_of_price_weight_and_area_shut_out_what_is_above, 0, COUNT(LIMIT));
	tcase_add_loop_test(all, the_roof_takes_so_many, 0, COUNT(ROOF));
	tcase_add_loop_test(all, so_many_banks_can_be_made_of_a_battery, 0, COUNT(BANK));
	tcase_add_loop_test(all, a_new_bank_has_the_volts_of_the_present_one, 0, COUNT(OF_VOLTS));
	tcase_add_loop_test(all, the_largest_house_bank_is_sized, 0, COUNT(SIZED));
	tcase_add_loop_test(all, the_battery_room_takes_so_many, 0, COUNT(ROOM));
	tcase_add_loop_test(
		all, a_bank_that_the_inverter_asks_too_much_of_is_no_way, 0, COUNT(DISCHARGE));
	tcase_add_loop_test(all, an_inverter_fits_the_bank_and_the_loads, 0, COUNT(INVERTER));
	tcase_add_test(all, all_go_with_all);
	tcase_add_test(all, a_list_of_nothing_leaves_the_present_system);
	suite_add_tcase(suite, all);
	return suite;
}
