/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tables.h: the figures of profiles/ as constant tables. The definitions are written by the pack
 * tool while the project is built. */
#ifndef RIG_TABLES_H
#define RIG_TABLES_H

#include <stddef.h>
#include <stdint.h>

#include "rigbudget/profile.h"

extern const rig_appliance rig_table_appliances[];
extern const size_t rig_table_n_appliances;
extern const rig_chemistry rig_table_chemistries[];
extern const size_t rig_table_n_chemistries;
extern const rig_panel_kind rig_table_panels[];
extern const size_t rig_table_n_panels;
extern const rig_supply rig_table_supplies[];
extern const size_t rig_table_n_supplies;
extern const rig_conductor_size rig_table_conductors[];
extern const size_t rig_table_n_conductors;
extern const rig_standard_rating rig_table_ratings[];
extern const size_t rig_table_n_ratings;

enum { RIG_PACKED_NONE = INT16_MIN };

/* One place in whole numbers, as many digits as the source has: nothing is lost. */
typedef struct {
	uint32_t name;        /* where its name begins in rig_table_place_names */
	uint32_t source_name; /* the same of the name that its source gives it, or of its name */
	uint32_t station;
	int32_t latitude_mdeg, longitude_mdeg;
	int16_t elevation_m;
	int8_t utc_offset_quarters; /* quarter hours */
	uint8_t record;             /* rig_record */
	int16_t year_permille;      /* against neighbours with long records; RIG_PACKED_NONE */
	int16_t month_permille;
	int16_t ghi[12], dhi[12];                          /* 10 Wh/m2 a day */
	int16_t kt_sd[12];                                 /* thousandths */
	int16_t temp_mean[12], temp_min[12], temp_max[12]; /* 0.1 C */
} rig_packed_place;

extern const rig_packed_place rig_table_places[];
extern const size_t rig_table_n_places;
extern const char rig_table_place_names[];
extern const char rig_table_places_credit[];
extern const rig_figure rig_table_month_scatter_frac;

#endif
