/* SPDX-License-Identifier: GPL-3.0-or-later */
/* profile.h: figures with sources that fill what a coach file leaves open. They come from
 * profiles/ and are compiled into the library; nothing is read at run time. */
#ifndef RIG_PROFILE_H
#define RIG_PROFILE_H

#include <stdbool.h>
#include <stddef.h>

#include "rigbudget/figure.h"

typedef enum { RIG_SUPPLY_UNSET, RIG_AC, RIG_DC } rig_supply_kind;
typedef enum {
	RIG_BEHAVIOUR_UNSET,
	RIG_RESISTIVE,  /* heat and lamps: watts go with the square of the volts */
	RIG_ELECTRONIC, /* constant watts */
	RIG_MOTOR,      /* fans and pumps */
	RIG_COMPRESSOR  /* sealed motor with a pressure to start against */
} rig_behaviour;

/* An appliance as found in coaches of this kind. */
typedef struct {
	const char *id;
	const char *label;
	rig_supply_kind supply;
	rig_behaviour behaviour;
	double volts_v;          /* nominal: 120 or 240 on AC, 12 on DC */
	rig_figure running_w;    /* real watts while it runs */
	rig_figure power_factor; /* 0 to 1; 1 on DC */
	rig_figure start_a;     /* locked-rotor or inrush amps; absent if it has none to speak of */
	rig_figure duty_frac;   /* share of the hours of use in which it draws */
	rig_figure daily_use_h; /* hours a day in use */
	rig_figure heat_w; /* heat that it brings indoors while it runs, negative if it takes heat
			      out, by its label: burner times efficiency, or cooling; absent if it
			      is not run for that */
	bool continuous;   /* can run three hours or more at a stretch */
	bool always_on;    /* draws day and night without anybody switching it on */
	bool shed_first;   /* a load that energy managers usually drop */
	int priority;      /* 1 kept longest .. 9 dropped first, common practice, no source */
	const char *source;
} rig_appliance;

/* Kinds of battery. */
typedef struct {
	const char *id; /* flooded, agm, gel, lithium_iron_phosphate, starting, ideal */
	const char *label;
	double cell_group_v;                  /* nominal volts of a "12 V" battery: 12 or 12.8 */
	rig_figure usable_frac;               /* of the rated capacity, for the life one expects */
	rig_figure charge_efficiency_frac;    /* stored Wh per Wh at the terminals */
	rig_figure self_discharge_frac_month; /* of the capacity, at 25 C */
	rig_figure bulk_limit_c_rate;         /* largest charge current / Ah rating, 1/h */
	rig_figure acceptance_per_h; /* of what is missing, 1/h: rig_acceptance_limit; absent: takes
					all that the limit lets through until it is full */
	rig_figure peukert_exponent;
	rig_figure kinetic_c_frac;  /* two-well model: share of the available well */
	rig_figure kinetic_k_per_h; /* two-well model: k' as in [MANWELL-1993], 1/h */
	double charge_floor_c;      /* no charging below this temperature; -273 if none */
	double capacity_per_k_frac; /* capacity lost per kelvin below 25 C */
	const char *source;
} rig_chemistry;

/* Kinds of solar panel. */
typedef struct {
	const char *id; /* crystalline_new, crystalline_old, flexible, thin_film, ... */
	const char *label;
	rig_figure density_wm2;            /* nameplate watts per m2 of outer frame */
	rig_figure temp_coefficient_per_k; /* of power; negative */
	rig_figure noct_c;
	rig_figure roof_rise_k; /* added to the cell when it lies flat on a roof */
	const char *source;
} rig_panel_kind;

/* A shore supply that a coach may meet. */
typedef struct {
	const char *id; /* 50A, 30A, 20A, 15A */
	const char *label;
	double breaker_a; /* per hot */
	int n_hots;       /* 2 on 120/240 V, else 1 */
	double volts_v;   /* hot to neutral */
	const char *source;
} rig_supply;

typedef struct {
	int awg; /* -3 is 4/0 */
	double area_mm2;
	double ohm_per_km_75c;                                 /* stranded, uncoated copper */
	double ampacity_60c_a, ampacity_75c_a, ampacity_90c_a; /* 0 if the table has none */
	double ampacity_105c_12v_a;
	double small_conductor_limit_a; /* largest breaker by the small-conductor rule; 0 if none */
	const char *source;
} rig_conductor_size;

typedef struct {
	double rating_a;
	bool breaker; /* a standard breaker rating */
	bool fuse;    /* a standard fuse rating */
	const char *source;
} rig_standard_rating;

size_t rig_n_appliances(void);                               /* rows of the table */
const rig_appliance *rig_appliance_at(size_t i);             /* i below it */
const rig_appliance *rig_appliance_find(const char *id);     /* NULL if there is none */
size_t rig_n_chemistries(void);                              /* rows of the table */
const rig_chemistry *rig_chemistry_at(size_t i);             /* i below it */
const rig_chemistry *rig_chemistry_find(const char *id);     /* NULL if there is none */
size_t rig_n_panel_kinds(void);                              /* rows of the table */
const rig_panel_kind *rig_panel_kind_at(size_t i);           /* i below it */
const rig_panel_kind *rig_panel_kind_find(const char *id);   /* NULL if there is none */
size_t rig_n_supplies(void);                                 /* rows of the table */
const rig_supply *rig_supply_at(size_t i);                   /* largest first */
const rig_supply *rig_supply_find(const char *id);           /* NULL if there is none */
size_t rig_n_conductor_sizes(void);                          /* rows of the table */
const rig_conductor_size *rig_conductor_size_at(size_t i);   /* thinnest first */
size_t rig_n_standard_ratings(void);                         /* rows of the table */
const rig_standard_rating *rig_standard_rating_at(size_t i); /* smallest first */

#endif
