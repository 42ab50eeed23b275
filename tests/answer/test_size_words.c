/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "answer/size_words.h"

#include <string.h>

#include "suites.h"

static const char COACH[] =
	"{\"format\": \"rigbudget/1\", \"name\": \"A\", \"shore\": {\"cord_a\": 30}, \"loads\": ["
	"{\"id\": \"fridge\", \"name\": \"The Fridge\", \"supply\": \"ac\", \"running_w\": 150},"
	"{\"id\": \"tv\", \"supply\": \"ac\", \"running_w\": 60},"
	"{\"id\": \"pump\", \"supply\": \"dc\", \"running_w\": 60}]}";

/* What words about that coach come to. */
typedef struct {
	rig_file *file;
	rig_diags *diags;
	rig_answer_options asked;
	rig_asking asking;
	rig_size_options options;
} scene;

static void begin(scene *s)
{
	*s = (scene){.diags = rig_diags_new(),
		.asked = rig_answer_defaults(),
		.options = rig_size_defaults()};
	ck_assert_int_eq(rig_file_parse(COACH, strlen(COACH), s->diags, &s->file), RIG_OK);
	s->asking = (rig_asking){.file = s->file,
		.coach = rig_file_completed(s->file),
		.options = &s->asked,
		.diags = s->diags};
}

static void end(scene *s)
{
	rig_diags_free(s->diags);
	rig_file_free(s->file);
}

START_TEST(without_words_all_stays_as_usual)
{
	scene s;
	begin(&s);
	const rig_size_options usual = rig_size_defaults();
	ck_assert_int_eq(rig_size_words_read(&s.asking, &s.options), RIG_OK);
	ck_assert_mem_eq(s.options.months, usual.months, sizeof usual.months);
	ck_assert_int_eq(s.options.most_panels, usual.most_panels);
	ck_assert_int_eq(s.options.most_batteries, usual.most_batteries);
	ck_assert_double_eq(s.options.array_run_m, usual.array_run_m);
	ck_assert_double_eq(s.options.roof.length_m, 0);
	ck_assert_uint_eq(s.options.n_loads, 0);
	end(&s);
}
END_TEST

static const struct {
	const char *words;
	const char *months; /* x for each that is meant, January first */
} SPANS[] = {
	{"all", "xxxxxxxxxxxx"},
	{"nov-feb", "xx........xx"},
	{"jun,July,8", ".....xxx...."},
	{"dec", "...........x"},
	{"1-1,3-4", "x.xx........"},
};

START_TEST(months_are_words_numbers_and_spans_that_may_pass_the_new_year)
{
	scene s;
	begin(&s);
	s.asked.wish.months = SPANS[_i].words;
	ck_assert_int_eq(rig_size_words_read(&s.asking, &s.options), RIG_OK);
	for (int month = 0; month < 12; month++)
		ck_assert_int_eq(s.options.months[month], SPANS[_i].months[month] == 'x');
	end(&s);
}
END_TEST

START_TEST(lengths_weights_and_areas_come_in_any_unit)
{
	static const char *const OBSTACLES[] = {"6ft,2ft,30inx30in", "1m,50cm,700mmx.5m"};
	scene s;
	begin(&s);
	s.asked.wish.roof = "33ftx8FT";
	s.asked.wish.obstacles = (rig_texts){2, OBSTACLES};
	s.asked.wish.gap = "25mm";
	s.asked.wish.battery_room = "3ftx18inx12in";
	s.asked.wish.max_price = "2500";
	s.asked.wish.max_weight = "500lb";
	s.asked.wish.max_area = "80ft2";
	s.asked.wish.runs = "20ft,2m,150cm";
	s.asked.wish.max_panels = 0;
	s.asked.wish.max_batteries = 100;
	ck_assert_int_eq(rig_size_words_read(&s.asking, &s.options), RIG_OK);
	const rig_floor *roof = &s.options.roof;
	/* a foot is 0.3048 m and a pound 0.45359237 kg by definition */
	ck_assert_double_eq_tol(roof->length_m, 10.0584, 1e-12);
	ck_assert_double_eq_tol(roof->width_m, 2.4384, 1e-12);
	ck_assert_double_eq_tol(roof->gap_m, 0.025, 1e-15);
	ck_assert_double_eq_tol(roof->edge_m, 0.025, 1e-15);
	ck_assert_uint_eq(roof->n_obstacles, 2);
	ck_assert_double_eq_tol(roof->obstacles[0].x_m, 1.8288, 1e-12);
	ck_assert_double_eq_tol(roof->obstacles[0].width_m, 0.762, 1e-12);
	ck_assert_double_eq_tol(roof->obstacles[1].y_m, 0.5, 1e-12);
	ck_assert_double_eq_tol(roof->obstacles[1].length_m, 0.7, 1e-12);
	ck_assert_double_eq_tol(s.options.battery_room.width_m, 0.4572, 1e-12);
	ck_assert_double_eq_tol(s.options.battery_room_height_m, 0.3048, 1e-12);
	ck_assert_double_eq(s.options.price_max, 2500);
	ck_assert_double_eq_tol(s.options.weight_max_kg, 226.796185, 1e-9);
	ck_assert_double_eq_tol(s.options.area_max_m2, 7.4322432, 1e-9);
	ck_assert_double_eq_tol(s.options.array_run_m, 6.096, 1e-12);
	ck_assert_double_eq_tol(s.options.controller_run_m, 2, 1e-12);
	ck_assert_double_eq_tol(s.options.inverter_run_m, 1.5, 1e-12);
	ck_assert_int_eq(s.options.most_panels, 0);
	ck_assert_int_eq(s.options.most_batteries, 100);
	end(&s);
}
END_TEST

START_TEST(parts_stay_or_go_and_loads_are_found_by_id_or_name)
{
	static const char *const LOADS[] = {"the fridge", "tv"};
	scene s;
	begin(&s);
	s.asked.wish.keep = "inverter";
	s.asked.wish.replace = "panels,bank";
	s.asked.wish.loads = (rig_texts){2, LOADS};
	ck_assert_int_eq(rig_size_words_read(&s.asking, &s.options), RIG_OK);
	ck_assert_int_eq(s.options.inverter, RIG_SIZE_KEEP);
	ck_assert_int_eq(s.options.panels, RIG_SIZE_REPLACE);
	ck_assert_int_eq(s.options.bank, RIG_SIZE_REPLACE);
	ck_assert_uint_eq(s.options.n_loads, 2);
	ck_assert_str_eq(s.asking.coach->loads[s.options.loads[0]].id, "fridge");
	ck_assert_str_eq(s.asking.coach->loads[s.options.loads[1]].id, "tv");
	ck_assert(!s.options.all_loads);
	end(&s);
}
END_TEST

START_TEST(all_means_all_loads)
{
	static const char *const LOADS[] = {"All"};
	scene s;
	begin(&s);
	s.asked.wish.loads = (rig_texts){1, LOADS};
	ck_assert_int_eq(rig_size_words_read(&s.asking, &s.options), RIG_OK);
	ck_assert(s.options.all_loads);
	end(&s);
}
END_TEST

START_TEST(options_to_compare_are_counted_from_one)
{
	scene s;
	begin(&s);
	s.asked.wish.compare = "1,12,3";
	ck_assert_int_eq(rig_size_compared(&s.asking), RIG_OK);
	ck_assert_uint_eq(s.asking.n_compare, 3);
	ck_assert_int_eq(s.asking.compare[0], 0);
	ck_assert_int_eq(s.asking.compare[1], 11);
	ck_assert_int_eq(s.asking.compare[2], 2);
	end(&s);
}
END_TEST

/* ---- what is refused ---- */

static const char *const PUMP[] = {"pump"}, *const STRANGER[] = {"toaster"},
			 *const BEYOND[] = {"6ft,2ft,30in"};

static const struct {
	rig_size_words wish;
	int month;
	const char *path, *found;
} WRONG[] = {
	{{.months = ""}, -1, "months", ""},
	{{.months = "nov-"}, -1, "months", "nov-"},
	{{.months = "jun,,jul"}, -1, "months", "jun,,jul"},
	{{.months = "13"}, -1, "months", "13"},
	{{.months = "1.5"}, -1, "months", "1.5"},
	{{.months = "jun"}, 5, "months", "jun"},
	{{.keep = "panel"}, -1, "keep", "panel"},
	{{.keep = "bank", .replace = "panels,bank"}, -1, "replace", "panels,bank"},
	{{.roof = "33x8"}, -1, "roof", "33x8"},
	{{.roof = "33ftx8ftx2ft"}, -1, "roof", "33ftx8ftx2ft"},
	{{.roof = "-33ftx8ft"}, -1, "roof", "-33ftx8ft"},
	{{.gap = "1in"}, -1, "roof", ""},
	{{.roof = "33ftx8ft", .gap = "0in"}, -1, "gap", "0in"},
	{{.roof = "33ftx8ft", .obstacles = {1, BEYOND}}, -1, "obstacle", "6ft,2ft,30in"},
	{{.battery_room = "3ftx18in"}, -1, "battery_room", "3ftx18in"},
	{{.max_price = "2500USD"}, -1, "max_price", "2500USD"},
	{{.max_weight = "500"}, -1, "max_weight", "500"},
	{{.max_area = "80ft"}, -1, "max_area", "80ft"},
	{{.runs = "20ft,0ft,5ft"}, -1, "runs", "20ft,0ft,5ft"},
	{{.loads = {1, PUMP}}, -1, "load", "pump"},
	{{.loads = {1, STRANGER}}, -1, "load", "toaster"},
};

START_TEST(a_word_that_cannot_be_read_is_refused_by_name)
{
	scene s;
	begin(&s);
	s.asked.wish = WRONG[_i].wish;
	s.asked.wish.max_panels = s.asked.wish.max_batteries = -1;
	s.asked.month = WRONG[_i].month;
	const size_t before = rig_diags_count(s.diags);
	ck_assert_int_eq(rig_size_words_read(&s.asking, &s.options), RIG_NOT_FOUND);
	ck_assert_uint_eq(rig_diags_faults(s.diags), 1);
	bool told = false;
	for (size_t i = 0; i <= before; i++)
		told |= strcmp(rig_diags_at(s.diags, i)->where.path, WRONG[_i].path) == 0 &&
			strcmp(rig_diags_at(s.diags, i)->found, WRONG[_i].found) == 0;
	ck_assert(told);
	end(&s);
}
END_TEST

static const char *const NO_OPTIONS[] = {"0", "1,", "1,2,3,4,5", "1.5", "x", "1;2"};

START_TEST(what_is_no_option_is_not_compared)
{
	scene s;
	begin(&s);
	s.asked.wish.compare = NO_OPTIONS[_i];
	ck_assert_int_eq(rig_size_compared(&s.asking), RIG_NOT_FOUND);
	end(&s);
}
END_TEST

Suite *size_words_suite(void);
Suite *size_words_suite(void)
{
	Suite *suite = suite_create("size words");
	TCase *all = tcase_create("all");
	tcase_add_test(all, without_words_all_stays_as_usual);
	tcase_add_loop_test(all, months_are_words_numbers_and_spans_that_may_pass_the_new_year, 0,
		COUNT(SPANS));
	tcase_add_test(all, lengths_weights_and_areas_come_in_any_unit);
	tcase_add_test(all, parts_stay_or_go_and_loads_are_found_by_id_or_name);
	tcase_add_test(all, all_means_all_loads);
	tcase_add_test(all, options_to_compare_are_counted_from_one);
	tcase_add_loop_test(all, a_word_that_cannot_be_read_is_refused_by_name, 0, COUNT(WRONG));
	tcase_add_loop_test(all, what_is_no_option_is_not_compared, 0, COUNT(NO_OPTIONS));
	suite_add_tcase(suite, all);
	return suite;
}
