/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A random day: the weather, who uses what and when, how empty the bank is. Every load has a stream
 * of its own, keyed by (seed, day, load), so that neither the order of the loads nor what the
 * manager does can move a day. */
#include <math.h>
#include <stdlib.h>

#include "rigbudget/weather.h"
#include "studies/shed_model.h"

static const double PI = 3.14159265358979323846;
static const double HOUR_S = 3600.0;

/* ---- a stream ---- */

/* Streams that are not a load's; loads have keys above. */
enum { STREAM_WEATHER, STREAM_CHARGE, STREAM_STARTS, STREAM_WATER };

typedef struct {
	uint32_t key[2], counter[4], words[4];
	int used;
} stream;

static stream stream_of(uint64_t seed, size_t day, uint32_t what, uint32_t purpose)
{
	return (stream){.key = {(uint32_t)seed, (uint32_t)(seed >> 32)},
		.counter = {0, (uint32_t)day, what, purpose},
		.used = 4};
}

/* 0 < u < 1 */
static double uniform(stream *s)
{
	if (s->used == 4) {
		rig_philox(s->key, s->counter, s->words);
		s->counter[0]++;
		s->used = 0;
	}
	return (s->words[s->used++] + 0.5) / 4294967296.0;
}

/* ---- spans of use ---- */

typedef struct {
	double from_s, to_s;
} span;

static int by_start(const void *a, const void *b)
{
	const double x = ((const span *)a)->from_s, y = ((const span *)b)->from_s;
	return (x > y) - (x < y);
}

/* Writes a span's cycles as switching times. */
static size_t write_cycles(const shed_unit *unit, span s, double *times_s, size_t n)
{
	const double cycle_s =
		unit->cycle_s > 0 && unit->duty_frac < 1 ? unit->cycle_s : s.to_s - s.from_s;
	const size_t cycles = (size_t)ceil((s.to_s - s.from_s) / cycle_s);
	for (size_t i = 0; i < cycles; i++) {
		const double at_s = s.from_s + (double)i * cycle_s;
		times_s[n++] = fmin(s.to_s, at_s);
		times_s[n++] = fmin(s.to_s, at_s + unit->duty_frac * cycle_s);
	}
	return n;
}

/* Spans that overlap follow one another; what goes past midnight is of the early morning. */
static size_t part_spans(span *spans, size_t n)
{
	qsort(spans, n, sizeof *spans, by_start);
	for (size_t i = 1; i < n; i++) {
		const double shift_s = fmax(0, spans[i - 1].to_s - spans[i].from_s);
		spans[i].from_s += shift_s;
		spans[i].to_s += shift_s;
	}
	size_t n_all = n;
	for (size_t i = 0; i < n; i++) {
		if (spans[i].to_s <= SHED_DAY_S)
			continue;
		const double from_s = fmax(0, spans[i].from_s - SHED_DAY_S);
		spans[n_all++] = (span){from_s, spans[i].to_s - SHED_DAY_S};
		spans[i].to_s = SHED_DAY_S;
		spans[i].from_s = fmin(spans[i].from_s, SHED_DAY_S);
	}
	qsort(spans, n_all, sizeof *spans, by_start);
	size_t kept = 0;
	for (size_t i = 0; i < n_all; i++) {
		if (spans[i].to_s <= spans[i].from_s)
			continue;
		if (kept > 0 && spans[i].from_s <= spans[kept - 1].to_s)
			spans[kept - 1].to_s = fmax(spans[kept - 1].to_s, spans[i].to_s);
		else
			spans[kept++] = spans[i];
	}
	return kept;
}

static double start_in(const double window_s[2], double session_s, double u)
{
	return window_s[0] + u * fmax(0, window_s[1] - window_s[0] - session_s);
}

/* How many sessions each window gets: by chance and length, while there is room. */
static void share_out(const shed_unit *unit, stream *s, size_t n, size_t n_in[2])
{
	double length_s[2], room_s[2];
	for (int w = 0; w < 2; w++)
		length_s[w] = room_s[w] = unit->window_s[w][1] - unit->window_s[w][0];
	n_in[0] = n_in[1] = 0;
	for (size_t i = 0; i < n; i++) {
		int w = uniform(s) * (length_s[0] + length_s[1]) < length_s[0] ? 0 : 1;
		if (room_s[w] < unit->session_s && room_s[1 - w] >= unit->session_s)
			w = 1 - w;
		room_s[w] -= unit->session_s;
		n_in[w]++;
	}
}

enum { MOST_SPANS = 128 };

/* Sessions that do not overlap, anywhere in their window. */
static size_t fill_window(
	const double window_s[2], double session_s, size_t n, stream *s, span *spans)
{
	const double free_s = fmax(0, window_s[1] - window_s[0] - (double)n * session_s);
	for (size_t i = 0; i < n; i++)
		spans[i].from_s = uniform(s) * free_s;
	qsort(spans, n, sizeof *spans, by_start);
	for (size_t i = 0; i < n; i++) {
		spans[i].from_s += window_s[0] + (double)i * session_s;
		spans[i].to_s = spans[i].from_s + session_s;
	}
	return n;
}

static void draw_use(const shed_unit *unit, stream *s, double *times_s, size_t *n_times)
{
	span spans[MOST_SPANS];
	size_t n_in[2];
	const double sessions = unit->use_s / unit->session_s; /* whole, if not less than one */
	share_out(
		unit, s, (size_t)(sessions < 0.999 ? sessions + uniform(s) : sessions + 0.5), n_in);
	size_t n = fill_window(unit->window_s[0], unit->session_s, n_in[0], s, spans);
	n += fill_window(unit->window_s[1], unit->session_s, n_in[1], s, &spans[n]);
	n = part_spans(spans, n);
	*n_times = 0;
	for (size_t i = 0; i < n; i++)
		*n_times = write_cycles(unit, spans[i], times_s, *n_times);
}

/* ---- water ---- */

/* Hot water drawn in a day by two people, shares and clock hours (common practice, no source). */
static const struct {
	double share, window_h[2];
} WATER[] = {
	{20 / 62.0, {6.5, 8.5}},
	{20 / 62.0, {19, 22}},
	{8 / 62.0, {7.5, 9}},
	{8 / 62.0, {18.5, 20}},
	{1 / 62.0, {6, 9}},
	{1 / 62.0, {9, 12}},
	{1 / 62.0, {12, 14}},
	{1 / 62.0, {14, 17}},
	{1 / 62.0, {17, 20}},
	{1 / 62.0, {20, 23}},
};
enum { N_WATER = sizeof WATER / sizeof WATER[0] };

static void draw_water(const shed_body *body, stream *s, double *times_s, size_t *n_times)
{
	span spans[2 * N_WATER];
	for (size_t i = 0; i < N_WATER; i++) {
		const double seconds = WATER[i].share * body->litres_day / body->flow_l_s;
		const double window_s[2] = {
			WATER[i].window_h[0] * HOUR_S, WATER[i].window_h[1] * HOUR_S};
		const double from_s = start_in(window_s, seconds, uniform(s));
		spans[i] = (span){from_s, from_s + seconds};
	}
	const size_t n = part_spans(spans, N_WATER);
	*n_times = 2 * n;
	for (size_t i = 0; i < n; i++) {
		times_s[2 * i] = spans[i].from_s;
		times_s[2 * i + 1] = spans[i].to_s;
	}
}

/* ---- weather and charging ---- */

/* Coldest and warmest clock hour (common practice, no source); half cosines between. */
static const double COLDEST_H = 6, WARMEST_H = 15, SUNRISE_H = 6, SUNSET_H = 18;

static double outdoor_c(const shed_model *model, double hour)
{
	const double since_h = hour < COLDEST_H ? hour + 24 - WARMEST_H : hour - WARMEST_H;
	const double phase = since_h < 0 ? since_h / (WARMEST_H - COLDEST_H)
					 : since_h / (24 - WARMEST_H + COLDEST_H);
	return (model->high_c + model->low_c + (model->high_c - model->low_c) * cos(PI * phase)) /
	       2;
}

static void draw_weather(const shed_model *model, stream *s, shed_day *day)
{
	const double warmth_k = model->spread_k * rig_normal_quantile(uniform(s));
	for (int slot = 0; slot < SHED_N_SLOTS; slot++) {
		const double hour = (slot + 0.5) * SHED_SLOT_S / HOUR_S;
		const double day_frac = (hour - SUNRISE_H) / (SUNSET_H - SUNRISE_H);
		day->outdoor_c[slot] = outdoor_c(model, hour) + warmth_k;
		day->sun_w[slot] = model->sun_w * fmax(0, sin(PI * fmin(1, fmax(0, day_frac))));
	}
}

static void draw_charge(const shed_model *model, stream *s, shed_day *day)
{
	const size_t n = model->stages.n;
	const double missing_wh = fmin(model->most_wh, 2 * uniform(s) * model->deficit_wh);
	const double taper_wh = fmin(missing_wh, model->taper_wh);
	if (n < 2)
		return;
	const double steps = (double)(n - 2), step_wh = model->taper_wh / steps;
	day->stage_s[0] = HOUR_S * (missing_wh - taper_wh) / model->bank_w;
	for (size_t k = 1; k + 1 < n; k++) {
		const double before_wh = step_wh * (steps - (double)k + 1);
		const double wh = fmax(0, fmin(taper_wh, before_wh) - (before_wh - step_wh));
		const double step_w = model->bank_w * (steps - (double)k + 0.5) / steps;
		day->stage_s[k] = HOUR_S * wh / step_w;
	}
}

/* Temperatures somewhere in the thermostat's band, so that days do not all start alike. */
static void draw_starts(const shed_model *model, stream *s, shed_day *day)
{
	for (size_t b = 0; b < model->n_bodies; b++) {
		const shed_unit *leader = &model->units[model->bodies[b].leader];
		day->start_c[b] = leader->off_c + uniform(s) * (leader->on_c - leader->off_c);
	}
}

/* ---- the day ---- */

rig_status shed_day_new(const shed_model *model, rig_arena *arena, shed_day **day)
{
	shed_day *made = rig_arena_take(arena, 1, sizeof *made);
	if (!made)
		return RIG_NO_MEMORY;
	made->unit_s = rig_arena_take(arena, model->n_units, sizeof *made->unit_s);
	made->n_unit_s = rig_arena_take(arena, model->n_units, sizeof *made->n_unit_s);
	made->body_s = rig_arena_take(arena, model->n_bodies, sizeof *made->body_s);
	made->n_body_s = rig_arena_take(arena, model->n_bodies, sizeof *made->n_body_s);
	made->start_c = rig_arena_take(arena, model->n_bodies, sizeof *made->start_c);
	made->calls = rig_arena_take(arena, model->n_units, sizeof *made->calls);
	bool fine = made->unit_s && made->n_unit_s && made->body_s && made->n_body_s &&
		    made->start_c && made->calls;
	for (size_t u = 0; fine && u < model->n_units; u++) {
		const size_t n = model->units[u].most_switches;
		made->unit_s[u] = rig_arena_take(arena, n, sizeof(double));
		fine = made->unit_s[u] != NULL;
	}
	for (size_t b = 0; fine && b < model->n_bodies; b++) {
		made->body_s[b] = rig_arena_take(arena, 4 * (size_t)N_WATER, sizeof(double));
		fine = made->body_s[b] != NULL;
	}
	*day = made;
	return fine ? RIG_OK : RIG_NO_MEMORY;
}

void shed_day_draw(const shed_model *model, uint64_t seed, size_t number, shed_day *day)
{
	stream s = stream_of(seed, number, 0, STREAM_WEATHER);
	draw_weather(model, &s, day);
	s = stream_of(seed, number, 0, STREAM_CHARGE);
	draw_charge(model, &s, day);
	s = stream_of(seed, number, 0, STREAM_STARTS);
	draw_starts(model, &s, day);
	for (size_t u = 0; u < model->n_units; u++) {
		const shed_unit *unit = &model->units[u];
		day->n_unit_s[u] = 0;
		day->calls[u] = unit->behaviour == RIG_SHED_STEADY;
		s = stream_of(seed, number, unit->key, STREAM_WATER + 1);
		if (unit->behaviour == RIG_SHED_USED)
			draw_use(unit, &s, day->unit_s[u], &day->n_unit_s[u]);
	}
	for (size_t b = 0; b < model->n_bodies; b++) {
		day->n_body_s[b] = 0;
		s = stream_of(seed, number, (uint32_t)b, STREAM_WATER);
		if (model->bodies[b].kind == SHED_TANK)
			draw_water(&model->bodies[b], &s, day->body_s[b], &day->n_body_s[b]);
	}
}
