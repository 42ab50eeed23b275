/* SPDX-License-Identifier: GPL-3.0-or-later */
/* yeartext.h: a year of hours as lines of comma-separated cells: what all layouts have in common.
 */
#ifndef WEATHER_YEARTEXT_H
#define WEATHER_YEARTEXT_H

#include "rigbudget/weather.h"

/* A piece of the text. */
typedef struct {
	const char *at;
	size_t length;
} piece;

/* What a cell may hold. DATE and TIME stand for MONTH, DAY and HOUR. */
typedef enum { MONTH, DAY, HOUR, GHI, TEMP, DNI, DHI, DATE, TIME, N_CELL_KINDS } cell_kind;

/* How a layout differs from others. */
typedef struct {
	const char *name[N_CELL_KINDS];           /* of its columns; NULL: it has none such */
	const char *light_missing, *temp_missing; /* marks; NULL: an empty cell alone */
	bool passes_leap_day; /* 29 February is passed over with a remark; else a fault */
	const char *columns_mend;
} year_layout;

enum { MAX_CELLS = 128 };

typedef struct {
	const year_layout *layout;
	const char *text, *at, *end;
	size_t line; /* from 1, of the line read last; 0 before the first */
	rig_diags *diags;
	size_t faults;
	int kind_of[MAX_CELLS]; /* which cell_kind stands there, or -1 */
	int n_cells, n_cells_least;
	bool has[N_CELL_KINDS];
	bool passed_leap_day;
	bool seen[RIG_YEAR_HOURS];
	rig_hourly_year *year;
} year_reader;

/* ---- faults: said with the line read last and the column of what was found ---- */
void year_fault(
	year_reader *r, piece found, const char *what, const char *allowed, const char *mend);
void year_fault_of_file(year_reader *r, const char *what, const char *mend);

/* ---- pieces ---- */
/* The next line without blanks at its ends; false behind the last. */
bool year_next_line(year_reader *r, piece *line);
/* The next cell of a line, which then begins behind it; the last one leaves it at NULL. A cell in
 * double quotes may hold commas; the quotes fall off. */
piece year_next_cell(const char **line, const char *end);
bool piece_is(piece p, const char *word);
/* Digits with at most one point and a sign; false for all else. */
bool piece_number(piece p, double *value);

/* ---- rows ---- */
/* Takes the line of column names by the layout's; false after a fault. */
bool year_read_names(year_reader *r, piece line);
void year_read_row(year_reader *r, piece line);
/* A cell of a line about the place as a number within limits. */
bool year_read_fact(year_reader *r, piece cell, const double limits[2], double *value);
void year_check_whole(year_reader *r);

/* ---- layouts: read all lines ---- */
void year_read_own(year_reader *r);
void year_read_tmy3(year_reader *r);
void year_read_epw(year_reader *r);

#endif
