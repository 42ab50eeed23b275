/* SPDX-License-Identifier: GPL-3.0-or-later */
/* readings.h: what a meter's readings say of a coach: what each load really draws and how sure that
 * is, which loads differ from their labels, what cannot be told apart and which reading would tell;
 * and on the DC side standing draws, battery capacity, charging sources and solar panels.
 * Knows steady draws; knows nothing of starts, cycles or cords. */
#ifndef RIG_READINGS_H
#define RIG_READINGS_H

#include <stdbool.h>
#include <stddef.h>

#include "rigbudget/coach.h"
#include "rigbudget/diag.h"
#include "rigbudget/figure.h"
#include "rigbudget/measuring.h"
#include "rigbudget/place.h"
#include "rigbudget/status.h"

/* Where a load index stands for the coach's charger on its AC side, or for the inverter's idle draw
 * on its bank. */
enum { RIG_READINGS_CHARGER = -1, RIG_READINGS_INVERTER = -2 };

typedef enum {
	RIG_DRAW_AGREES,
	RIG_DRAW_HIGH,
	RIG_DRAW_LOW,
	RIG_DRAW_DEAD,          /* draws nothing, or next to it, where it should draw */
	RIG_DRAW_NOT_IDENTIFIED /* the readings do not tell it from others, or not well enough */
} rig_draw_verdict;

/* One load that was on in some reading that counts. Amps are of all of its count together, at
 * rated volts, as a meter reads them (volt-amperes over volts). */
typedef struct {
	int load; /* index in coach->loads, or RIG_READINGS_CHARGER or RIG_READINGS_INVERTER */
	rig_supply_kind supply;
	double rated_v;
	rig_figure label_a;    /* by the file or its profile: what is held against the readings */
	rig_figure expected_a; /* that widened by what healthy ones of a kind differ, 10 % */
	rig_figure found_a;    /* 95 % interval; label and readings together */
	rig_figure found_w;    /* the same as real watts of one */
	double se_a;           /* standard error, > 0 */
	double told_frac; /* share of what is known that the readings say: 1 - (se / label's)^2 */
	size_t n_rows;    /* readings that it was on in */
	int group;        /* of loads that cannot be told apart: index in groups, or -1 */
	rig_draw_verdict verdict;
	bool at_volts; /* a motor or electronic load, read at known volts: its amps were judged
			  there */
} rig_readings_draw;

/* Why a reading, or a figure of it, was left out of the draws. */
typedef enum {
	RIG_ROW_USED,
	RIG_ROW_NO_LOADS,    /* nothing that draws there was on */
	RIG_ROW_LEG_UNKNOWN, /* a load of unknown leg was on, and only one leg was read */
	RIG_ROW_DEAD_LEG,    /* the figure is of a leg that the coach has not */
	RIG_ROW_CHARGING,    /* the bank was being charged: see sources */
	RIG_ROW_NOT_SAID,    /* bank_a is positive, and nobody says by what */
	RIG_ROW_DISCHARGE,   /* a timed discharge without a list of loads: see capacities */
	RIG_ROW_NO_BANK,     /* amps of a battery, and none is listed */
	RIG_ROW_OUTLIER      /* the others contradict it: set aside */
} rig_row_use;

typedef enum {
	RIG_METER_LEG_1,
	RIG_METER_LEG_2,
	RIG_METER_BOTH_LEGS, /* sum of the two, for loads of unknown leg */
	RIG_METER_WATTS,     /* of the supply; value and sigma are then W */
	RIG_METER_CIRCUIT,
	RIG_METER_BANK /* drawn from the bank, positive */
} rig_meter_place;

/* One figure of one reading. */
typedef struct {
	int reading; /* index in the readings that were given */
	rig_meter_place place;
	rig_row_use use;
	double read, sigma; /* sigma: of the meter, one standard deviation */
	double predicted;   /* by the draws found */
	double without;     /* by the draws found from all other rows */
	double studentized; /* (read - without) over its standard deviation */
	bool checked;       /* other readings say enough of the same loads to check this one */
} rig_readings_row;

/* Loads whose sum is known and whose single draws are not. */
typedef struct {
	size_t n_draws;
	int *draws; /* indices in draws */
} rig_readings_group;

/* The one reading that would say most: turn on these and nothing else. */
typedef struct {
	bool given; /* false: nothing is left to settle, or no reading would */
	rig_meter_place place;
	size_t n_on;
	int *on;                        /* indices in draws */
	int settles;                    /* index in draws: whose doubt it cuts most */
	double expected_a;              /* what the meter will show if the labels hold */
	double se_before_a, se_after_a; /* of the load that it settles */
	bool separates;                 /* every load of its group is then told apart well enough */
} rig_readings_next;

/* A bank with all off but what is always on. */
typedef struct {
	int reading, bank;
	rig_figure read_a;     /* positive: out of the bank */
	rig_figure expected_a; /* of the loads that are always on, by file and profiles */
	rig_draw_verdict verdict;
} rig_readings_standing;

typedef enum { RIG_CAPACITY_BY_DISCHARGE, RIG_CAPACITY_BY_REST } rig_capacity_way;

/* A bank's capacity at its rating's hours and 25 C. */
typedef struct {
	int reading, bank;
	rig_capacity_way way;
	rig_figure drawn_ah;
	rig_figure share_frac; /* of the capacity that was drawn, by rest volts */
	rig_figure found_ah;   /* of the bank at its voltage */
	rig_figure label_ah;
	rig_figure left_frac; /* found over label */
	rig_draw_verdict verdict;
	bool small_step; /* by rest volts, less than a fifth was drawn: too little to judge */
} rig_readings_capacity;

/* What a charger or an alternator puts out. */
typedef struct {
	int reading, bank;
	rig_charging by;
	rig_figure output_a; /* into the bank and the loads that were on */
	rig_figure rated_a;
	bool bank_full; /* at those volts the bank takes what it likes: nothing is said */
	rig_draw_verdict verdict;
} rig_readings_source;

typedef enum {
	RIG_PANEL_AGREES,
	RIG_PANEL_LOW,       /* shade, dirt, a wire, a part of the panels, or a full bank */
	RIG_PANEL_DEAD,      /* nothing */
	RIG_PANEL_HIGH,      /* more than the label can give: look at label and sky again */
	RIG_PANEL_UNDECIDED, /* the sun is too low or the sky too uncertain */
	RIG_PANEL_BANK_FULL, /* low amps into a bank at the end of its charge mean nothing */
	RIG_PANEL_NO_PLACE   /* nobody says where the coach stands */
} rig_panel_verdict;

typedef struct {
	int reading, array;
	double elevation_rad; /* of the sun */
	rig_figure light_wm2; /* on the panel */
	rig_figure air_c;
	rig_figure read_a, expected_a;
	rig_panel_verdict verdict;
} rig_readings_panel;

typedef struct {
	const rig_coach *coach;      /* the caller's; must outlive the findings */
	const rig_reading *readings; /* the caller's */
	size_t n_readings;
	double meter_frac, meter_a; /* as used */
	double scatter_ratio; /* of the readings about the draws, over meter_frac and meter_a */
	double sureness_z;    /* standard errors that an accusation takes */
	size_t n_draws, n_rows, n_groups, n_standing, n_capacities, n_sources, n_panels;
	rig_readings_draw *draws;
	rig_readings_row *rows;
	rig_readings_group *groups;
	rig_readings_next next;
	rig_readings_standing *standing;
	rig_readings_capacity *capacities;
	rig_readings_source *sources;
	rig_readings_panel *panels;
} rig_readings_findings;

/* The draws that the readings leave most in doubt, best first: shares of the variance of their sum;
 * one decides whose interval lies on both sides of an end of what its label lets expect, or that
 * was not identified. Gives how many. */
size_t rig_readings_measures(
	const rig_readings_findings *findings, rig_measure measures[RIG_MEASURE_SHOWN]);

typedef struct {
	/* Standard deviation of one reading: meter_frac of it and meter_a. 0 and 0: 0.02 and
	 * 0.2 A, a clamp meter's usual accuracy (common practice, no source); it is taken as one
	 * standard deviation, since what an appliance draws wanders too. A figure of a reading
	 * that is a range has a fourth of its width instead. */
	double meter_frac, meter_a;
	const rig_place *place; /* for panels; NULL if nobody knows */
} rig_readings_options;

/* What readings say of a completed coach.
 *   readings   such as coach->readings, or rows of a table; their ids are those of the coach
 *   options    NULL for the usual ones
 *   findings   out: to be freed with rig_readings_free(); untouched unless RIG_OK
 * Draws x >= 0, amps at rated volts, minimise
 *   sum ((read - predicted(x)) / sigma)^2 + sum ((x - label) / spread)^2
 * with spread the half width of the label's range, at least 0.3 of it: a label is a soft opinion.
 * On AC a leg's amps are the magnitude of its phasor sum, linearised about the solution; amps go
 * with the volts that were read as the load's behaviour says (supply_voltage.h). All AC loads that
 * are always on, and the charger unless the reading says otherwise, count as on in every reading.
 * The meter's error is then taken as the stated one times the scatter that the rows show about the
 * draws, in which the stated one counts as two rows. Standard errors are those of the linear
 * problem without the bounds. Loads are accused only
 * beyond so many standard errors that a campaign in which every load stands at the edge of what is
 * healthy has 5 in 100 of a wrong accusation (Bonferroni); others have far less.
 * RIG_BAD_INPUT: a figure is not finite, an id is not of the coach. RIG_NO_MEMORY. */
rig_status rig_readings_study(const rig_coach *completed, const rig_reading *readings,
	size_t n_readings, const rig_readings_options *options, rig_readings_findings **findings);
void rig_readings_free(rig_readings_findings *findings);

/* The stated coach with the figures that the readings settled in the place of its own, from:
 * measured, the old ones kept in their notes: running watts of loads, capacity of banks, output of
 * charger and alternator.
 *   stated   as rig_file_coach gives it; the findings are of its completed form
 *   n        out: figures that were changed; may be NULL
 * Text as of rig_coach_text, to be freed with free(); NULL when memory is out. */
char *rig_readings_accepted(
	const rig_coach *stated, const rig_readings_findings *findings, size_t *n);

/* ---- readings from a table or from words ---- */

typedef struct rig_reading_list rig_reading_list; /* readings from a table or from words */

/* Readings as comma-separated values: the first line that is no comment (#) names the columns by
 * the keys of a reading in a rig file; a cell is a number, a word, or for `on` and `breakers` ids
 * parted by blanks; numbers may be ranges written low..high. An empty cell is left out. Quotes
 * hold commas, two of them a quote.
 *   completed   its ids are those that may stand in the table
 * RIG_BAD_INPUT: each fault is in diags with its line and column. RIG_NO_MEMORY.
 * *list is untouched unless RIG_OK; free it with rig_reading_list_free. */
rig_status rig_reading_list_read(const char *text, size_t length, const rig_coach *completed,
	rig_diags *diags, rig_reading_list **list);
/* The same of one reading written as words: `on=fridge,heater leg1_a=14.2 volts_v=118`. */
rig_status rig_reading_list_words(
	const char *words, const rig_coach *completed, rig_diags *diags, rig_reading_list **list);
void rig_reading_list_free(rig_reading_list *list);          /* NULL is fine */
size_t rig_reading_list_count(const rig_reading_list *list); /* how many it holds */
const rig_reading *rig_reading_list_at(const rig_reading_list *list, size_t i); /* belongs to it */

/* A few words for a verdict, such as "above its label". Never NULL. */
const char *rig_draw_verdict_text(rig_draw_verdict verdict);
const char *rig_panel_verdict_text(rig_panel_verdict verdict);
const char *rig_row_use_text(rig_row_use use);

#endif
