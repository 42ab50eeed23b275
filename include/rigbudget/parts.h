/* SPDX-License-Identifier: GPL-3.0-or-later */
/* parts.h: a shop's price list of panels, batteries, controllers, inverters, alternator chargers,
 * fuses and conductors, read from a parts file (docs/parts-file.md). Values are SI; absent texts
 * are NULL, absent figures RIG_FROM_NOTHING, absent counts -1. Prices are in the file's currency,
 * whole hundredths of it count. Weights count in whole grams, areas in whole square centimetres. */
#ifndef RIG_PARTS_H
#define RIG_PARTS_H

#include <stddef.h>

#include "rigbudget/coach.h"
#include "rigbudget/diag.h"
#include "rigbudget/figure.h"
#include "rigbudget/status.h"

#define RIG_PARTS_FORMAT "rigbudget-parts/1" /* the word that a file starts with */

/* A panel: any number of them beside each other, all alike, in parallel. */
typedef struct {
	const char *id, *name, *notes;
	rig_figure watts_w;
	rig_figure length_m, width_m, weight_kg, price;
	const char *panel; /* id in the table of panel kinds */
	rig_figure vmp_v, voc_v, imp_a, isc_a;
	int most; /* of them on one coach */
} rig_part_panel;

/* A battery: so many in series as the bank's volts ask, any number of strings in parallel. */
typedef struct {
	const char *id, *name, *notes;
	const char *chemistry; /* id in the chemistry table */
	rig_figure nominal_v, capacity_ah;
	rig_figure length_m, width_m, height_m, weight_kg, price;
	rig_figure charge_limit_a, discharge_limit_a, short_circuit_a; /* of one */
	rig_figure cycles, cycles_depth_frac;                          /* so many, each that deep */
	int most_series, most_parallel;
} rig_part_battery;

typedef struct {
	const char *id, *name, *notes;
	rig_controller controller;
	rig_figure limit_a;     /* into the bank */
	rig_figure voc_limit_v; /* of the array, cold */
	rig_figure efficiency_frac;
	rig_figure weight_kg, price;
} rig_part_controller;

/* An inverter; with charger_a an inverter/charger. */
typedef struct {
	const char *id, *name, *notes;
	rig_figure nominal_v; /* of the bank */
	rig_figure watts_w, surge_w, idle_w;
	rig_figure charger_a;
	rig_figure weight_kg, price;
} rig_part_inverter;

typedef struct {
	const char *id, *name, *notes;
	rig_figure nominal_v; /* of the bank */
	rig_figure amps_a;
	rig_figure weight_kg, price;
} rig_part_alternator_charger;

/* A fuse with its holder. */
typedef struct {
	const char *id, *name, *notes;
	rig_figure rating_a, interrupt_a;
	rig_figure weight_kg, price;
} rig_part_fuse;

/* One conductor by length; a run takes it twice. */
typedef struct {
	const char *id, *name, *notes;
	const char *awg;
	rig_figure weight_kg_m, price_per_m;
} rig_part_conductor;

typedef struct {
	const char *schema, *format, *name, *notes;
	const char *currency; /* word beside a price; NULL: none */
	rig_choice invented;  /* its prices are no shop's */
	size_t n_panels, n_batteries, n_controllers, n_inverters, n_alternator_chargers, n_fuses,
		n_conductors;
	rig_part_panel *panels;
	rig_part_battery *batteries;
	rig_part_controller *controllers;
	rig_part_inverter *inverters;
	rig_part_alternator_charger *alternator_chargers;
	rig_part_fuse *fuses;
	rig_part_conductor *conductors;
} rig_parts;

typedef struct rig_parts_file rig_parts_file; /* a parts list with the text it came from */

/* Reads a parts file from text. All faults go to diags with their places.
 * RIG_BAD_INPUT: *file is untouched. RIG_NO_MEMORY. */
rig_status rig_parts_parse(
	const char *text, size_t length, rig_diags *diags, rig_parts_file **file);
void rig_parts_free(rig_parts_file *file);
/* The list; belongs to the file. */
const rig_parts *rig_parts_list(const rig_parts_file *file);

/* The example that comes with the program, as text; its parts and prices are invented. */
extern const char rig_parts_example[];

/* The JSON Schema (2020-12) of a parts file, made from the reader's own table. Free with free();
 * NULL when memory is out. */
char *rig_parts_schema_text(void);

#endif
