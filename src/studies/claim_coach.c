/* SPDX-License-Identifier: GPL-3.0-or-later */
/* claim_coach.c: the coach as a claim supposes it, made beside the coach. */
#include <math.h>
#include <string.h>

#include "rigbudget/trip.h"
#include "studies/claim_model.h"
#include "studies/solar_bank.h"

int claim_house_bank(const rig_coach *coach)
{
	int house = -1;
	for (int i = 0; i < (int)coach->n_banks; i++)
		if (coach->banks[i].role != RIG_CHASSIS &&
			(house < 0 || coach->banks[i].usable_wh.likely >
					      coach->banks[house].usable_wh.likely))
			house = i;
	return house;
}

int claim_habit(const claim_ground *ground, const rig_claim *claim)
{
	return claim->n_loads > 0 ? 0 : ground->options.habit;
}

/* A load's use under the habit that was chosen, else its own. */
static rig_use use_of(const claim_ground *ground, int load)
{
	const rig_coach *coach = ground->coach;
	const rig_load *own = &coach->loads[load];
	rig_use use;
	rig_use_clear(&use);
	use.load = own->id;
	use.load_index = load;
	use.daily_use_h = own->daily_use_h;
	use.from_hour = own->from_hour;
	use.to_hour = own->to_hour;
	const int habit = ground->options.habit;
	for (size_t i = 0; habit >= 0 && i < coach->habits[habit].n_use; i++) {
		const rig_use *chosen = &coach->habits[habit].use[i];
		if (chosen->load_index != load)
			continue;
		if (rig_figure_given(chosen->daily_use_h))
			use.daily_use_h = chosen->daily_use_h;
		if (chosen->from_hour >= 0) {
			use.from_hour = chosen->from_hour;
			use.to_hour = chosen->to_hour;
		}
	}
	return use;
}

/* Nothing but the loads of the claim. */
static bool set_habit(const claim_ground *ground, const rig_claim *claim,
	const claim_changes *changes, rig_coach *made)
{
	rig_habit *habit = rig_arena_take(ground->arena, 1, sizeof *habit);
	if (habit == NULL)
		return false;
	*habit = (rig_habit){.name = "claim", .only = RIG_YES, .n_use = claim->n_loads};
	habit->use = rig_arena_take(ground->arena, claim->n_loads, sizeof *habit->use);
	if (habit->use == NULL)
		return false;
	for (size_t i = 0; i < claim->n_loads; i++) {
		habit->use[i] = use_of(ground, claim->load_index[i]);
		if (changes->all_day) {
			habit->use[i].daily_use_h = rig_figure_of(24.0, RIG_FROM_STATED);
			habit->use[i].from_hour = habit->use[i].to_hour = -1;
		}
	}
	made->habits = habit;
	made->n_habits = 1;
	return true;
}

/* A usual inverter on the house bank, where there is none. */
static void set_inverter(rig_coach *made)
{
	rig_inverter *inverter = &made->inverter;
	if (inverter->present)
		return;
	const solar_inverter usual = solar_inverter_of(made);
	*inverter = (rig_inverter){.present = true,
		.watts_w = rig_figure_of(usual.rated_w, RIG_FROM_PROFILE),
		.idle_w = rig_figure_scale(usual.fixed_frac, usual.rated_w),
		.loss_fixed_frac = usual.fixed_frac,
		.loss_linear_frac = usual.linear_frac,
		.loss_square_frac = usual.square_frac,
		.always_on = RIG_NO,
		.bank_index = claim_house_bank(made)};
	if (inverter->bank_index >= 0)
		inverter->bank = made->banks[inverter->bank_index].id;
}

/* Its AC loads on the inverter, and that large enough for the largest. */
static bool feed_loads(const claim_ground *ground, const rig_claim *claim, rig_coach *made)
{
	rig_load *loads = rig_arena_take(ground->arena, made->n_loads, sizeof *loads);
	if (loads == NULL)
		return false;
	memcpy(loads, made->loads, made->n_loads * sizeof *loads);
	made->loads = loads;
	bool any = false;
	double most_w = 0;
	for (size_t i = 0; i < claim->n_loads; i++) {
		rig_load *load = &loads[claim->load_index[i]];
		if (load->supply != RIG_AC)
			continue;
		load->inverter = RIG_YES;
		most_w = fmax(most_w, load->running_w.likely * load->count);
		any = true;
	}
	if (any)
		set_inverter(made);
	if (any && made->inverter.watts_w.likely < most_w)
		made->inverter.watts_w = rig_figure_of(most_w, RIG_FROM_COMPUTED);
	return true;
}

static bool move_arrays(const claim_ground *ground, int bank, rig_coach *made)
{
	rig_array *arrays = rig_arena_take(ground->arena, made->n_arrays, sizeof *arrays);
	if (arrays == NULL)
		return false;
	for (size_t i = 0; i < made->n_arrays; i++) {
		arrays[i] = made->arrays[i];
		arrays[i].bank_index = bank;
	}
	made->arrays = arrays;
	return true;
}

rig_coach *claim_coach(
	const claim_ground *ground, const rig_claim *claim, const claim_changes *changes)
{
	rig_coach *made = rig_arena_take(ground->arena, 1, sizeof *made);
	if (made == NULL)
		return NULL;
	*made = *ground->coach;
	if (claim->n_loads > 0 && !set_habit(ground, claim, changes, made))
		return NULL;
	if (changes->feed && !feed_loads(ground, claim, made))
		return NULL;
	if (changes->no_arrays)
		made->n_arrays = 0;
	else if (changes->arrays_on >= 0 && !move_arrays(ground, changes->arrays_on, made))
		return NULL;
	return made;
}

static uint32_t reason_of(rig_away away)
{
	switch (away) {
	case RIG_NEEDS_HOOKUPS:
		return RIG_CLAIM_NOT_FED;
	case RIG_NEEDS_INVERTER:
		return RIG_CLAIM_NO_INVERTER;
	case RIG_EXCEEDS_INVERTER:
		return RIG_CLAIM_INVERTER_SMALL;
	case RIG_HAS_NO_BANK:
		return RIG_CLAIM_NO_BANK;
	case RIG_RUNS_ON_BANK:
	case RIG_RUNS_ON_INVERTER:
	case RIG_OFF_IN_HABIT:
		break;
	}
	return 0;
}

/* An AC load on a coach without an inverter lacks that, whatever its circuit says. */
static uint32_t lack_of(const rig_coach *coach, int load)
{
	const uint32_t reason = reason_of(rig_load_away(coach, load, -1));
	return reason == RIG_CLAIM_NOT_FED && !coach->inverter.present
		       ? (uint32_t)RIG_CLAIM_NO_INVERTER
		       : reason;
}

rig_status claim_note_lacking(
	const claim_ground *ground, const rig_claim *claim, rig_claim_finding *finding)
{
	const rig_coach *coach = ground->coach;
	const bool all = claim->n_loads == 0;
	const size_t n = all ? coach->n_loads : claim->n_loads;
	finding->lacking = rig_arena_take(ground->arena, n, sizeof *finding->lacking);
	if (finding->lacking == NULL)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < n; i++) {
		const int load = all ? (int)i : claim->load_index[i];
		const uint32_t reason = lack_of(coach, load);
		if (reason == 0)
			continue;
		finding->lacking[finding->n_lacking++] = load;
		finding->reasons |= all ? (uint32_t)RIG_CLAIM_LOADS_LEFT_OUT : reason;
	}
	return RIG_OK;
}
