/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The solar findings as JSON: keys are the names of the fields of solar.h. */
#include "writer.h"

static const char *const LEVEL_KEY[RIG_N_SOLAR_LEVELS] = {
	"falls_short", "maintains", "extends", "carries"};
static const char *const DOUBT_KEY[RIG_N_SOLAR_DOUBTS] = {"watts", "losses", "place", "year"};

static void put_levels(rig_writer *writer, cJSON *parent, const char *key, rig_solar_levels levels)
{
	cJSON *object = rig_json_add_object(&writer->maker, parent, key);
	rig_json_add_text(&writer->maker, object, "low", LEVEL_KEY[levels.low]);
	rig_json_add_text(&writer->maker, object, "likely", LEVEL_KEY[levels.likely]);
	rig_json_add_text(&writer->maker, object, "high", LEVEL_KEY[levels.high]);
}

static void put_doubts(rig_writer *writer, cJSON *parent, const rig_figure *doubts)
{
	cJSON *object = rig_json_add_object(&writer->maker, parent, "doubt_wh_day");
	for (int i = 0; i < RIG_N_SOLAR_DOUBTS; i++)
		rig_put_figure(writer, object, DOUBT_KEY[i], doubts[i], "Wh/day");
}

static void put_array_month(rig_writer *writer, cJSON *list, const rig_solar_array_month *month)
{
	cJSON *object = rig_json_add_object(&writer->maker, list, NULL);
	rig_put_figure(writer, object, "harvest_wh_day", month->harvest_wh_day, "Wh/day");
	rig_put_figure(writer, object, "harvest_ah_day", month->harvest_ah_day, "Ah/day");
	put_doubts(writer, object, month->doubt_wh_day);
	rig_put_number(writer, object, "clear_wh_day", month->clear_wh_day);
	rig_put_number(writer, object, "plane_kwh_m2_day", month->plane_kwh_m2_day);
	rig_put_number(writer, object, "noon_cell_c", month->noon_cell_c);
	rig_put_number(writer, object, "at_bank_frac", month->at_bank_frac);
	rig_put_number(writer, object, "limited_frac", month->limited_frac);
}

static void put_array(rig_writer *writer, cJSON *list, const rig_solar_array *array)
{
	static const char *const CLAIM[] = {
		"unchecked", "from_size", "plausible", "too_dense", "too_sparse", "label_differs"};
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, list, NULL);
	rig_json_add_text(maker, object, "array", writer->coach->arrays[array->array].id);
	rig_json_add_text(maker, object, "bank",
		array->bank < 0 ? NULL : writer->coach->banks[array->bank].id);
	rig_json_add_truth(maker, object, "contributes_to_house", array->contributes_to_house);
	rig_put_figure(writer, object, "total_w", array->total_w, "W");
	rig_put_figure(writer, object, "area_m2", array->area_m2, "m2");
	rig_put_figure(writer, object, "density_wm2", array->density_wm2, "W/m2");
	rig_put_figure(writer, object, "label_w", array->label_w, "W");
	rig_json_add_text(maker, object, "claim", CLAIM[array->claim]);
	cJSON *months = rig_json_add_array(maker, object, "months");
	for (int i = 0; i < RIG_SOLAR_MONTHS; i++)
		put_array_month(writer, months, &array->months[i]);
}

static void put_bank_month(rig_writer *writer, cJSON *list, const rig_solar_bank_month *month)
{
	cJSON *object = rig_json_add_object(&writer->maker, list, NULL);
	rig_put_figure(writer, object, "harvest_wh_day", month->harvest_wh_day, "Wh/day");
	rig_put_figure(writer, object, "harvest_ah_day", month->harvest_ah_day, "Ah/day");
	put_doubts(writer, object, month->doubt_wh_day);
	rig_put_number(writer, object, "clear_wh_day", month->clear_wh_day);
	rig_put_figure(writer, object, "use_wh_day", month->use_wh_day, "Wh/day");
	rig_put_figure(writer, object, "spare_wh_day", month->spare_wh_day, "Wh/day");
	rig_put_figure(writer, object, "standing_ratio", month->standing_ratio, "1");
	put_levels(writer, object, "level", month->level);
	rig_put_figure(writer, object, "days_without", month->days_without, "days");
	rig_put_figure(writer, object, "days_with", month->days_with, "days");
	rig_put_figure(writer, object, "run_out_frac", month->run_out_frac, "1");
	rig_put_index(writer, object, "n_trips_run", month->n_trips_run);
	rig_json_add_truth(&writer->maker, object, "bank_too_small", month->bank_too_small);
}

static void put_standing(rig_writer *writer, cJSON *parent, const rig_solar_bank *bank)
{
	static const char *const KIND[] = {"load", "inverter", "self_discharge"};
	cJSON *list = rig_json_add_array(&writer->maker, parent, "standing");
	for (size_t i = 0; i < bank->n_standing; i++) {
		const rig_standing_item *item = &bank->standing[i];
		cJSON *object = rig_json_add_object(&writer->maker, list, NULL);
		rig_json_add_text(&writer->maker, object, "kind", KIND[item->kind]);
		rig_json_add_text(&writer->maker, object, "load",
			item->load < 0 ? NULL : writer->coach->loads[item->load].id);
		rig_put_figure(writer, object, "wh_day", item->wh_day, "Wh/day");
	}
}

static void put_needs(rig_writer *writer, cJSON *parent, const rig_solar_bank *bank)
{
	cJSON *list = rig_json_add_array(&writer->maker, parent, "needs");
	for (size_t i = 0; i < bank->n_needs; i++) {
		const rig_solar_need *need = &bank->needs[i];
		cJSON *object = rig_json_add_object(&writer->maker, list, NULL);
		rig_json_add_text(&writer->maker, object, "level", LEVEL_KEY[need->level]);
		rig_json_add_truth(&writer->maker, object, "reached", need->reached);
		rig_put_index(writer, object, "worst_month", need->worst_month + 1L);
		rig_put_figure(writer, object, "worst_w", need->worst_w, "W");
		rig_put_index(writer, object, "best_month", need->best_month + 1L);
		rig_put_figure(writer, object, "best_w", need->best_w, "W");
	}
}

static void put_carried(
	rig_writer *writer, cJSON *parent, const char *key, const rig_carried carried[12])
{
	static const char *const CARRIED[] = {"cannot", "may", "can"};
	cJSON *list = rig_json_add_array(&writer->maker, parent, key);
	for (int i = 0; i < RIG_SOLAR_MONTHS; i++)
		rig_json_add_text(&writer->maker, list, NULL, CARRIED[carried[i]]);
}

/* By month, one list for each end: twelve figures written out would fill a page a rung. */
static void put_ratios(rig_writer *writer, cJSON *parent, const rig_figure ratio[12])
{
	double low[12];
	double likely[12];
	double high[12];
	for (int i = 0; i < RIG_SOLAR_MONTHS; i++) {
		low[i] = ratio[i].low;
		likely[i] = ratio[i].likely;
		high[i] = ratio[i].high;
	}
	cJSON *object = rig_json_add_object(&writer->maker, parent, "covered_ratio");
	rig_put_numbers(writer, object, "low", RIG_SOLAR_MONTHS, low);
	rig_put_numbers(writer, object, "likely", RIG_SOLAR_MONTHS, likely);
	rig_put_numbers(writer, object, "high", RIG_SOLAR_MONTHS, high);
	rig_json_add_text(&writer->maker, object, "unit", "1");
	rig_json_add_text(&writer->maker, object, "from", rig_origin_text(RIG_FROM_COMPUTED));
}

static void put_rung(rig_writer *writer, cJSON *list, const rig_rung *rung)
{
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, list, NULL);
	rig_json_add_text(maker, object, "id", rung->id);
	rig_json_add_text(maker, object, "name", rung->name);
	rig_json_add_truth(maker, object, "own", rung->load >= 0);
	rig_put_figure(writer, object, "running_w", rung->running_w, "W");
	rig_put_figure(writer, object, "use_h_day", rung->use_h_day, "h/day");
	rig_put_figure(writer, object, "duty_frac", rung->duty_frac, "1");
	rig_put_figure(writer, object, "wh_day", rung->wh_day, "Wh/day");
	rig_json_add_truth(maker, object, "by_weather", rung->by_weather);
	cJSON *months = rig_json_add_array(maker, object, "month_wh_day");
	for (int m = 0; rung->wh_day.from != RIG_FROM_NOTHING && m < RIG_SOLAR_MONTHS; m++)
		rig_put_figure(writer, months, NULL, rung->month_wh_day[m], "Wh/day");
	rig_json_add_truth(maker, object, "through_inverter", rung->through_inverter);
	rig_json_add_truth(maker, object, "inverter_too_small", rung->inverter_too_small);
	rig_json_add_truth(maker, object, "always_on", rung->always_on);
	put_ratios(writer, object, rung->covered_ratio);
	put_carried(writer, object, "carried", rung->carried);
	rig_put_figure(writer, object, "own_together_wh_day", rung->own_together_wh_day, "Wh/day");
	put_carried(writer, object, "own_together", rung->own_together);
}

static void put_bank(rig_writer *writer, cJSON *object, const rig_solar_bank *bank)
{
	rig_json_maker *maker = &writer->maker;
	rig_json_add_text(maker, object, "bank", writer->coach->banks[bank->bank].id);
	rig_json_add_text(maker, object, "role", bank->role == RIG_CHASSIS ? "chassis" : "house");
	rig_put_index(writer, object, "n_arrays", (long)bank->n_arrays);
	rig_put_figure(writer, object, "total_w", bank->total_w, "W");
	rig_json_add_truth(maker, object, "contributes_to_house", bank->contributes_to_house);
	put_standing(writer, object, bank);
	rig_put_figure(writer, object, "standing_wh_day", bank->standing_wh_day, "Wh/day");
	rig_put_figure(writer, object, "use_wh_day", bank->use_wh_day, "Wh/day");
	rig_put_figure(writer, object, "usable_wh", bank->usable_wh, "Wh");
	cJSON *months = rig_json_add_array(maker, object, "months");
	for (int i = 0; i < RIG_SOLAR_MONTHS; i++)
		put_bank_month(writer, months, &bank->months[i]);
	put_levels(writer, object, "overall", bank->overall);
	rig_put_index(writer, object, "worst_month", bank->worst_month + 1L);
	rig_put_index(writer, object, "best_month", bank->best_month + 1L);
	put_needs(writer, object, bank);
	rig_put_measures(writer, object, bank->n_measures, bank->measures);
	cJSON *rungs = rig_json_add_array(maker, object, "rungs");
	for (size_t i = 0; i < bank->n_rungs; i++)
		put_rung(writer, rungs, &bank->rungs[i]);
}

void rig_solar_data(rig_writer *writer, const rig_solar_findings *findings)
{
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, rig_document_data(writer->document), "solar");
	rig_put_place(writer, object, &findings->place);
	cJSON *options = rig_json_add_object(maker, object, "options");
	if (findings->options.month < 0)
		rig_json_add_null(maker, options, "month");
	else
		rig_put_index(writer, options, "month", findings->options.month + 1L);
	rig_json_add_text(maker, options, "habit",
		findings->options.habit < 0 ? NULL
					    : writer->coach->habits[findings->options.habit].name);
	rig_put_index(writer, options, "n_days", findings->options.n_days);
	rig_put_index(writer, options, "n_trips", findings->options.n_trips);
	rig_put_index(writer, options, "seed", (long)findings->options.seed);
	rig_put_number(writer, object, "year_scatter_frac", findings->year_scatter_frac);
	rig_json_add_truth(maker, object, "contributes_to_house", findings->contributes_to_house);
	rig_json_add_text(maker, object, "main_bank",
		findings->main_bank < 0
			? NULL
			: writer->coach->banks[findings->banks[findings->main_bank].bank].id);
	cJSON *arrays = rig_json_add_array(maker, object, "arrays");
	for (size_t i = 0; i < findings->n_arrays; i++)
		put_array(writer, arrays, &findings->arrays[i]);
	cJSON *banks = rig_json_add_array(maker, object, "banks");
	for (size_t i = 0; i < findings->n_banks; i++)
		put_bank(writer, rig_json_add_object(maker, banks, NULL), &findings->banks[i]);
	const rig_solar_bank *moved = findings->moved;
	if (moved == NULL)
		rig_json_add_null(maker, object, "moved");
	else
		put_bank(writer, rig_json_add_object(maker, object, "moved"), moved);
}
