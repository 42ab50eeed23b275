/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The findings about shedding as JSON: keys are the names of the fields of shed.h. */
#include "writer.h"

#include <math.h>

/* What is without end is null. */
static void put_maybe_endless(rig_writer *writer, cJSON *parent, const char *key, double value)
{
	if (isinf(value))
		rig_json_add_null(&writer->maker, parent, key);
	else
		rig_put_number(writer, parent, key, value);
}

/* Where nothing cools or heats the coach, its warmth is not followed. */
static void put_maybe_no_zone(rig_writer *writer, cJSON *parent, double indoor_c)
{
	if (isnan(indoor_c))
		rig_json_add_null(&writer->maker, parent, "indoor_c");
	else
		rig_put_number(writer, parent, "indoor_c", indoor_c);
}

static const char *load_id(const rig_writer *writer, int load)
{
	return load < 0 ? "charger" : writer->coach->loads[load].id;
}

static void put_spread(
	rig_writer *writer, cJSON *parent, const char *key, const rig_shed_spread *spread)
{
	cJSON *object = rig_json_add_object(&writer->maker, parent, key);
	rig_put_number(writer, object, "mean", spread->mean);
	rig_put_number(writer, object, "p50", spread->p50);
	rig_put_number(writer, object, "p90", spread->p90);
	rig_put_number(writer, object, "most", spread->most);
}

static void put_load(rig_writer *writer, cJSON *array, const rig_shed_load *load)
{
	static const char *const BEHAVIOUR[] = {
		"steady", "used", "cools", "heats", "water", "cabinet", "charges", "idle"};
	cJSON *object = rig_json_add_object(&writer->maker, array, NULL);
	rig_json_add_text(&writer->maker, object, "load", load_id(writer, load->load));
	rig_json_add_text(&writer->maker, object, "behaviour", BEHAVIOUR[load->behaviour]);
	rig_put_index(writer, object, "hot", load->hot);
	rig_json_add_truth(&writer->maker, object, "dead", load->dead);
	rig_json_add_truth(&writer->maker, object, "unfed", load->unfed);
	rig_put_index(writer, object, "rank", load->rank);
	rig_put_number(writer, object, "watts_w", load->watts_w);
	rig_put_number(writer, object, "amps_a", load->amps_a);
	rig_put_number(writer, object, "wanted_wh_day", load->wanted_wh_day);
	rig_put_number(writer, object, "served_wh_day", load->served_wh_day);
	rig_put_number(writer, object, "withheld_wh_day", load->withheld_wh_day);
	put_spread(writer, object, "drops", &load->drops);
	put_spread(writer, object, "lost_minutes", &load->lost_minutes);
	rig_put_number(writer, object, "degree_h_day", load->degree_h_day);
	rig_put_number(writer, object, "free_degree_h_day", load->free_degree_h_day);
	rig_put_number(writer, object, "litres_day", load->litres_day);
	rig_put_number(writer, object, "cold_litres_day", load->cold_litres_day);
	rig_put_number(writer, object, "free_cold_litres_day", load->free_cold_litres_day);
	rig_put_number(writer, object, "discomfort_day", load->discomfort_day);
}

static void put_options(rig_writer *writer, cJSON *parent, const rig_shed_options *options)
{
	static const char *const WEATHER[] = {"hot", "mild", "cold", "own"};
	cJSON *object = rig_json_add_object(&writer->maker, parent, "options");
	rig_json_add_text(&writer->maker, object, "supply", options->supply);
	rig_json_add_text(&writer->maker, object, "weather", WEATHER[options->weather]);
	rig_put_number(writer, object, "charge_from_hour", options->charge_from_hour);
	rig_put_number(writer, object, "deficit_frac", options->deficit_frac);
	rig_json_add_text(&writer->maker, object, "habit",
		options->habit < 0 ? NULL : writer->coach->habits[options->habit].name);
	rig_put_index(writer, object, "end", options->end);
	rig_put_index(writer, object, "n_order_days", (long)options->n_order_days);
	rig_put_number(writer, object, "seed", (double)options->seed);
}

static void put_manager(rig_writer *writer, cJSON *parent, const rig_shed_manager *manager)
{
	cJSON *object = rig_json_add_object(&writer->maker, parent, "manager");
	rig_json_add_truth(&writer->maker, object, "present", manager->present);
	rig_json_add_truth(&writer->maker, object, "own_order", manager->own_order);
	rig_put_number(writer, object, "limit_a", manager->limit_a);
	rig_put_number(writer, object, "sensing_delay_s", manager->sensing_delay_s);
	rig_put_number(writer, object, "drop_interval_s", manager->drop_interval_s);
	rig_put_number(writer, object, "restore_delay_s", manager->restore_delay_s);
	rig_put_number(writer, object, "restore_interval_s", manager->restore_interval_s);
	rig_put_number(writer, object, "minimum_off_s", manager->minimum_off_s);
	rig_put_index(writer, object, "most_drops", manager->most_drops);
	rig_put_number(writer, object, "reset_s", manager->reset_s);
}

static void put_hots(rig_writer *writer, cJSON *parent, const rig_shed_findings *findings)
{
	cJSON *array = rig_json_add_array(&writer->maker, parent, "hots");
	for (int i = 0; i < findings->n_hots; i++) {
		const rig_shed_hot *hot = &findings->hot[i];
		cJSON *object = rig_json_add_object(&writer->maker, array, NULL);
		rig_put_number(writer, object, "peak_a", hot->peak_a);
		rig_put_number(writer, object, "p95_a", hot->p95_a);
		rig_put_number(writer, object, "mean_a", hot->mean_a);
		rig_put_number(writer, object, "over_s_day", hot->over_s_day);
		rig_put_number(writer, object, "longest_over_s", hot->longest_over_s);
		rig_put_number(writer, object, "helpless_s_day", hot->helpless_s_day);
	}
}

/* Null where the volts are not known. */
static void put_volts(rig_writer *writer, cJSON *parent, const rig_shed_findings *findings)
{
	if (!findings->has_volts) {
		rig_json_add_null(&writer->maker, parent, "volts");
		return;
	}
	cJSON *array = rig_json_add_array(&writer->maker, parent, "volts");
	for (int i = 0; i < findings->n_hots; i++) {
		const rig_shed_volts *volts = &findings->volts[i];
		cJSON *object = rig_json_add_object(&writer->maker, array, NULL);
		rig_put_figure(writer, object, "lowest_v", volts->lowest_v, "V");
		rig_put_number(writer, object, "p05_v", volts->p05_v);
		rig_put_number(writer, object, "mean_v", volts->mean_v);
		rig_put_number(writer, object, "below_a_s_day", volts->below_a_s_day);
		rig_put_number(writer, object, "below_b_s_day", volts->below_b_s_day);
		rig_put_number(writer, object, "compressor_low_s_day", volts->compressor_low_s_day);
		rig_put_number(writer, object, "compressor_low_days_frac",
			volts->compressor_low_days_frac);
	}
	cJSON *path = rig_json_add_object(&writer->maker, parent, "path");
	rig_put_figure(writer, path, "open_v", findings->path.open_v, "V");
	rig_put_figure(writer, path, "source_ohm", findings->path.source_ohm, "ohm");
	rig_put_figure(writer, path, "total_ohm", findings->path.total_ohm, "ohm");
}

static void put_breakers(rig_writer *writer, cJSON *parent, const rig_shed_findings *findings)
{
	static const char *const KIND[RIG_N_BREAKERS] = {"early", "usual", "late"};
	cJSON *array = rig_json_add_array(&writer->maker, parent, "breakers");
	for (int i = 0; i < RIG_N_BREAKERS; i++) {
		const rig_shed_breaker *breaker = &findings->breaker[i];
		cJSON *object = rig_json_add_object(&writer->maker, array, NULL);
		rig_json_add_text(&writer->maker, object, "kind", KIND[i]);
		rig_put_number(writer, object, "rating_a", breaker->breaker.rating_a);
		rig_put_number(writer, object, "trips_day", breaker->trips_day);
		rig_put_number(writer, object, "days_frac", breaker->days_frac);
		put_maybe_endless(writer, object, "soonest_trip_s", breaker->soonest_trip_s);
	}
}

static void put_order(
	rig_writer *writer, cJSON *parent, const char *key, const rig_shed_order *order)
{
	if (order->n == 0) {
		rig_json_add_null(&writer->maker, parent, key);
		return;
	}
	cJSON *object = rig_json_add_object(&writer->maker, parent, key);
	cJSON *array = rig_json_add_array(&writer->maker, object, "order");
	for (size_t i = 0; i < order->n; i++)
		rig_json_add_text(&writer->maker, array, NULL, load_id(writer, order->load[i]));
	rig_put_number(writer, object, "discomfort_day", order->discomfort_day);
	rig_put_number(writer, object, "rest_discomfort_day", order->rest_discomfort_day);
	rig_put_number(writer, object, "lost_minutes_day", order->lost_minutes_day);
	rig_put_number(writer, object, "drops_day", order->drops_day);
}

static void put_moves(rig_writer *writer, cJSON *parent, const rig_shed_findings *findings)
{
	cJSON *array = rig_json_add_array(&writer->maker, parent, "moves");
	for (size_t i = 0; i < findings->n_moves; i++) {
		const rig_shed_move *move = &findings->moves[i];
		cJSON *object = rig_json_add_object(&writer->maker, array, NULL);
		rig_json_add_text(&writer->maker, object, "load", load_id(writer, move->load));
		rig_put_index(writer, object, "from", move->from);
		rig_put_index(writer, object, "to", move->to);
	}
}

static void put_spans(rig_writer *writer, cJSON *parent, const rig_shed_findings *findings)
{
	static const char *const STATE[] = {"runs", "held_off", "dropped"};
	cJSON *array = rig_json_add_array(&writer->maker, parent, "spans");
	for (size_t i = 0; i < findings->shown.n_spans; i++) {
		const rig_shed_span *span = &findings->shown.spans[i];
		cJSON *object = rig_json_add_object(&writer->maker, array, NULL);
		rig_json_add_text(&writer->maker, object, "load",
			load_id(writer, findings->loads[span->load].load));
		rig_json_add_text(&writer->maker, object, "state", STATE[span->state]);
		rig_put_number(writer, object, "from_s", span->from_s);
		rig_put_number(writer, object, "to_s", span->to_s);
	}
}

static void put_points(rig_writer *writer, cJSON *parent, const rig_shed_findings *findings)
{
	const rig_shed_shown *shown = &findings->shown;
	cJSON *points = rig_json_add_array(&writer->maker, parent, "points");
	for (size_t i = 0; i < shown->n_points; i++) {
		cJSON *object = rig_json_add_object(&writer->maker, points, NULL);
		rig_put_number(writer, object, "at_s", shown->points[i].at_s);
		rig_put_numbers(writer, object, "amps_a", (size_t)findings->n_hots,
			shown->points[i].amps_a);
		if (findings->has_volts)
			rig_put_numbers(writer, object, "volts_v", (size_t)findings->n_hots,
				shown->points[i].volts_v);
	}
	cJSON *weather = rig_json_add_array(&writer->maker, parent, "weather");
	for (size_t i = 0; i < shown->n_weather; i++) {
		cJSON *object = rig_json_add_object(&writer->maker, weather, NULL);
		rig_put_number(writer, object, "at_s", shown->weather[i].at_s);
		rig_put_number(writer, object, "outdoor_c", shown->weather[i].outdoor_c);
		put_maybe_no_zone(writer, object, shown->weather[i].indoor_c);
	}
}

static void put_notes(rig_writer *writer, cJSON *parent, uint32_t notes)
{
	static const char *const NOTE[] = {"no_manager", "by_priority", "unplaced", "has_dead",
		"size_guessed", "unheated_box", "cannot_hold", "cord_limits", "shared_hot",
		"quiet_start"};
	cJSON *array = rig_json_add_array(&writer->maker, parent, "notes");
	for (size_t i = 0; i < sizeof NOTE / sizeof NOTE[0]; i++) {
		if ((notes & (1u << i)) != 0)
			rig_json_add_text(&writer->maker, array, NULL, NOTE[i]);
	}
}

/* Null where none starts by itself. */
static void put_generator(rig_writer *writer, cJSON *parent, const rig_shed_generator *generator)
{
	if (!generator->auto_start) {
		rig_json_add_null(&writer->maker, parent, "generator");
		return;
	}
	cJSON *object = rig_json_add_object(&writer->maker, parent, "generator");
	rig_put_number(writer, object, "start_load_w", generator->start_load_w);
	rig_put_number(writer, object, "start_load_s", generator->start_load_s);
	rig_put_number(writer, object, "minimum_run_s", generator->minimum_run_s);
	rig_put_number(writer, object, "limit_a", generator->limit_a);
	rig_put_number(writer, object, "starts_day", generator->starts_day);
	rig_put_number(writer, object, "run_h_day", generator->run_h_day);
	rig_put_number(writer, object, "days_frac", generator->days_frac);
}

static void put_runs(rig_writer *writer, cJSON *parent, const rig_shed_shown *shown)
{
	cJSON *array = rig_json_add_array(&writer->maker, parent, "runs");
	for (size_t i = 0; i < shown->n_runs; i++) {
		cJSON *object = rig_json_add_object(&writer->maker, array, NULL);
		rig_put_number(writer, object, "from_s", shown->runs[i].from_s);
		rig_put_number(writer, object, "to_s", shown->runs[i].to_s);
	}
}

static void put_days(rig_writer *writer, cJSON *object, const rig_shed_findings *findings)
{
	put_spread(writer, object, "drops", &findings->drops);
	rig_put_number(writer, object, "drops_per_h_most", findings->drops_per_h_most);
	put_spread(writer, object, "lost_minutes", &findings->lost_minutes);
	put_spread(writer, object, "discomfort", &findings->discomfort);
	rig_put_number(writer, object, "days_with_drops_frac", findings->days_with_drops_frac);
	rig_put_measures(writer, object, findings->n_measures, findings->measures);
	put_order(writer, object, "own", &findings->own);
	put_order(writer, object, "best", &findings->best);
	rig_json_add_truth(&writer->maker, object, "proved", findings->proved);
	rig_put_index(writer, object, "n_branches", (long)findings->n_branches);
	rig_json_add_truth(&writer->maker, object, "worth_changing", findings->worth_changing);
	put_moves(writer, object, findings);
}

void rig_shed_data(rig_writer *writer, const rig_shed_findings *findings)
{
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, rig_document_data(writer->document), "shed");
	put_options(writer, object, &findings->options);
	put_notes(writer, object, findings->notes);
	rig_json_add_text(maker, object, "supply",
		findings->inverter           ? "inverter"
		: findings->pedestal == NULL ? "generator"
					     : findings->pedestal->id);
	rig_put_index(writer, object, "n_hots", findings->n_hots);
	rig_put_number(writer, object, "rating_a", findings->rating_a);
	rig_put_number(writer, object, "left_frac", findings->left_frac);
	put_generator(writer, object, &findings->generator);
	rig_put_number(writer, object, "low_c", findings->low_c);
	rig_put_number(writer, object, "high_c", findings->high_c);
	rig_put_number(writer, object, "length_m", findings->length_m);
	put_manager(writer, object, &findings->manager);
	rig_put_index(writer, object, "n_days", (long)findings->n_days);
	cJSON *loads = rig_json_add_array(maker, object, "loads");
	for (size_t i = 0; i < findings->n_loads; i++)
		put_load(writer, loads, &findings->loads[i]);
	put_hots(writer, object, findings);
	put_volts(writer, object, findings);
	put_breakers(writer, object, findings);
	put_days(writer, object, findings);
	cJSON *shown = rig_json_add_object(maker, object, "shown");
	rig_put_index(writer, shown, "day", (long)findings->shown.day);
	put_spans(writer, shown, findings);
	put_points(writer, shown, findings);
	put_runs(writer, shown, &findings->shown);
	rig_put_numbers(writer, shown, "trip_s", findings->shown.n_trips, findings->shown.trip_s);
}
