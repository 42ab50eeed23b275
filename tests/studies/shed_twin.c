/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "shed_twin.h"

#include <math.h>

typedef struct {
	bool calling, dropped, running, wanting, forced;
	int off_at, dropped_at;
	double learned_a[2];
	int last_drops[SHED_MAX_DROPS], n_drops;
	size_t n_switched, stage;
	bool plugged;
	double left_s;
} unit_now;

typedef struct {
	const shed_model *model;
	const shed_day *day;
	const int *order;
	shed_twin *twin;
	int t;
	unit_now unit[TWIN_MOST];
	double temp_c[TWIN_MOST];
	size_t n_flows[TWIN_MOST];
	double heat[2];
	int over_at[2]; /* -1: not over */
	int last_drop_at, restored_at, dark_until;
	bool helpless[2];
} now;

static double level_of(const now *n, size_t u)
{
	return n->model->units[u].behaviour == RIG_SHED_CHARGES
		       ? n->model->stages.level[n->unit[u].stage]
		       : 1;
}

static double amps(const now *n, int hot)
{
	double active = 0, reactive = 0;
	for (size_t u = 0; u < n->model->n_units; u++)
		if (n->unit[u].running) {
			active += level_of(n, u) * n->model->units[u].hot[hot].active_a;
			reactive += level_of(n, u) * n->model->units[u].hot[hot].reactive_a;
		}
	return hypot(active, reactive);
}

static void decide(now *n, size_t u)
{
	unit_now *x = &n->unit[u];
	const bool locked =
		n->model->units[u].compressor && n->t < x->off_at + n->model->manager.minimum_off_s;
	x->wanting = x->calling && (!locked || x->forced);
	const bool runs = x->calling && !locked && !x->dropped && n->t >= n->dark_until;
	if (x->running && !runs) {
		x->off_at = n->t;
		x->forced = x->calling;
	}
	x->running = runs;
}

/* Nearest second. */
static bool reached(const now *n, double at_s)
{
	return at_s <= n->t + 0.5;
}

static void use(now *n)
{
	for (size_t u = 0; u < n->model->n_units; u++) {
		unit_now *x = &n->unit[u];
		while (x->n_switched < n->day->n_unit_s[u] &&
			reached(n, n->day->unit_s[u][x->n_switched])) {
			x->calling = !x->calling;
			x->n_switched++;
		}
		if (n->model->units[u].behaviour != RIG_SHED_CHARGES)
			continue;
		const size_t last = n->model->stages.n - 1;
		if (!x->plugged && last > 0 && reached(n, n->model->charge_from_s)) {
			x->plugged = true;
			x->stage = 0;
			x->left_s = n->day->stage_s[0];
		}
		while (x->plugged && x->stage < last && x->left_s <= 0.5) {
			x->stage++;
			x->left_s += n->day->stage_s[x->stage];
		}
	}
}

static bool flowing(now *n, size_t b)
{
	while (n->n_flows[b] < n->day->n_body_s[b] && reached(n, n->day->body_s[b][n->n_flows[b]]))
		n->n_flows[b]++;
	return n->n_flows[b] % 2 == 1;
}

/* K/s */
static double slope(now *n, size_t b)
{
	const shed_body *body = &n->model->bodies[b];
	const double t_c = n->temp_c[b];
	double watts = 0, around_c = body->surroundings_c;
	if (body->kind == SHED_ZONE) {
		const int slot = n->t / SHED_SLOT_S;
		around_c = n->day->outdoor_c[slot];
		watts = body->sun_share * (n->day->sun_w[slot] + n->model->inside_w);
	}
	for (size_t u = 0; u < n->model->n_units; u++)
		if (n->model->units[u].body == (int)b && n->unit[u].running)
			watts += n->model->units[u].heat_w;
	watts += body->warm.loss_w_per_k * (around_c - t_c);
	if (flowing(n, b))
		watts += 4186 * body->flow_l_s * (body->inflow_c - t_c);
	return watts / body->warm.capacity_j_per_k;
}

static void thermostats(now *n)
{
	for (size_t u = 0; u < n->model->n_units; u++) {
		const shed_unit *unit = &n->model->units[u];
		if (unit->body < 0)
			continue;
		const size_t b = (size_t)unit->body;
		const double near_c = n->temp_c[b] + 0.5 * slope(n, b);
		const double call_c = n->unit[u].calling ? unit->off_c : unit->on_c;
		const bool cools = unit->on_c > unit->off_c;
		if (cools != n->unit[u].calling ? near_c >= call_c : near_c <= call_c)
			n->unit[u].calling = !n->unit[u].calling;
	}
}

static bool may_return(const now *n, size_t u)
{
	const unit_now *x = &n->unit[u];
	const rig_shed_manager *m = &n->model->manager;
	const int since_nth = x->n_drops >= m->most_drops
				      ? n->t - x->last_drops[x->n_drops % m->most_drops]
				      : (int)m->reset_s;
	if (n->t < x->dropped_at + m->restore_delay_s || since_nth < m->reset_s ||
		(n->model->units[u].compressor && n->t < x->off_at + m->minimum_off_s))
		return false;
	for (int h = 0; h < n->model->n_hots; h++)
		if (x->learned_a[h] > 1e-9 && amps(n, h) + x->learned_a[h] > m->limit_a + 1e-9)
			return false;
	return true;
}

static void bring_back(now *n)
{
	if (n->t < n->restored_at + n->model->manager.restore_interval_s)
		return;
	for (size_t i = n->model->n_groups; i-- > 0;) {
		const size_t u = n->model->group_unit[n->order[i]];
		if (!n->unit[u].dropped || !may_return(n, u))
			continue;
		n->unit[u].dropped = false;
		n->restored_at = n->t;
		decide(n, u);
		return;
	}
}

static bool drop_first(now *n, int hot)
{
	for (size_t i = 0; i < n->model->n_groups; i++) {
		const size_t u = n->model->group_unit[n->order[i]];
		unit_now *x = &n->unit[u];
		const shed_amps draw = n->model->units[u].hot[hot];
		if (!x->running || hypot(draw.active_a, draw.reactive_a) <= 0)
			continue;
		double before_a[2];
		for (int h = 0; h < n->model->n_hots; h++)
			before_a[h] = amps(n, h);
		x->dropped = true;
		x->dropped_at = n->t;
		x->last_drops[x->n_drops % n->model->manager.most_drops] = n->t;
		x->n_drops++;
		n->twin->drops++;
		decide(n, u);
		for (int h = 0; h < n->model->n_hots; h++)
			x->learned_a[h] = before_a[h] - amps(n, h);
		return true;
	}
	return false;
}

static void manage(now *n)
{
	const rig_shed_manager *m = &n->model->manager;
	if (!m->present || n->t < n->dark_until)
		return;
	bool dropped = false;
	for (int h = 0; h < n->model->n_hots; h++) {
		const bool over = amps(n, h) > m->limit_a + 1e-9;
		if (!over) {
			n->over_at[h] = -1;
			n->helpless[h] = false;
			continue;
		}
		if (n->over_at[h] < 0)
			n->over_at[h] = n->t;
		const double wait_s = n->helpless[h] ? 0 : m->sensing_delay_s;
		if (n->t < n->over_at[h] + wait_s || n->t < n->last_drop_at + m->drop_interval_s)
			continue;
		const bool did = drop_first(n, h);
		n->helpless[h] = !did;
		if (did)
			n->last_drop_at = n->t;
		dropped |= did;
	}
	if (!dropped)
		bring_back(n);
}

static void breaker(now *n)
{
	const rig_breaker *likely = &n->model->breaker[RIG_BREAKER_LIKELY];
	for (int h = 0; h < n->model->n_hots; h++) {
		const double m = amps(n, h) / likely->rating_a;
		n->heat[h] += (m * m - n->heat[h]) / likely->tau_s;
		if (n->heat[h] < likely->hold_ratio * likely->hold_ratio)
			continue;
		n->twin->trips++;
		n->dark_until = n->t + 1 + 900;
		n->heat[0] = n->heat[1] = 0;
	}
}

static void pass_second(now *n)
{
	double slopes[TWIN_MOST] = {0};
	for (size_t b = 0; b < n->model->n_bodies; b++)
		slopes[b] = slope(n, b);
	for (size_t b = 0; b < n->model->n_bodies; b++) {
		const shed_body *body = &n->model->bodies[b];
		const double t_c = n->temp_c[b] + 0.5 * slopes[b];
		n->twin->outside_k_s[b] +=
			fmax(0, t_c - body->above_c) + fmax(0, body->below_c - t_c);
		if (flowing(n, b) && t_c < body->cold_c)
			n->twin->cold_litres[b] += body->flow_l_s;
		n->temp_c[b] += slopes[b];
	}
	for (size_t u = 0; u < n->model->n_units; u++) {
		unit_now *x = &n->unit[u];
		const double joules = level_of(n, u) * n->model->units[u].watts_w;
		if (x->running)
			n->twin->served_j[u] += joules;
		else if (x->wanting)
			n->twin->held_j[u] += joules;
		if (x->running && x->plugged)
			x->left_s -= 1;
	}
}

void shed_twin_day(const shed_model *model, const shed_day *day, const int *order, shed_twin *twin)
{
	now n = {.model = model,
		.day = day,
		.order = order,
		.twin = twin,
		.over_at = {-1, -1},
		.last_drop_at = -100000,
		.restored_at = -100000,
		.dark_until = -1};
	for (size_t u = 0; u < model->n_units; u++) {
		n.unit[u].off_at = n.unit[u].dropped_at = -100000;
		n.unit[u].calling = day->calls[u] || model->units[u].behaviour == RIG_SHED_CHARGES;
		if (model->units[u].behaviour == RIG_SHED_CHARGES)
			n.unit[u].stage = model->stages.n - 1;
	}
	for (size_t b = 0; b < model->n_bodies; b++)
		n.temp_c[b] = day->start_c[b];
	for (n.t = 0; n.t < SHED_DAY_S; n.t++) {
		use(&n);
		thermostats(&n);
		for (size_t u = 0; u < model->n_units; u++)
			decide(&n, u);
		manage(&n);
		pass_second(&n);
		breaker(&n);
	}
}
