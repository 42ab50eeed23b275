/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold of readings of any coach: here a meter reads what the labels say, each load of the
 * panel alone, with what is always on. */
#include <math.h>

#include "altered.h"
#include "flows.h"
#include "laws.h"
#include "rig/keys.h"
#include "rigbudget/readings.h"
#include "suites.h"

/* Amps of a label's low end that a meter surely sees missing. */
static const double SURELY_A = 4;

typedef struct {
	altered coach;
	size_t n;
	rig_reading readings[ALTERED_ITEMS];
	const char *on[ALTERED_ITEMS];
	size_t load[ALTERED_ITEMS]; /* of each reading */
	bool unplaced;
} campaign;

/* The legs' amps with one load and what is always on, or with the latter alone. */
static bool legs_with(const altered *all, int load, double amps_a[2])
{
	altered few;
	flows made;
	altered_of(&few, &all->coach);
	few.coach.n_loads = 0;
	for (size_t i = 0; i < all->coach.n_loads; i++)
		if ((int)i == load || all->loads[i].always_on == RIG_YES)
			few.loads[few.coach.n_loads++] = all->loads[i];
	const bool known = flows_with(&few.coach, false, &made);
	for (int leg = 0; known && leg < 2; leg++)
		amps_a[leg] = made.budgets[0].leg[leg].amps_a.likely;
	const bool placed = known && !made.budgets[0].unplaced;
	flows_free(&made);
	return placed;
}

static void write_legs(rig_reading *reading, const double amps_a[2])
{
	reading->leg1_a = rig_figure_of(amps_a[0], RIG_FROM_MEASURED);
	reading->leg2_a = rig_figure_of(amps_a[1], RIG_FROM_MEASURED);
}

/* What is always on and never read alone cannot be told from what is: every other coach has
 * nothing such, so that each load can be. */
static bool all_alone(const subject *it)
{
	return it->number / 2 % 2 == 0;
}

/* False: something has no leg, or there is nothing to read. */
static bool campaign_of(const subject *it, campaign *made)
{
	altered_of(&made->coach, it->coach);
	altered_place(&made->coach);
	made->n = 0;
	for (size_t i = 0; all_alone(it) && i < made->coach.coach.n_loads; i++)
		made->coach.loads[i].always_on = RIG_NO;
	const rig_coach *coach = &made->coach.coach;
	for (size_t i = 0; i < coach->n_loads; i++) {
		const rig_load *load = &coach->loads[i];
		rig_reading *reading = &made->readings[made->n];
		double amps_a[2];
		if (load->supply == RIG_DC || load->always_on == RIG_YES)
			continue;
		if (!legs_with(&made->coach, (int)i, amps_a))
			return false;
		rig_object_clear(RIG_OBJECT_READING, reading);
		made->on[made->n] = load->id;
		reading->on = &made->on[made->n];
		reading->n_on = 1;
		reading->charger = RIG_NO;
		write_legs(reading, amps_a);
		made->load[made->n++] = i;
	}
	return made->n > 0;
}

static rig_readings_findings *findings_of(const campaign *made, const rig_reading *readings)
{
	rig_readings_findings *findings = NULL;
	return rig_readings_study(&made->coach.coach, readings, made->n, NULL, &findings) == RIG_OK
		       ? findings
		       : NULL;
}

static bool accused(const rig_readings_draw *draw)
{
	return draw->verdict != RIG_DRAW_AGREES && draw->verdict != RIG_DRAW_NOT_IDENTIFIED;
}

/* ---- what the labels say ---- */

static const char *nobody_is_accused(const rig_readings_findings *findings)
{
	for (size_t i = 0; i < findings->n_draws; i++) {
		const rig_readings_draw *draw = &findings->draws[i];
		if (accused(draw))
			return "a load that draws what its label says is accused";
		if (draw->found_a.low > draw->found_a.likely ||
			draw->found_a.likely > draw->found_a.high || draw->found_a.low < 0)
			return "a draw lies outside its interval or below nothing";
	}
	return NULL;
}

/* ---- the rows in the opposite order ---- */

static const char *order_changes_nothing(const campaign *made, const rig_readings_findings *own)
{
	rig_reading turned[ALTERED_ITEMS];
	for (size_t i = 0; i < made->n; i++)
		turned[i] = made->readings[made->n - 1 - i];
	rig_readings_findings *other = findings_of(made, turned);
	const char *broken = other == NULL || other->n_draws != own->n_draws
				     ? "the order of the readings makes other draws"
				     : NULL;
	for (size_t i = 0; broken == NULL && i < own->n_draws; i++) {
		const rig_readings_draw *a = &own->draws[i], *b = &other->draws[i];
		if (a->load != b->load || a->verdict != b->verdict ||
			fabs(a->found_a.likely - b->found_a.likely) > 1e-6 * (1 + a->label_a.high))
			broken = "the order of the readings changes a draw";
	}
	rig_readings_free(other);
	return broken;
}

/* ---- one load that is dead ---- */

/* Whether a meter surely sees it missing. */
static bool is_missed(const rig_readings_findings *own, int load)
{
	for (size_t i = 0; i < own->n_draws; i++) {
		const rig_figure expected_a = own->draws[i].expected_a;
		if (own->draws[i].load == load)
			return expected_a.low >= SURELY_A && expected_a.low >= expected_a.high / 2;
	}
	return false;
}

static const char *only_it_is_dead(const rig_readings_findings *found, int dead)
{
	for (size_t i = 0; i < found->n_draws; i++) {
		const rig_readings_draw *draw = &found->draws[i];
		if (draw->load == dead && draw->verdict != RIG_DRAW_DEAD)
			return "a load that draws nothing is not called dead";
		if (draw->load != dead && accused(draw))
			return "another load than the dead one is accused";
	}
	return NULL;
}

static const char *the_dead_one_is_found(
	const campaign *made, const rig_readings_findings *own, size_t dead)
{
	rig_reading readings[ALTERED_ITEMS];
	double amps_a[2] = {0, 0};
	const int load = (int)made->load[dead];
	for (size_t i = 0; i < made->n; i++)
		readings[i] = made->readings[i];
	if (!is_missed(own, load) || !legs_with(&made->coach, -1, amps_a))
		return NULL;
	write_legs(&readings[dead], amps_a);
	rig_readings_findings *found = findings_of(made, readings);
	const char *broken = found == NULL ? "a dead load makes the readings unreadable"
					   : only_it_is_dead(found, load);
	rig_readings_free(found);
	return broken;
}

static const char *readings_hold(const subject *it)
{
	campaign made;
	if (!campaign_of(it, &made))
		return NOT_ASKED;
	rig_readings_findings *own = findings_of(&made, made.readings);
	const char *broken = own == NULL ? "the readings are not read" : nobody_is_accused(own);
	if (broken == NULL)
		broken = order_changes_nothing(&made, own);
	if (broken == NULL && all_alone(it))
		broken = the_dead_one_is_found(&made, own, it->number % made.n);
	rig_readings_free(own);
	return broken;
}

static const law_row READINGS[] = {
	{"readings hold", readings_hold, 300},
};

START_TEST(readings_of_any_coach_obey)
{
	laws_hold(READINGS, COUNT(READINGS), _i);
}
END_TEST

Suite *reading_laws_suite(void);
Suite *reading_laws_suite(void)
{
	Suite *suite = suite_create("reading_laws");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 600);
	tcase_add_loop_test(all, readings_of_any_coach_obey, 0, N_LAW_PARTS);
	suite_add_tcase(suite, all);
	return suite;
}
