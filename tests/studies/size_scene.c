/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "size_scene.h"

#include <string.h>

#include "base/buffer.h"
#include "suites.h"

const char SIZE_PARTS[] =
	"{\"format\": \"rigbudget-parts/1\", \"name\": \"small\", \"panels\": ["
	"{\"id\": \"a\", \"watts_w\": 100, \"length_m\": 1, \"width_m\": 0.5, \"weight_kg\": 6,"
	" \"price\": 95, \"panel\": \"crystalline_new\", \"vmp_v\": 18, \"voc_v\": 22, \"isc_a\": "
	"6},"
	"{\"id\": \"b\", \"watts_w\": 160, \"length_m\": 1.4, \"width_m\": 0.65, \"weight_kg\": 11,"
	" \"price\": 120, \"panel\": \"crystalline\", \"vmp_v\": 18, \"voc_v\": 22, \"isc_a\": "
	"9.5}],"
	"\"batteries\": ["
	"{\"id\": \"l\", \"chemistry\": \"lithium_iron_phosphate\", \"nominal_v\": 12.8,"
	" \"capacity_ah\": 50, \"length_m\": 0.2, \"width_m\": 0.17, \"height_m\": 0.17,"
	" \"weight_kg\": 6, \"price\": 210, \"cycles\": 3000, \"cycles_depth_frac\": 0.8},"
	"{\"id\": \"g\", \"chemistry\": \"agm\", \"nominal_v\": 12, \"capacity_ah\": 100,"
	" \"length_m\": 0.33, \"width_m\": 0.17, \"height_m\": 0.22, \"weight_kg\": 29, \"price\": "
	"205},"
	"{\"id\": \"f\", \"chemistry\": \"flooded\", \"nominal_v\": 6, \"capacity_ah\": 200,"
	" \"length_m\": 0.26, \"width_m\": 0.18, \"height_m\": 0.28, \"weight_kg\": 28, \"price\": "
	"110}],"
	"\"controllers\": ["
	"{\"id\": \"s\", \"controller\": \"pwm\", \"limit_a\": 10, \"voc_limit_v\": 50,"
	" \"weight_kg\": 0.3, \"price\": 30},"
	"{\"id\": \"m\", \"controller\": \"mppt\", \"limit_a\": 15, \"voc_limit_v\": 60,"
	" \"efficiency_frac\": 0.96, \"weight_kg\": 0.6, \"price\": 90},"
	"{\"id\": \"n\", \"controller\": \"mppt\", \"limit_a\": 40, \"voc_limit_v\": 100,"
	" \"efficiency_frac\": 0.97, \"weight_kg\": 1.2, \"price\": 190}],"
	"\"inverters\": ["
	"{\"id\": \"i\", \"nominal_v\": 12, \"watts_w\": 500, \"surge_w\": 1000, \"idle_w\": 5,"
	" \"weight_kg\": 2, \"price\": 150},"
	"{\"id\": \"j\", \"nominal_v\": 12, \"watts_w\": 1000, \"surge_w\": 2000, \"idle_w\": 12,"
	" \"weight_kg\": 4, \"price\": 230},"
	"{\"id\": \"k\", \"nominal_v\": 12, \"watts_w\": 50, \"surge_w\": 100, \"idle_w\": 1,"
	" \"weight_kg\": 1, \"price\": 20}]}";

const char SIZE_HEAD[] =
	"{\"format\": \"rigbudget/1\", \"name\": \"T\", \"place\": {\"name\": \"Flagstaff\"},"
	"\"shore\": {\"cord_a\": 30}, \"loads\": ["
	"{\"id\": \"tv\", \"supply\": \"ac\", \"running_w\": 70, \"daily_use_h\": 3,"
	" \"from_hour\": 18, \"to_hour\": 23, \"inverter\": true},"
	"{\"id\": \"heater\", \"supply\": \"ac\", \"running_w\": 1400, \"daily_use_h\": 1},"
	"{\"id\": \"fan\", \"supply\": \"dc\", \"running_w\": {\"low\": 15, \"likely\": 20, "
	"\"high\": 30,"
	" \"from\": \"estimated\"}, \"daily_use_h\": 8},"
	"{\"id\": \"lights\", \"supply\": \"dc\", \"running_w\": 12, \"daily_use_h\": 5}]";
const char SIZE_OLD_BANK[] = "{\"id\": \"house\", \"chemistry\": \"agm\", \"capacity_ah\": 80}";
const char SIZE_OLD_ARRAY[] =
	"{\"id\": \"roof\", \"bank\": \"house\", \"watts_w\": 50, \"controller\": \"pwm\"}";
const char SIZE_OLD_INVERTER[] = "{\"watts_w\": 600, \"idle_w\": 9, \"always_on\": true}";

rig_file *size_parse(const char *text)
{
	rig_diags *diags = rig_diags_new();
	rig_file *file = NULL;
	rig_file_parse(text, strlen(text), diags, &file);
	ck_assert_msg(file != NULL, "%s", text);
	rig_diags_free(diags);
	return file;
}

rig_file *size_scene_coach(const char *bank, const char *arrays, const char *inverter)
{
	rig_buffer text = {0};
	rig_buffer_format(&text, "%s, \"banks\": [%s], \"solar\": [%s], \"inverter\": %s}",
		SIZE_HEAD, bank, arrays, inverter);
	rig_file *file = size_parse(text.text);
	rig_buffer_free(&text);
	return file;
}

rig_parts_file *size_scene_parts(const char *text)
{
	rig_diags *diags = rig_diags_new();
	rig_parts_file *file = NULL;
	ck_assert_int_eq(rig_parts_parse(text, strlen(text), diags, &file), RIG_OK);
	rig_diags_free(diags);
	return file;
}

rig_size_options size_small_options(void)
{
	rig_size_options options = rig_size_defaults();
	options.n_days = 5;
	options.n_trips = 300;
	options.wanted_frac = 0.9;
	options.most_panels = 3;
	options.most_batteries = 4;
	options.months[6] = false;
	options.months[5] = options.months[10] = true;
	return options;
}

rig_trip_options size_trips_like(const rig_size_options *options, int month)
{
	rig_trip_options trips = rig_trip_defaults();
	trips.month = month;
	trips.n_days = options->n_days;
	trips.n_trips = options->n_trips;
	trips.seed = options->seed;
	trips.habit = options->habit;
	trips.n_side_trips = 0;
	return trips;
}

double size_chance_of(const rig_file *file, const rig_trip_options *trips)
{
	rig_trip_findings *findings = NULL;
	ck_assert_int_eq(rig_trip_study(rig_file_completed(file), rig_file_place(file, NULL), trips,
				 &findings),
		RIG_OK);
	const double share = findings->chance.never_out_frac;
	rig_trip_free(findings);
	return share;
}

rig_size_findings *size_sized(
	const rig_file *file, const rig_parts_file *parts, const rig_size_options *options)
{
	rig_size_findings *findings = NULL;
	ck_assert_int_eq(rig_size_study(file, rig_parts_list(parts), rig_file_place(file, NULL),
				 options, &findings),
		RIG_OK);
	return findings;
}
