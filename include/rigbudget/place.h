/* SPDX-License-Identifier: GPL-3.0-or-later */
/* place.h: the table of places: what the sky and the air do there, month by month. Computed from
 * the TMY3 hourly files [TMY3], compiled into the library. */
#ifndef RIG_PLACE_H
#define RIG_PLACE_H

#include <stddef.h>

#include "rigbudget/figure.h"

/* How far a place's figures can be trusted. */
typedef enum {
	RIG_RECORD_LONG,
	RIG_RECORD_SHORT_CONFIRMED,
	RIG_RECORD_SHORT_UNCONFIRMED
} rig_record;

typedef struct {
	char name[64];        /* as its source has it, or mended for reading */
	char station[8];      /* the source's number */
	double latitude_deg;  /* north positive */
	double longitude_deg; /* east positive */
	double elevation_m;
	double utc_offset_h;
	double ghi_kwh_m2_day[12]; /* global horizontal, monthly mean day */
	double dhi_kwh_m2_day[12];
	double kt_sd[12]; /* spread of the daily clearness index within the month */
	double temp_mean_c[12], temp_min_c[12], temp_max_c[12]; /* mean, mean daily low and high */
	rig_record record;
	/* The true long mean lies within ghi times these; places.c has the rule. Besides, one
	 * year's month strays from the long mean by month_scatter_frac, the likely
	 * rig_month_scatter_frac. */
	double sun_low_ratio, sun_high_ratio;
	double month_scatter_frac;
} rig_place;

/* What every figure of the table rests on, to be printed with it. Never NULL. */
const char *rig_places_credit(void);
/* How far one year's month of sun strays from its long mean, one standard deviation over the mean.
 */
rig_figure rig_month_scatter_frac(void);

size_t rig_n_places(void);                     /* rows of the table */
void rig_place_at(size_t i, rig_place *place); /* i below that number */
/* Index of the place with that name, ours or the source's, or -1. Case, commas, stops, hyphens,
 * apostrophes and double spaces are ignored. The start of a name will do, with or without the
 * state's two letters after it ("Flagstaff", "flagstaff az"), when all places that start so lie in
 * one state within 60 km of each other; of several such the one with the longest record is meant.
 * A whole name with its state is that place, whatever others start so. */
long rig_place_find(const char *name);
/* Up to n names that the caller may have meant, nearest first; gives how many. */
size_t rig_place_suggest(const char *name, size_t n, size_t index[]);
/* Index of the nearest place on the globe, and how far it is, km. */
size_t rig_place_nearest(double latitude_deg, double longitude_deg, double *distance_km);

#endif
