/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/solar.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "rigbudget/profile.h"
#include "studies/ladder.h"
#include "studies/solar_doubt.h"
#include "studies/solar_level.h"
#include "studies/solar_measure.h"
#include "studies/solar_need.h"
#include "studies/solar_skies.h"

/* A label's volts and amps are rounded, its watts too. */
static const double LABEL_DIFFERS_FRAC = 0.15;

rig_solar_options rig_solar_defaults(void)
{
	return (rig_solar_options){
		.month = -1, .habit = -1, .n_days = 14, .n_trips = 256, .seed = 1};
}

static bool in_range(const rig_coach *coach, const rig_solar_options *options)
{
	return options->month >= -1 && options->month < RIG_SOLAR_MONTHS && options->habit >= -1 &&
	       options->habit < (long)coach->n_habits && options->n_days >= 1 &&
	       options->n_days <= 60 && options->n_trips >= 100 && options->n_trips <= 100000;
}

/* ---- the claim ---- */

static rig_figure per_array(const rig_array *array, rig_figure a, rig_figure b)
{
	return rig_figure_scale(rig_figure_multiply(a, b), array->count);
}

/* Read off the coach, not filled in. */
static bool is_said(rig_figure figure)
{
	return rig_figure_given(figure) && figure.from != RIG_FROM_PROFILE &&
	       figure.from != RIG_FROM_COMPUTED;
}

/* As many times the panel's watts, with the panel's origin. */
static rig_figure nameplate_of(const rig_array *array)
{
	rig_figure total_w = array->total_w;
	total_w.from = array->watts_w.from;
	total_w.source = array->watts_w.source;
	return total_w;
}

static rig_solar_claim claim_of(const rig_array *array, const rig_solar_array *finding)
{
	const bool from_size = array->kind != NULL && array->watts_w.source != NULL &&
			       array->watts_w.source == array->kind->source;
	const bool sized = rig_figure_given(finding->density_wm2);
	const bool labelled = rig_figure_given(finding->label_w);
	if (sized && from_size)
		return RIG_CLAIM_FROM_SIZE;
	if (sized && finding->density_wm2.low > RIG_SOLAR_DENSITY_MAX_WM2)
		return RIG_CLAIM_TOO_DENSE;
	if (sized && finding->density_wm2.high < RIG_SOLAR_DENSITY_MIN_WM2)
		return RIG_CLAIM_TOO_SPARSE;
	if (labelled && fabs(finding->label_w.likely - finding->total_w.likely) >
				LABEL_DIFFERS_FRAC * finding->total_w.likely)
		return RIG_CLAIM_LABEL_DIFFERS;
	return sized || labelled ? RIG_CLAIM_PLAUSIBLE : RIG_CLAIM_UNCHECKED;
}

static void set_array(
	const rig_coach *coach, int array, const solar_year *year, rig_solar_array *finding)
{
	const rig_array *it = &coach->arrays[array];
	finding->array = array;
	finding->bank = it->bank_index;
	finding->contributes_to_house =
		it->bank_index >= 0 && coach->banks[it->bank_index].role != RIG_CHASSIS;
	finding->total_w = nameplate_of(it);
	if (rig_figure_given(it->length_m) && rig_figure_given(it->width_m)) {
		finding->area_m2 = per_array(it, it->length_m, it->width_m);
		if (finding->area_m2.low > 0)
			finding->density_wm2 = rig_figure_divide(it->total_w, finding->area_m2);
	}
	if (is_said(it->vmp_v) && is_said(it->imp_a))
		finding->label_w = per_array(it, it->vmp_v, it->imp_a);
	finding->claim = claim_of(it, finding);
	memcpy(finding->months, year->months, sizeof finding->months);
}

/* ---- supposed arrays ---- */

/* The coach with other arrays. */
static rig_coach *with_arrays(
	const rig_coach *coach, size_t n_arrays, rig_array *arrays, rig_arena *arena)
{
	rig_coach *copy = rig_arena_take(arena, 1, sizeof *copy);
	if (copy == NULL)
		return NULL;
	*copy = *coach;
	copy->n_arrays = n_arrays;
	copy->arrays = arrays;
	return copy;
}

/* All its arrays on one bank. */
static rig_coach *moved_to(const rig_coach *coach, int bank, rig_arena *arena)
{
	rig_array *arrays = rig_arena_take(arena, coach->n_arrays, sizeof *arrays);
	if (arrays == NULL)
		return NULL;
	for (size_t i = 0; i < coach->n_arrays; i++) {
		arrays[i] = coach->arrays[i];
		arrays[i].bank_index = bank;
	}
	return with_arrays(coach, coach->n_arrays, arrays, arena);
}

/* A new crystalline panel flat on the roof behind a tracker, to say what a bank without an array
 * would take. Losses as the rig file's defaults have them (common practice, no source). */
static rig_coach *with_new_array(const rig_coach *coach, int bank, rig_arena *arena)
{
	rig_array *array = rig_arena_take(arena, 1, sizeof *array);
	const rig_panel_kind *kind = rig_panel_kind_find("crystalline_new");
	if (array == NULL || kind == NULL)
		return NULL;
	*array = (rig_array){
		.id = "new",
		.count = 1,
		.watts_w = rig_figure_of(100.0, RIG_FROM_STATED),
		.total_w = rig_figure_of(100.0, RIG_FROM_STATED),
		.tilt_deg = rig_figure_of(0.0, RIG_FROM_STATED),
		.heading_deg = rig_figure_of(180.0, RIG_FROM_STATED),
		.controller = RIG_MPPT,
		.controller_efficiency_frac = rig_figure_range(0.93, 0.95, 0.98, RIG_FROM_PROFILE),
		.noct_c = kind->noct_c,
		.roof_rise_k = kind->roof_rise_k,
		.temp_coefficient_per_k = kind->temp_coefficient_per_k,
		.shade_frac = rig_figure_range(0.0, 0.05, 0.2, RIG_FROM_PROFILE),
		.losses_frac = rig_figure_range(0.04, 0.08, 0.15, RIG_FROM_PROFILE),
		.kind = kind,
		.bank_index = bank,
	};
	return with_arrays(coach, 1, array, arena);
}

/* ---- banks ---- */

static rig_status years_of(const solar_ground *ground, const rig_coach *coach, solar_year **years)
{
	*years = rig_arena_take(ground->arena, coach->n_arrays, sizeof **years);
	if (*years == NULL)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < coach->n_arrays; i++)
		solar_harvest(coach, (int)i, ground->place, ground->skies, &(*years)[i]);
	return RIG_OK;
}

static rig_status case_of(solar_ground *ground, const rig_coach *coach, int bank, solar_case **made)
{
	solar_year *years = NULL;
	const rig_status status = years_of(ground, coach, &years);
	return status == RIG_OK ? solar_case_of(ground, coach, bank, years, made) : status;
}

static void count_arrays(const rig_coach *coach, rig_solar_bank *finding)
{
	finding->total_w = rig_figure_of(0.0, RIG_FROM_COMPUTED);
	for (size_t i = 0; i < coach->n_arrays; i++) {
		if (coach->arrays[i].bank_index != finding->bank)
			continue;
		finding->total_w = finding->n_arrays == 0 ? coach->arrays[i].total_w
							  : rig_figure_add(finding->total_w,
								    coach->arrays[i].total_w);
		finding->n_arrays++;
	}
}

static void set_bank(const solar_case *it, rig_solar_bank *finding)
{
	const rig_bank *bank = &it->coach->banks[it->bank.bank];
	finding->bank = it->bank.bank;
	finding->role = bank->role;
	count_arrays(it->coach, finding);
	finding->contributes_to_house = it->house && finding->n_arrays > 0;
	finding->n_standing = it->bank.n_standing;
	finding->standing = it->bank.standing;
	finding->standing_wh_day = it->bank.standing_wh_day;
	if (it->house)
		finding->use_wh_day = it->bank.months[it->use_month].use_wh_day;
	finding->usable_wh = bank->usable_wh;
}

static rig_status judge_needs(solar_ground *ground, solar_case *it, rig_solar_bank *finding)
{
	if (it->total_w > 0)
		return solar_needs(it, finding);
	const rig_coach *supposed = with_new_array(it->coach, it->bank.bank, ground->arena);
	solar_case *other = NULL;
	if (supposed == NULL)
		return RIG_NO_MEMORY;
	const rig_status status = case_of(ground, supposed, it->bank.bank, &other);
	return status == RIG_OK ? solar_needs(other, finding) : status;
}

/* Of the levels that are in doubt the lowest stands on the standing draw, the others on the use. */
static rig_status find_measures(
	const solar_ground *ground, const solar_case *it, rig_solar_bank *finding)
{
	const rig_solar_levels level = finding->months[finding->worst_month].level;
	const bool lowest = level.low == RIG_FALLS_SHORT || !it->house;
	const solar_measure_of of = {.coach = it->coach,
		.bank = finding,
		.month = finding->worst_month,
		.habit = ground->options.habit,
		.with_use = !lowest,
		.arena = ground->arena};
	return solar_measures(&of, &finding->n_measures, &finding->measures);
}

static rig_status judge_bank(solar_ground *ground, solar_case *it, rig_solar_bank *finding)
{
	set_bank(it, finding);
	rig_status status = solar_levels(it, finding);
	if (status == RIG_OK)
		status = judge_needs(ground, it, finding);
	if (status == RIG_OK)
		status = solar_ladder(it, finding);
	return status == RIG_OK ? find_measures(ground, it, finding) : status;
}

/* ---- the study ---- */

typedef struct {
	rig_solar_findings findings; /* first, so that it can be freed by it */
	rig_arena *arena;
} owned;

static bool larger(const rig_solar_bank *a, const rig_solar_bank *b)
{
	if (a->contributes_to_house != b->contributes_to_house)
		return a->contributes_to_house;
	return a->total_w.likely > b->total_w.likely;
}

static void set_main_bank(rig_solar_findings *findings)
{
	findings->main_bank = -1;
	for (size_t i = 0; i < findings->n_banks; i++) {
		const rig_solar_bank *bank = &findings->banks[i];
		if (bank->n_arrays == 0)
			continue;
		if (findings->main_bank < 0 || larger(bank, &findings->banks[findings->main_bank]))
			findings->main_bank = (int)i;
		findings->contributes_to_house =
			findings->contributes_to_house || bank->contributes_to_house;
	}
}

/* The house bank that holds most; -1 if there is none. */
static int house_bank(const rig_coach *coach)
{
	int house = -1;
	for (int i = 0; i < (int)coach->n_banks; i++)
		if (coach->banks[i].role != RIG_CHASSIS &&
			(house < 0 || coach->banks[i].usable_wh.likely >
					      coach->banks[house].usable_wh.likely))
			house = i;
	return house;
}

static bool feeds_chassis(const rig_coach *coach)
{
	for (size_t i = 0; i < coach->n_arrays; i++)
		if (coach->arrays[i].bank_index >= 0 &&
			coach->banks[coach->arrays[i].bank_index].role == RIG_CHASSIS)
			return true;
	return false;
}

static rig_status judge_moved(
	solar_ground *ground, const rig_coach *coach, rig_solar_findings *findings)
{
	const int house = house_bank(coach);
	if (house < 0 || !feeds_chassis(coach))
		return RIG_OK;
	solar_case *it = NULL;
	const rig_coach *moved = moved_to(coach, house, ground->arena);
	findings->moved = rig_arena_take(ground->arena, 1, sizeof *findings->moved);
	if (moved == NULL || findings->moved == NULL)
		return RIG_NO_MEMORY;
	const rig_status status = case_of(ground, moved, house, &it);
	return status == RIG_OK ? judge_bank(ground, it, findings->moved) : status;
}

static rig_status judge_all(solar_ground *ground, rig_solar_findings *findings)
{
	const rig_coach *coach = findings->coach;
	solar_year *years = NULL;
	rig_status status = years_of(ground, coach, &years);
	if (status != RIG_OK)
		return status;
	for (size_t i = 0; i < coach->n_arrays; i++)
		set_array(coach, (int)i, &years[i], &findings->arrays[i]);
	for (size_t i = 0; status == RIG_OK && i < coach->n_banks; i++) {
		solar_case *it = NULL;
		status = solar_case_of(ground, coach, (int)i, years, &it);
		if (status == RIG_OK)
			status = judge_bank(ground, it, &findings->banks[i]);
	}
	set_main_bank(findings);
	return status == RIG_OK ? judge_moved(ground, coach, findings) : status;
}

static owned *owned_new(const rig_coach *coach)
{
	owned *made = calloc(1, sizeof *made);
	if (made == NULL)
		return NULL;
	rig_solar_findings *findings = &made->findings;
	made->arena = rig_arena_new();
	if (made->arena != NULL) {
		findings->n_arrays = coach->n_arrays;
		findings->n_banks = coach->n_banks;
		findings->arrays =
			rig_arena_take(made->arena, coach->n_arrays, sizeof *findings->arrays);
		findings->banks =
			rig_arena_take(made->arena, coach->n_banks, sizeof *findings->banks);
	}
	if (made->arena == NULL || findings->arrays == NULL || findings->banks == NULL) {
		rig_solar_free(findings);
		return NULL;
	}
	return made;
}

static rig_status judge_at(const rig_solar_options *options, owned *made)
{
	rig_solar_findings *findings = &made->findings;
	solar_ground ground = {
		.place = &findings->place, .options = *options, .arena = made->arena};
	ground.skies = solar_skies_months(options->skies, ground.place, options);
	return ground.skies != NULL ? judge_all(&ground, findings) : RIG_NO_MEMORY;
}

rig_status rig_solar_study(const rig_coach *completed, const rig_place *place,
	const rig_solar_options *options, rig_solar_findings **findings)
{
	rig_solar_options chosen = options != NULL ? *options : rig_solar_defaults();
	if (!in_range(completed, &chosen))
		return RIG_BAD_INPUT;
	rig_solar_skies *own = chosen.skies == NULL ? rig_solar_skies_new() : NULL;
	if (chosen.skies == NULL)
		chosen.skies = own;
	owned *made = chosen.skies != NULL ? owned_new(completed) : NULL;
	rig_status status = made != NULL ? RIG_OK : RIG_NO_MEMORY;
	if (status == RIG_OK) {
		made->findings.coach = completed;
		made->findings.place = *place;
		made->findings.options = chosen;
		made->findings.options.skies = NULL;
		made->findings.year_scatter_frac = solar_year_scatter_frac();
		status = judge_at(&chosen, made);
	}
	if (status == RIG_OK)
		*findings = &made->findings;
	else if (made != NULL)
		rig_solar_free(&made->findings);
	rig_solar_skies_free(own);
	return status;
}

void rig_solar_free(rig_solar_findings *findings)
{
	if (findings == NULL)
		return;
	owned *made = (owned *)(void *)findings;
	rig_arena_free(made->arena);
	free(made);
}
