/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shed_days.c: how long a day of shedding takes from event to event, against the same days second
 * by second in the same loop. Prints processor times of one core; judges nothing. Arguments: COACH
 * ROUNDS */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "shed_twin.h"
#include "studies/shed_coach.h"

enum { MAX_ROUNDS = 101, DAYS = 100, TWIN_DAYS = 5, STUDY_DAYS = 1000, MOST_LOADS = 64 };

static double now_ms(void)
{
	struct timespec now;
	clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
	return (double)now.tv_sec * 1e3 + (double)now.tv_nsec / 1e6;
}

static void give_up(const char *what)
{
	fprintf(stderr, "shed_days: %s\n", what);
	exit(EXIT_FAILURE);
}

static rig_file *read_coach(const char *path)
{
	static char text[1 << 20];
	FILE *in = fopen(path, "rb");
	if (!in)
		give_up("no such file");
	const size_t length = fread(text, 1, sizeof text, in);
	fclose(in);
	rig_diags *diags = rig_diags_new();
	rig_file *file = NULL;
	if (!diags || rig_file_parse(text, length, diags, &file) != RIG_OK)
		give_up("not a coach");
	rig_diags_free(diags);
	return file;
}

/* The coach with loads of the table until it has 20 on AC, each on the leg of its number. */
static void fill_up(const rig_coach *coach, rig_coach *full, rig_load *loads)
{
	static const char *const MORE[] = {"hair_dryer", "toaster", "electric_kettle",
		"induction_single", "dishwasher", "laptop", "stereo_home", "space_heater_hi",
		"slow_cooker", "blender", "box_fan", "clothes_iron"};
	size_t n_ac = coach->charger.present;
	*full = *coach;
	full->loads = loads;
	for (size_t i = 0; i < coach->n_loads && i < MOST_LOADS; i++) {
		loads[i] = coach->loads[i];
		n_ac += loads[i].supply != RIG_DC;
	}
	for (size_t i = 0; i < sizeof MORE / sizeof MORE[0] && n_ac < 20; i++, n_ac++) {
		const rig_appliance *appliance = rig_appliance_find(MORE[i]);
		loads[full->n_loads++] = (rig_load){.id = MORE[i],
			.count = 1,
			.supply = RIG_AC,
			.behaviour = appliance->behaviour,
			.volts_v = rig_figure_of(appliance->volts_v, RIG_FROM_PROFILE),
			.running_w = appliance->running_w,
			.power_factor = appliance->power_factor,
			.duty_frac = appliance->duty_frac,
			.daily_use_h = appliance->daily_use_h,
			.from_hour = -1,
			.to_hour = -1,
			.priority = appliance->priority,
			.appliance = appliance,
			.circuit_index = -1,
			.bank_index = -1};
	}
}

typedef struct {
	rig_arena *arena;
	rig_shed_findings findings;
	shed_model model;
	shed_day *day;
	shed_state *state;
	shed_order order;
	int group[SHED_MAX_GROUPS];
} bench;

static void prepare(bench *b, const rig_coach *coach, rig_shed_weather weather)
{
	*b = (bench){.arena = rig_arena_new(),
		.findings = {.coach = coach, .options = rig_shed_defaults()}};
	b->findings.options.supply = "30A";
	b->findings.options.weather = weather;
	if (!b->arena || shed_model_of(b->arena, &b->findings, &b->model) != RIG_OK ||
		shed_day_new(&b->model, b->arena, &b->day) != RIG_OK ||
		shed_state_new(&b->model, b->arena, &b->state) != RIG_OK)
		give_up("no model");
	for (int g = 0; g < SHED_MAX_GROUPS; g++)
		b->group[g] = g;
	b->order = shed_order_of(b->group, b->model.n_groups);
}

static double fast_ms(bench *b)
{
	const double start = now_ms();
	for (size_t day = 0; day < DAYS; day++) {
		shed_day_draw(&b->model, 1, day, b->day);
		const shed_run run = {&b->model, b->day, &b->order, false, NULL, NULL};
		shed_begin(&run, b->state);
		(void)shed_advance(&run, b->state);
	}
	return (now_ms() - start) / DAYS;
}

static double slow_ms(bench *b)
{
	static shed_twin twin;
	const double start = now_ms();
	for (size_t day = 0; day < TWIN_DAYS; day++) {
		shed_day_draw(&b->model, 1, day, b->day);
		shed_twin_day(&b->model, b->day, b->group, &twin);
	}
	return (now_ms() - start) / TWIN_DAYS;
}

static double study_ms(const rig_coach *coach, rig_shed_weather weather, size_t n_order_days)
{
	rig_shed_options options = rig_shed_defaults();
	options.supply = "30A";
	options.weather = weather;
	options.n_days = STUDY_DAYS;
	options.n_order_days = n_order_days;
	rig_shed_findings *findings = NULL;
	const double start = now_ms();
	if (rig_shed_study(coach, &options, &findings) != RIG_OK)
		give_up("no findings");
	const double taken = now_ms() - start;
	rig_shed_free(findings);
	return taken;
}

static int by_size(const void *a, const void *b)
{
	const double x = *(const double *)a, y = *(const double *)b;
	return (x > y) - (x < y);
}

enum { FAST, SLOW, STUDY, ORDER, N_TIMES };

static void print_row(const char *name, double taken[N_TIMES][MAX_ROUNDS], size_t rounds)
{
	for (int i = 0; i < N_TIMES; i++)
		qsort(taken[i], rounds, sizeof(double), by_size);
	const double fast = taken[FAST][rounds / 2], slow = taken[SLOW][rounds / 2];
	printf("%-24s %9.4f %9.3f %7.0fx %12.1f %12.1f\n", name, fast, slow, slow / fast,
		taken[STUDY][rounds / 2], taken[ORDER][rounds / 2]);
}

int main(int argc, char **argv)
{
	if (argc != 3) {
		fputs("usage: shed_days COACH ROUNDS\n", stderr);
		return EXIT_FAILURE;
	}
	const long asked = strtol(argv[2], NULL, 10);
	const size_t rounds = asked < 1 ? 1 : asked > MAX_ROUNDS ? MAX_ROUNDS : (size_t)asked;
	static const struct {
		const char *name;
		bool full;
		rig_shed_weather weather;
	} CASE[] = {
		{"coach, hot, 30 A", false, RIG_SHED_HOT},
		{"20 appliances, hot, 30 A", true, RIG_SHED_HOT},
		{"20 appliances, cold", true, RIG_SHED_COLD},
	};
	rig_file *file = read_coach(argv[1]);
	rig_coach full;
	static rig_load loads[2 * MOST_LOADS];
	fill_up(rig_file_completed(file), &full, loads);
	printf("%-24s %9s %9s %8s %12s %12s\n", "shedding, medians", "day ms", "by 1 s ms", "",
		"1000 days ms", "+ order ms");
	for (size_t c = 0; c < sizeof CASE / sizeof CASE[0]; c++) {
		static double taken[N_TIMES][MAX_ROUNDS];
		const rig_coach *coach = CASE[c].full ? &full : rig_file_completed(file);
		bench b;
		prepare(&b, coach, CASE[c].weather);
		for (size_t round = 0; round < rounds; round++) {
			taken[FAST][round] = fast_ms(&b);
			taken[SLOW][round] = slow_ms(&b);
			taken[STUDY][round] = study_ms(coach, CASE[c].weather, 0);
			taken[ORDER][round] = study_ms(coach, CASE[c].weather, 20);
		}
		print_row(CASE[c].name, taken, rounds);
		rig_arena_free(b.arena);
	}
	rig_file_free(file);
	return EXIT_SUCCESS;
}
