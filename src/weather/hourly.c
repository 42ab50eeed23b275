/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>
#include <string.h>

#include "weather/yeartext.h"

/* ---- comments of our own layout: where the year was measured ---- */

/* The number that follows a word in a comment, with nothing but signs of spacing between. */
static bool number_after(piece line, const char *word, piece *number)
{
	const size_t length = strlen(word);
	for (size_t i = 0; i + length <= line.length; i++) {
		if (memcmp(line.at + i, word, length) != 0)
			continue;
		size_t from = i + length;
		while (from < line.length && strchr(" :=\t", line.at[from]) != NULL)
			from++;
		size_t to = from;
		while (to < line.length && strchr("+-.0123456789", line.at[to]) != NULL)
			to++;
		if (to > from && line.at[to - 1] == '.')
			to--;
		*number = (piece){line.at + from, to - from};
		if (to > from)
			return true;
	}
	return false;
}

static void read_comment(year_reader *r, piece line, bool said[3])
{
	const struct {
		const char *word;
		double low, high, *into;
		const char *allowed;
	} FACTS[] = {
		{"latitude", -90, 90, &r->year->latitude_deg, "degrees from -90 to 90"},
		{"longitude", -180, 180, &r->year->longitude_deg, "degrees from -180 to 180"},
		{"UTC", -14, 14, &r->year->utc_offset_h, "hours from -14 to 14"},
		{"elevation", -450, 9000, &r->year->elevation_m, "metres from -450 to 9000"},
	};
	for (size_t i = 0; i < sizeof FACTS / sizeof FACTS[0]; i++) {
		piece number;
		double value = 0;
		if (!number_after(line, FACTS[i].word, &number))
			continue;
		if (!piece_number(number, &value) || value < FACTS[i].low ||
			value > FACTS[i].high) {
			year_fault(r, number, "the comment's figure of the place is odd",
				FACTS[i].allowed, "mend the figure or leave it out");
			continue;
		}
		*FACTS[i].into = value;
		if (i < 3)
			said[i] = true;
	}
}

/* ---- our own layout ---- */

static const year_layout OWN = {
	.name = {[MONTH] = "month",
		[DAY] = "day",
		[HOUR] = "hour",
		[GHI] = "ghi_w_m2",
		[TEMP] = "temp_c",
		[DNI] = "dni_w_m2",
		[DHI] = "dhi_w_m2"},
	.columns_mend = "name the columns month, day, hour, ghi_w_m2 and temp_c in the first line "
			"that is no comment",
};

void year_read_own(year_reader *r)
{
	bool said[3] = {false, false, false};
	bool columns_fine = false;
	piece line;
	r->layout = &OWN;
	while (year_next_line(r, &line)) {
		if (line.length > 0 && line.at[0] == '#')
			read_comment(r, line, said);
		else if (line.length > 0 && r->n_cells == 0)
			columns_fine = year_read_names(r, line);
		else if (line.length > 0 && columns_fine)
			year_read_row(r, line);
	}
	r->year->located = said[0] && said[1] && said[2];
	if (r->n_cells == 0)
		year_fault_of_file(r, "there is no line of column names",
			"begin with month,day,hour,ghi_w_m2,dni_w_m2,dhi_w_m2,temp_c, or give a "
			"TMY3 or EPW file as it was published");
}

/* ---- any layout ---- */

static bool second_line_has(const year_reader *begin, const char *word)
{
	year_reader look = {.at = begin->at, .end = begin->end};
	piece line = {NULL, 0};
	if (!year_next_line(&look, &line) || !year_next_line(&look, &line))
		return false;
	const char *rest = line.at;
	while (rest != NULL)
		if (piece_is(year_next_cell(&rest, line.at + line.length), word))
			return true;
	return false;
}

static bool begins_with(const year_reader *begin, const char *word)
{
	const size_t n = strlen(word);
	return (size_t)(begin->end - begin->at) >= n && memcmp(begin->at, word, n) == 0;
}

static void read_text(year_reader *r)
{
	if (begins_with(r, "\xEF\xBB\xBF"))
		r->at += 3;
	if (begins_with(r, "LOCATION,"))
		year_read_epw(r);
	else if (second_line_has(r, "Date (MM/DD/YYYY)"))
		year_read_tmy3(r);
	else
		year_read_own(r);
	if (r->faults == 0)
		year_check_whole(r);
}

rig_status rig_hourly_year_read(
	const char *text, size_t length, rig_diags *diags, rig_hourly_year **year)
{
	year_reader *r = calloc(1, sizeof *r);
	rig_status status = RIG_NO_MEMORY;
	if (r == NULL)
		goto out;
	r->year = calloc(1, sizeof *r->year);
	if (r->year == NULL)
		goto out;
	r->text = r->at = text;
	r->end = text + length;
	r->diags = diags;
	read_text(r);
	status = r->faults == 0 ? RIG_OK : RIG_BAD_INPUT;
	if (status == RIG_OK) {
		*year = r->year;
		r->year = NULL;
	}
out:
	if (r != NULL)
		rig_hourly_year_free(r->year);
	free(r);
	return status;
}

void rig_hourly_year_free(rig_hourly_year *year)
{
	free(year);
}
