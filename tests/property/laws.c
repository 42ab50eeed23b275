/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "laws.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "lot_coach.h"
#include "random_coach.h"
#include "shrink.h"
#include "suites.h"

/* Sanitizers and counters make each coach several times as dear. */
#ifdef RIG_SLOW
enum { EVERY = 20 };
#else
enum { EVERY = 1 };
#endif
enum { N_COACHES = 10000, MAX_LAWS = 16 };

const char NOT_ASKED[] = "not asked";
static const double SLACK = 1e-9;

bool law_close(double a, double b)
{
	return a == b || fabs(a - b) <= SLACK * (1 + fabs(a) + fabs(b));
}

bool law_figures_close(rig_figure a, rig_figure b)
{
	return rig_figure_given(a) == rig_figure_given(b) && law_close(a.low, b.low) &&
	       law_close(a.likely, b.likely) && law_close(a.high, b.high);
}

bool law_at_least(double a, double b)
{
	return a >= b || law_close(a, b);
}

/* A place beyond the equator has its July in January. */
static void mirror(rig_place *place)
{
	const rig_place north = *place;
	place->latitude_deg = -place->latitude_deg;
	for (int m = 0; m < 12; m++) {
		const int other = (m + 6) % 12;
		place->ghi_kwh_m2_day[m] = north.ghi_kwh_m2_day[other];
		place->dhi_kwh_m2_day[m] = north.dhi_kwh_m2_day[other];
		place->kt_sd[m] = north.kt_sd[other];
		place->temp_mean_c[m] = north.temp_mean_c[other];
		place->temp_min_c[m] = north.temp_min_c[other];
		place->temp_max_c[m] = north.temp_max_c[other];
	}
}

/* A subject with what belongs to it. */
typedef struct {
	subject it;
	rig_file *file;
	made_once made;
} holder;

const rig_shore_findings *law_shore(const subject *it)
{
	if (it->made->shore == NULL)
		(void)rig_shore_study(it->coach, NULL, &it->made->shore);
	return it->made->shore;
}

/* False: the text is no valid file. */
static bool subject_of(const char *text, uint64_t number, holder *made)
{
	*made = (holder){.file = NULL};
	if (rig_file_parse(text, strlen(text), NULL, &made->file) != RIG_OK)
		return false;
	uint64_t state = number;
	subject *it = &made->it;
	it->text = text;
	it->file = made->file;
	it->coach = rig_file_completed(made->file);
	it->number = number;
	it->made = &made->made;
	it->month = random_below(&state, 12);
	const rig_place *place = rig_file_place(made->file, NULL);
	if (place != NULL)
		it->place = *place;
	else
		rig_place_at((size_t)random_below(&state, (int)rig_n_places()), &it->place);
	if (random_below(&state, 2) == 1)
		mirror(&it->place);
	return true;
}

static void subject_free(holder *made)
{
	rig_shore_free(made->made.shore);
	rig_file_free(made->file);
}

/* What is asked of a text that is cut down. */
typedef struct {
	law holds;
	uint64_t number;
} question;

static bool breaks(const char *text, const void *context)
{
	const question *asked = context;
	holder made;
	if (!subject_of(text, asked->number, &made))
		return false;
	const char *broken = asked->holds(&made.it);
	subject_free(&made);
	return broken != NULL && broken != NOT_ASKED;
}

static void print_broken(const law_row *row, const subject *it, const char *broken)
{
	const question asked = {row->holds, it->number};
	char *small = shrink(it->text, breaks, &asked);
	fprintf(stderr, "%s, coach %llu: %s\n%s\n", row->name, (unsigned long long)it->number,
		broken, small);
	free(small);
}

/* What has come of a law so far. */
typedef struct {
	int n_asked;
	const char *broken; /* NULL: it has held */
} law_course;

static void hold_coach(const law_row laws[], size_t n, uint64_t number, law_course course[])
{
	char *text = number % 2 == 0 ? lot_coach_text(number) : random_coach_text(number);
	holder made;
	ck_assert_msg(
		subject_of(text, number, &made), "coach %d is not read:\n%s", (int)number, text);
	for (size_t i = 0; i < n; i++) {
		const char *broken = course[i].broken == NULL ? laws[i].holds(&made.it) : NOT_ASKED;
		course[i].n_asked += broken == NULL;
		if (broken == NULL || broken == NOT_ASKED)
			continue;
		course[i].broken = broken;
		print_broken(&laws[i], &made.it, broken);
	}
	subject_free(&made);
	free(text);
}

/* Every so many coaches only, where ten thousand would be asked too often: for tests/mutate. */
static int every_nth(void)
{
	const char *nth = getenv("RIG_EVERY_NTH_COACH");
	return nth == NULL ? EVERY : (int)strtol(nth, NULL, 10);
}

void laws_hold(const law_row laws[], size_t n, int part)
{
	const int step = N_COACHES / N_LAW_PARTS, nth = every_nth();
	law_course course[MAX_LAWS] = {{0, NULL}};
	ck_assert_uint_le(n, MAX_LAWS);
	uint64_t number = (uint64_t)part * N_COACHES / N_LAW_PARTS;
	for (int i = 0; i < step; i += nth)
		hold_coach(laws, n, ++number, course);
	for (size_t i = 0; i < n; i++) {
		if (getenv("RIG_LAWS") != NULL)
			fprintf(stderr, "%s: %d\n", laws[i].name, course[i].n_asked);
		ck_assert_msg(course[i].broken == NULL, "%s: %s", laws[i].name, course[i].broken);
		/* of fifty coaches a share may be much smaller by chance */
		ck_assert_msg(course[i].n_asked * (nth > 1 ? 3 * nth : 1) >= laws[i].least,
			"%s was asked of %d coaches only", laws[i].name, course[i].n_asked);
	}
}
