/* SPDX-License-Identifier: GPL-3.0-or-later */
/* coach.h: one coach as data, as a rig file states it or as profiles complete it. Values are SI.
 * Absent texts are NULL, absent figures are RIG_FROM_NOTHING, absent counts and hours are -1,
 * absent yes-or-no values are RIG_UNSAID. Strings and lists belong to the coach. */
#ifndef RIG_COACH_H
#define RIG_COACH_H

#include <stddef.h>

#include "rigbudget/diag.h"
#include "rigbudget/figure.h"
#include "rigbudget/place.h"
#include "rigbudget/profile.h"

typedef enum { RIG_UNSAID, RIG_NO, RIG_YES } rig_choice;
typedef enum { RIG_LEG_UNSAID, RIG_LEG_1, RIG_LEG_2, RIG_LEG_BOTH } rig_leg;
typedef enum { RIG_ROLE_UNSAID, RIG_HOUSE, RIG_CHASSIS } rig_bank_role;
typedef enum { RIG_CONTROLLER_UNSAID, RIG_PWM, RIG_MPPT, RIG_DIRECT } rig_controller;

/* Where the coach stands: a name from the table of places, or a point on the map (nearest place),
 * or both (the name then only labels the point). */
typedef struct {
	const char *name, *notes;
	rig_figure latitude_deg, longitude_deg; /* north and east positive */
	rig_figure elevation_m;
} rig_site;

/* A breaker on the AC panel or a fuse on a DC panel. */
typedef struct {
	const char *id, *name, *notes;
	rig_supply_kind supply; /* AC unless a bank feeds it */
	rig_leg leg;            /* AC only; both means a 240 V circuit */
	rig_figure breaker_a;   /* breaker or fuse */
	const char *bank;       /* DC only: id of the bank */
	const char *awg;        /* printed gauge, "12" or "4/0" */
	rig_choice inverter;    /* AC only: the inverter feeds it when there is no shore power */
	int bank_index;         /* set by completion; -1 if none */
} rig_circuit;

typedef struct {
	const char *id, *name, *notes;
	const char *profile; /* id in the appliance table */
	int count;           /* how many of them run together; at least 1 once completed */
	const char *circuit; /* id */
	rig_supply_kind supply;
	rig_behaviour behaviour;
	rig_figure volts_v;
	rig_figure running_w; /* of one */
	rig_figure
		running_a; /* of one, where a label gives amps; turned into watts by completion */
	rig_figure power_factor;
	rig_figure start_a;
	rig_figure duty_frac;
	rig_figure daily_use_h;
	rig_figure heat_w;      /* brought indoors by one while it runs; negative: taken out */
	int from_hour, to_hour; /* window of use, 0 to 24; through midnight if from > to */
	int priority;           /* 1 kept longest .. 9 dropped first */
	rig_choice continuous, always_on;
	rig_choice inverter;            /* AC only: used away from hookups, through the inverter */
	rig_choice soft_starter;        /* AC only: limits the amps of its start below start_a */
	const rig_appliance *appliance; /* set by completion; NULL without a profile */
	int circuit_index;              /* set by completion; -1 if the file gives none */
	int bank_index;                 /* set by completion: the bank that a DC load draws on */
} rig_load;

typedef struct {
	const char *id, *name, *notes;
	rig_bank_role role;
	const char *chemistry;      /* id in the chemistry table */
	rig_figure nominal_v;       /* of the bank */
	rig_figure capacity_ah;     /* of one battery, at rating_h and 25 C */
	rig_figure capacity_wh;     /* of the bank; instead of amp-hours */
	rig_figure rating_h;        /* 20 unless stated */
	rig_figure reserve_minutes; /* of one battery, at 25 A; a way to state the capacity */
	int series, parallel;       /* batteries; at least 1 once completed */
	rig_figure age_years;
	rig_figure usable_frac;
	rig_figure charge_efficiency_frac;
	rig_figure self_discharge_frac_month;
	rig_figure cold_cranking_a; /* of one battery */
	rig_figure short_circuit_a; /* of one battery */
	rig_figure charge_limit_a;  /* of the bank */
	rig_figure peukert_exponent;
	rig_figure kinetic_c_frac, kinetic_k_per_h;
	rig_figure reconnect_soc_frac; /* absent: loads come back with the first energy */
	rig_figure temp_c;             /* of the battery; outdoor temperature if absent */
	const rig_chemistry *kind;     /* set by completion */
	rig_figure usable_wh;          /* set by completion: what may be taken out of a full bank */
	rig_figure total_wh;           /* set by completion */
	rig_figure total_ah;           /* set by completion: of the bank at its voltage */
} rig_bank;

typedef struct {
	const char *id, *name, *notes;
	const char *bank;             /* id of the bank it charges */
	int count;                    /* panels alike */
	rig_figure watts_w;           /* nameplate of one panel */
	rig_figure length_m, width_m; /* of one panel's frame: a way to state the watts */
	const char *panel;            /* id in the table of panel kinds */
	rig_figure tilt_deg;          /* 0 flat on the roof */
	rig_figure heading_deg;       /* where a tilted panel faces: 0 north, 90 east, 180 south */
	rig_controller controller;
	rig_figure controller_limit_a;
	rig_figure controller_efficiency_frac; /* tracker only */
	rig_figure vmp_v, voc_v, imp_a, isc_a; /* of one panel */
	rig_figure noct_c;
	rig_figure roof_rise_k;
	rig_figure temp_coefficient_per_k; /* of power, negative */
	rig_figure shade_frac;             /* light lost to shade */
	rig_figure losses_frac;            /* dirt, wire, mismatch, together */
	const rig_panel_kind *kind;        /* set by completion */
	int bank_index;                    /* set by completion */
	rig_figure total_w;                /* set by completion: nameplate of the array */
} rig_array;

typedef struct {
	bool present;
	const char *name, *notes, *bank;
	rig_figure watts_w, surge_w, idle_w;
	rig_figure loss_fixed_frac, loss_linear_frac,
		loss_square_frac; /* k0 k1 k2 of the loss polynomial */
	rig_choice always_on;     /* stays on day and night, so its idle draw counts for 24 h */
	int bank_index;
} rig_inverter;

typedef struct {
	bool present;
	const char *name, *notes, *bank, *circuit;
	rig_figure amps_a; /* rated DC output */
	rig_figure efficiency_frac, power_factor;
	int bank_index, circuit_index;
} rig_charger;

typedef struct {
	bool present;
	const char *name, *notes, *bank;
	rig_figure amps_a;  /* DC output */
	rig_figure drive_h; /* hours a driving day */
	int bank_index;
} rig_dc_charger;

typedef enum { RIG_FUEL_UNSAID, RIG_GASOLINE, RIG_DIESEL, RIG_PROPANE } rig_fuel;

typedef struct {
	bool present;
	const char *name, *notes;
	rig_fuel fuel;
	rig_figure watts_w, surge_w;
	rig_choice two_hots; /* two outputs, one a leg, each half of the watts */
	rig_choice auto_start;
	rig_figure start_soc_frac, stop_soc_frac;
	rig_figure start_v;      /* starts when the house bank falls to this */
	rig_figure start_load_w; /* starts when the inverter carries this for so long, with
				    auto_start */
	rig_figure start_load_minutes;
	rig_figure minimum_run_minutes;
	int quiet_from_hour, quiet_to_hour;
	rig_figure fuel_idle_l_h, fuel_full_l_h;
} rig_generator;

typedef struct {
	bool present;
	const char *name, *notes;
	rig_figure limit_a; /* what it defends on one 120 V hot; the supply's rating if absent */
	rig_figure sensing_delay_s, restore_delay_s, minimum_off_s;
	rig_figure most_drops, reset_minutes; /* so many within so long: it stays off */
	size_t n_order;
	const char **order; /* load ids, dropped first .. last */
} rig_energy_management;

/* The coach as a box that is kept warm or cool: how long furnace and air conditioner run away from
 * hookups. */
typedef struct {
	bool present;
	const char *notes;
	rig_figure length_m;     /* of the box that is lived in */
	rig_figure loss_w_per_k; /* through the shell and with the air; if absent, by length_m */
	rig_figure heat_to_c, cool_to_c; /* thermostat */
	rig_figure gains_w;              /* of people and appliances */
} rig_body;

/* Loads that run at once. */
typedef struct {
	const char *name, *notes;
	size_t n_loads;
	const char **loads; /* ids */
	int *load_index;    /* set by completion */
} rig_together;

/* One load's use under a habit. */
typedef struct {
	const char *load, *notes;
	rig_figure daily_use_h;
	int from_hour, to_hour;
	int load_index; /* set by completion */
} rig_use;

/* A named pattern of use. Loads that it does not name keep their own use, unless only is yes. */
typedef struct {
	const char *name, *notes;
	rig_choice only; /* loads not named (and not always on) stay off */
	size_t n_use;
	rig_use *use;
} rig_habit;

/* What a wire from a bank leads to. */
typedef enum {
	RIG_FEEDS_UNSAID,
	RIG_FEEDS_PANEL, /* the bank's own fuse panel or bus */
	RIG_FEEDS_INVERTER,
	RIG_FEEDS_CHARGER,
	RIG_FEEDS_DC_CHARGER,
	RIG_FEEDS_SOLAR
} rig_feeds;

/* A wire without a circuit or a bank is AC above so many volts. */
#define RIG_WIRE_AC_ABOVE_V 60.0

/* A run of wire for the wiring study. */
typedef struct {
	const char *id, *name, *notes, *circuit, *awg;
	const char *bank;    /* id of the bank at whose terminal it starts */
	rig_feeds feeds;     /* beside bank: what it leads to */
	rig_figure length_m; /* one way */
	rig_figure amps_a;   /* that it carries at most; else its circuit's loads */
	rig_choice continuous;
	rig_figure volts_v;         /* nominal; above RIG_WIRE_AC_ABOVE_V alternating */
	rig_figure power_factor;    /* of amps_a */
	rig_figure fuse_a;          /* what protects it; else its circuit's breaker_a */
	rig_figure interrupt_a;     /* largest current that its fuse can break */
	rig_figure fuse_distance_m; /* of wire between the battery's terminal and its fuse */
	rig_figure drop_frac;       /* largest share of the volts that it may lose */
	rig_figure insulation_c;    /* rated temperature of the insulation */
	rig_figure terminal_c;      /* that the terminals are marked for */
	rig_figure ambient_c;
	int bundle; /* current-carrying conductors together */
} rig_wire;

/* What charged a bank while its amps were read. */
typedef enum {
	RIG_CHARGING_UNSAID, /* nothing: the bank was being emptied */
	RIG_BY_CHARGER,
	RIG_BY_ALTERNATOR,
	RIG_BY_SOLAR
} rig_charging;
typedef enum { RIG_SKY_UNSAID, RIG_SKY_CLEAR, RIG_SKY_HAZY, RIG_SKY_CLOUDY } rig_sky_state;

/* What a meter said while some loads were on. */
typedef struct {
	const char *name, *notes;
	size_t n_on, n_breakers;
	const char **on;       /* load ids */
	const char **breakers; /* circuit ids: all loads on them were on */
	rig_choice charger;    /* the coach's charger was on; unsaid counts as on, on shore power */
	rig_figure leg1_a, leg2_a, volts_v, watts_w;
	const char *circuit; /* id: where circuit_a was read */
	rig_figure circuit_a;
	const char *bank;  /* id */
	rig_figure bank_a; /* negative while the bank is emptied */
	rig_charging charging;
	rig_figure duration_h; /* of a discharge with bank_a as its mean */
	rig_figure rest_before_v, rest_after_v;
	rig_choice to_empty;        /* that discharge went from full to empty */
	const char *array;          /* id */
	rig_figure array_a;         /* out of its controller */
	int month, day;             /* 1 to 12, 1 to 31; -1 if absent */
	rig_figure hour_h;          /* by the clock, 0 to 24 */
	rig_choice daylight_saving; /* that clock is an hour ahead */
	rig_sky_state sky;
} rig_reading;

/* Where a claim says that the power comes from. */
typedef enum { RIG_POWER_UNSAID, RIG_POWER_SOLAR, RIG_POWER_BATTERY } rig_claim_power;
typedef enum {
	RIG_CLAIMED_UNSAID,
	RIG_CLAIMED_50A,
	RIG_CLAIMED_30A,
	RIG_CLAIMED_20A,
	RIG_CLAIMED_15A,
	RIG_CLAIMED_GENERATOR,
	RIG_CLAIMED_INVERTER
} rig_claim_supply;

/* What a claim says, of the keys that it has. */
typedef enum {
	RIG_SAYS_NOTHING,
	RIG_SAYS_SUPPLY,      /* the loads (or everything) run at once on a supply */
	RIG_SAYS_SUN_RUNS,    /* the sun runs the loads (or the whole daily use) */
	RIG_SAYS_SUN_HOLDS,   /* the sun keeps the battery charged in storage */
	RIG_SAYS_DAYS,        /* so many days without hookups */
	RIG_SAYS_HOURS,       /* the loads run for so long on the battery alone */
	RIG_SAYS_PANEL_W,     /* nameplate watts of the panels */
	RIG_SAYS_USABLE_WH,   /* of a bank */
	RIG_SAYS_CAPACITY_AH, /* of a bank */
	RIG_N_SAYS
} rig_claim_says;

/* What the seller, the brochure or the maker says of the coach. */
typedef struct {
	const char *text, *who, *notes;
	rig_claim_power source;
	rig_claim_supply supply;
	size_t n_loads;
	const char **loads; /* ids */
	rig_figure stay_days, runs_h;
	rig_figure panel_w;   /* of the array, or of all of them */
	rig_figure usable_wh; /* of the bank */
	rig_figure capacity_ah;
	rig_choice storage;
	const char *bank, *array; /* ids */
	int from_month, to_month; /* 1 to 12; -1: all year; through New Year if from > to */
	rig_claim_says says;      /* set by completion */
	int *load_index;          /* set by completion */
	int bank_index;           /* set by completion: the one named; -1 */
	int array_index;          /* set by completion: the one named; -1: all of them */
} rig_claim;

typedef struct {
	const char *schema; /* "$schema", kept as written */
	const char *format; /* "rigbudget/1" */
	const char *name, *notes;
	rig_site site;
	int cord_a; /* 15, 20, 30 or 50 */
	rig_figure cord_length_m;
	const char *cord_awg;        /* printed gauge */
	bool cord_awg_usual;         /* set by completion: nobody states it */
	rig_figure adapter_length_m; /* of an adapter or extension between receptacle and cord */
	const char *adapter_awg;
	rig_figure pedestal_open_v;    /* hot to neutral, nothing drawn */
	rig_figure source_ohm;         /* hot and neutral together, up to the receptacle */
	rig_figure loaded_v, loaded_a; /* one reading there, a way to state source_ohm */
	const char *cord_notes;
	size_t n_circuits, n_loads, n_banks, n_arrays, n_together, n_habits, n_wires, n_readings;
	size_t n_claims;
	rig_circuit *circuits;
	rig_load *loads;
	rig_bank *banks;
	rig_array *arrays;
	rig_inverter inverter;
	rig_charger charger;
	rig_dc_charger dc_charger;
	rig_generator generator;
	rig_energy_management energy_management;
	rig_body body;
	rig_together *together;
	rig_habit *habits;
	rig_wire *wires;
	rig_reading *readings;
	rig_claim *claims;
} rig_coach;

/* What the stated keys of a claim come to; RIG_SAYS_NOTHING if they say nothing, or several things.
 */
rig_claim_says rig_claim_says_of(const rig_claim *claim);

/* A rig file as read, and the coach in it. */
typedef struct rig_file rig_file;

/* Reads a rig file from text. All faults of the file go to diags (may be NULL) with their places.
 * RIG_BAD_INPUT: *file is NULL. RIG_NO_MEMORY. */
rig_status rig_file_parse(const char *text, size_t length, rig_diags *diags, rig_file **file);
void rig_file_free(rig_file *file);

/* The coach as the file states it; belongs to the file. */
const rig_coach *rig_file_coach(const rig_file *file);
/* The same coach with everything that profiles and the trade's defaults can fill in (origin
 * profile), references resolved, derived figures set; belongs to the file. */
const rig_coach *rig_file_completed(const rig_file *file);
/* What the coach stands on: the table's place for its site; NULL if it names none. distance_km (may
 * be NULL) is how far the table's place is from the stated point, 0 when named. */
const rig_place *rig_file_place(const rig_file *file, double *distance_km);

/* Canonical text of the stated coach: reading it back gives the same coach to the last bit, with
 * the units that the file used. The caller frees it with free(); NULL when memory is out. */
char *rig_file_text(const rig_file *file);
/* The same of a coach built in memory. A figure that a file cannot state as it is (a range that is
 * only stated, a computed one) is written as estimated. */
char *rig_coach_text(const rig_coach *stated);

/* Things with everything absent, to build a coach in memory from. */
void rig_coach_clear(rig_coach *coach);
void rig_circuit_clear(rig_circuit *circuit);
void rig_load_clear(rig_load *load);
void rig_bank_clear(rig_bank *bank);
void rig_array_clear(rig_array *array);
void rig_use_clear(rig_use *use);
void rig_wire_clear(rig_wire *wire);
void rig_claim_clear(rig_claim *claim);

/* The JSON Schema (2020-12) of a rig file, made from the same table as the reader. Free with
 * free(); NULL when memory is out. */
char *rig_schema_text(void);

#endif
