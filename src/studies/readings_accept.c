/* SPDX-License-Identifier: GPL-3.0-or-later */
/* readings_accept.c: what the readings settled, written into the stated coach. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/buffer.h"
#include "rigbudget/readings.h"

typedef struct {
	rig_arena *arena;
	const rig_readings_findings *findings;
	rig_coach coach; /* its loads and banks are copies */
	size_t n;
	bool failed;
} acceptance;

static void *copy_of(acceptance *a, const void *list, size_t n, size_t size)
{
	void *copy = rig_arena_take(a->arena, n, size);
	a->failed |= copy == NULL;
	if (copy != NULL && n > 0)
		memcpy(copy, list, n * size);
	return copy;
}

/* Four digits are more than any meter has. */
static double rounded(double value)
{
	if (value == 0.0)
		return 0.0;
	const double digits = 3.0 - floor(log10(fabs(value)));
	const double unit = pow(10.0, fabs(digits));
	return digits > 0.0 ? round(value * unit) / unit : round(value / unit) * unit;
}

static void add_number(rig_buffer *words, double value)
{
	rig_buffer_exact(words, rounded(value));
}

/* "was 1400 to 1500, likely 1440, nameplate (label behind the door)". */
static void add_old(rig_buffer *words, rig_figure old)
{
	rig_buffer_add(words, "was ");
	if (old.low < old.high) {
		add_number(words, old.low);
		rig_buffer_add(words, " to ");
		add_number(words, old.high);
		rig_buffer_add(words, ", likely ");
	}
	add_number(words, old.likely);
	rig_buffer_format(
		words, ", %s", old.from == RIG_FROM_STATED ? "stated" : rig_origin_text(old.from));
	if (old.source != NULL)
		rig_buffer_format(words, " (%.2000s)", old.source);
}

/* The new figure in the old one's place; the old one goes into its note. */
static void accept(acceptance *a, rig_figure *into, rig_figure found, rig_figure old)
{
	rig_buffer words = {0};
	if (rig_figure_given(old))
		add_old(&words, old);
	const double low = rounded(fmax(0.0, found.low));
	const double likely = fmax(low, rounded(found.likely));
	*into = rig_figure_range(low, likely, fmax(likely, rounded(found.high)), RIG_FROM_MEASURED);
	if (words.text != NULL)
		into->source = rig_arena_text(a->arena, words.text);
	a->failed |= words.failed || (words.text != NULL && into->source == NULL);
	a->n++;
	rig_buffer_free(&words);
}

/* The amps of a label are kept in the note as the watts that they stood for. */
static void accept_draws(acceptance *a)
{
	const rig_readings_findings *findings = a->findings;
	for (size_t i = 0; i < findings->n_draws; i++) {
		const rig_readings_draw *draw = &findings->draws[i];
		if (draw->verdict == RIG_DRAW_NOT_IDENTIFIED)
			continue;
		if (draw->load >= 0) {
			rig_load *load = &a->coach.loads[draw->load];
			accept(a, &load->running_w, draw->found_w,
				findings->coach->loads[draw->load].running_w);
			load->running_a = (rig_figure){0};
		} else if (draw->load == RIG_READINGS_INVERTER) {
			accept(a, &a->coach.inverter.idle_w, draw->found_w,
				findings->coach->inverter.idle_w);
		}
	}
}

/* The capacity of one battery, as the file states it. */
static void accept_capacities(acceptance *a)
{
	const rig_readings_findings *findings = a->findings;
	for (size_t i = 0; i < findings->n_capacities; i++) {
		const rig_readings_capacity *capacity = &findings->capacities[i];
		rig_bank *bank = &a->coach.banks[capacity->bank];
		if (capacity->verdict == RIG_DRAW_NOT_IDENTIFIED ||
			!rig_figure_given(bank->capacity_ah))
			continue;
		accept(a, &bank->capacity_ah,
			rig_figure_scale(capacity->found_ah,
				1.0 / (bank->parallel > 1 ? bank->parallel : 1)),
			bank->capacity_ah);
		/* measured as it is now: its age is in it */
		bank->age_years = rig_figure_of(0.0, RIG_FROM_MEASURED);
	}
}

static void accept_sources(acceptance *a)
{
	const rig_readings_findings *findings = a->findings;
	for (size_t i = 0; i < findings->n_sources; i++) {
		const rig_readings_source *source = &findings->sources[i];
		rig_figure *amps_a = source->by == RIG_BY_CHARGER ? &a->coach.charger.amps_a
								  : &a->coach.dc_charger.amps_a;
		if (source->verdict != RIG_DRAW_NOT_IDENTIFIED && source->output_a.low > 0.1)
			accept(a, amps_a, source->output_a, *amps_a);
	}
}

char *rig_readings_accepted(
	const rig_coach *stated, const rig_readings_findings *findings, size_t *n)
{
	acceptance a = {.arena = rig_arena_new(), .findings = findings, .coach = *stated};
	char *text = NULL;
	if (a.arena == NULL)
		return NULL;
	a.coach.loads = copy_of(&a, stated->loads, stated->n_loads, sizeof *stated->loads);
	a.coach.banks = copy_of(&a, stated->banks, stated->n_banks, sizeof *stated->banks);
	if (!a.failed) {
		accept_draws(&a);
		accept_capacities(&a);
		accept_sources(&a);
	}
	if (!a.failed)
		text = rig_coach_text(&a.coach);
	if (n != NULL)
		*n = a.n;
	rig_arena_free(a.arena);
	return text;
}
