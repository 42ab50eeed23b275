/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shed_course.h: what the parts of a day's course share: events and the manager. */
#ifndef STUDIES_SHED_COURSE_H
#define STUDIES_SHED_COURSE_H

#include "studies/shed_model.h"

/* Where the times of what comes next stand in state->due_s: a unit's own, a body's thermostat, a
 * body's flow, then single ones. */
static inline size_t shed_due_body(const shed_model *model, size_t body)
{
	return model->n_units + body;
}
static inline size_t shed_due_flow(const shed_model *model, size_t body)
{
	return model->n_units + model->n_bodies + body;
}
enum {
	SHED_DUE_SLOT,
	SHED_DUE_LIGHT,
	SHED_DUE_MANAGER,
	SHED_DUE_SOURCE,
	SHED_DUE_BREAKER,
	SHED_DUE_END = SHED_DUE_BREAKER + RIG_N_BREAKERS * RIG_SHED_MAX_HOTS,
	SHED_N_SINGLE
};
static inline size_t shed_due_single(const shed_model *model, int which)
{
	return model->n_units + 2 * model->n_bodies + (size_t)which;
}

/* Works out anew whether a unit runs, after its call, the manager or the supply has changed. */
void shed_refresh_unit(const shed_run *run, shed_state *state, size_t unit);
/* The amps as they are now; books those that were. */
void shed_refresh_amps(const shed_run *run, shed_state *state);

/* Amps that the manager defends on a hot, and the breakers in front of it, as fed now. */
static inline double shed_limit_a(const shed_run *run, const shed_state *state)
{
	return state->on_generator ? run->model->sources.generator_limit_a
				   : run->model->manager.limit_a;
}
static inline const rig_breaker *shed_breakers(const shed_run *run, const shed_state *state)
{
	return state->on_generator ? run->model->sources.generator_breaker : run->model->breaker;
}
/* Whether a unit has power: not in the dark, nor on an inverter that does not feed it. */
static inline bool shed_is_fed(const shed_run *run, const shed_state *state, size_t unit)
{
	return !state->dark && !(run->model->sources.inverter && !state->on_generator &&
				       run->model->units[unit].no_inverter);
}

/* Starts or stops the generator, and times when it would be. */
void shed_choose_source(const shed_run *run, shed_state *state);
/* Books its run up to now. */
void shed_end_run(const shed_run *run, shed_state *state);

/* What the manager does at this moment. */
shed_outcome shed_manage(const shed_run *run, shed_state *state);

/* Trace, if there is one. */
void shed_trace_span(const shed_run *run, const shed_state *state, size_t unit);
void shed_trace_amps(const shed_run *run, const shed_state *state);
void shed_trace_run(const shed_run *run, double from_s, double to_s);
void shed_trace_trip(const shed_run *run, const shed_state *state);

#endif
