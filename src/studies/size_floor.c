/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How many rectangles alike fit on a floor. In whole millimetres: lengths that are off by less are
 * nobody's. Each thing is taken with its gap on its far sides, obstacles too, and the floor with
 * one gap more, so that touching is allowed. */
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "rigbudget/size.h"

enum { MAX_POINTS = 512, MAX_STEPS = 60000, MAX_FIT = 1000 };

typedef struct {
	int32_t x, y, length, width;
} box;

typedef struct {
	int32_t length, width;
	int32_t side[2];
	size_t n_x, n_y;
	int32_t x[MAX_POINTS], y[MAX_POINTS]; /* corners' places, rising */
	bool all_points;                      /* no place was left out for want of room */
	size_t n_obstacles;
	box obstacle[RIG_FLOOR_OBSTACLES];
	int64_t free_above[MAX_POINTS]; /* mm2 that no obstacle covers, from y[k] on */
	size_t most, n_steps;
	bool cut;
	bool across_first;
	size_t n, n_best;
	box *placed, *best; /* MAX_FIT */
} packing;

static int32_t mm(double m)
{
	return (int32_t)lround(m * 1000);
}

static bool apart(const box *a, const box *b)
{
	return a->x + a->length <= b->x || b->x + b->length <= a->x || a->y + a->width <= b->y ||
	       b->y + b->width <= a->y;
}

static bool is_free(const packing *p, const box *it)
{
	if (it->x + it->length > p->length || it->y + it->width > p->width)
		return false;
	for (size_t i = 0; i < p->n_obstacles; i++)
		if (!apart(it, &p->obstacle[i]))
			return false;
	/* the latest ones are the nearest */
	for (size_t i = p->n; i > 0; i--)
		if (!apart(it, &p->placed[i - 1]))
			return false;
	return true;
}

/* ---- where corners may lie ---- */

static int rising(const void *a, const void *b)
{
	const int32_t x = *(const int32_t *)a, y = *(const int32_t *)b;
	return (x > y) - (x < y);
}

static bool add_point(int32_t at, int32_t end, size_t *n, int32_t points[])
{
	if (at < 0 || at >= end)
		return true;
	for (size_t i = 0; i < *n; i++)
		if (points[i] == at)
			return true;
	if (*n == MAX_POINTS)
		return false;
	points[(*n)++] = at;
	return true;
}

/* Sums of sides from a start: the places that pushing toward the start leads to. */
static bool add_sums(const packing *p, int32_t from, int32_t end, size_t *n, int32_t points[])
{
	bool all = true;
	for (int32_t a = from; a < end; a += p->side[0])
		for (int32_t b = a; b < end; b += p->side[1])
			all = add_point(b, end, n, points) && all;
	return all;
}

static void lay_points(packing *p)
{
	const int32_t least = p->side[0] < p->side[1] ? p->side[0] : p->side[1];
	const int32_t end_x = p->length - least + 1, end_y = p->width - least + 1;
	const bool all_x = add_sums(p, 0, end_x, &p->n_x, p->x);
	const bool all_y = add_sums(p, 0, end_y, &p->n_y, p->y);
	p->all_points = all_x && all_y;
	for (size_t i = 0; i < p->n_obstacles; i++) {
		const box *it = &p->obstacle[i];
		p->all_points &= add_sums(p, it->x + it->length, end_x, &p->n_x, p->x);
		p->all_points &= add_sums(p, it->y + it->width, end_y, &p->n_y, p->y);
	}
	qsort(p->x, p->n_x, sizeof *p->x, rising);
	qsort(p->y, p->n_y, sizeof *p->y, rising);
}

/* ---- how much room is left ---- */

/* Of a box, what lies at y or beyond and on the floor. */
static int64_t area_above(const packing *p, const box *it, int32_t y)
{
	const int32_t low_y = it->y > y ? it->y : y, low_x = it->x > 0 ? it->x : 0;
	const int32_t high_y = it->y + it->width < p->width ? it->y + it->width : p->width;
	const int32_t high_x = it->x + it->length < p->length ? it->x + it->length : p->length;
	return high_y > low_y && high_x > low_x ? (int64_t)(high_y - low_y) * (high_x - low_x) : 0;
}

/* Of a strip between two places along x, what obstacles cover of its width from y on. Each spans
 * the strip or lies beside it. */
static int64_t covered_width(const packing *p, int32_t from_x, int32_t to_x, int32_t y)
{
	int64_t sum = 0;
	int32_t reached = y;
	while (reached < p->width) {
		int32_t from = p->width, to = p->width;
		for (size_t i = 0; i < p->n_obstacles; i++) {
			const box *it = &p->obstacle[i];
			const int32_t end = it->y + it->width;
			const int32_t begin = it->y > reached ? it->y : reached;
			if (it->x >= to_x || it->x + it->length <= from_x || end <= reached ||
				begin >= from)
				continue;
			from = begin;
			to = end < p->width ? end : p->width;
		}
		sum += to - from;
		reached = to;
	}
	return sum;
}

/* Obstacles that overlap are taken off once. */
static int64_t covered_above(const packing *p, int32_t y)
{
	int32_t edge[2 * RIG_FLOOR_OBSTACLES + 2];
	size_t n = 0;
	int64_t sum = 0;
	edge[n++] = 0;
	edge[n++] = p->length;
	for (size_t i = 0; i < p->n_obstacles; i++) {
		const int32_t begin = p->obstacle[i].x, end = begin + p->obstacle[i].length;
		edge[n++] = begin < 0 ? 0 : begin > p->length ? p->length : begin;
		edge[n++] = end < 0 ? 0 : end > p->length ? p->length : end;
	}
	qsort(edge, n, sizeof *edge, rising);
	for (size_t i = 0; i + 1 < n; i++)
		if (edge[i + 1] > edge[i])
			sum += (edge[i + 1] - edge[i]) * covered_width(p, edge[i], edge[i + 1], y);
	return sum;
}

static void lay_room(packing *p)
{
	for (size_t k = 0; k < p->n_y; k++)
		p->free_above[k] =
			(int64_t)(p->width - p->y[k]) * p->length - covered_above(p, p->y[k]);
}

static int64_t most_more(const packing *p, size_t row)
{
	int64_t free = p->free_above[row];
	for (size_t i = 0; i < p->n; i++)
		free -= area_above(p, &p->placed[i], p->y[row]);
	return free / ((int64_t)p->side[0] * p->side[1]);
}

/* ---- the search ---- */

static void keep_best(packing *p)
{
	if (p->n <= p->n_best)
		return;
	p->n_best = p->n;
	memcpy(p->best, p->placed, p->n * sizeof *p->placed);
}

static void search(packing *p, size_t row, size_t column);

/* A corner taken along, then across, each with all that may follow. */
static void try_corner(packing *p, size_t row, size_t column)
{
	for (int turn = 0; turn < (p->side[0] == p->side[1] ? 1 : 2); turn++) {
		const bool across = (turn == 1) != p->across_first;
		const box it = {p->x[column], p->y[row], p->side[across], p->side[!across]};
		if (!is_free(p, &it))
			continue;
		p->placed[p->n++] = it;
		search(p, row, column + 1);
		p->n--;
	}
}

/* Corners from one on, row by row: each is taken or left. */
static void search(packing *p, size_t row, size_t column)
{
	keep_best(p);
	while (!p->cut && p->n_best < p->most) {
		if (column == p->n_x) {
			column = 0;
			row++;
		}
		if (row >= p->n_y || (int64_t)p->n + most_more(p, row) <= (int64_t)p->n_best)
			return;
		if (++p->n_steps > MAX_STEPS) {
			p->cut = true;
			return;
		}
		try_corner(p, row, column++);
	}
}

static void lay_floor(const rig_floor *floor, const double side_m[2], packing *p)
{
	const int32_t gap = mm(floor->gap_m), edge = mm(floor->edge_m);
	p->length = mm(floor->length_m) - 2 * edge + gap;
	p->width = mm(floor->width_m) - 2 * edge + gap;
	p->side[0] = mm(side_m[0]) + gap;
	p->side[1] = mm(side_m[1]) + gap;
	for (size_t i = 0; i < floor->n_obstacles; i++) {
		const rig_rectangle *it = &floor->obstacles[i];
		p->obstacle[p->n_obstacles++] = (box){mm(it->x_m) - edge, mm(it->y_m) - edge,
			mm(it->length_m) + gap, mm(it->width_m) + gap};
	}
	lay_points(p);
	lay_room(p);
}

static void tell_places(const rig_floor *floor, const packing *p, rig_rectangle places[])
{
	for (size_t i = 0; places != NULL && i < p->n_best; i++)
		places[i] = (rig_rectangle){p->best[i].x / 1000.0 + floor->edge_m,
			p->best[i].y / 1000.0 + floor->edge_m,
			p->best[i].length / 1000.0 - floor->gap_m,
			p->best[i].width / 1000.0 - floor->gap_m};
}

rig_status rig_floor_pack(const rig_floor *floor, const double side_m[2], size_t most,
	rig_rectangle places[], rig_floor_fit *fit)
{
	assert(most >= 1 && most <= MAX_FIT && floor->n_obstacles <= RIG_FLOOR_OBSTACLES);
	assert(side_m[0] > 0 && side_m[1] > 0);
	if (floor->length_m <= 0) {
		*fit = (rig_floor_fit){most, true};
		return RIG_OK;
	}
	packing *p = calloc(1, sizeof *p);
	box *boxes = calloc((size_t)2 * MAX_FIT, sizeof *boxes);
	rig_status status = RIG_NO_MEMORY;
	if (p == NULL || boxes == NULL)
		goto out;
	p->most = most;
	p->placed = boxes;
	p->best = boxes + MAX_FIT;
	lay_floor(floor, side_m, p);
	bool proved = false;
	for (int start = 0; start < 2 && !proved; start++) {
		p->across_first = start == 1;
		p->cut = false;
		p->n = p->n_steps = 0;
		search(p, 0, 0);
		proved = p->n_best >= most || (!p->cut && p->all_points);
	}
	*fit = (rig_floor_fit){p->n_best, proved};
	tell_places(floor, p, places);
	status = RIG_OK;
out:
	free(boxes);
	free(p);
	return status;
}
