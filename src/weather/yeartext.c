/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "weather/yeartext.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* What the figures may be. Limits are those of the open air anywhere, with room for bright cloud
 * edges; a figure beyond them is a sensor's fault or another unit. */
static const struct {
	double low, high;
	const char *allowed;
} CELLS[N_CELL_KINDS] = {
	[MONTH] = {1, 12, "a whole number from 1 to 12"},
	[DAY] = {1, 31, "a whole number from 1 to 31"},
	[HOUR] = {1, 24, "a whole number from 1 to 24, the hour that ends then"},
	[GHI] = {0, 1600, "a number from 0 to 1600"},
	[TEMP] = {-90, 65, "a number from -90 to 65"},
	[DNI] = {0, 1500, "a number from 0 to 1500"},
	[DHI] = {0, 1200, "a number from 0 to 1200"},
	[DATE] = {0, 0, "month/day/year, such as 01/31/1998"},
	[TIME] = {0, 0, "the end of a whole hour from 01:00 to 24:00"},
};
enum { MAX_SHOWN = 40, MAX_DIGITS = 15 };

/* ---- faults ---- */

/* Characters before a place in its line: bytes that do not continue one. */
static size_t column_number(const year_reader *r, const char *at)
{
	const char *begin = at;
	size_t n = 1;
	while (begin > r->text && begin[-1] != '\n')
		begin--;
	for (const char *c = begin; c < at; c++)
		n += ((unsigned char)*c & 0xc0) != 0x80;
	return n;
}

void year_fault(
	year_reader *r, piece found, const char *what, const char *allowed, const char *mend)
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

void year_fault_of_file(year_reader *r, const char *what, const char *mend)
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

bool piece_is(piece p, const char *word)
{
	return strlen(word) == p.length && memcmp(p.at, word, p.length) == 0;
}

bool year_next_line(year_reader *r, piece *line)
{
	if (r->at >= r->end)
		return false;
	const char *stop = memchr(r->at, '\n', (size_t)(r->end - r->at));
	*line = trimmed(r->at, stop == NULL ? r->end : stop);
	r->at = stop == NULL ? r->end : stop + 1;
	r->line++;
	return true;
}

piece year_next_cell(const char **line, const char *end)
{
	const char *begin = *line;
	while (begin < end && is_blank(*begin))
		begin++;
	const char *quote = begin < end && *begin == '"'
				    ? memchr(begin + 1, '"', (size_t)(end - begin - 1))
				    : NULL;
	const char *from = quote == NULL ? begin : quote;
	const char *comma = memchr(from, ',', (size_t)(end - from));
	*line = comma == NULL ? NULL : comma + 1;
	if (quote != NULL)
		return trimmed(begin + 1, quote);
	return trimmed(begin, comma == NULL ? end : comma);
}

/* Reads digits with at most one point. Written out since strtod follows the locale; fifteen digits
 * over a power of ten are exact in a double. */
bool piece_number(piece p, double *value)
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

/* ---- names ---- */

static void read_name(year_reader *r, piece name)
{
	int kind = N_CELL_KINDS - 1;
	while (kind >= 0 &&
		(r->layout->name[kind] == NULL || !piece_is(name, r->layout->name[kind])))
		kind--;
	if (kind >= 0) {
		if (r->has[kind])
			year_fault(r, name, "the column stands twice", "", "keep one of them");
		r->has[kind] = true;
	}
	r->kind_of[r->n_cells++] = kind;
}

bool year_read_names(year_reader *r, piece line)
{
	const size_t faults_before = r->faults;
	const char *rest = line.at;
	while (rest != NULL) {
		const piece name = year_next_cell(&rest, line.at + line.length);
		if (r->n_cells == MAX_CELLS) {
			year_fault(
				r, name, "too many columns", "at most 128", "leave the others out");
			return false;
		}
		read_name(r, name);
	}
	for (int kind = 0; kind < N_CELL_KINDS; kind++)
		if (!r->has[kind] && r->layout->name[kind] != NULL && kind != DNI && kind != DHI)
			year_fault(r, line, "a column is missing", r->layout->name[kind],
				r->layout->columns_mend);
	if (r->has[DNI] != r->has[DHI])
		year_fault(r, line, "beam or diffuse light stands alone",
			"dni_w_m2 and dhi_w_m2, or neither", "add the other column");
	r->year->has_beam = r->has[DNI] && r->has[DHI];
	r->n_cells_least = r->n_cells;
	return r->faults == faults_before;
}

/* ---- rows ---- */

typedef struct {
	double value[N_CELL_KINDS];
	piece cell[N_CELL_KINDS];
} year_row;

static bool is_date(cell_kind kind)
{
	return kind <= HOUR || kind >= DATE;
}

static bool is_missing(const year_reader *r, cell_kind kind, piece cell)
{
	const char *mark = kind == TEMP ? r->layout->temp_missing : r->layout->light_missing;
	double value = 0;
	double marked = 0;
	if (cell.length == 0)
		return true;
	if (is_date(kind) || mark == NULL || !piece_number(cell, &value))
		return false;
	(void)piece_number((piece){mark, strlen(mark)}, &marked);
	return value == marked;
}

/* Digits alone; -1 for anything else. */
static int digits_of(const char *at, size_t n)
{
	int value = 0;
	for (size_t i = 0; i < n; i++) {
		if (at[i] < '0' || at[i] > '9')
			return -1;
		value = value * 10 + (at[i] - '0');
	}
	return value;
}

/* MM/DD/YYYY, where month and day may have one digit. */
static bool read_date(piece cell, year_row *row)
{
	const char *first = memchr(cell.at, '/', cell.length);
	if (first == NULL)
		return false;
	const size_t rest = cell.length - (size_t)(first + 1 - cell.at);
	const char *second = memchr(first + 1, '/', rest);
	if (second == NULL || first - cell.at > 2 || second - first > 3)
		return false;
	const size_t year = (size_t)(cell.at + cell.length - (second + 1));
	const int month = digits_of(cell.at, (size_t)(first - cell.at));
	const int day = digits_of(first + 1, (size_t)(second - first - 1));
	if (year != 4 || digits_of(second + 1, year) < 0)
		return false;
	row->value[MONTH] = month;
	row->value[DAY] = day;
	row->cell[DAY] = cell;
	return month >= 1 && month <= 12 && day >= 1 && day <= 31;
}

/* HH:00, where the hour may have one digit. */
static bool read_time(piece cell, year_row *row)
{
	const char *colon = memchr(cell.at, ':', cell.length);
	if (colon == NULL || colon - cell.at > 2 || cell.at + cell.length - colon != 3 ||
		digits_of(colon + 1, 2) != 0)
		return false;
	const int hour = digits_of(cell.at, (size_t)(colon - cell.at));
	row->value[HOUR] = hour;
	row->cell[HOUR] = cell;
	return hour >= 1 && hour <= 24;
}

static bool read_number(piece cell, cell_kind kind, year_row *row)
{
	double *value = &row->value[kind];
	return piece_number(cell, value) && *value >= CELLS[kind].low &&
	       *value <= CELLS[kind].high && !(is_date(kind) && *value != floor(*value));
}

/* Reads one cell; false if it is wrong, which has been said. */
static bool read_cell(year_reader *r, piece cell, cell_kind kind, year_row *row)
{
	row->cell[kind] = cell;
	if (is_missing(r, kind, cell)) {
		year_fault(r, cell, "a value is missing", CELLS[kind].allowed,
			"fill the gap; a year with gaps cannot be reckoned");
		return false;
	}
	if (kind == DATE ? read_date(cell, row)
			 : (kind == TIME ? read_time(cell, row) : read_number(cell, kind, row)))
		return true;
	year_fault(r, cell, "a value is odd", CELLS[kind].allowed,
		is_date(kind) ? "mend the date" : "mend the value; write 0 for light at night");
	return false;
}

/* Reads the cells of a row; false if one is wrong, which has been said. */
static bool read_cells(year_reader *r, piece line, year_row *row)
{
	const char *rest = line.at;
	bool fine = true;
	int n = 0;
	for (; rest != NULL; n++) {
		const piece cell = year_next_cell(&rest, line.at + line.length);
		if (n < r->n_cells && r->kind_of[n] >= 0)
			fine = read_cell(r, cell, (cell_kind)r->kind_of[n], row) && fine;
	}
	if (n <= r->n_cells && n >= r->n_cells_least)
		return fine;
	char allowed[60];
	if (r->n_cells == r->n_cells_least)
		(void)snprintf(allowed, sizeof allowed, "as many as the line of column names");
	else
		(void)snprintf(allowed, sizeof allowed, "%d to %d", r->n_cells_least, r->n_cells);
	year_fault(r, line,
		n < r->n_cells_least ? "the line has too few values"
				     : "the line has too many values",
		allowed, "mend the line");
	return false;
}

static void leap_day(year_reader *r, piece cell)
{
	if (!r->layout->passes_leap_day) {
		year_fault(r, cell, "29 February stands in the year", "a year of 365 days",
			"leave out the 24 hours of 29 February");
	} else if (!r->passed_leap_day) {
		rig_diags_add(r->diags,
			&(rig_diag){.severity = RIG_REMARK,
				.where = {r->line, 0, ""},
				.what = "29 February is passed over; a year is taken as 365 days"});
		r->passed_leap_day = true;
	}
}

/* Where a row's hour lies in the year, or -1 after saying what is wrong with its date. */
static int hour_of_year(year_reader *r, const year_row *row)
{
	const int month = (int)row->value[MONTH] - 1;
	const int day = (int)row->value[DAY] - 1;
	if (month == 1 && day == 28) {
		leap_day(r, row->cell[DAY]);
		return -1;
	}
	if (day >= rig_month_n_days(month)) {
		year_fault(r, row->cell[DAY], "the month has no such day", "a day of the month",
			"mend the date");
		return -1;
	}
	return (rig_month_first_day(month) + day) * RIG_DAY_HOURS + (int)row->value[HOUR] - 1;
}

void year_read_row(year_reader *r, piece line)
{
	year_row row = {.value = {0}};
	if (!read_cells(r, line, &row))
		return;
	const int hour = hour_of_year(r, &row);
	if (hour < 0)
		return;
	if (r->seen[hour]) {
		year_fault(r, row.cell[HOUR], "the hour stands twice", "each hour of the year once",
			"leave one of them out");
		return;
	}
	r->seen[hour] = true;
	r->year->ghi_wm2[hour] = row.value[GHI];
	r->year->dni_wm2[hour] = row.value[DNI];
	r->year->dhi_wm2[hour] = row.value[DHI];
	r->year->temp_c[hour] = row.value[TEMP];
}

bool year_read_fact(year_reader *r, piece cell, const double limits[2], double *value)
{
	char allowed[60];
	if (piece_number(cell, value) && *value >= limits[0] && *value <= limits[1])
		return true;
	(void)snprintf(allowed, sizeof allowed, "a number from %g to %g", limits[0], limits[1]);
	year_fault(r, cell, "the file's figure of the place is odd", allowed, "mend the figure");
	return false;
}

void year_check_whole(year_reader *r)
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
	year_fault_of_file(r, what, "give every hour of a year of 365 days once");
}
