/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "rigbudget/size.h"
#include "suites.h"

/* One side along the other, no obstacle: by hand. (5, 3) on (22, 16) is 23, and area allows no
 * more: 352 / 15 = 23.5. */
static const struct {
	double length_m, width_m, a_m, b_m;
	size_t n;
} FLOOR[] = {
	{2, 1, 1, 1, 2},
	{2, 1, 2.001, 1, 0},
	{3, 2, 1.5, 1, 4},
	{3, 2, 1, 3, 2},
	{5, 5, 3, 2, 4}, /* a pinwheel about an empty middle */
	{2.2, 1.6, 0.5, 0.3, 23},
	{1, 1, 0.5, 0.5, 4},
};

START_TEST(as_many_fit_as_by_hand)
{
	const rig_floor floor = {.length_m = FLOOR[_i].length_m, .width_m = FLOOR[_i].width_m};
	const double side_m[2] = {FLOOR[_i].a_m, FLOOR[_i].b_m};
	rig_floor_fit fit;
	ck_assert_int_eq(rig_floor_pack(&floor, side_m, 50, NULL, &fit), RIG_OK);
	ck_assert_uint_eq(fit.n, FLOOR[_i].n);
}
END_TEST

START_TEST(no_floor_asked_for_holds_all)
{
	const rig_floor floor = {.length_m = 0};
	const double side_m[2] = {1, 2};
	rig_floor_fit fit;
	ck_assert_int_eq(rig_floor_pack(&floor, side_m, 7, NULL, &fit), RIG_OK);
	ck_assert_uint_eq(fit.n, 7);
	ck_assert(fit.proved);
}
END_TEST

/* An edge of 0.1 m leaves 1.8 by 0.8 of 2 by 1; with gaps of 0.1 m between, two of 0.85 fit and of
 * 0.86 do not. */
START_TEST(edge_and_gap_are_kept_free)
{
	const rig_floor floor = {.length_m = 2, .width_m = 1, .edge_m = 0.1, .gap_m = 0.1};
	const double fits_m[2] = {0.85, 0.8}, over_m[2] = {0.86, 0.8};
	rig_rectangle at[4];
	rig_floor_fit fit;
	ck_assert_int_eq(rig_floor_pack(&floor, fits_m, 4, at, &fit), RIG_OK);
	ck_assert_uint_eq(fit.n, 2);
	ck_assert_double_eq_tol(fmin(at[0].x_m, at[1].x_m), 0.1, 1e-9);
	ck_assert_double_eq_tol(fabs(at[1].x_m - at[0].x_m), 0.95, 1e-9);
	ck_assert_int_eq(rig_floor_pack(&floor, over_m, 4, NULL, &fit), RIG_OK);
	ck_assert_uint_eq(fit.n, 1);
	ck_assert(fit.proved);
}
END_TEST

/* ---- against every way of filling cells ---- */

/* Under the sanitizers a tenth: the others run the same lines. */
#ifdef RIG_SLOW
enum { N_FLOORS = 20 };
#else
enum { N_FLOORS = 200 };
#endif
enum { CELLS = 6, MOST_PIECES = CELLS * CELLS };

typedef struct {
	int length, width, a, b, best;
	bool taken[CELLS][CELLS];
} cells;

/* A piece of the floor, in cells. */
typedef struct {
	int x, y, length, width;
} piece;

static bool is_free(const cells *c, const piece *p)
{
	if (p->x + p->length > c->length || p->y + p->width > c->width)
		return false;
	for (int i = p->x; i < p->x + p->length; i++)
		for (int k = p->y; k < p->y + p->width; k++)
			if (c->taken[i][k])
				return false;
	return true;
}

static void set(cells *c, const piece *p, bool taken)
{
	for (int i = p->x; i < p->x + p->length; i++)
		for (int k = p->y; k < p->y + p->width; k++)
			c->taken[i][k] = taken;
}

/* From each cell on: one way, the other way, or nothing. */
static void fill(cells *c, int at, int n)
{
	if (n > c->best)
		c->best = n;
	if (at == c->length * c->width)
		return;
	const int x = at % c->length, y = at / c->length;
	const piece ways[2] = {{x, y, c->a, c->b}, {x, y, c->b, c->a}};
	for (int w = 0; w < (c->a != c->b ? 2 : 1); w++) {
		if (is_free(c, &ways[w])) {
			set(c, &ways[w], true);
			fill(c, at + 1, n + 1);
			set(c, &ways[w], false);
		}
	}
	fill(c, at + 1, n);
}

static unsigned below(unsigned *state, unsigned n)
{
	*state = *state * 1664525u + 1013904223u;
	return (*state >> 8) % n;
}

static bool overlap(const rig_rectangle *a, const rig_rectangle *b)
{
	const double slack = 1e-9;
	return a->x_m + a->length_m > b->x_m + slack && b->x_m + b->length_m > a->x_m + slack &&
	       a->y_m + a->width_m > b->y_m + slack && b->y_m + b->width_m > a->y_m + slack;
}

START_TEST(as_many_fit_as_by_trying_every_cell)
{
	unsigned state = 20260000u + (unsigned)_i;
	cells c = {.length = 2 + (int)below(&state, CELLS - 1),
		.width = 2 + (int)below(&state, 4),
		.a = 1 + (int)below(&state, 3),
		.b = 1 + (int)below(&state, 3)};
	rig_rectangle obstacle[3], at[MOST_PIECES];
	rig_floor floor = {.length_m = c.length, .width_m = c.width, .obstacles = obstacle};
	for (unsigned k = below(&state, 4); k > 0; k--) {
		const int x = (int)below(&state, (unsigned)c.length);
		const int y = (int)below(&state, (unsigned)c.width);
		c.taken[x][y] = true;
		obstacle[floor.n_obstacles++] = (rig_rectangle){x, y, 1, 1};
	}
	fill(&c, 0, 0);
	const double side_m[2] = {c.a, c.b};
	rig_floor_fit fit;
	ck_assert_int_eq(rig_floor_pack(&floor, side_m, MOST_PIECES, at, &fit), RIG_OK);
	ck_assert_msg((int)fit.n == c.best && fit.proved, "seed %d: %zu of %d", _i, fit.n, c.best);
	for (size_t i = 0; i < fit.n; i++) {
		ck_assert(at[i].x_m >= -1e-9 && at[i].x_m + at[i].length_m <= c.length + 1e-9);
		ck_assert(at[i].y_m >= -1e-9 && at[i].y_m + at[i].width_m <= c.width + 1e-9);
		for (size_t k = 0; k < i; k++)
			ck_assert(!overlap(&at[i], &at[k]));
		for (size_t k = 0; k < floor.n_obstacles; k++)
			ck_assert(!overlap(&at[i], &obstacle[k]));
	}
}
END_TEST

/* A roof with two air conditioners and three vents: the search says whether its count is proved,
 * and what it found lies apart. */
START_TEST(a_roof_takes_what_is_asked_around_its_vents)
{
	static const rig_rectangle VENT[] = {{2, 0.8, 0.75, 0.75}, {7.2, 0.8, 0.75, 0.75},
		{0.9, 1, 0.4, 0.4}, {5, 1.2, 0.4, 0.4}, {9, 0.3, 0.5, 0.5}};
	const rig_floor roof = {.length_m = 10,
		.width_m = 2.4,
		.edge_m = 0.05,
		.gap_m = 0.02,
		.n_obstacles = COUNT(VENT),
		.obstacles = VENT};
	const double side_m[2] = {1.49, 0.67};
	rig_rectangle at[50];
	rig_floor_fit some, all;
	ck_assert_int_eq(rig_floor_pack(&roof, side_m, 8, at, &some), RIG_OK);
	ck_assert_uint_eq(some.n, 8);
	ck_assert(some.proved);
	ck_assert_int_eq(rig_floor_pack(&roof, side_m, 50, at, &all), RIG_OK);
	ck_assert_uint_ge(all.n, 12);
	ck_assert_uint_le(all.n, 22);
	for (size_t i = 0; i < all.n; i++)
		for (size_t k = 0; k < COUNT(VENT); k++)
			ck_assert(!overlap(&at[i], &VENT[k]));
}
END_TEST

Suite *size_floor_suite(void);
Suite *size_floor_suite(void)
{
	Suite *suite = suite_create("size_floor");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, as_many_fit_as_by_hand, 0, COUNT(FLOOR));
	tcase_add_test(all, no_floor_asked_for_holds_all);
	tcase_add_test(all, edge_and_gap_are_kept_free);
	tcase_add_loop_test(all, as_many_fit_as_by_trying_every_cell, 0, N_FLOORS);
	tcase_add_test(all, a_roof_takes_what_is_asked_around_its_vents);
	suite_add_tcase(suite, all);
	return suite;
}
