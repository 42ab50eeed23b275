/* SPDX-License-Identifier: GPL-3.0-or-later */
/* solar.h: "it comes with solar": what that is worth. Harvest at the bank month by month, the
 * standing draw that it has to cover first, the level that it reaches by written criteria, the
 * ladder of loads that it carries, and the watts that each next level would take.
 *
 * Energies are Wh at the bank's terminals on a mean day of the month; "at the bank" means that an
 * AC load counts with the inverter's losses. Months are 0 to 11.
 *
 * A figure's low and high hold the doubt. The doubts of separate causes (watts, losses, place,
 * year; one load and another) are combined as independent: in a sum the squares of their distances
 * from the likely value add, in a product the squares of their logarithms' distances. Where two
 * sides meet, what is brought and held against what is drawn, each is taken 1/sqrt(2) of the way to
 * its end, in logarithms, which is as far as two independent sides go that are equally in doubt: so
 * are spare_wh_day, ratios, levels, days, needs and carried. The year's ends hold nine years in
 * ten. */
#ifndef RIG_SOLAR_H
#define RIG_SOLAR_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "rigbudget/coach.h"
#include "rigbudget/figure.h"
#include "rigbudget/measuring.h"
#include "rigbudget/place.h"
#include "rigbudget/status.h"

enum { RIG_SOLAR_MONTHS = 12 };

/* Days from a full bank are counted up to here; a figure that stands at it means "or longer". */
#define RIG_SOLAR_DAYS_MAX        60.0
/* Largest array that the search for the watts of a level looks at, W. */
#define RIG_SOLAR_SEARCH_MAX_W    20000.0
/* More nameplate watts per square metre of outer frame than any panel on the market, W/m2: sunlight
 * of 1,000 W/m2 times the best module efficiency, about 0.24 (common practice, no source). */
#define RIG_SOLAR_DENSITY_MAX_WM2 240.0
/* Fewer than any panel kind, thin film included, W/m2 (common practice, no source). */
#define RIG_SOLAR_DENSITY_MIN_WM2 40.0

/* What a month's sun does for a bank. Each level includes those below it.
 *   RIG_FALLS_SHORT  harvest < standing draw: the bank runs down in storage
 *   RIG_MAINTAINS    harvest >= standing draw; little more
 *   RIG_EXTENDS      maintains, and the chosen daily use lasts, from a full bank, at least
 *                    RIG_SOLAR_EXTENDS_DAYS longer and at least RIG_SOLAR_EXTENDS_RATIO times as
 *                    long as without the array
 *   RIG_CARRIES      extends, and of the synthetic trips of options.n_days days that start with a
 *                    full bank at least RIG_SOLAR_CARRIES_FRAC never run out
 * A chassis bank has no chosen use; its level is RIG_MAINTAINS at best. */
typedef enum {
	RIG_FALLS_SHORT,
	RIG_MAINTAINS,
	RIG_EXTENDS,
	RIG_CARRIES,
	RIG_N_SOLAR_LEVELS
} rig_solar_level;
#define RIG_SOLAR_EXTENDS_DAYS  1.0  /* so much longer, and */
#define RIG_SOLAR_EXTENDS_RATIO 1.25 /* so many times as long */
#define RIG_SOLAR_CARRIES_FRAC  0.95 /* of the stays that last */

/* A level with its doubt: low is the level when harvest and bank are on their poor side and the
 * draws on their high side, high the other way round. low <= likely <= high. */
typedef struct {
	rig_solar_level low, likely, high;
} rig_solar_levels;

/* Where the doubt of a harvest comes from. */
typedef enum {
	RIG_DOUBT_WATTS,  /* the watts of the array: nameplate or measured glass */
	RIG_DOUBT_LOSSES, /* shade, dirt, wire, heat, tilt, panel volts and the controller */
	RIG_DOUBT_PLACE,  /* how well the place's long mean is known: sun_low_ratio, sun_high_ratio
			   */
	RIG_DOUBT_YEAR,   /* one year's month against the long mean of that month */
	RIG_N_SOLAR_DOUBTS
} rig_solar_doubt;

/* What can be said of the watts claimed for an array. */
typedef enum {
	RIG_CLAIM_UNCHECKED,  /* nothing to hold the watts against */
	RIG_CLAIM_FROM_SIZE,  /* no nameplate: the watts were worked out from measured glass */
	RIG_CLAIM_PLAUSIBLE,  /* the watts fit the measured frame and the label's volts and amps */
	RIG_CLAIM_TOO_DENSE,  /* more than RIG_SOLAR_DENSITY_MAX_WM2: the claim cannot be right */
	RIG_CLAIM_TOO_SPARSE, /* less than RIG_SOLAR_DENSITY_MIN_WM2: watts or size misread */
	RIG_CLAIM_LABEL_DIFFERS /* volts times amps at the best point differ over 15 % from the
				   watts */
} rig_solar_claim;

/* Drawn skies of the last eight places, so that many coaches of one place have them drawn once. For
 * one thread at a time. */
typedef struct rig_solar_skies rig_solar_skies;
rig_solar_skies *rig_solar_skies_new(void); /* NULL when memory is out */
void rig_solar_skies_free(rig_solar_skies *skies);

typedef struct {
	int month;     /* 0 to 11: levels and watts are judged for that month; -1 for every month */
	int habit;     /* index into the coach's habits; -1 for each load's own use */
	int n_days;    /* length of a trip, 1 to 60 */
	int n_trips;   /* 100 to 100000 */
	uint64_t seed; /* of the synthetic weather */
	rig_solar_skies *skies; /* kept between studies; NULL: none. The findings are the same */
} rig_solar_options;

/* Every month, own use, 14 days, 256 trips, seed 1. */
rig_solar_options rig_solar_defaults(void);

/* One array in one month. */
typedef struct {
	rig_figure harvest_wh_day; /* mean day, at the bank's terminals */
	rig_figure
		harvest_ah_day; /* the same at 13.2 V for each 12 V of battery: while it charges */
	/* The harvest as it would be if that one cause of doubt alone were at its ends; low, likely
	 * and high are equal where a cause has no doubt. */
	rig_figure doubt_wh_day[RIG_N_SOLAR_DOUBTS];
	/* A whole day without a cloud, by a clear-sky model; the mean day where that is more, as
	 * under a sun that hardly rises, for which the model is not made. */
	double clear_wh_day;
	double plane_kwh_m2_day; /* sun on the panel's plane, mean day */
	double noon_cell_c;      /* hottest hour's cell temperature, mean day */
	double at_bank_frac;     /* harvest / (nameplate watts x plane_kwh_m2_day) */
	double limited_frac; /* share of the mean day's energy lost to the controller's amp limit */
} rig_solar_array_month;

typedef struct {
	int array;                 /* index into the coach's arrays */
	int bank;                  /* index into the coach's banks */
	bool contributes_to_house; /* feeds a house bank */
	rig_figure total_w;        /* nameplate of the array, with its origin */
	rig_figure area_m2;        /* outer frames together; absent if nobody measured them */
	rig_figure density_wm2;    /* total_w / area_m2; absent without a measured frame */
	rig_figure label_w; /* volts x amps at the best point, all panels; absent if not stated */
	rig_solar_claim claim;
	rig_solar_array_month months[RIG_SOLAR_MONTHS];
} rig_solar_array;

typedef enum {
	RIG_STANDING_LOAD,          /* an always-on load */
	RIG_STANDING_INVERTER,      /* the inverter's own draw, when it stays on */
	RIG_STANDING_SELF_DISCHARGE /* of the bank, at 25 C all year; half for each 10 K colder */
} rig_standing_kind;

/* One part of the standing draw. */
typedef struct {
	rig_standing_kind kind;
	int load;          /* index into the coach's loads; -1 unless a load */
	const char *name;  /* of the load; NULL unless a load */
	rig_figure wh_day; /* at the bank */
} rig_standing_item;

/* One bank in one month. */
typedef struct {
	rig_figure harvest_wh_day, harvest_ah_day; /* of all its arrays */
	rig_figure doubt_wh_day[RIG_N_SOLAR_DOUBTS];
	double clear_wh_day;
	/* Chosen daily use, standing draw included; what runs by the weather runs as long as the
	 * month's mean day asks, by the rule of trip.h. Absent on a chassis bank. */
	rig_figure use_wh_day;
	rig_figure spare_wh_day;   /* harvest less standing draw; negative when it falls short */
	rig_figure standing_ratio; /* harvest / standing draw; absent if nothing is drawn */
	rig_solar_levels level;
	/* Days that the chosen use lasts from full, mean weather; at most RIG_SOLAR_DAYS_MAX.
	 * Absent on a chassis bank. low is the poorer end. */
	rig_figure days_without, days_with;
	/* Share of trips that run out, with its 95 % sampling interval; absent where the trips were
	 * not needed because a lower level already fails, or on a chassis bank. Where no trip can
	 * get through (even clear days throughout do not bring enough) it is 1 without any trip
	 * run. */
	rig_figure run_out_frac;
	int n_trips_run; /* behind run_out_frac; 0 if it rests on the energy balance alone */
	/* Likely figures: RIG_SOLAR_SEARCH_MAX_W of the same panels would bring all that is used
	 * and yet not reach RIG_EXTENDS: the bank does not last the night, or takes too little
	 * charge. */
	bool bank_too_small;
} rig_solar_bank_month;

/* What a level takes: the nameplate watts of all arrays on the bank together, on the same mounting
 * and kind of controller, its amp limit lifted; where the bank has no array, a new crystalline
 * panel flat on the roof behind a tracker. */
typedef struct {
	rig_solar_level level;
	bool reached; /* in every month judged, at the likely figures */
	/* The months judged with the least and with the most sun for each watt; the same if one
	 * month is judged. */
	int worst_month, best_month;
	/* Absent where even RIG_SOLAR_SEARCH_MAX_W do not reach it (on the likely figures; where
	 * only the high end is out of reach, high stands at RIG_SOLAR_SEARCH_MAX_W). Mostly the
	 * bank is too small then, or the sun hardly rises. */
	rig_figure worst_w, best_w;
} rig_solar_need;

/* Can it be carried after the standing draw? */
typedef enum {
	RIG_CANNOT, /* not even at the favourable ends of the ranges */
	RIG_MAY,    /* depends on where in their ranges the figures are */
	RIG_CAN     /* even at the unfavourable ends */
} rig_carried;

/* One rung of the ladder of loads: a day's use of one appliance. The first rung is the standing
 * draw itself; the others follow by their likely Wh a day, each alone on top of the standing draw.
 */
typedef struct {
	const char *id;   /* of the coach's load or of the appliance profile; "standing" */
	const char *name; /* the coach's, or the profile's label; NULL for the standing draw */
	int load;         /* index into the coach's loads; -1 if the coach has none such */
	const rig_appliance *appliance; /* profile; NULL if none stands behind it */
	rig_supply_kind supply;
	rig_figure running_w; /* at the appliance; absent for the standing draw */
	rig_figure use_h_day; /* hours a day in use, before duty */
	rig_figure duty_frac;
	/* At the bank, inverter included. What runs by the weather: on the mean day of the month
	 * judged in which most is used, and use_h_day and duty_frac are those of that day. */
	rig_figure wh_day;
	bool by_weather;
	rig_figure month_wh_day[RIG_SOLAR_MONTHS]; /* the same in each month */
	bool through_inverter;
	bool inverter_too_small; /* the coach's inverter is rated below its watts */
	bool always_on;          /* part of the standing draw already: judged as part of it */
	/* Harvest left after the standing draw / wh_day; 0 when nothing is left. Can exceed 1. For
	 * the standing draw, harvest / standing draw. */
	rig_figure covered_ratio[RIG_SOLAR_MONTHS];
	rig_carried carried[RIG_SOLAR_MONTHS];
	/* The coach's own loads up to this rung, one on top of the other; RIG_CANNOT and absent
	 * where the coach has no such load. */
	rig_figure own_together_wh_day;
	rig_carried own_together[RIG_SOLAR_MONTHS];
} rig_rung;

typedef struct {
	int bank; /* index into the coach's banks */
	rig_bank_role role;
	size_t n_arrays;           /* that feed it */
	rig_figure total_w;        /* nameplate of those; 0 without one */
	bool contributes_to_house; /* a house bank with an array */
	size_t n_standing;
	rig_standing_item *standing; /* largest first */
	rig_figure standing_wh_day;
	/* Chosen daily use, standing draw included, of the month judged in which it is most; absent
	 * on a chassis bank. */
	rig_figure use_wh_day;
	rig_figure usable_wh; /* of the full bank */
	rig_solar_bank_month months[RIG_SOLAR_MONTHS];
	rig_solar_levels overall;    /* what holds in every month judged */
	int worst_month, best_month; /* of the months judged, by likely level, then by harvest */
	rig_solar_need
		needs[RIG_N_SOLAR_LEVELS]; /* by level; RIG_FALLS_SHORT takes 0 W. A chassis bank
					    * has no more than RIG_MAINTAINS; n_needs says */
	size_t n_needs;
	size_t n_rungs;
	rig_rung *rungs; /* smallest first; of a chassis bank the standing draw only */
	/* What it hangs on in the worst month whether harvest covers what the level in doubt asks
	 * for, the standing draw or the use; worth measuring first, at most RIG_MEASURE_SHOWN. */
	size_t n_measures;
	rig_measure *measures;
} rig_solar_bank;

typedef struct {
	const rig_coach *coach; /* belongs to the caller; must outlive the findings */
	rig_place place;
	rig_solar_options options;
	double year_scatter_frac; /* standard deviation of one year's month around its long mean */
	size_t n_arrays;
	rig_solar_array *arrays; /* in the coach's order */
	size_t n_banks;
	rig_solar_bank *banks; /* in the coach's order */
	bool contributes_to_house;
	/* The bank that the claim is judged by: the house bank with the largest array; without one,
	 * any bank with the largest array; -1 if the coach has no array. */
	int main_bank;
	/* The house bank as it would stand if every array fed it; NULL unless the coach has a house
	 * bank and an array that feeds a chassis bank. */
	rig_solar_bank *moved;
} rig_solar_findings;

/* What the arrays of a coach are worth at a place.
 *   completed  a completed coach (rig_file_completed)
 *   options    NULL for rig_solar_defaults()
 *   findings   out: free with rig_solar_free; untouched unless RIG_OK
 * RIG_BAD_INPUT: an option is out of its range. RIG_NO_MEMORY. */
rig_status rig_solar_study(const rig_coach *completed, const rig_place *place,
	const rig_solar_options *options, rig_solar_findings **findings);
void rig_solar_free(rig_solar_findings *findings);

#endif
