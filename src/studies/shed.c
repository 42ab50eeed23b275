/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/shed.h"

#include <math.h>
#include <stdlib.h>

#include "studies/shed_coach.h"
#include "studies/shed_measure.h"
#include "studies/shed_search.h"
#include "studies/shed_show.h"
#include "studies/shed_volts.h"
#include "studies/voltage_feed.h"

static const double WH_PER_J = 1.0 / 3600.0, H_PER_S = 1.0 / 3600.0, MINUTES_PER_S = 1.0 / 60.0;

/* What rig_shed_free() gets back: findings stands first. */
typedef struct {
	rig_shed_findings findings;
	rig_arena *arena;
} holder;

/* What the study works with; dies with it. */
typedef struct {
	rig_arena *arena;
	rig_shed_findings *findings;
	shed_model model;
	shed_day *day;
	shed_state *state, *free_state;
	shed_tally *tally;
	/* By day; for loads by load, then day. */
	double *drops, *lost_minutes;
	double *all_drops, *all_lost_minutes, *points, *free_points;
	double *sorted;
	bool volts_failed;
} work;

/* ---- options ---- */

rig_shed_options rig_shed_defaults(void)
{
	return (rig_shed_options){.weather = RIG_SHED_HOT,
		.charge_from_hour = 16,
		.deficit_frac = 0.3,
		.habit = -1,
		.n_days = 200,
		.n_order_days = 20,
		.seed = 1};
}

static bool weather_is_sound(const rig_shed_options *options)
{
	static const double COLDEST_C = -60, WARMEST_C = 60;
	return options->weather <= RIG_SHED_OWN &&
	       (options->weather != RIG_SHED_OWN ||
		       (options->low_c >= COLDEST_C && options->low_c <= options->high_c &&
			       options->high_c <= WARMEST_C));
}

enum { MOST_DAYS = 100000 };

static bool options_are_sound(const rig_coach *coach, const rig_shed_options *options)
{
	return weather_is_sound(options) && options->limit_a >= 0 && isfinite(options->limit_a) &&
	       options->length_m >= 0 && options->length_m <= 30 &&
	       options->charge_from_hour >= 0 && options->charge_from_hour <= 24 &&
	       options->deficit_frac >= 0 && options->deficit_frac <= 1 && options->habit >= -1 &&
	       options->habit < (int)coach->n_habits && options->end >= -1 && options->end <= 1 &&
	       options->n_days >= 1 && options->n_days <= MOST_DAYS &&
	       options->n_order_days <= options->n_days &&
	       options->n_measure_days <= options->n_days;
}

/* ---- the days ---- */

static double minutes_lost(const shed_unit_state *unit)
{
	return unit->held_s * MINUTES_PER_S;
}

static void add_load(work *w, size_t day, size_t u)
{
	rig_shed_load *load = &w->findings->loads[u];
	const shed_unit_state *unit = &w->state->unit[u];
	const size_t at = u * w->findings->n_days + day;
	w->drops[at] = unit->n_drops;
	w->lost_minutes[at] = minutes_lost(unit);
	w->all_drops[day] += unit->n_drops;
	w->all_lost_minutes[day] += minutes_lost(unit);
	load->served_wh_day += unit->served_j * WH_PER_J;
	load->withheld_wh_day += unit->held_j * WH_PER_J;
	load->discomfort_day += shed_unit_points(&w->model, w->state, u) -
				shed_unit_points(&w->model, w->free_state, u);
	const int b = w->model.units[u].body;
	if (b < 0 || w->model.bodies[b].leader != (int)u)
		return;
	load->degree_h_day += w->state->body[b].outside_k_s * H_PER_S;
	load->free_degree_h_day += w->free_state->body[b].outside_k_s * H_PER_S;
	load->litres_day += w->state->body[b].litres;
	load->cold_litres_day += w->state->body[b].cold_litres;
	load->free_cold_litres_day += w->free_state->body[b].cold_litres;
}

static void add_hots(work *w)
{
	for (int h = 0; h < w->model.n_hots; h++) {
		rig_shed_hot *hot = &w->findings->hot[h];
		const shed_hot_state *now = &w->state->hot[h];
		hot->peak_a = fmax(hot->peak_a, now->peak_a);
		hot->over_s_day += now->over_s;
		hot->longest_over_s = fmax(hot->longest_over_s, now->longest_over_s);
		hot->helpless_s_day += now->helpless_s;
	}
	for (int k = 0; k < RIG_N_BREAKERS; k++) {
		rig_shed_breaker *breaker = &w->findings->breaker[k];
		const shed_breaker_state *now = &w->state->breaker[k];
		breaker->trips_day += now->n_trips;
		breaker->days_frac += now->n_trips > 0;
		breaker->soonest_trip_s = fmin(breaker->soonest_trip_s, now->soonest_s);
	}
	w->findings->generator.starts_day += w->state->n_starts;
	w->findings->generator.run_h_day += w->state->generator_s * H_PER_S;
	w->findings->generator.days_frac += w->state->n_starts > 0;
	for (int hour = 0; hour < 24; hour++)
		w->findings->drops_per_h_most =
			fmax(w->findings->drops_per_h_most, w->state->hour_drops[hour]);
}

/* Which legs had a compressor below its floor is told from the tally, which only grows, and not at
 * all on a leg that is not there. */
static void add_volts(work *w, const double compressor_low_s[RIG_SHED_MAX_HOTS])
{
	for (int h = 0; h < RIG_SHED_MAX_HOTS; h++)
		w->findings->volts[h].compressor_low_days_frac +=
			w->tally->leg[h].compressor_low_s > compressor_low_s[h];
	w->volts_failed |= w->state->volts.failed;
}

static void run_day(work *w, const shed_order *order, size_t day)
{
	shed_day_draw(&w->model, w->findings->options.seed, day, w->day);
	const shed_run free_run = {&w->model, w->day, order, true, NULL, NULL};
	shed_begin(&free_run, w->free_state);
	(void)shed_advance(&free_run, w->free_state);
	const shed_run run = {&w->model, w->day, order, false, w->tally, NULL};
	const double low_s[RIG_SHED_MAX_HOTS] = {
		w->tally->leg[0].compressor_low_s, w->tally->leg[1].compressor_low_s};
	shed_begin(&run, w->state);
	(void)shed_advance(&run, w->state);
	add_volts(w, low_s);
	w->free_points[day] = shed_points(&w->model, w->free_state);
	w->points[day] = shed_points(&w->model, w->state);
	for (size_t u = 0; u < w->findings->n_loads; u++)
		add_load(w, day, u);
	add_hots(w);
}

/* ---- what they come to ---- */

static int by_size(const void *a, const void *b)
{
	const double x = *(const double *)a, y = *(const double *)b;
	return (x > y) - (x < y);
}

/* The least figure that so many of the days have no more than. */
static double quantile(const double *sorted, size_t n, double frac)
{
	const size_t at = (size_t)ceil(frac * (double)n);
	return sorted[at > 0 ? at - 1 : 0];
}

static rig_shed_spread spread_of(work *w, const double *by_day)
{
	const size_t n = w->findings->n_days;
	double sum = 0;
	for (size_t day = 0; day < n; day++) {
		w->sorted[day] = by_day[day];
		sum += by_day[day];
	}
	qsort(w->sorted, n, sizeof(double), by_size);
	return (rig_shed_spread){.mean = sum / (double)n,
		.p50 = quantile(w->sorted, n, 0.5),
		.p90 = quantile(w->sorted, n, 0.9),
		.most = w->sorted[n - 1]};
}

static void mean_loads(work *w)
{
	const double days = (double)w->findings->n_days;
	for (size_t u = 0; u < w->findings->n_loads; u++) {
		rig_shed_load *load = &w->findings->loads[u];
		load->drops = spread_of(w, &w->drops[u * w->findings->n_days]);
		load->lost_minutes = spread_of(w, &w->lost_minutes[u * w->findings->n_days]);
		load->served_wh_day /= days;
		load->withheld_wh_day /= days;
		load->wanted_wh_day = load->served_wh_day + load->withheld_wh_day;
		load->degree_h_day /= days;
		load->free_degree_h_day /= days;
		load->litres_day /= days;
		load->cold_litres_day /= days;
		load->free_cold_litres_day /= days;
		load->discomfort_day /= days;
	}
}

static double p95_a(const double *bin_s)
{
	double all_s = 0, sum_s = 0;
	for (int i = 0; i < SHED_N_BINS; i++)
		all_s += bin_s[i];
	int bin = 0;
	while (bin < SHED_N_BINS - 1 && sum_s + bin_s[bin] < 0.95 * all_s)
		sum_s += bin_s[bin++];
	return (bin + 1) * SHED_BIN_A;
}

static void mean_hots(work *w)
{
	const double days = (double)w->findings->n_days;
	for (int h = 0; h < w->model.n_hots; h++) {
		rig_shed_hot *hot = &w->findings->hot[h];
		hot->p95_a = fmin(hot->peak_a, p95_a(w->tally->bin_s[h]));
		hot->mean_a = w->tally->amp_s[h] / (days * SHED_DAY_S);
		hot->over_s_day /= days;
		hot->helpless_s_day /= days;
	}
	w->findings->generator.starts_day /= days;
	w->findings->generator.run_h_day /= days;
	w->findings->generator.days_frac /= days;
	for (int k = 0; k < RIG_N_BREAKERS; k++) {
		rig_shed_breaker *breaker = &w->findings->breaker[k];
		breaker->breaker = w->model.breaker[k];
		breaker->trips_day /= days;
		breaker->days_frac /= days;
	}
}

static double p05_v(const shed_leg_tally *leg, double live_s)
{
	double sum_s = 0;
	int bin = 0;
	while (bin < SHED_N_VOLT_BINS - 1 && sum_s + leg->bin_s[bin] <= 0.05 * live_s)
		sum_s += leg->bin_s[bin++];
	return bin * SHED_BIN_V;
}

/* The lowest moment solved in full, and again at both ends of what is known of the way. */
static rig_status find_lowest(const work *w, int leg, rig_figure *lowest_v)
{
	const rig_shed_findings *findings = w->findings;
	const rig_shore_supply supply = rig_shore_supply_of(findings->coach, findings->pedestal);
	double at_v[RIG_N_ENDS][RIG_SHED_MAX_HOTS];
	for (int end = 0; end < RIG_N_ENDS; end++) {
		const rig_feed_ends ends = {.open = end, .wires = RIG_N_ENDS - 1 - end};
		const rig_feed feed = rig_feed_of(&findings->path, &supply, &ends);
		const rig_status status =
			shed_solve_sums(&feed, &w->tally->leg[leg].lowest, at_v[end]);
		if (status != RIG_OK)
			return status;
	}
	/* A leg with little on it rises with the neutral where the other one sinks: its volts may
	 * be highest at the poor end. */
	const double likely_v = at_v[RIG_LIKELY][leg];
	const double one_v = at_v[RIG_LOW][leg], other_v = at_v[RIG_HIGH][leg];
	*lowest_v = rig_figure_range(fmin(likely_v, fmin(one_v, other_v)), likely_v,
		fmax(likely_v, fmax(one_v, other_v)), RIG_FROM_COMPUTED);
	return RIG_OK;
}

static rig_status mean_volts(work *w)
{
	const double days = (double)w->findings->n_days, live_s = w->tally->live_s;
	if (!w->findings->has_volts || live_s <= 0)
		return RIG_OK;
	for (int h = 0; h < w->model.n_hots; h++) {
		const shed_leg_tally *leg = &w->tally->leg[h];
		rig_shed_volts *volts = &w->findings->volts[h];
		volts->p05_v = p05_v(leg, live_s);
		volts->mean_v = leg->volt_s / live_s;
		volts->below_a_s_day = leg->below_a_s / days;
		volts->below_b_s_day = leg->below_b_s / days;
		volts->compressor_low_s_day = leg->compressor_low_s / days;
		volts->compressor_low_days_frac /= days;
		const rig_status status = find_lowest(w, h, &volts->lowest_v);
		if (status != RIG_OK)
			return status;
	}
	return w->volts_failed ? RIG_NO_SOLUTION : RIG_OK;
}

/* Beyond this the coach is too warm or too cold even with all the power there is. */
static const double CANNOT_HOLD_K_H = 1.0;

static void note_comfort(rig_shed_findings *findings)
{
	for (size_t i = 0; i < findings->n_loads; i++) {
		const rig_shed_load *load = &findings->loads[i];
		const bool climate =
			load->behaviour == RIG_SHED_COOLS || load->behaviour == RIG_SHED_HEATS;
		if (climate && load->free_degree_h_day > CANNOT_HOLD_K_H)
			findings->notes |= RIG_SHED_CANNOT_HOLD;
	}
}

static void sum_up(work *w)
{
	rig_shed_findings *findings = w->findings;
	mean_loads(w);
	mean_hots(w);
	note_comfort(findings);
	findings->drops = spread_of(w, w->all_drops);
	findings->lost_minutes = spread_of(w, w->all_lost_minutes);
	for (size_t day = 0; day < findings->n_days; day++) {
		findings->days_with_drops_frac += w->all_drops[day] > 0;
		w->points[day] -= w->free_points[day];
	}
	findings->days_with_drops_frac /= (double)findings->n_days;
	findings->discomfort = spread_of(w, w->points);
}

/* ---- orders ---- */

static rig_status list_order(work *w, const int *group, rig_shed_order *order)
{
	const size_t n = w->model.n_groups;
	int *load = rig_arena_take(((holder *)w->findings)->arena, n, sizeof *load);
	if (!load)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < n; i++)
		load[i] = w->model.units[w->model.group_unit[group[i]]].load;
	order->n = n;
	order->load = load;
	return RIG_OK;
}

static double mean_of(const double *by_day, size_t from, size_t to)
{
	double sum = 0;
	for (size_t day = from; day < to; day++)
		sum += by_day[day];
	return to > from ? sum / (double)(to - from) : 0;
}

/* Over w->points, which are above the free days'. */
static void price_order(work *w, rig_shed_order *order)
{
	const size_t n = w->findings->n_days, judges = w->findings->options.n_order_days;
	order->discomfort_day = mean_of(w->points, 0, judges > 0 ? judges : n);
	order->rest_discomfort_day = judges > 0 ? mean_of(w->points, judges, n) : 0;
	order->lost_minutes_day = mean_of(w->all_lost_minutes, 0, n);
	order->drops_day = mean_of(w->all_drops, 0, n);
}

/* Runs all days once more with another order; only its price is kept. */
static void price_other(work *w, const int *group, rig_shed_order *order)
{
	const shed_order full = shed_order_of(group, w->model.n_groups);
	for (size_t day = 0; day < w->findings->n_days; day++) {
		shed_day_draw(&w->model, w->findings->options.seed, day, w->day);
		const shed_run run = {&w->model, w->day, &full, false, NULL, NULL};
		shed_begin(&run, w->state);
		(void)shed_advance(&run, w->state);
		w->points[day] = shed_points(&w->model, w->state) - w->free_points[day];
		w->all_drops[day] = w->all_lost_minutes[day] = 0;
		for (size_t u = 0; u < w->findings->n_loads; u++) {
			w->all_drops[day] += w->state->unit[u].n_drops;
			w->all_lost_minutes[day] += minutes_lost(&w->state->unit[u]);
		}
	}
	price_order(w, order);
}

/* The loads that are not on a longest run of rising own ranks have moved. */
static rig_status list_moves(work *w, const int *group)
{
	const size_t n = w->model.n_groups;
	rig_shed_move *moves = rig_arena_take(((holder *)w->findings)->arena, n, sizeof *moves);
	size_t length[SHED_MAX_GROUPS] = {0}, before[SHED_MAX_GROUPS] = {0}, last = 0;
	bool stays[SHED_MAX_GROUPS] = {false};
	if (!moves)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < n; i++) {
		length[i] = 1;
		before[i] = i;
		for (size_t j = 0; j < i; j++)
			if (group[j] < group[i] && length[j] + 1 > length[i]) {
				length[i] = length[j] + 1;
				before[i] = j;
			}
		if (length[i] > length[last])
			last = i;
	}
	for (size_t left = length[last]; left > 0; left--, last = before[last])
		stays[last] = true;
	for (size_t i = 0; i < n; i++)
		if (!stays[i])
			moves[w->findings->n_moves++] = (rig_shed_move){
				.load = w->model.units[w->model.group_unit[group[i]]].load,
				.from = group[i],
				.to = (int)i};
	w->findings->moves = moves;
	return RIG_OK;
}

/* Draws the days that judge, the costliest first, so that bad orders are left early. */
static rig_status draw_judges(work *w, shed_day ***days)
{
	const size_t n = w->findings->options.n_order_days;
	*days = rig_arena_take(w->arena, n, sizeof(shed_day *));
	size_t *number = rig_arena_take(w->arena, n, sizeof *number);
	if (!*days || !number)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < n; i++) {
		size_t at = i;
		for (; at > 0 && w->points[number[at - 1]] < w->points[i]; at--)
			number[at] = number[at - 1];
		number[at] = i;
	}
	rig_status status = RIG_OK;
	for (size_t i = 0; i < n && status == RIG_OK; i++) {
		status = shed_day_new(&w->model, w->arena, &(*days)[i]);
		if (status == RIG_OK)
			shed_day_draw(&w->model, w->findings->options.seed, number[i], (*days)[i]);
	}
	return status;
}

/* By more than the scatter of days. */
static bool is_better(double own, double best)
{
	static const double LEAST_POINTS = 0.5, LEAST_SHARE = 0.1;
	return own - best >= LEAST_POINTS && own - best >= LEAST_SHARE * own;
}

static rig_status find_best(work *w)
{
	rig_shed_findings *findings = w->findings;
	const size_t judges = findings->options.n_order_days;
	if (judges == 0 || w->model.n_groups < 2)
		return RIG_OK;
	double own_points = 0;
	for (size_t day = 0; day < judges; day++)
		own_points += w->points[day] + w->free_points[day];
	shed_day **days = NULL;
	shed_best best = {0};
	rig_status status = draw_judges(w, &days);
	if (status == RIG_OK)
		status = shed_find_best(&w->model, days, judges, own_points, &best);
	if (status == RIG_OK)
		status = list_order(w, best.group, &findings->best);
	if (status == RIG_OK)
		status = list_moves(w, best.group);
	if (status != RIG_OK)
		return status;
	findings->proved = best.proved;
	findings->n_branches = best.n_branches;
	if (findings->n_moves == 0) {
		const int *load = findings->best.load;
		findings->best = findings->own;
		findings->best.load = load;
		return RIG_OK;
	}
	price_other(w, best.group, &findings->best);
	findings->worth_changing =
		is_better(findings->own.discomfort_day, findings->best.discomfort_day) &&
		(judges == findings->n_days || is_better(findings->own.rest_discomfort_day,
						       findings->best.rest_discomfort_day));
	return RIG_OK;
}

/* ---- the shown day ---- */

typedef struct {
	double points, drops;
	size_t day;
} candidate;

static int by_points(const void *a, const void *b)
{
	const candidate *x = a, *y = b;
	if (x->points != y->points)
		return x->points < y->points ? -1 : 1;
	if (x->drops != y->drops)
		return x->drops < y->drops ? -1 : 1;
	return (x->day > y->day) - (x->day < y->day);
}

static rig_status show_middle_day(work *w, const shed_order *order)
{
	const size_t n = w->findings->n_days;
	candidate *days = rig_arena_take(w->arena, n, sizeof *days);
	if (!days)
		return RIG_NO_MEMORY;
	for (size_t day = 0; day < n; day++)
		days[day] = (candidate){w->points[day], w->all_drops[day], day};
	qsort(days, n, sizeof *days, by_points);
	w->findings->shown.day = days[n / 2].day;
	shed_day_draw(&w->model, w->findings->options.seed, days[n / 2].day, w->day);
	return shed_show(&w->model, w->day, order, ((holder *)w->findings)->arena, w->findings);
}

/* ---- the study ---- */

static rig_status take_room(work *w)
{
	const size_t n = w->findings->n_days, all = n * w->findings->n_loads;
	rig_status status = shed_day_new(&w->model, w->arena, &w->day);
	if (status == RIG_OK)
		status = shed_state_new(&w->model, w->arena, &w->state);
	if (status == RIG_OK)
		status = shed_state_new(&w->model, w->arena, &w->free_state);
	w->tally = rig_arena_take(w->arena, 1, sizeof *w->tally);
	double **const by_load[] = {&w->drops, &w->lost_minutes};
	double **const by_day[] = {
		&w->all_drops, &w->all_lost_minutes, &w->points, &w->free_points, &w->sorted};
	for (size_t i = 0; i < sizeof by_load / sizeof by_load[0]; i++)
		if (!(*by_load[i] = rig_arena_take(w->arena, all, sizeof(double))))
			return RIG_NO_MEMORY;
	for (size_t i = 0; i < sizeof by_day / sizeof by_day[0]; i++)
		if (!(*by_day[i] = rig_arena_take(w->arena, n, sizeof(double))))
			return RIG_NO_MEMORY;
	return w->tally ? status : RIG_NO_MEMORY;
}

static rig_status study(work *w)
{
	rig_shed_findings *findings = w->findings;
	rig_status status = shed_model_of(((holder *)findings)->arena, findings, &w->model);
	if (status == RIG_OK)
		status = take_room(w);
	if (status != RIG_OK)
		return status;
	int own[SHED_MAX_GROUPS];
	for (int g = 0; g < SHED_MAX_GROUPS; g++)
		own[g] = g;
	const shed_order order = shed_order_of(own, w->model.n_groups);
	for (int k = 0; k < RIG_N_BREAKERS; k++)
		findings->breaker[k].soonest_trip_s = INFINITY;
	for (size_t day = 0; day < findings->n_days; day++)
		run_day(w, &order, day);
	sum_up(w);
	status = mean_volts(w);
	if (status == RIG_OK)
		status = list_order(w, own, &findings->own);
	if (status == RIG_OK)
		status = show_middle_day(w, &order);
	if (status != RIG_OK)
		return status;
	price_order(w, &findings->own);
	return find_best(w);
}

rig_status rig_shed_study(
	const rig_coach *completed, const rig_shed_options *options, rig_shed_findings **findings)
{
	const rig_shed_options asked = options ? *options : rig_shed_defaults();
	if (!options_are_sound(completed, &asked))
		return RIG_BAD_INPUT;
	rig_arena *arena = rig_arena_new();
	holder *held = arena ? rig_arena_take(arena, 1, sizeof *held) : NULL;
	work w = {.arena = rig_arena_new()};
	rig_status status = RIG_NO_MEMORY;
	if (!held || !w.arena)
		goto out;
	*held = (holder){.findings = {.coach = completed, .options = asked, .n_days = asked.n_days},
		.arena = arena};
	w.findings = &held->findings;
	status = study(&w);
	if (status == RIG_OK && asked.n_measure_days > 0)
		status = shed_find_measures(arena, &held->findings);
out:
	rig_arena_free(w.arena);
	if (status == RIG_OK)
		*findings = &held->findings;
	else
		rig_arena_free(arena);
	return status;
}

void rig_shed_free(rig_shed_findings *findings)
{
	if (findings)
		rig_arena_free(((holder *)findings)->arena);
}
