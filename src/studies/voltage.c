/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/voltage.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

#include "studies/shore_budget.h"
#include "studies/voltage_case.h"
#include "studies/voltage_doubt.h"

/* What rig_voltage_free() gets back: findings stands first. */
typedef struct {
	rig_voltage_findings findings;
	rig_arena *arena;
} holder;

/* A load all of whose units go on and off together. */
typedef struct {
	int load, priority, key;
	size_t unit; /* the first of them */
	int count;
	double watts_w;
} appliance;

/* What the whole study shares. */
typedef struct {
	rig_shore_case c;
	rig_voltage_findings *findings;
	rig_feed_load *loads; /* scratch */
	appliance *list;      /* of the coach, kept longest first */
	size_t n;
	bool verdicts_only; /* as in rig_voltage_options */
} study_case;

rig_c84_limits rig_c84_utilization(rig_c84_edition edition)
{
	/* [ANSI-C841] */
	if (edition == RIG_C84_1995)
		return (rig_c84_limits){110, 126, 106, 127};
	return (rig_c84_limits){108, 126, 104, 127};
}

rig_c84_limits rig_c84_service(void)
{
	return (rig_c84_limits){114, 126, 110, 127}; /* [ANSI-C841] */
}

static rig_status list_paths(const study_case *s)
{
	rig_voltage_findings *findings = s->findings;
	findings->n_paths = findings->shore->n_supplies;
	findings->paths = rig_arena_take(s->c.arena, findings->n_paths, sizeof *findings->paths);
	if (!findings->paths)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < findings->n_paths; i++) {
		findings->paths[i] = rig_feed_path(findings->coach, &findings->shore->supplies[i]);
		findings->paths[i].supply = (int)i;
	}
	findings->open_range =
		rig_volts_judge(findings->coach->pedestal_open_v.likely, &findings->service);
	return RIG_OK;
}

/* Kept longest first, then from the smallest draw up. */
static int compare_appliances(const void *left, const void *right)
{
	const appliance *a = left;
	const appliance *b = right;
	if (a->priority != b->priority)
		return a->priority - b->priority;
	if (a->watts_w != b->watts_w)
		return a->watts_w < b->watts_w ? -1 : 1;
	return a->key - b->key;
}

/* The loads of the coach as a list; those of one load stand side by side among the units. */
static rig_status list_appliances(study_case *s)
{
	const rig_shore_case *c = &s->c;
	s->list = rig_arena_take(c->arena, c->n_units, sizeof *s->list);
	if (!s->list)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < c->n_units; i++) {
		const rig_shore_unit *unit = &c->units[i];
		if (s->n == 0 || s->list[s->n - 1].load != unit->load)
			s->list[s->n++] = (appliance){.load = unit->load,
				.unit = i,
				.priority = unit->priority,
				.key = unit->key};
		s->list[s->n - 1].count += unit->count;
		s->list[s->n - 1].watts_w += unit->power[RIG_LIKELY].active_w;
	}
	if (s->n > 0)
		qsort(s->list, s->n, sizeof *s->list, compare_appliances);
	return RIG_OK;
}

/* Switches all units of a load. */
static void switch_load(const rig_shore_case *c, const appliance *of, bool *on, bool to)
{
	for (size_t i = of->unit; i < c->n_units && c->units[i].load == of->load; i++)
		on[i] = to;
}

/* By how much the lower of its legs fell. */
static double fall_v(const rig_volts_question *question, size_t unit,
	const rig_voltage_state *before, const rig_voltage_state *after)
{
	const rig_shore_unit *of = &question->c->units[unit];
	double fall[2] = {0};
	for (int leg = 0; leg < (question->supply->n_hots == 2 ? 2 : 1); leg++)
		fall[leg] = before->leg_v[leg].likely - after->leg_v[leg].likely;
	if (question->supply->n_hots < 2)
		return fall[0];
	if (of->two_hots)
		return fmax(fall[0], fall[1]);
	return fall[of->leg >= 0 ? of->leg : question->leg[unit]];
}

/* Adds a load to what is on, solves, and writes it down as a step after `before`. */
static rig_status step_to(const rig_volts_question *question, const appliance *added, bool *on,
	const rig_voltage_state *before, rig_voltage_step *step)
{
	switch_load(question->c, added, on, true);
	step->added = (rig_shore_item){added->load, added->count};
	const rig_status status = rig_volts_state(question, on, &step->state);
	if (status == RIG_OK)
		step->drop_v = fall_v(question, added->unit, before, &step->state);
	return status;
}

static size_t most_steps(const study_case *s)
{
	return s->n < RIG_VOLTAGE_MOST_STEPS ? s->n : RIG_VOLTAGE_MOST_STEPS;
}

/* The large loads of the set one after another on top of its small ones. */
static rig_status climb(const study_case *s, const rig_volts_question *question, const bool *live,
	rig_voltage_case *to)
{
	const rig_shore_case *c = &s->c;
	bool *on = rig_arena_take(c->arena, c->n_units, sizeof *on);
	to->steps = rig_arena_take(c->arena, most_steps(s), sizeof *to->steps);
	if (!on || !to->steps)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < c->n_units; i++)
		on[i] = live[i];
	for (size_t i = 0; i < s->n; i++)
		if (s->list[i].watts_w >= RIG_LARGE_LOAD_W)
			switch_load(c, &s->list[i], on, false);
	rig_status status = rig_volts_state(question, on, &to->small);
	const rig_voltage_state *before = &to->small;
	for (size_t i = 0; status == RIG_OK && i < s->n; i++) {
		if (s->list[i].watts_w < RIG_LARGE_LOAD_W || !live[s->list[i].unit])
			continue;
		if (to->n_steps == RIG_VOLTAGE_MOST_STEPS) {
			to->n_steps_left++;
			continue;
		}
		rig_voltage_step *step = &to->steps[to->n_steps++];
		status = step_to(question, &s->list[i], on, before, step);
		before = &step->state;
	}
	return status;
}

/* By what they draw, then in the order of the list. */
static int compare_draws(const void *left, const void *right)
{
	const appliance *const *a = left, *const *b = right;
	if ((*a)->watts_w != (*b)->watts_w)
		return (*a)->watts_w > (*b)->watts_w ? -1 : 1;
	return *a < *b ? -1 : *a > *b;
}

static int compare_places(const void *left, const void *right)
{
	const appliance *const *a = left, *const *b = right;
	return *a < *b ? -1 : *a > *b;
}

/* Large loads that are not in the set and would draw; of too many those that draw most. In the
 * order of the list. */
static size_t list_outside(const study_case *s, const rig_volts_question *question,
	const bool *set_on, const appliance **outside, rig_voltage_case *to)
{
	size_t n = 0;
	for (size_t i = 0; i < s->n; i++) {
		const appliance *one = &s->list[i];
		if (one->watts_w >= RIG_LARGE_LOAD_W && !set_on[one->unit] &&
			!rig_shore_is_dead(question->supply, &s->c.units[one->unit]))
			outside[n++] = one;
	}
	if (n <= RIG_VOLTAGE_MOST_STEPS)
		return n;
	qsort(outside, n, sizeof(const appliance *), compare_draws);
	qsort(outside, RIG_VOLTAGE_MOST_STEPS, sizeof(const appliance *), compare_places);
	to->n_more_left = n - RIG_VOLTAGE_MOST_STEPS;
	return RIG_VOLTAGE_MOST_STEPS;
}

/* Each of them alone on top of the set, of unknown leg on the leg with more volts. */
static rig_status add_each(const study_case *s, const rig_volts_question *question,
	const bool *set_on, const bool *live, rig_voltage_case *to)
{
	const rig_shore_case *c = &s->c;
	bool *on = rig_arena_take(c->arena, c->n_units, sizeof *on);
	unsigned char *leg = rig_arena_take(c->arena, c->n_units, sizeof *leg);
	const appliance **outside = rig_arena_take(c->arena, s->n, sizeof(const appliance *));
	to->more = rig_arena_take(c->arena, most_steps(s), sizeof *to->more);
	if (!on || !leg || !outside || !to->more)
		return RIG_NO_MEMORY;
	rig_volts_question asked = *question;
	asked.leg = leg;
	const bool second =
		question->supply->n_hots == 2 && to->all.leg_v[1].likely > to->all.leg_v[0].likely;
	const size_t n = list_outside(s, question, set_on, outside, to);
	rig_status status = RIG_OK;
	for (size_t i = 0; status == RIG_OK && i < n; i++) {
		for (size_t k = 0; k < c->n_units; k++) {
			on[k] = live[k];
			leg[k] = live[k] ? question->leg[k] : second;
		}
		status = step_to(&asked, outside[i], on, &to->all, &to->more[to->n_more++]);
	}
	return status;
}

/* One set on one supply. */
static rig_status fill_case(const study_case *s, int set, int supply)
{
	const rig_shore_case *c = &s->c;
	rig_voltage_findings *findings = s->findings;
	rig_voltage_case *to =
		&findings->cases[(size_t)set * findings->shore->n_supplies + (size_t)supply];
	bool *set_on = rig_arena_take(c->arena, c->n_units, sizeof *set_on);
	bool *live = rig_arena_take(c->arena, c->n_units, sizeof *live);
	unsigned char *leg = rig_arena_take(c->arena, c->n_units, sizeof *leg);
	if (!set_on || !live || !leg)
		return RIG_NO_MEMORY;
	const rig_volts_question question = {.c = c,
		.supply = &findings->shore->supplies[supply],
		.path = &findings->paths[supply],
		.limits = findings->utilization,
		.loads = s->loads,
		.leg = leg};
	*to = (rig_voltage_case){.set = set, .supply = supply};
	rig_shore_mark(c, &findings->shore->sets[set], set_on);
	for (size_t i = 0; i < c->n_units; i++)
		live[i] = set_on[i] && !rig_shore_is_dead(question.supply, &c->units[i]);
	rig_status status = rig_shore_deal(c, question.supply, live, leg);
	if (status == RIG_OK)
		status = rig_volts_state(&question, live, &to->all);
	if (status == RIG_OK && !s->verdicts_only)
		status = rig_voltage_doubt(&(voltage_doubt_of){&question, live, &to->all}, to);
	if (status == RIG_OK && !s->verdicts_only)
		status = climb(s, &question, live, to);
	if (status == RIG_OK)
		status = add_each(s, &question, set_on, live, to);
	return status;
}

static rig_status list_cases(study_case *s)
{
	rig_voltage_findings *findings = s->findings;
	const rig_shore_findings *shore = findings->shore;
	rig_status status = list_appliances(s);
	findings->n_cases = shore->n_sets * shore->n_supplies;
	findings->cases = rig_arena_take(s->c.arena, findings->n_cases, sizeof *findings->cases);
	if (status == RIG_OK && !findings->cases)
		status = RIG_NO_MEMORY;
	if (status != RIG_OK)
		return status;
	for (size_t set = 0; status == RIG_OK && set < shore->n_sets; set++)
		for (size_t k = 0; status == RIG_OK && k < shore->n_supplies; k++)
			status = fill_case(s, (int)set, (int)k);
	return status;
}

/* The supply with two hots; -1 if the coach has none. */
static int split_supply(const rig_shore_findings *shore)
{
	for (size_t i = 0; i < shore->n_supplies; i++)
		if (shore->supplies[i].n_hots == 2)
			return (int)i;
	return -1;
}

/* Everything on two hots, wired rightly and in the two wrong ways. A broken neutral that has no
 * steady state is left out. */
static rig_status show_neutral(const study_case *s)
{
	const rig_shore_case *c = &s->c;
	rig_voltage_findings *findings = s->findings;
	const int supply = split_supply(findings->shore);
	bool *on = rig_arena_take(c->arena, c->n_units, sizeof *on);
	unsigned char *leg = rig_arena_take(c->arena, c->n_units, sizeof *leg);
	if (!on || !leg)
		return RIG_NO_MEMORY;
	if (supply < 0 || c->n_units == 0)
		return RIG_OK;
	for (size_t i = 0; i < c->n_units; i++)
		on[i] = true;
	const rig_volts_question question = {.c = c,
		.supply = &findings->shore->supplies[supply],
		.path = &findings->paths[supply],
		.limits = findings->utilization,
		.loads = s->loads,
		.leg = leg};
	rig_status status = rig_shore_deal(c, question.supply, on, leg);
	if (status != RIG_OK)
		return status;
	const rig_feed_ends likely = rig_feed_likely();
	const rig_feed sound_feed = rig_feed_of(question.path, question.supply, &likely);
	rig_feed one_phase = sound_feed;
	rig_feed broken = sound_feed;
	one_phase.kind = RIG_FEED_SAME_PHASE;
	broken.neutral.resistance_ohm = INFINITY;
	rig_feed_state as_wired, same, open;
	if (rig_volts_solve(&question, on, &likely, &sound_feed, &as_wired) == RIG_OK &&
		rig_volts_solve(&question, on, &likely, &one_phase, &same) == RIG_OK &&
		rig_volts_solve(&question, on, &likely, &broken, &open) == RIG_OK)
		findings->neutral = (rig_voltage_neutral){
			true, as_wired.neutral_a, same.neutral_a, {open.leg_v[0], open.leg_v[1]}};
	return RIG_OK;
}

static rig_status study(study_case *s)
{
	rig_status status = rig_shore_units(&s->c);
	s->loads = rig_arena_take(s->c.arena, s->c.n_units, sizeof *s->loads);
	if (status == RIG_OK && !s->loads)
		status = RIG_NO_MEMORY;
	if (status == RIG_OK)
		status = list_paths(s);
	if (status == RIG_OK)
		status = list_cases(s);
	if (status == RIG_OK)
		status = show_neutral(s);
	return status;
}

rig_status rig_voltage_study(const rig_coach *completed, const rig_shore_findings *shore,
	const rig_voltage_options *options, rig_voltage_findings **findings)
{
	if (!rig_feed_is_sound(completed))
		return RIG_BAD_INPUT;
	rig_arena *arena = rig_arena_new();
	holder *held = arena ? rig_arena_take(arena, 1, sizeof *held) : NULL;
	rig_status status = RIG_NO_MEMORY;
	const rig_c84_edition edition = options ? options->edition : RIG_C84_2011;
	if (!held)
		goto out;
	*held = (holder){.arena = arena,
		.findings = {.coach = completed,
			.shore = shore,
			.edition = edition,
			.utilization = rig_c84_utilization(edition),
			.service = rig_c84_service()}};
	study_case s = {.c = rig_shore_case_of(completed, arena),
		.findings = &held->findings,
		.verdicts_only = options && options->verdicts_only};
	status = study(&s);
out:
	if (status == RIG_OK)
		*findings = &held->findings;
	else
		rig_arena_free(arena);
	return status;
}

void rig_voltage_free(rig_voltage_findings *findings)
{
	if (findings)
		rig_arena_free(((holder *)findings)->arena);
}

const char *rig_volts_range_text(rig_volts_range range)
{
	static const char *const TEXT[] = {
		[RIG_VOLTS_RANGE_A] = "within range A",
		[RIG_VOLTS_RANGE_B] = "within range B only",
		[RIG_VOLTS_HIGH] = "above range B",
		[RIG_VOLTS_LOW] = "below range B",
	};
	assert(range <= RIG_VOLTS_LOW);
	return TEXT[range];
}

const char *rig_c84_edition_text(rig_c84_edition edition)
{
	return edition == RIG_C84_1995 ? "1995" : "2011 and later";
}
