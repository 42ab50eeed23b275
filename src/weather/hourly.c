/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "rigbudget/weather.h"

/* The columns that are read. Limits are those of the open air anywhere, with room for bright cloud
 * edges; a figure beyond them is a sensor's fault or another unit. */
typedef struct {
	const char *name;
	double low, high;
	const char *allowed;
} column;

enum { MONTH, DAY, HOUR, GHI, TEMP, N_NEEDED, DNI = N_NEEDED, DHI, N_COLUMNS };
static const column COLUMNS[N_COLUMNS] = {
	[MONTH] = {"month", 1, 12, "a whole number from 1 to 12"},
	[DAY] = {"day", 1, 31, "a whole number from 1 to 31"},
	[HOUR] = {"hour", 1, 24, "a whole number from 1 to 24, the hour that ends then"},
	[GHI] = {"ghi_w_m2", 0, 1600, "a number from 0 to 1600"},
	[TEMP] = {"temp_c", -90, 65, "a number from -90 to 65"},
	[DNI] = {"dni_w_m2", 0, 1500, "a number from 0 to 1500"},
	[DHI] = {"dhi_w_m2", 0, 1200, "a number from 0 to 1200"},
};
enum { MAX_CELLS = 64, MAX_SHOWN = 40, MAX_DIGITS = 15 };

/* A piece of the text. */
typedef struct {
	const char *at;
	size_t length;
} piece;

typedef struct {
	const char *text, *end;
	size_t line; /* from 1 */
	rig_diags *diags;
	size_t faults;
	int column_of[MAX_CELLS]; /* which of COLUMNS stands there, or -1 */
	int n_cells;
	bool has[N_COLUMNS];
	bool columns_fine;  /* rows are read */
	bool said_where[3]; /* latitude, longitude, UTC */
	bool seen[RIG_YEAR_HOURS];
	rig_hourly_year *year;
} reader;

/* ---- faults ---- */

/* Characters before a place in its line: bytes that do not continue one. */
static size_t column_number(const reader *r, const char *at)
{
	const char *begin = at;
	size_t n = 1;
	while (begin > r->text && begin[-1] != '\n')
		begin--;
	for (const char *c = begin; c < at; c++)
		n += ((unsigned char)*c & 0xc0) != 0x80;
	return n;
}

static void fault(reader *r, piece found, const char *what, const char *allowed, const char *mend)
{
	char shown[MAX_SHOWN + 8];
	const size_t n = found.length < MAX_SHOWN ? found.length : MAX_SHOWN;
	(void)snprintf(
		shown, sizeof shown, "\"%.*s%s\"", (int)n, found.at, n < found.length ? "..." : "");
	rig_diags_add(r->diags, &(rig_diag){.severity = RIG_FAULT,
					.where = {r->line, column_number(r, found.at), ""},
					.what = what,
					.found = shown,
					.allowed = allowed,
					.mend = mend});
	r->faults++;
}

static void fault_of_file(reader *r, const char *what, const char *mend)
{
	rig_diags_add(r->diags, &(rig_diag){.severity = RIG_FAULT,
					.where = {0, 0, ""},
					.what = what,
					.found = "",
					.allowed = "",
					.mend = mend});
	r->faults++;
}

/* ---- pieces ---- */

static bool is_blank(char c)
{
	return c == ' ' || c == '\t' || c == '\r';
}

static piece trimmed(const char *begin, const char *end)
{
	while (begin < end && is_blank(*begin))
		begin++;
	while (end > begin && is_blank(end[-1]))
		end--;
	return (piece){begin, (size_t)(end - begin)};
}

static bool is_word(piece p, const char *word)
{
	return strlen(word) == p.length && memcmp(p.at, word, p.length) == 0;
}

/* The next cell of a line, which then begins behind it; the last one leaves it at NULL. */
static piece next_cell(const char **line, const char *end)
{
	const char *begin = *line;
	const char *comma = memchr(begin, ',', (size_t)(end - begin));
	*line = comma == NULL ? NULL : comma + 1;
	return trimmed(begin, comma == NULL ? end : comma);
}

/* Reads digits with at most one point. Written out since strtod follows the locale; fifteen digits
 * over a power of ten are exact in a double. */
static bool decimal(piece p, double *value)
{
	double sum = 0;
	double unit = 1;
	int digits = 0;
	bool point = false;
	size_t i = p.length > 0 && (p.at[0] == '-' || p.at[0] == '+') ? 1 : 0;
	for (; i < p.length; i++) {
		const char c = p.at[i];
		if (c == '.' && !point) {
			point = true;
		} else if (c >= '0' && c <= '9' && digits < MAX_DIGITS) {
			sum = sum * 10 + (c - '0');
			unit *= point ? 10 : 1;
			digits++;
		} else {
			return false;
		}
	}
	*value = (p.length > 0 && p.at[0] == '-' ? -sum : sum) / unit;
	return digits > 0;
}

/* ---- comments: where the year was measured ---- */

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

static void read_comment(reader *r, piece line)
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
		if (!decimal(number, &value) || value < FACTS[i].low || value > FACTS[i].high) {
			fault(r, number, "the comment's figure of the place is odd",
				FACTS[i].allowed, "mend the figure or leave it out");
			continue;
		}
		*FACTS[i].into = value;
		if (i < 3)
			r->said_where[i] = true;
	}
}

/* ---- the table ---- */

/* Takes one name of the line of names. */
static void read_name(reader *r, piece name)
{
	int which = N_COLUMNS - 1;
	while (which >= 0 && !is_word(name, COLUMNS[which].name))
		which--;
	if (which >= 0) {
		if (r->has[which])
			fault(r, name, "the column stands twice", "", "keep one of them");
		r->has[which] = true;
	}
	r->column_of[r->n_cells++] = which;
}

static void read_header(reader *r, piece line)
{
	const size_t faults_before = r->faults;
	const char *rest = line.at;
	while (rest != NULL) {
		const piece name = next_cell(&rest, line.at + line.length);
		if (r->n_cells == MAX_CELLS) {
			fault(r, name, "too many columns", "at most 64", "leave the others out");
			return;
		}
		read_name(r, name);
	}
	for (int i = 0; i < N_NEEDED; i++)
		if (!r->has[i])
			fault(r, line, "a column is missing", COLUMNS[i].name,
				"name the columns month, day, hour, ghi_w_m2 and temp_c in the "
				"first line that is no comment");
	if (r->has[DNI] != r->has[DHI])
		fault(r, line, "beam or diffuse light stands alone",
			"dni_w_m2 and dhi_w_m2, or neither", "add the other column");
	r->year->has_beam = r->has[DNI] && r->has[DHI];
	r->columns_fine = r->faults == faults_before;
}

/* Reads one value; false if it is wrong, which has been said. */
static bool read_cell(reader *r, piece cell, int which, double *value)
{
	const column *c = &COLUMNS[which];
	const bool date = which <= HOUR;
	if (cell.length == 0) {
		fault(r, cell, "a value is missing", c->allowed,
			"fill the gap; a year with gaps cannot be reckoned");
		return false;
	}
	if (decimal(cell, value) && *value >= c->low && *value <= c->high &&
		!(date && *value != floor(*value)))
		return true;
	fault(r, cell, "a value is odd", c->allowed,
		date ? "mend the date" : "mend the value; write 0 for light at night");
	return false;
}

/* Reads the cells of a row; false if one is wrong, which has been said. */
static bool read_cells(reader *r, piece line, double value[N_COLUMNS], piece cells[N_COLUMNS])
{
	const char *rest = line.at;
	bool fine = true;
	int n = 0;
	for (; rest != NULL; n++) {
		const piece cell = next_cell(&rest, line.at + line.length);
		const int which = n < r->n_cells ? r->column_of[n] : -1;
		if (which < 0)
			continue;
		cells[which] = cell;
		fine = read_cell(r, cell, which, &value[which]) && fine;
	}
	if (n == r->n_cells)
		return fine;
	fault(r, line,
		n < r->n_cells ? "the line has too few values" : "the line has too many values",
		"as many as the line of column names", "mend the line");
	return false;
}

/* Where a row's hour lies in the year, or -1 after saying what is wrong with its date. */
static int hour_of_year(reader *r, const double value[N_COLUMNS], const piece cells[N_COLUMNS])
{
	const int month = (int)value[MONTH] - 1;
	const int day = (int)value[DAY] - 1;
	if (month == 1 && day == 28) {
		fault(r, cells[DAY], "29 February stands in the year", "a year of 365 days",
			"leave out the 24 hours of 29 February");
		return -1;
	}
	if (day >= rig_month_n_days(month)) {
		fault(r, cells[DAY], "the month has no such day", "a day of the month",
			"mend the date");
		return -1;
	}
	return (rig_month_first_day(month) + day) * RIG_DAY_HOURS + (int)value[HOUR] - 1;
}

static void read_row(reader *r, piece line)
{
	double value[N_COLUMNS] = {0};
	piece cells[N_COLUMNS] = {{0}};
	if (!read_cells(r, line, value, cells))
		return;
	const int hour = hour_of_year(r, value, cells);
	if (hour < 0)
		return;
	if (r->seen[hour]) {
		fault(r, cells[HOUR], "the hour stands twice", "each hour of the year once",
			"leave one of them out");
		return;
	}
	r->seen[hour] = true;
	r->year->ghi_wm2[hour] = value[GHI];
	r->year->dni_wm2[hour] = value[DNI];
	r->year->dhi_wm2[hour] = value[DHI];
	r->year->temp_c[hour] = value[TEMP];
}

static void check_whole(reader *r)
{
	int missing = 0;
	int first = 0;
	for (int hour = RIG_YEAR_HOURS - 1; hour >= 0; hour--) {
		if (!r->seen[hour]) {
			missing++;
			first = hour;
		}
	}
	if (missing == 0)
		return;
	char what[120];
	const int day = first / RIG_DAY_HOURS;
	const int month = rig_month_of_day(day);
	(void)snprintf(what, sizeof what,
		"%d of 8760 hours are missing, the first is hour %d of month %d, day %d", missing,
		first % RIG_DAY_HOURS + 1, month + 1, day - rig_month_first_day(month) + 1);
	fault_of_file(r, what, "give every hour of a year of 365 days once");
}

static void read_lines(reader *r)
{
	const char *at = r->text;
	if (r->end - at >= 3 && memcmp(at, "\xEF\xBB\xBF", 3) == 0)
		at += 3;
	while (at < r->end) {
		const char *stop = memchr(at, '\n', (size_t)(r->end - at));
		const piece line = trimmed(at, stop == NULL ? r->end : stop);
		r->line++;
		if (line.length > 0 && line.at[0] == '#')
			read_comment(r, line);
		else if (line.length > 0 && r->n_cells == 0)
			read_header(r, line);
		else if (line.length > 0 && r->columns_fine)
			read_row(r, line);
		at = stop == NULL ? r->end : stop + 1;
	}
}

rig_status rig_hourly_year_read(
	const char *text, size_t length, rig_diags *diags, rig_hourly_year **year)
{
	reader *r = calloc(1, sizeof *r);
	rig_status status = RIG_NO_MEMORY;
	if (r == NULL)
		goto out;
	r->year = calloc(1, sizeof *r->year);
	if (r->year == NULL)
		goto out;
	r->text = text;
	r->end = text + length;
	r->diags = diags;
	read_lines(r);
	r->year->located = r->said_where[0] && r->said_where[1] && r->said_where[2];
	if (r->n_cells == 0)
		fault_of_file(r, "there is no line of column names",
			"begin with month,day,hour,ghi_w_m2,dni_w_m2,dhi_w_m2,temp_c");
	else if (r->faults == 0)
		check_whole(r);
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
