/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/buffer.h"
#include "read_coach.h"
#include "size_scene.h"
#include "suites.h"

/* ---- every combination, by this file's own arithmetic ---- */

typedef struct {
	long price, weight, area; /* cents, grams, square centimetres */
} vector;

enum { MOST_VECTORS = 2000 };
typedef struct {
	size_t n;
	vector list[MOST_VECTORS];
} vectors;

typedef struct {
	vector cost;
	char text[400];
} choice;

static size_t arrays_of(const rig_parts *parts, choice list[], int most)
{
	size_t n = 0;
	list[n].cost = (vector){0, 0, 0};
	snprintf(list[n++].text, sizeof list->text, "%s", SIZE_OLD_ARRAY);
	for (size_t p = 0; p < parts->n_panels; p++) {
		for (size_t c = 0; c < parts->n_controllers; c++) {
			for (int k = 1; k <= most; k++) {
				const rig_part_panel *panel = &parts->panels[p];
				const rig_part_controller *by = &parts->controllers[c];
				const double amps = k * panel->watts_w.likely / 13.2;
				const int m = (int)ceil(amps / by->limit_a.likely - 1e-9);
				if (k % m != 0)
					continue;
				choice *it = &list[n++];
				it->cost = (vector){lround(100 * (k * panel->price.likely +
									 m * by->price.likely)),
					lround(1000 * (k * panel->weight_kg.likely +
							      m * by->weight_kg.likely)),
					lround(10000 * k * panel->length_m.likely *
						panel->width_m.likely)};
				snprintf(it->text, sizeof it->text,
					"%s, {\"id\": \"x\", \"bank\": \"house\", \"count\": %d, "
					"\"watts_w\": %g, \"panel\": \"%s\", \"vmp_v\": %g, "
					"\"voc_v\": %g, \"isc_a\": %g, \"controller\": \"%s\", "
					"\"controller_limit_a\": %g%s}",
					SIZE_OLD_ARRAY, k, panel->watts_w.likely, panel->panel,
					panel->vmp_v.likely, panel->voc_v.likely,
					panel->isc_a.likely,
					by->controller == RIG_PWM ? "pwm" : "mppt",
					m * by->limit_a.likely,
					by->controller == RIG_PWM ? ""
					: by->efficiency_frac.likely < 0.965
						? ", \"controller_efficiency_frac\": 0.96"
						: ", \"controller_efficiency_frac\": 0.97");
			}
		}
	}
	return n;
}

static size_t banks_of(const rig_parts *parts, choice list[], int most)
{
	size_t n = 0;
	list[n].cost = (vector){0, 0, 0};
	snprintf(list[n++].text, sizeof list->text, "%s", SIZE_OLD_BANK);
	for (size_t b = 0; b < parts->n_batteries; b++) {
		const rig_part_battery *battery = &parts->batteries[b];
		const int series = battery->nominal_v.likely < 7 ? 2 : 1;
		for (int k = 1; k * series <= most; k++) {
			choice *it = &list[n++];
			it->cost = (vector){lround(100 * k * series * battery->price.likely),
				lround(1000 * k * series * battery->weight_kg.likely), 0};
			snprintf(it->text, sizeof it->text,
				"{\"id\": \"house\", \"role\": \"house\", \"chemistry\": \"%s\", "
				"\"nominal_v\": %g, \"capacity_ah\": %g, \"series\": %d, "
				"\"parallel\": %d, \"age_years\": 0}",
				battery->chemistry, series * battery->nominal_v.likely,
				battery->capacity_ah.likely, series, k);
		}
	}
	return n;
}

static size_t inverters_of(const rig_parts *parts, choice list[])
{
	size_t n = 0;
	list[n].cost = (vector){0, 0, 0};
	snprintf(list[n++].text, sizeof list->text, "%s", SIZE_OLD_INVERTER);
	for (size_t i = 0; i < parts->n_inverters; i++) {
		const rig_part_inverter *one = &parts->inverters[i];
		if (one->watts_w.likely < 70) /* the television */
			continue;
		list[n].cost = (vector){
			lround(100 * one->price.likely), lround(1000 * one->weight_kg.likely), 0};
		snprintf(list[n++].text, sizeof list->text,
			"{\"watts_w\": %g, \"surge_w\": %g, \"idle_w\": %g, \"always_on\": true}",
			one->watts_w.likely, one->surge_w.likely, one->idle_w.likely);
	}
	return n;
}

static vector sum_of(const vector *a, const vector *b, const vector *c)
{
	return (vector){a->price + b->price + c->price, a->weight + b->weight + c->weight,
		a->area + b->area + c->area};
}

static bool beats(const vector *a, const vector *b)
{
	return a->price <= b->price && a->weight <= b->weight && a->area <= b->area &&
	       (a->price < b->price || a->weight < b->weight || a->area < b->area);
}

static int by_vector(const void *x, const void *y)
{
	const vector *a = x, *b = y;
	if (a->price != b->price)
		return a->price < b->price ? -1 : 1;
	if (a->weight != b->weight)
		return a->weight < b->weight ? -1 : 1;
	return (a->area > b->area) - (a->area < b->area);
}

/* Those that none beats, each once. */
static void thin(vectors *all)
{
	size_t n = 0;
	qsort(all->list, all->n, sizeof *all->list, by_vector);
	for (size_t i = 0; i < all->n; i++) {
		bool out = n > 0 && by_vector(&all->list[i], &all->list[n - 1]) == 0;
		for (size_t k = 0; k < all->n && !out; k++)
			out = beats(&all->list[k], &all->list[i]);
		if (!out)
			all->list[n++] = all->list[i];
	}
	all->n = n;
}

/* By the options' months and wanted chance. A chance within half a trip of the mark is the mark. */
static bool does(const rig_file *file, const rig_size_options *options)
{
	for (int month = 0; month < 12; month++) {
		const rig_trip_options trips = size_trips_like(options, month);
		if (options->months[month] &&
			size_chance_of(file, &trips) < options->wanted_frac - 1e-9)
			return false;
	}
	return true;
}

static void try_all(const rig_parts *parts, const rig_size_options *options, vectors *found)
{
	static choice arrays[64], banks[64], inverters[8];
	const size_t n_arrays = arrays_of(parts, arrays, options->most_panels);
	const size_t n_banks = banks_of(parts, banks, options->most_batteries);
	const size_t n_inverters = inverters_of(parts, inverters);
	found->n = 0;
	for (size_t a = 0; a < n_arrays; a++) {
		for (size_t b = 0; b < n_banks; b++) {
			for (size_t i = 0; i < n_inverters; i++) {
				rig_file *file = size_scene_coach(
					banks[b].text, arrays[a].text, inverters[i].text);
				if (does(file, options))
					found->list[found->n++] = sum_of(&arrays[a].cost,
						&banks[b].cost, &inverters[i].cost);
				rig_file_free(file);
			}
		}
	}
	thin(found);
}

/* Other chances ask for other corners of the list. */
static const struct {
	double wanted_frac;
	int n_days;
	uint64_t seed;
} SMALL[] = {{0.9, 5, 1}, {0.5, 7, 2}, {0.97, 4, 3}};

START_TEST(the_options_are_those_that_trying_all_leaves)
{
	rig_parts_file *parts = size_scene_parts(SIZE_PARTS);
	rig_file *file = size_scene_coach(SIZE_OLD_BANK, SIZE_OLD_ARRAY, SIZE_OLD_INVERTER);
	rig_size_options options = size_small_options();
	options.wanted_frac = SMALL[_i].wanted_frac;
	options.n_days = SMALL[_i].n_days;
	options.seed = SMALL[_i].seed;
	rig_size_findings *findings = NULL;
	static vectors all;
	ck_assert_int_eq(rig_size_study(file, rig_parts_list(parts), rig_file_place(file, NULL),
				 &options, &findings),
		RIG_OK);
	try_all(rig_parts_list(parts), &options, &all);
	ck_assert_uint_ge(all.n, 2);
	ck_assert_uint_eq(findings->n_options, all.n);
	for (size_t i = 0; i < all.n; i++) {
		const rig_size_option *option = &findings->options_found[i];
		ck_assert_int_eq(lround(option->price * 100), all.list[i].price);
		ck_assert_int_eq(lround(option->weight_kg * 1000), all.list[i].weight);
		ck_assert_int_eq(lround(option->area_m2 * 10000), all.list[i].area);
		ck_assert(!option->price_is_whole || option->n_panels == 0);
		ck_assert((option->panel == -1) == (option->n_panels == 0));
		ck_assert((option->controller == -1) == (option->n_panels == 0));
	}
	rig_size_free(findings);
	rig_file_free(file);
	rig_parts_free(parts);
}
END_TEST

/* ---- what an option states holds of its coach ---- */

START_TEST(a_fresh_run_of_an_options_coach_gives_its_chance)
{
	rig_parts_file *parts = size_scene_parts(rig_parts_example);
	rig_file *file = read_coach_file("samples/upgrade-fifth-wheel.rig.json");
	rig_size_options options = rig_size_defaults();
	options.n_trips = 1000;
	options.habit = 0;
	options.months[10] = true; /* beside July */
	rig_size_findings *findings = size_sized(file, parts, &options);
	ck_assert_uint_ge(findings->n_options, 1);
	for (size_t i = 0; i < findings->n_options; i++) {
		rig_file *coach = NULL;
		ck_assert_int_eq(rig_size_coach(file, findings, i, &coach), RIG_OK);
		for (int month = 6; month < 12; month += 4) {
			const rig_size_month *told = &findings->options_found[i].months[month];
			rig_trip_options trips = size_trips_like(&options, month);
			ck_assert_double_eq_tol(
				size_chance_of(coach, &trips), told->never_out_frac.likely, 1e-12);
			ck_assert_double_ge(told->never_out_frac.likely, options.wanted_frac);
			/* other trips: within four standard errors of both */
			trips.seed = 77;
			const double p = told->never_out_frac.likely;
			const double error = sqrt((p * (1 - p) + 1e-3) * 2 / 1000);
			ck_assert_double_eq_tol(size_chance_of(coach, &trips), p, 4 * error);
		}
		rig_file_free(coach);
	}
	rig_size_free(findings);
	rig_file_free(file);
	rig_parts_free(parts);
}
END_TEST

/* Wh: what is offered and drawn is served, charged or curtailed. */
START_TEST(the_energy_of_a_month_adds_up)
{
	rig_parts_file *parts = size_scene_parts(SIZE_PARTS);
	rig_file *file = size_scene_coach(SIZE_OLD_BANK, SIZE_OLD_ARRAY, SIZE_OLD_INVERTER);
	rig_size_options options = size_small_options();
	rig_size_findings *findings = size_sized(file, parts, &options);
	/* fan 160, lights 60, television 210 through an inverter with 5 to 12 W idle; the fan's and
	 * the inverter's doubt: within a fifth */
	for (size_t i = 0; i < findings->n_options; i++) {
		const rig_size_month *june = &findings->options_found[i].months[5];
		ck_assert(june->asked && !findings->options_found[i].months[0].asked);
		const double wanted = june->served + june->unserved;
		ck_assert_double_ge(wanted, (160 + 60 + 210 + 5 * 24) * 0.95);
		ck_assert_double_le(wanted, (160 + 60 + 210 + 12 * 24) * 1.2);
		ck_assert_double_le(june->curtailed, june->harvest);
	}
	rig_size_free(findings);
	rig_file_free(file);
	rig_parts_free(parts);
}
END_TEST

/* ---- more never does worse ---- */

static unsigned below(unsigned *state, unsigned n)
{
	*state = *state * 1664525u + 1013904223u;
	return (*state >> 8) % n;
}

static rig_file *grown(const choice *bank, int parallel, int panels, const char *controller)
{
	char array[400], text[420];
	snprintf(array, sizeof array,
		"%s, {\"id\": \"x\", \"bank\": \"house\", \"count\": %d, \"watts_w\": 90, "
		"\"controller\": \"%s\"}",
		SIZE_OLD_ARRAY, panels, controller);
	snprintf(text, sizeof text, "{%s, \"parallel\": %d}", bank->text, parallel);
	return size_scene_coach(text, panels > 0 ? array : SIZE_OLD_ARRAY, SIZE_OLD_INVERTER);
}

/* Under the sanitizers a tenth: the others run the same lines. */
#ifdef RIG_SLOW
enum { N_PAIRS = 6 };
#else
enum { N_PAIRS = 60 };
#endif

START_TEST(a_larger_array_or_bank_has_no_worse_chance_on_the_same_draws)
{
	static const choice BANK[] = {
		{.text = "\"id\": \"house\", \"chemistry\": \"lithium_iron_phosphate\", "
			 "\"nominal_v\": 12.8, \"capacity_ah\": 30, \"age_years\": 0"},
		{.text = "\"id\": \"house\", \"chemistry\": \"agm\", \"capacity_ah\": 60, "
			 "\"age_years\": 3"},
		{.text = "\"id\": \"house\", \"chemistry\": \"flooded\", \"capacity_ah\": 70"}};
	static const char *const CONTROLLER[] = {"pwm", "mppt"};
	unsigned state = 4711u + (unsigned)_i;
	const choice *bank = &BANK[below(&state, 3)];
	const char *controller = CONTROLLER[below(&state, 2)];
	rig_size_options options = size_small_options();
	options.n_days = 3 + (int)below(&state, 12);
	options.seed = below(&state, 1000);
	const rig_trip_options trips = size_trips_like(&options, (int)below(&state, 12));
	const int panels = (int)below(&state, 4), parallel = 1 + (int)below(&state, 3);
	rig_file *plain = grown(bank, parallel, panels, controller);
	rig_file *brighter = grown(bank, parallel, panels + 1, controller);
	rig_file *larger = grown(bank, parallel + 1, panels, controller);
	const double chance = size_chance_of(plain, &trips);
	ck_assert_double_ge(size_chance_of(brighter, &trips), chance);
	ck_assert_double_ge(size_chance_of(larger, &trips), chance);
	rig_file_free(plain);
	rig_file_free(brighter);
	rig_file_free(larger);
}
END_TEST

/* ---- limits, stays and loads ---- */

START_TEST(no_option_breaks_a_limit)
{
	rig_parts_file *parts = size_scene_parts(SIZE_PARTS);
	rig_file *file = size_scene_coach(SIZE_OLD_BANK, SIZE_OLD_ARRAY, SIZE_OLD_INVERTER);
	rig_size_options options = size_small_options();
	options.wanted_frac = 0.5;
	rig_size_findings *free_of = size_sized(file, parts, &options);
	options.price_max = 700;
	options.weight_max_kg = 70;
	options.area_max_m2 = 1.1;
	options.battery_room = (rig_floor){.length_m = 0.4, .width_m = 0.4};
	options.roof = (rig_floor){.length_m = 2.1, .width_m = 0.6};
	rig_size_findings *held = size_sized(file, parts, &options);
	ck_assert_uint_lt(held->n_candidates, free_of->n_candidates);
	for (size_t i = 0; i < held->n_options; i++) {
		const rig_size_option *option = &held->options_found[i];
		ck_assert_double_le(option->price, 700);
		ck_assert_double_le(option->weight_kg, 70);
		ck_assert_double_le(option->area_m2, 1.1);
		ck_assert_int_le(option->n_panels, 2); /* of a; b is wider than the roof */
		ck_assert_int_ne(option->panel, 1);
	}
	rig_size_free(free_of);
	rig_size_free(held);
	rig_file_free(file);
	rig_parts_free(parts);
}
END_TEST

START_TEST(what_stays_stays_and_what_goes_goes)
{
	rig_parts_file *parts = size_scene_parts(SIZE_PARTS);
	rig_file *file = size_scene_coach(SIZE_OLD_BANK, SIZE_OLD_ARRAY, SIZE_OLD_INVERTER);
	rig_size_options options = size_small_options();
	options.months[10] = false;
	options.bank = options.inverter = RIG_SIZE_KEEP;
	options.wanted_frac = 0.3;
	rig_size_findings *kept = size_sized(file, parts, &options);
	for (size_t i = 0; i < kept->n_options; i++) {
		ck_assert_int_eq(kept->options_found[i].battery, -1);
		ck_assert_int_eq(kept->options_found[i].inverter, -1);
	}
	options.bank = options.inverter = options.panels = RIG_SIZE_REPLACE;
	rig_size_findings *gone = size_sized(file, parts, &options);
	ck_assert_uint_ge(gone->n_options, 1);
	for (size_t i = 0; i < gone->n_options; i++) {
		const rig_size_option *option = &gone->options_found[i];
		rig_file *coach = NULL;
		ck_assert_int_ge(option->battery, 0);
		ck_assert_int_ge(option->inverter, 0);
		ck_assert_int_eq(rig_size_coach(file, gone, i, &coach), RIG_OK);
		const rig_coach *made = rig_file_completed(coach);
		ck_assert_uint_eq(made->n_arrays, option->n_panels > 0 ? 1 : 0);
		ck_assert_uint_eq(made->n_banks, 1);
		ck_assert_str_eq(made->banks[0].id, "house");
		ck_assert_int_eq(made->banks[0].parallel, option->parallel);
		ck_assert_double_eq_tol(made->inverter.watts_w.likely, option->inverter_w, 1e-9);
		rig_file_free(coach);
	}
	rig_size_free(kept);
	rig_size_free(gone);
	rig_file_free(file);
	rig_parts_free(parts);
}
END_TEST

/* The heater's 1,400 W beside the television's 70: no inverter of the list, nor the present one. */
START_TEST(an_inverter_must_carry_all_that_is_wanted_of_it)
{
	rig_parts_file *parts = size_scene_parts(SIZE_PARTS);
	rig_file *file = size_scene_coach(SIZE_OLD_BANK, SIZE_OLD_ARRAY, SIZE_OLD_INVERTER);
	rig_size_options options = size_small_options();
	options.all_loads = true;
	rig_size_findings *findings = size_sized(file, parts, &options);
	ck_assert_double_eq_tol(findings->asked_w, 1470, 1e-9);
	ck_assert_uint_eq(findings->n_wanted, 2);
	ck_assert_uint_eq(findings->n_options, 0);
	ck_assert(findings->notes & RIG_SIZE_NO_INVERTER);
	rig_size_free(findings);
	options.all_loads = false;
	findings = size_sized(file, parts, &options);
	ck_assert_double_eq_tol(findings->asked_w, 70, 1e-9);
	ck_assert_uint_eq(findings->n_wanted, 1);
	rig_size_free(findings);
	options.n_loads = 1;
	options.loads[0] = 1; /* the heater alone: the television goes without */
	findings = size_sized(file, parts, &options);
	ck_assert_double_eq_tol(findings->asked_w, 1400, 1e-9);
	rig_size_free(findings);
	rig_file_free(file);
	rig_parts_free(parts);
}
END_TEST

/* ---- by hand ---- */

/* 12.8 V x 50 Ah of lithium, 0.9 of it usable by profile, charged with 20 A at 13.2 V; and the same
 * through a generator of 200 W. Hours, not the rule: constant power to the end, since lithium takes
 * what comes. */
START_TEST(charging_takes_the_hours_that_the_watts_make)
{
	static const char REST[] =
		"%s, \"banks\": [%s], \"solar\": [], \"inverter\": %s, "
		"\"charger\": {\"amps_a\": 20}, \"generator\": {\"watts_w\": 200}}";
	rig_parts_file *parts = size_scene_parts(SIZE_PARTS);
	rig_buffer text = {0};
	rig_buffer_format(&text, REST, SIZE_HEAD, SIZE_OLD_BANK, SIZE_OLD_INVERTER);
	rig_file *file = size_parse(text.text);
	rig_size_options options = size_small_options();
	options.wanted_frac = 0.05;
	options.n_days = 1;
	options.months[10] = false;
	options.bank = RIG_SIZE_REPLACE;
	rig_size_findings *findings = size_sized(file, parts, &options);
	const rig_size_option *found = NULL;
	for (size_t i = 0; i < findings->n_options; i++)
		if (findings->options_found[i].battery == 0)
			found = &findings->options_found[i];
	ck_assert_ptr_nonnull(found);
	const rig_chemistry *kind = rig_chemistry_find("lithium_iron_phosphate");
	const double wh = found->parallel * 640 * kind->usable_frac.likely;
	const double keep = kind->charge_efficiency_frac.likely;
	ck_assert_double_eq_tol(found->bank_usable_wh, wh, 1e-6 * wh);
	ck_assert_double_eq_tol(found->shore_charge_h, 0.98 * wh / (20 * 13.2 * keep), 0.01);
	/* 200 W, 0.85 of it through the charger */
	ck_assert_double_eq_tol(found->generator_charge_h, 0.98 * wh / (170 * keep), 0.01);
	/* the label's cycles times their depth, over the depth used */
	ck_assert_double_eq_tol(found->cycles.likely * found->depth_frac, 3000 * 0.8, 1e-6 * 2400);
	rig_size_free(findings);
	rig_file_free(file);
	rig_buffer_free(&text);
	rig_parts_free(parts);
}
END_TEST

/* Every run of every option, put to the wiring study's rules again. */
START_TEST(every_wire_and_fuse_keeps_to_the_rules)
{
	rig_parts_file *parts = size_scene_parts(rig_parts_example);
	rig_file *file = read_coach_file("samples/upgrade-fifth-wheel.rig.json");
	rig_size_options options = rig_size_defaults();
	options.n_trips = 500;
	options.n_days = 5;
	options.months[6] = false;
	options.months[10] = true;
	options.inverter = RIG_SIZE_REPLACE;
	rig_size_findings *findings = size_sized(file, parts, &options);
	ck_assert_uint_ge(findings->n_options, 1);
	for (size_t i = 0; i < findings->n_options; i++) {
		const rig_size_option *option = &findings->options_found[i];
		for (int k = 0; k < RIG_SIZE_N_RUNS; k++) {
			const rig_size_run *run = &option->runs[k];
			if (!run->asked)
				continue;
			rig_wire_rating rating;
			ck_assert(run->solved);
			ck_assert_int_eq(
				rig_wire_rate(&run->job, run->choice.wire.awg, &rating), RIG_OK);
			ck_assert_double_le(run->fuse_a, rating.fuse_limit_a + 1e-9);
			ck_assert_double_ge(run->fuse_a,
				rig_fuse_need_a(run->job.amps_a, run->job.continuous_a) - 1e-9);
			ck_assert_double_le(rating.drop_frac, run->job.drop_frac);
		}
		/* amps of the panels at the bank, and of the inverter at its full watts */
		ck_assert_double_eq_tol(option->controller_a, option->new_w / 13.2, 1e-9);
		const rig_size_run *cable = &option->runs[RIG_SIZE_RUN_INVERTER];
		ck_assert_double_eq_tol(
			cable->job.amps_a * cable->n_alike, option->inverter_w / 0.85 / 12, 1e-6);
		ck_assert_double_ge(option->inverter_w, option->inverter_asked_w);
		ck_assert_double_ge(option->inverter_surge_w, option->inverter_asked_surge_w);
	}
	rig_size_free(findings);
	rig_file_free(file);
	rig_parts_free(parts);
}
END_TEST

/* ---- odd cases ---- */

START_TEST(a_coach_without_a_bank_gets_one)
{
	rig_parts_file *parts = size_scene_parts(SIZE_PARTS);
	rig_file *file = size_parse(
		"{\"format\": \"rigbudget/1\", \"name\": \"T\", \"place\": {\"name\": "
		"\"Flagstaff\"}, \"shore\": {\"cord_a\": 30}, \"loads\": [{\"id\": \"tv\", "
		"\"supply\": \"ac\", \"running_w\": 70, \"daily_use_h\": 3}]}");
	rig_size_options options = size_small_options();
	options.n_loads = 1; /* the television */
	rig_size_findings *findings = size_sized(file, parts, &options);
	ck_assert_uint_ge(findings->n_options, 1);
	ck_assert(!findings->present[10].asked);
	for (size_t i = 0; i < findings->n_options; i++) {
		rig_file *coach = NULL;
		ck_assert_int_eq(rig_size_coach(file, findings, i, &coach), RIG_OK);
		const rig_trip_options trips = size_trips_like(&options, 10);
		ck_assert_double_eq_tol(size_chance_of(coach, &trips),
			findings->options_found[i].months[10].never_out_frac.likely, 1e-12);
		rig_file_free(coach);
	}
	rig_size_free(findings);
	rig_file_free(file);
	rig_parts_free(parts);
}
END_TEST

START_TEST(threads_change_nothing)
{
	rig_parts_file *parts = size_scene_parts(SIZE_PARTS);
	rig_file *file = size_scene_coach(SIZE_OLD_BANK, SIZE_OLD_ARRAY, SIZE_OLD_INVERTER);
	rig_size_options options = size_small_options();
	rig_size_findings *one = size_sized(file, parts, &options);
	options.n_threads = 3;
	rig_size_findings *three = size_sized(file, parts, &options);
	ck_assert_uint_eq(one->n_options, three->n_options);
	for (size_t i = 0; i < one->n_options; i++) {
		const rig_size_option *a = &one->options_found[i], *b = &three->options_found[i];
		ck_assert_double_eq(a->price, b->price);
		ck_assert_double_eq(
			a->months[10].never_out_frac.likely, b->months[10].never_out_frac.likely);
		ck_assert_double_eq(a->months[10].harvest, b->months[10].harvest);
	}
	rig_size_free(one);
	rig_size_free(three);
	rig_file_free(file);
	rig_parts_free(parts);
}
END_TEST

Suite *size_suite(void);
Suite *size_suite(void)
{
	Suite *suite = suite_create("size");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 300);
	tcase_add_loop_test(all, the_options_are_those_that_trying_all_leaves, 0, COUNT(SMALL));
	tcase_add_test(all, a_fresh_run_of_an_options_coach_gives_its_chance);
	tcase_add_test(all, the_energy_of_a_month_adds_up);
	tcase_add_loop_test(
		all, a_larger_array_or_bank_has_no_worse_chance_on_the_same_draws, 0, N_PAIRS);
	tcase_add_test(all, no_option_breaks_a_limit);
	tcase_add_test(all, what_stays_stays_and_what_goes_goes);
	tcase_add_test(all, an_inverter_must_carry_all_that_is_wanted_of_it);
	tcase_add_test(all, charging_takes_the_hours_that_the_watts_make);
	tcase_add_test(all, every_wire_and_fuse_keeps_to_the_rules);
	tcase_add_test(all, a_coach_without_a_bank_gets_one);
	tcase_add_test(all, threads_change_nothing);
	suite_add_tcase(suite, all);
	return suite;
}
