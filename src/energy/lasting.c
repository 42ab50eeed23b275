/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which trips last. As in the kernel trips are innermost, but all figures of a plan's one store are
 * those of every trip, and a trip has nothing of its own but its wells and its sky. Trips go in
 * groups, the last of which is filled up with trips that nobody asks for. */
#include <assert.h>
#include <float.h>

#include "energy/hour.h"
#include "energy/width.h"
#if WIDTH_CHOICE
#include <immintrin.h>
#endif

#define ALONE restrict

/* A group is what the widest vector holds; a batch fits the innermost cache with all it needs. */
enum { GROUP = 8, BATCH = 256, MOST_KNOTS = 16 };

typedef struct {
	size_t n, n_groups;
	size_t place[BATCH], trip[BATCH]; /* in the list, and by number */
	double available[BATCH], bound[BATCH];
	int64_t knot[BATCH]; /* of the day's sky, the one below */
	double beyond[BATCH];
	double offered[BATCH], unserved[BATCH];
	double out[BATCH]; /* 1: it has run out; 0 */
} batch;

/* One source's watts in one hour, by knot. */
typedef double by_knot[MOST_KNOTS];

/* What a source adds to the offers of a batch. */
typedef void (*look_up)(const by_knot watts_w, batch *ALONE it);

/* What the trips have in common. */
typedef struct {
	const rig_plan *plan;
	const plan_store *store;
	look_up look_up;
	hour_limits limits; /* of the hour */
} course;

/* ---- the sky ---- */

static void look_up_plain(const by_knot watts_w, batch *ALONE it)
{
	for (size_t i = 0; i < it->n_groups * GROUP; i++) {
		const double below_w = watts_w[it->knot[i]], above_w = watts_w[it->knot[i] + 1];
		it->offered[i] += below_w + it->beyond[i] * (above_w - below_w);
	}
}

#if WIDTH_CHOICE
/* The same; all knots are in two registers. */
WIDTH_512 static void look_up_512(const by_knot watts_w, batch *ALONE it)
{
	const __m512d first_w = _mm512_loadu_pd(watts_w), last_w = _mm512_loadu_pd(watts_w + 8);
	const __m512i one = _mm512_set1_epi64(1);
	for (size_t i = 0; i < it->n_groups * GROUP; i += GROUP) {
		const __m512i below = _mm512_loadu_si512(it->knot + i);
		const __m512i above = _mm512_add_epi64(below, one);
		const __m512d below_w = _mm512_permutex2var_pd(first_w, below, last_w);
		const __m512d above_w = _mm512_permutex2var_pd(first_w, above, last_w);
		const __m512d more_w = _mm512_mul_pd(
			_mm512_loadu_pd(it->beyond + i), _mm512_sub_pd(above_w, below_w));
		_mm512_storeu_pd(it->offered + i, _mm512_add_pd(_mm512_loadu_pd(it->offered + i),
							  _mm512_add_pd(below_w, more_w)));
	}
}
#endif

/* Trips that fill up the last group stand under the darkest sky. */
HOUR_INLINE void read_sky(const rig_plan *plan, const double *sky, batch *it)
{
	const double last = (double)(plan->n_knots - 1);
	for (size_t i = 0; i < it->n_groups * GROUP; i++) {
		const double at = i < it->n ? sky[it->trip[i]] : 0;
		it->knot[i] = at < last ? (int64_t)at : (int64_t)plan->n_knots - 2;
		it->beyond[i] = at - (double)it->knot[i];
	}
}

HOUR_INLINE bool read_offers(const course *c, size_t plan_hour, batch *it)
{
	const rig_plan *plan = c->plan;
	bool lit = false;
	for (size_t k = 0; k < plan->n_sources; k++) {
		const plan_source *source = &plan->sources[k];
		if (!source->lit[plan_hour])
			continue;
		if (!lit)
			for (size_t i = 0; i < it->n_groups * GROUP; i++)
				it->offered[i] = 0;
		lit = true;
		const double *table = source->watts_w + plan_hour / 24 * plan->n_knots * 24;
		by_knot watts_w = {0};
		for (size_t knot = 0; knot < plan->n_knots; knot++)
			watts_w[knot] = table[knot * 24 + plan_hour % 24];
		c->look_up(watts_w, it);
	}
	return lit;
}

/* ---- an hour ---- */

HOUR_INLINE bool step_lit(
	const hour_figures *f, const hour_limits *l, double wanted, batch *ALONE it)
{
	int any = 0;
	for (size_t i = 0; i < it->n_groups * GROUP; i++) {
		const hour_still still = hour_rest(f, l, it->available[i], it->bound[i]);
		const hour_flows flows = hour_flows_of(&still, it->offered[i], wanted);
		const double current = flows.drawn - flows.charged * l->efficiency_frac;
		it->available[i] = (still.available - f->g1 * current) * f->keep_frac;
		it->bound[i] = (still.bound - f->g2 * current) * f->keep_frac;
		it->unserved[i] = flows.unserved;
		any |= flows.unserved > HOUR_SHORT_FRAC / 2 * wanted;
	}
	return any != 0;
}

/* The same for a dark hour. */
HOUR_INLINE bool step_dark(
	const hour_figures *f, const hour_limits *l, double wanted, batch *ALONE it)
{
	int any = 0;
	for (size_t i = 0; i < it->n_groups * GROUP; i++) {
		const double available = f->a11 * it->available[i] + f->a12 * it->bound[i];
		const double bound = f->a21 * it->available[i] + f->a22 * it->bound[i];
		const double give = least(available * f->per_g1, available + bound - l->floor_wh);
		const double drawn = most(least(wanted, give), 0);
		it->available[i] = (available - f->g1 * drawn) * f->keep_frac;
		it->bound[i] = (bound - f->g2 * drawn) * f->keep_frac;
		it->unserved[i] = wanted - drawn;
		any |= wanted - drawn > HOUR_SHORT_FRAC / 2 * wanted;
	}
	return any != 0;
}

HOUR_INLINE void note_out(double wanted, batch *ALONE it)
{
	const double least_wanted = most(wanted, DBL_MIN);
	for (size_t i = 0; i < it->n_groups * GROUP; i++)
		it->out[i] = it->unserved[i] / least_wanted > HOUR_SHORT_FRAC ? 1 : it->out[i];
}

/* ---- a batch ---- */

HOUR_INLINE void begin_batch(
	const course *c, const rig_lasting *lasting, size_t first, size_t n, batch *it)
{
	const plan_store *store = c->store;
	const double capacity_wh = c->limits.capacity_wh;
	const double start_wh = capacity_wh - store->usable_wh * (1 - store->start_frac);
	const double charge_wh = start_wh / capacity_wh * capacity_wh;
	it->n = n;
	it->n_groups = (n + GROUP - 1) / GROUP;
	for (size_t i = 0; i < n; i++) {
		it->place[i] = first + i;
		it->trip[i] = lasting->trip[first + i];
		lasting->lasts[first + i] = true;
	}
	for (size_t i = 0; i < it->n_groups * GROUP; i++) {
		it->available[i] = store->kinetic.available_frac * charge_wh;
		it->bound[i] = (1 - store->kinetic.available_frac) * charge_wh;
		it->out[i] = 0;
	}
}

/* Takes out the trips that have run out. */
static void drop_out(batch *it, bool *lasts)
{
	size_t n = 0;
	for (size_t i = 0; i < it->n; i++) {
		if (it->out[i] > 0) {
			lasts[it->place[i]] = false;
			continue;
		}
		it->place[n] = it->place[i];
		it->trip[n] = it->trip[i];
		it->available[n] = it->available[i];
		it->bound[n] = it->bound[i];
		it->out[n++] = 0;
	}
	it->n = n;
	it->n_groups = (n + GROUP - 1) / GROUP;
}

HOUR_INLINE void begin_day(course *c, const double *sky, size_t plan_hour, batch *it)
{
	const plan_store *store = c->store;
	const double reach_frac = store->reach_wh[plan_hour] / store->usable_wh;
	c->limits.floor_wh = c->limits.capacity_wh - store->usable_wh * reach_frac;
	read_sky(c->plan, sky, it);
}

/* Whether any trip has run out in it. */
HOUR_INLINE bool run_day(course *c, size_t first_hour, batch *it)
{
	const plan_store *store = c->store;
	bool any = false;
	for (size_t hour = 0; hour < 24; hour++) {
		const size_t plan_hour = first_hour + hour;
		const hour_figures f = hour_figures_of(store, plan_hour);
		const double wanted = store->wanted_wh[hour];
		c->limits.accept_wh = store->accept_wh[plan_hour];
		const bool falls_short = read_offers(c, plan_hour, it)
						 ? step_lit(&f, &c->limits, wanted, it)
						 : step_dark(&f, &c->limits, wanted, it);
		if (falls_short)
			note_out(wanted, it);
		any = any || falls_short;
	}
	return any;
}

HOUR_INLINE size_t run_all(const rig_plan *plan, look_up sky_of, const rig_lasting *lasting)
{
	const plan_store *store = &plan->stores[0];
	course c = {.plan = plan, .store = store, .look_up = sky_of};
	c.limits = (hour_limits){
		.available_full = store->kinetic.available_frac * store->kinetic.capacity,
		.capacity_wh = store->kinetic.capacity,
		.efficiency_frac = store->efficiency_frac,
		.per_efficiency = 1 / store->efficiency_frac,
	};
	size_t n_last = 0;
	for (size_t first = 0; first < lasting->n; first += BATCH) {
		const size_t left = lasting->n - first;
		batch it;
		begin_batch(&c, lasting, first, left < BATCH ? left : BATCH, &it);
		for (size_t day = 0; day < lasting->n_days && it.n > 0; day++) {
			const size_t first_hour = day * 24 % plan->n_hours;
			begin_day(&c, lasting->sky + day * lasting->stride, first_hour, &it);
			if (run_day(&c, first_hour, &it))
				drop_out(&it, lasting->lasts);
		}
		n_last += it.n;
	}
	return n_last;
}

static size_t run_plain(const rig_plan *plan, const rig_lasting *lasting)
{
	return run_all(plan, look_up_plain, lasting);
}

#if WIDTH_CHOICE
WIDTH_256 static size_t run_256(const rig_plan *plan, const rig_lasting *lasting)
{
	return run_all(plan, look_up_plain, lasting);
}

WIDTH_512 static size_t run_512(const rig_plan *plan, const rig_lasting *lasting)
{
	return run_all(plan, look_up_512, lasting);
}

static size_t (*widest(void))(const rig_plan *, const rig_lasting *)
{
	const int bits = width_bits();
	return bits == 512 ? run_512 : bits == 256 ? run_256 : run_plain;
}
#else
static size_t (*widest(void))(const rig_plan *, const rig_lasting *)
{
	return run_plain;
}
#endif

size_t rig_plan_lasting(const rig_plan *plan, const rig_lasting *lasting, bool plain_code)
{
	assert(plan->n_knots >= 2 && plan->n_knots <= MOST_KNOTS && plan->n_stores == 1);
	assert(plan->stores[0].essential && !plan->stores[0].outdoors);
	assert(!plan->stores[0].by_weather && !plan->generator.present);
	return (plain_code ? run_plain : widest())(plan, lasting);
}
