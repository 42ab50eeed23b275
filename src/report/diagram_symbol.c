/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Graphic symbols of one-line diagrams, drawn after the descriptions of IEEE 315 and IEC 60617
 * [IEC-60617]: fuse as a box on the line, breaker as an arc over a gap, converters as a divided box
 * with the kinds of current on its sides. */
#include <math.h>

#include "diagram.h"

static const rig_pen THIN = {RIG_INK_TEXT, 1.4, false};
static const rig_pen THICK = {RIG_INK_TEXT, 3.0, false};
static const double PI = 3.14159265358979323846;
static const double HALF = RIG_SYMBOL_HALF;

/* The plane of one symbol: x along the line, y to its right; turned where the line runs down. */
typedef struct {
	const rig_canvas *canvas;
	rig_point at;
	bool upright;
} plane;

static rig_point put(const plane *on, double x, double y)
{
	if (on->upright)
		return (rig_point){on->at.x - y, on->at.y + x};
	return (rig_point){on->at.x + x, on->at.y + y};
}

static void stroke(const plane *on, double x1, double y1, double x2, double y2)
{
	on->canvas->line(on->canvas->self, put(on, x1, y1), put(on, x2, y2), THIN);
}

static void arc(const plane *on, double radius, double first, double last)
{
	enum { STEPS = 24 };
	rig_point points[STEPS + 1];
	for (int i = 0; i <= STEPS; i++) {
		const double angle = first + (last - first) * i / STEPS;
		points[i] = put(on, radius * cos(angle), radius * sin(angle));
	}
	on->canvas->polyline(on->canvas->self, STEPS + 1, points, THIN);
}

static void box(const plane *on, double half_x, double half_y)
{
	const rig_point corner[] = {put(on, -half_x, -half_y), put(on, half_x, -half_y),
		put(on, half_x, half_y), put(on, -half_x, half_y), put(on, -half_x, -half_y)};
	on->canvas->polyline(on->canvas->self, sizeof corner / sizeof corner[0], corner, THIN);
}

static void letter(const plane *on, const char *text, double size, double dy)
{
	on->canvas->text(on->canvas->self, (rig_point){on->at.x, on->at.y + dy},
		(rig_lettering){RIG_INK_TEXT, size, true, RIG_ANCHOR_MIDDLE}, text);
}

/* The signs of alternating and direct current around a point, never turned. */
static void sign_ac(const plane *on, double x, double y)
{
	enum { STEPS = 16 };
	rig_point points[STEPS + 1];
	for (int i = 0; i <= STEPS; i++)
		points[i] = (rig_point){on->at.x + x - 5.0 + 10.0 * i / STEPS,
			on->at.y + y - 2.6 * sin(2.0 * PI * i / STEPS)};
	on->canvas->polyline(on->canvas->self, STEPS + 1, points, THIN);
}

static void sign_dc(const plane *on, double x, double y)
{
	const rig_canvas *canvas = on->canvas;
	const double left = on->at.x + x - 4.5, top = on->at.y + y - 2.0;
	canvas->line(canvas->self, (rig_point){left, top}, (rig_point){left + 9.0, top}, THIN);
	for (int i = 0; i < 3; i++)
		canvas->line(canvas->self, (rig_point){left + 3.6 * i, top + 4.0},
			(rig_point){left + 3.6 * i + 1.8, top + 4.0}, THIN);
}

static void filled(const plane *on, size_t n, const rig_point *points)
{
	on->canvas->area(on->canvas->self, n, points, (rig_brush){RIG_INK_TEXT, RIG_FILL_FULL});
}

static void draw_inlet(const plane *on)
{
	for (int i = 0; i < 2; i++) {
		stroke(on, -9.0 + 8.0 * i, -8.0, -1.0 + 8.0 * i, 0.0);
		stroke(on, -1.0 + 8.0 * i, 0.0, -9.0 + 8.0 * i, 8.0);
	}
	stroke(on, -1.0, 0.0, HALF, 0.0);
}

static void draw_machine(const plane *on, bool direct)
{
	arc(on, HALF, 0.0, 2.0 * PI);
	letter(on, "G", 13.0, 2.0);
	if (direct)
		sign_dc(on, 0.0, 6.5);
	else
		sign_ac(on, 0.0, 7.0);
}

static void draw_breaker(const plane *on)
{
	stroke(on, -HALF, 0.0, -9.0, 0.0);
	stroke(on, 9.0, 0.0, HALF, 0.0);
	arc(on, 10.0, -PI * 0.9, -PI * 0.1);
}

static void draw_fuse(const plane *on)
{
	box(on, 10.0, 4.5);
	stroke(on, -HALF, 0.0, HALF, 0.0);
}

static void draw_battery(const plane *on)
{
	static const double PLATE_X[] = {-6.0, -2.0, 3.0, 7.0};
	stroke(on, -HALF, 0.0, PLATE_X[0], 0.0);
	for (int i = 0; i < 4; i++) {
		const double half = i % 2 == 0 ? 10.0 : 5.0;
		on->canvas->line(on->canvas->self, put(on, PLATE_X[i], -half),
			put(on, PLATE_X[i], half), i % 2 == 0 ? THIN : THICK);
	}
	stroke(on, PLATE_X[3], 0.0, HALF, 0.0);
}

/* A cell in a box, and light that falls on it. */
static void draw_solar(const plane *on)
{
	box(on, HALF, HALF);
	stroke(on, -HALF, 5.0, -2.5, 5.0);
	stroke(on, -2.5, -1.0, -2.5, 11.0);
	on->canvas->line(on->canvas->self, put(on, 2.0, 2.0), put(on, 2.0, 8.0), THICK);
	stroke(on, 2.0, 5.0, 8.0, 5.0);
	for (int i = 0; i < 2; i++) {
		const double x = -1.0 + 7.0 * i;
		stroke(on, x + 5.0, -11.0, x, -4.0);
		const rig_point head[] = {
			put(on, x - 0.8, -2.6), put(on, x + 0.2, -7.0), put(on, x + 3.4, -4.8)};
		filled(on, 3, head);
	}
}

static void draw_transfer(const plane *on)
{
	const rig_canvas *canvas = on->canvas;
	const rig_point at = on->at;
	const plane flat = {canvas, at, false};
	box(&flat, HALF, HALF);
	for (int i = -1; i <= 1; i += 2) {
		stroke(&flat, 8.0 * i, -HALF, 8.0 * i, -7.0);
		const plane contact = {canvas, {at.x + 8.0 * i, at.y - 5.0}, false};
		arc(&contact, 2.0, 0.0, 2.0 * PI);
	}
	stroke(&flat, 0.0, HALF, 0.0, 7.0);
	stroke(&flat, 0.0, 7.0, -6.5, -3.5);
}

/* A box divided by a slanting line: what goes in above, what comes out below. */
static void draw_converter(const plane *on, bool ac_in, bool ac_out)
{
	const plane flat = {on->canvas, on->at, false};
	box(&flat, HALF, HALF);
	stroke(&flat, -HALF, HALF, HALF, -HALF);
	if (ac_in)
		sign_ac(&flat, -5.5, -6.5);
	else
		sign_dc(&flat, -5.0, -6.5);
	if (ac_out)
		sign_ac(&flat, 5.5, 7.0);
	else
		sign_dc(&flat, 6.0, 6.5);
}

static void draw_arrow(const plane *on)
{
	stroke(on, -HALF, 0.0, 3.0, 0.0);
	const rig_point head[] = {put(on, HALF, 0.0), put(on, 2.0, -5.5), put(on, 2.0, 5.5)};
	filled(on, 3, head);
}

static void draw_open_end(const plane *on)
{
	const plane end = {on->canvas, put(on, -1.0, 0.0), false};
	stroke(on, -HALF, 0.0, -5.0, 0.0);
	arc(&end, 4.0, 0.0, 2.0 * PI);
}

static void draw_both_ways(const plane *on)
{
	draw_converter(on, true, false);
	const rig_point up[] = {{on->at.x + HALF, on->at.y - HALF},
		{on->at.x + HALF - 6.5, on->at.y - HALF + 2.5},
		{on->at.x + HALF - 2.5, on->at.y - HALF + 6.5}};
	const rig_point down[] = {{on->at.x - HALF, on->at.y + HALF},
		{on->at.x - HALF + 6.5, on->at.y + HALF - 2.5},
		{on->at.x - HALF + 2.5, on->at.y + HALF - 6.5}};
	filled(on, 3, up);
	filled(on, 3, down);
}

void rig_symbol_draw(const rig_canvas *canvas, rig_symbol symbol, rig_point at, bool upright)
{
	const plane on = {canvas, at, upright};
	switch (symbol) {
	case RIG_SYMBOL_INLET:
		draw_inlet(&on);
		break;
	case RIG_SYMBOL_GENERATOR:
	case RIG_SYMBOL_ALTERNATOR:
		draw_machine(&on, symbol == RIG_SYMBOL_ALTERNATOR);
		break;
	case RIG_SYMBOL_SOLAR:
		draw_solar(&(plane){canvas, at, false});
		break;
	case RIG_SYMBOL_BATTERY:
		draw_battery(&on);
		break;
	case RIG_SYMBOL_TRANSFER:
		draw_transfer(&on);
		break;
	case RIG_SYMBOL_MANAGER:
		box(&on, HALF, HALF);
		letter(&on, "EM", 11.0, 4.0);
		break;
	case RIG_SYMBOL_BREAKER:
		draw_breaker(&on);
		break;
	case RIG_SYMBOL_FUSE:
		draw_fuse(&on);
		break;
	case RIG_SYMBOL_CONVERTER:
		draw_converter(&on, true, false);
		break;
	case RIG_SYMBOL_INVERTER:
		draw_converter(&on, false, true);
		break;
	case RIG_SYMBOL_INVERTER_CHARGER:
		draw_both_ways(&on);
		break;
	case RIG_SYMBOL_CONTROLLER:
		draw_converter(&on, false, false);
		break;
	case RIG_SYMBOL_LOADS:
		draw_arrow(&on);
		break;
	case RIG_SYMBOL_OPEN_END:
		draw_open_end(&on);
		break;
	case RIG_SYMBOL_NONE:
	case RIG_SYMBOL_BUS:
	case RIG_N_SYMBOLS:
		break;
	}
}

const char *rig_symbol_text(rig_symbol symbol)
{
	static const char *const TEXT[RIG_N_SYMBOLS] = {"line", "shore power cord and inlet",
		"generator (AC)", "engine's alternator", "solar panels", "battery bank",
		"transfer switch", "energy manager, sheds loads", "circuit breaker", "fuse", "bus",
		"converter: AC to DC", "inverter: DC to AC", "inverter and charger in one",
		"charge controller: DC to DC", "loads", "end of a wire, not known"};
	return TEXT[symbol];
}
