/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The open layouts TMY3 [TMY3] and EPW [EPW]. */
#include <stdio.h>
#include <string.h>

#include "weather/yeartext.h"

/* ---- the line about the place ---- */

/* Which of its cells, from 0, hold what; the elevation is the last of them. */
typedef struct {
	int utc_offset, latitude, longitude, elevation;
} place_cells;

static void read_place(year_reader *r, piece line, const place_cells *at)
{
	rig_hourly_year *year = r->year;
	const struct {
		int at;
		double limits[2], *into;
	} FACTS[] = {
		{at->utc_offset, {-14, 14}, &year->utc_offset_h},
		{at->latitude, {-90, 90}, &year->latitude_deg},
		{at->longitude, {-180, 180}, &year->longitude_deg},
		{at->elevation, {-450, 9000}, &year->elevation_m},
	};
	const char *rest = line.at;
	int n_cells = 0;
	for (; rest != NULL; n_cells++) {
		const piece cell = year_next_cell(&rest, line.at + line.length);
		for (size_t i = 0; i < sizeof FACTS / sizeof FACTS[0]; i++)
			if (FACTS[i].at == n_cells)
				(void)year_read_fact(r, cell, FACTS[i].limits, FACTS[i].into);
	}
	if (n_cells <= at->elevation)
		year_fault(r, line, "the line about the place is too short",
			"latitude, longitude, time zone and elevation",
			"take the line from the file as it was published");
	year->located = r->faults == 0;
}

/* ---- TMY3 ---- */

static const year_layout TMY3 = {
	.name = {[DATE] = "Date (MM/DD/YYYY)",
		[TIME] = "Time (HH:MM)",
		[GHI] = "GHI (W/m^2)",
		[TEMP] = "Dry-bulb (C)",
		[DNI] = "DNI (W/m^2)",
		[DHI] = "DHI (W/m^2)"},
	.light_missing = "-9900",
	.temp_missing = "-9900",
	.passes_leap_day = true,
	.columns_mend = "take the second line from the file as it was published",
};

void year_read_tmy3(year_reader *r)
{
	piece line;
	bool columns_fine = false;
	r->layout = &TMY3;
	while (year_next_line(r, &line)) {
		if (r->line == 1)
			read_place(r, line, &(place_cells){3, 4, 5, 6});
		else if (r->line == 2)
			columns_fine = year_read_names(r, line);
		else if (line.length > 0 && columns_fine)
			year_read_row(r, line);
	}
}

/* ---- EPW ---- */

static const char *const EPW_LINES[] = {"LOCATION", "DESIGN CONDITIONS", "TYPICAL/EXTREME PERIODS",
	"GROUND TEMPERATURES", "HOLIDAYS/DAYLIGHT SAVINGS", "COMMENTS 1", "COMMENTS 2",
	"DATA PERIODS"};
enum { N_EPW_LINES = sizeof EPW_LINES / sizeof EPW_LINES[0] };

/* The last three columns are younger than the layout and may be missing. */
enum { EPW_CELLS = 35, EPW_CELLS_LEAST = 32 };

static const year_layout EPW = {
	.light_missing = "9999",
	.temp_missing = "99.9",
	.passes_leap_day = true,
};

static void set_epw_cells(year_reader *r)
{
	static const struct {
		int at;
		cell_kind kind;
	} CELL[] = {{1, MONTH}, {2, DAY}, {3, HOUR}, {6, TEMP}, {13, GHI}, {14, DNI}, {15, DHI}};
	r->n_cells = EPW_CELLS;
	r->n_cells_least = EPW_CELLS_LEAST;
	for (int i = 0; i < EPW_CELLS; i++)
		r->kind_of[i] = -1;
	for (size_t i = 0; i < sizeof CELL / sizeof CELL[0]; i++)
		r->kind_of[CELL[i].at] = (int)CELL[i].kind;
	r->year->has_beam = true;
}

/* DATA PERIODS, number of periods, records an hour, ... */
static void read_periods(year_reader *r, piece line)
{
	static const char *const WHAT[] = {
		"the file has several periods", "the file has not one record an hour"};
	const char *rest = line.at;
	(void)year_next_cell(&rest, line.at + line.length);
	for (int i = 0; i < 2; i++) {
		const piece cell = rest == NULL ? (piece){line.at + line.length, 0}
						: year_next_cell(&rest, line.at + line.length);
		if (!piece_is(cell, "1"))
			year_fault(r, cell, WHAT[i], "1", "take a file of one year by hours");
	}
}

/* The eight lines before the rows; false after a fault that leaves no rows to read. */
static bool read_epw_head(year_reader *r)
{
	for (int i = 0; i < N_EPW_LINES; i++) {
		piece line = {r->end, 0};
		const bool there = year_next_line(r, &line);
		const char *rest = line.at;
		const piece name = year_next_cell(&rest, line.at + line.length);
		if (!there || !piece_is(name, EPW_LINES[i])) {
			year_fault(r, name, "a line of the head is missing", EPW_LINES[i],
				"take the eight lines from the file as it was published");
			return false;
		}
		if (i == 0)
			read_place(r, line, &(place_cells){8, 6, 7, 9});
		else if (i == N_EPW_LINES - 1)
			read_periods(r, line);
	}
	return true;
}

void year_read_epw(year_reader *r)
{
	piece line;
	r->layout = &EPW;
	if (!read_epw_head(r))
		return;
	set_epw_cells(r);
	while (year_next_line(r, &line))
		if (line.length > 0)
			year_read_row(r, line);
}
