/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a day stands: its memory, its start, what it has cost. */
#include <math.h>
#include <string.h>

#include "studies/shed_course.h"

rig_status shed_state_new(const shed_model *model, rig_arena *arena, shed_state **state)
{
	shed_state *made = rig_arena_take(arena, 1, sizeof *made);
	const size_t n_due = shed_due_single(model, SHED_N_SINGLE);
	if (made) {
		made->unit = rig_arena_take(arena, model->n_units, sizeof *made->unit);
		made->body = rig_arena_take(arena, model->n_bodies, sizeof *made->body);
		made->due_s = rig_arena_take(arena, n_due, sizeof *made->due_s);
		made->n_due = n_due;
	}
	if (!made || !made->unit || !made->body || !made->due_s)
		return RIG_NO_MEMORY;
	*state = made;
	return RIG_OK;
}

void shed_state_copy(const shed_model *model, const shed_state *from, shed_state *to)
{
	shed_unit_state *unit = to->unit;
	shed_body_state *body = to->body;
	double *due_s = to->due_s;
	*to = *from;
	to->unit = unit;
	to->body = body;
	to->due_s = due_s;
	memcpy(unit, from->unit, model->n_units * sizeof *unit);
	memcpy(body, from->body, model->n_bodies * sizeof *body);
	memcpy(due_s, from->due_s, from->n_due * sizeof *due_s);
}

/* A unit's points; those of its body are on the body's leader. */
double shed_unit_points(const shed_model *model, const shed_state *state, size_t u)
{
	const shed_unit *unit = &model->units[u];
	const shed_unit_state *now = &state->unit[u];
	double points = unit->drop_points * now->n_drops + unit->lost_points_s * now->held_s;
	if (unit->body < 0 || model->bodies[unit->body].leader != (int)u)
		return points;
	const shed_body *body = &model->bodies[unit->body];
	const shed_body_state *warmth = &state->body[unit->body];
	points += body->points_k_s * warmth->outside_k_s;
	points += body->points_cold_l * warmth->cold_litres;
	return points;
}

double shed_points(const shed_model *model, const shed_state *state)
{
	double points = 0;
	for (size_t u = 0; u < model->n_units; u++)
		points += shed_unit_points(model, state, u);
	return points;
}
