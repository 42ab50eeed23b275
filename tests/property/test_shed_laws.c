/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold of a day of shedding of any coach. */
#include <math.h>

#include "altered.h"
#include "laws.h"
#include "studies/shed_coach.h"
#include "suites.h"

enum { ROOM = 30000, MAX_UNITS = 64 };
static const double DARK_S = 900, ROUNDING_S = 1e-6, ROUNDING_A = 1e-6;

/* A day and its trace. */
typedef struct {
	rig_arena *arena;
	rig_shed_findings findings;
	shed_model model;
	shed_day *day;
	shed_state *state;
	shed_order order; /* group 0 is dropped first */
	shed_trace trace;
	int next[ROOM];       /* span of the same unit, -1 */
	int first[MAX_UNITS]; /* span of each unit, -1 */
} shed_stand;

static rig_shed_span spans[ROOM];
static rig_shed_point points[ROOM];
static double trips_s[ROOM];

static void link_spans(shed_stand *it)
{
	for (size_t u = 0; u < it->model.n_units; u++)
		it->first[u] = -1;
	for (int i = (int)it->trace.n_spans - 1; i >= 0; i--) {
		it->next[i] = it->first[spans[i].load];
		it->first[spans[i].load] = i;
	}
}

static rig_shed_options options_of(const subject *it)
{
	static const rig_shed_weather WEATHER[] = {RIG_SHED_HOT, RIG_SHED_MILD, RIG_SHED_COLD};
	static const char *const SUPPLY[] = {
		NULL, NULL, "30A", "20A", "15A", "generator", "inverter"};
	rig_shed_options options = rig_shed_defaults();
	options.weather = WEATHER[it->number / 2 % 3];
	options.supply = SUPPLY[it->number % COUNT(SUPPLY)];
	options.seed = it->number;
	options.n_days = 1;
	return options;
}

/* False: the coach has no such supply. To be freed in any case. */
static bool stand_of(const rig_coach *coach, const rig_shed_options *options, shed_stand *made)
{
	made->arena = rig_arena_new();
	made->findings = (rig_shed_findings){.coach = coach, .options = *options, .n_days = 1};
	made->model = (shed_model){0};
	int group[SHED_MAX_GROUPS];
	for (int g = 0; g < SHED_MAX_GROUPS; g++)
		group[g] = g;
	if (made->arena == NULL ||
		shed_model_of(made->arena, &made->findings, &made->model) != RIG_OK ||
		shed_day_new(&made->model, made->arena, &made->day) != RIG_OK ||
		shed_state_new(&made->model, made->arena, &made->state) != RIG_OK)
		return false;
	made->model.has_volts = false; /* they have tests of their own, and take most of the time */
	made->order = shed_order_of(group, made->model.n_groups);
	made->trace = (shed_trace){.spans = spans,
		.points = points,
		.trip_s = trips_s,
		.spans_room = ROOM,
		.points_room = ROOM,
		.trips_room = ROOM};
	shed_day_draw(&made->model, options->seed, 0, made->day);
	const shed_run run = {&made->model, made->day, &made->order, false, NULL, &made->trace};
	shed_begin(&run, made->state);
	const bool done = shed_advance(&run, made->state) == SHED_DONE;
	if (made->trace.n_spans > ROOM || made->trace.n_points > ROOM ||
		made->model.n_units > MAX_UNITS)
		return false;
	link_spans(made);
	return done;
}

static void stand_free(shed_stand *made)
{
	rig_arena_free(made->arena);
}

/* ---- moment by moment ---- */

/* What stands between two points. */
typedef struct {
	double from_s, to_s;
	const double *amps_a;
	bool runs[MAX_UNITS], dropped[MAX_UNITS];
} moment;

/* Where each unit's spans have got to. */
typedef struct {
	int span[MAX_UNITS];
} place_in_day;

static void look(const shed_stand *it, size_t point, place_in_day *at, moment *now)
{
	now->from_s = points[point].at_s;
	now->to_s = point + 1 < it->trace.n_points ? points[point + 1].at_s : SHED_DAY_S;
	now->amps_a = points[point].amps_a;
	const double middle_s = (now->from_s + now->to_s) / 2;
	for (size_t u = 0; u < it->model.n_units; u++) {
		int *span = &at->span[u];
		while (*span >= 0 && spans[*span].to_s <= middle_s)
			*span = it->next[*span];
		const bool inside = *span >= 0 && spans[*span].from_s <= middle_s;
		now->runs[u] = inside && spans[*span].state == RIG_SHED_RUNS;
		now->dropped[u] = inside && spans[*span].state != RIG_SHED_RUNS;
	}
}

static bool is_dark(const shed_stand *it, double at_s)
{
	for (size_t i = 0; i < it->trace.n_trips; i++)
		if (at_s > trips_s[i] && at_s < trips_s[i] + DARK_S)
			return true;
	return false;
}

/* Amps are those of what runs and of nothing else. The charger's stages are not in the trace: it
 * draws something between nothing and all. */
static const char *amps_are_what_runs(const shed_stand *it, const moment *now)
{
	for (int h = 0; h < it->model.n_hots; h++) {
		shed_amps least = {0, 0}, most = {0, 0};
		for (size_t u = 0; u < it->model.n_units; u++) {
			const shed_unit *unit = &it->model.units[u];
			if (!now->runs[u])
				continue;
			most.active_a += unit->hot[h].active_a;
			most.reactive_a += unit->hot[h].reactive_a;
			if (unit->behaviour == RIG_SHED_CHARGES)
				continue;
			least.active_a += unit->hot[h].active_a;
			least.reactive_a += unit->hot[h].reactive_a;
		}
		if (now->amps_a[h] < hypot(least.active_a, least.reactive_a) - ROUNDING_A ||
			now->amps_a[h] > hypot(most.active_a, most.reactive_a) + ROUNDING_A)
			return "a hot carries something else than what runs";
	}
	return NULL;
}

static bool draws_on(const shed_unit *unit, int hot)
{
	return unit->hot[hot].active_a > 0 || unit->hot[hot].reactive_a > 0;
}

/* A unit went off by the manager between two moments: because a hot that it draws on was over, and
 * nothing that goes before it and draws there ran on. */
static const char *drop_is_right(
	const shed_stand *it, const moment *before, const moment *now, size_t dropped)
{
	const shed_unit *unit = &it->model.units[dropped];
	bool any_over = false, right = false;
	for (int h = 0; h < it->model.n_hots; h++) {
		if (before->amps_a[h] <= it->model.manager.limit_a + ROUNDING_A ||
			!draws_on(unit, h))
			continue;
		any_over = true;
		bool first = true;
		for (size_t u = 0; u < it->model.n_units; u++) {
			const shed_unit *other = &it->model.units[u];
			first = first &&
				!(other->group >= 0 && other->group < unit->group &&
					draws_on(other, h) && before->runs[u] && now->runs[u]);
		}
		right = right || first;
	}
	if (!any_over)
		return "something is dropped and no hot that it draws on was over";
	return right ? NULL : "something is dropped while what goes before it runs on";
}

/* A generator that takes over has a limit of its own, and a manager without a delay acts on what
 * comes at the same moment. */
static bool drops_can_be_judged(const shed_stand *it)
{
	return it->model.manager.present && !it->model.sources.auto_start &&
	       it->model.manager.sensing_delay_s > 0;
}

static const char *drops_are_right(
	const shed_stand *it, const moment *before, const moment *now, int *n_drops)
{
	const char *broken = NULL;
	if (!drops_can_be_judged(it) || is_dark(it, now->from_s + ROUNDING_S) ||
		is_dark(it, before->to_s - ROUNDING_S))
		return NULL;
	for (size_t u = 0; broken == NULL && u < it->model.n_units; u++)
		if (it->model.units[u].group >= 0 && before->runs[u] && now->dropped[u]) {
			broken = drop_is_right(it, before, now, u);
			++*n_drops;
		}
	return broken;
}

/* Seconds that the manager may take over a hot: its delay and one drop after the other. */
static const char *overload_ends(const shed_stand *it, int hot, const moment *now, double *over_s)
{
	const rig_shed_manager *manager = &it->model.manager;
	bool left = false;
	for (size_t u = 0; u < it->model.n_units; u++)
		left = left || (it->model.units[u].group >= 0 && now->runs[u] &&
				       draws_on(&it->model.units[u], hot));
	const bool over = now->amps_a[hot] > manager->limit_a + ROUNDING_A && left;
	*over_s = over ? *over_s + now->to_s - now->from_s : 0;
	const double may_s = manager->sensing_delay_s +
			     (double)it->model.n_groups * manager->drop_interval_s +
			     manager->restore_interval_s;
	return drops_can_be_judged(it) && *over_s > may_s + ROUNDING_S
		       ? "a hot stays over its limit while something is left to drop"
		       : NULL;
}

static const char *dark_is_dark(const shed_stand *it, const moment *now)
{
	if (!is_dark(it, (now->from_s + now->to_s) / 2))
		return NULL;
	for (int h = 0; h < it->model.n_hots; h++)
		if (now->amps_a[h] != 0)
			return "a breaker that has tripped carries something";
	return NULL;
}

/* What a moment is by itself, and after the one before, which may be none. */
static const char *moment_holds(
	const shed_stand *it, const moment *before, const moment *now, int *n_drops)
{
	const char *broken = amps_are_what_runs(it, now);
	if (broken == NULL)
		broken = dark_is_dark(it, now);
	return broken == NULL && before->amps_a != NULL ? drops_are_right(it, before, now, n_drops)
							: broken;
}

static const char *moments_hold(const shed_stand *it, int *n_drops)
{
	place_in_day at;
	moment now, before = {.amps_a = NULL};
	double over_s[RIG_SHED_MAX_HOTS] = {0};
	const char *broken = NULL;
	for (size_t u = 0; u < it->model.n_units; u++)
		at.span[u] = it->first[u];
	for (size_t i = 0; broken == NULL && i < it->trace.n_points; i++) {
		look(it, i, &at, &now);
		if (now.to_s - now.from_s < ROUNDING_S)
			continue;
		broken = moment_holds(it, &before, &now, n_drops);
		for (int h = 0; broken == NULL && h < it->model.n_hots; h++)
			broken = overload_ends(it, h, &now, &over_s[h]);
		before = now;
	}
	return broken;
}

/* ---- breakers ---- */

/* Most amps of a hot at a moment, or just before it. */
static double amps_at(const shed_stand *it, double at_s, int hot)
{
	double amps_a = 0;
	for (size_t i = 0; i < it->trace.n_points && points[i].at_s <= at_s + ROUNDING_S; i++)
		amps_a = points[i].at_s < at_s - ROUNDING_S ? points[i].amps_a[hot]
							    : fmax(amps_a, points[i].amps_a[hot]);
	return amps_a;
}

/* At a trip some pole carries more than it holds for ever. */
static const char *trips_are_right(const shed_stand *it, int *n_trips)
{
	const rig_breaker *breaker = &it->model.breaker[RIG_BREAKER_LIKELY];
	if (it->model.sources.auto_start)
		return NULL;
	for (size_t i = 0; i < it->trace.n_trips; i++) {
		double most_a = 0;
		for (int h = 0; h < it->model.n_hots; h++)
			most_a = fmax(most_a, amps_at(it, trips_s[i], h));
		if (most_a < breaker->hold_ratio * breaker->rating_a * (1 - 1e-9))
			return "a breaker trips that carries no more than it holds for ever";
	}
	*n_trips += (int)it->trace.n_trips;
	return NULL;
}

/* Time is served or withheld, no more and no less than somebody wanted. */
static const char *time_is_served_or_withheld(const shed_stand *it)
{
	for (size_t u = 0; u < it->model.n_units; u++) {
		const shed_unit_state *now = &it->state->unit[u];
		double wanted_s = 0;
		for (size_t i = 0; i + 1 < it->day->n_unit_s[u]; i += 2)
			wanted_s += it->day->unit_s[u][i + 1] - it->day->unit_s[u][i];
		if (it->model.units[u].behaviour == RIG_SHED_USED &&
			!it->model.units[u].compressor &&
			fabs(now->served_s + now->held_s - wanted_s) > 1e-6)
			return "served and withheld are not what somebody wanted";
	}
	return NULL;
}

/* Drops and trips of all days, so that no law holds because there are none. */
static int all_drops, all_trips;

static const char *days_hold(const subject *it)
{
	static shed_stand made;
	const rig_shed_options options = options_of(it);
	const char *broken = NOT_ASKED;
	if (stand_of(it->coach, &options, &made)) {
		broken = moments_hold(&made, &all_drops);
		if (broken == NULL)
			broken = trips_are_right(&made, &all_trips);
		if (broken == NULL)
			broken = time_is_served_or_withheld(&made);
	}
	stand_free(&made);
	return broken;
}

/* ---- the legs change places ---- */

typedef struct {
	size_t n_units;
	double served_s[MAX_UNITS], peak_a[RIG_SHED_MAX_HOTS], over_s[RIG_SHED_MAX_HOTS];
	int n_trips;
} day_sum;

static bool sum_of(const subject *it, const rig_coach *coach, day_sum *sum)
{
	static shed_stand made;
	rig_shed_options options = options_of(it);
	options.supply = NULL;
	const bool known = stand_of(coach, &options, &made) && made.model.n_hots == 2 &&
			   !(made.findings.notes & RIG_SHED_UNPLACED);
	if (known) {
		sum->n_units = made.model.n_units;
		for (size_t u = 0; u < sum->n_units; u++)
			sum->served_s[u] = made.state->unit[u].served_s;
		for (int h = 0; h < RIG_SHED_MAX_HOTS; h++) {
			sum->peak_a[h] = made.state->hot[h].peak_a;
			sum->over_s[h] = made.state->hot[h].over_s;
		}
		sum->n_trips = made.state->breaker[RIG_BREAKER_LIKELY].n_trips;
	}
	stand_free(&made);
	return known;
}

static const char *mirrored(const day_sum *one, const day_sum *two)
{
	for (int h = 0; h < RIG_SHED_MAX_HOTS; h++)
		if (!law_close(one->peak_a[h], two->peak_a[1 - h]) ||
			!law_close(one->over_s[h], two->over_s[1 - h]))
			return "the legs change places and their amps do not";
	for (size_t u = 0; u < one->n_units; u++)
		if (!law_close(one->served_s[u], two->served_s[u]))
			return "the legs change places and a load runs for another time";
	return one->n_trips == two->n_trips ? NULL : "the legs change places and trips differ";
}

static const char *legs_mirror(const subject *it)
{
	altered own, other;
	day_sum one, two;
	altered_of(&own, it->coach);
	altered_place(&own);
	altered_of(&other, &own.coach);
	altered_swap_legs(&other);
	if (!sum_of(it, &own.coach, &one))
		return NOT_ASKED;
	return sum_of(it, &other.coach, &two) ? mirrored(&one, &two)
					      : "the legs change places and there is no such day";
}

static const law_row SHEDDING[] = {
	{"a day of shedding holds", days_hold, 500},
	{"legs mirror", legs_mirror, 100},
};

START_TEST(days_of_any_coach_obey)
{
	all_drops = all_trips = 0;
	laws_hold(SHEDDING, COUNT(SHEDDING), _i);
	ck_assert_int_gt(all_drops, 20);
	ck_assert_int_gt(all_trips, 20);
}
END_TEST

Suite *shed_laws_suite(void);
Suite *shed_laws_suite(void)
{
	Suite *suite = suite_create("shed_laws");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 600);
	tcase_add_loop_test(all, days_of_any_coach_obey, 0, N_LAW_PARTS);
	suite_add_tcase(suite, all);
	return suite;
}
