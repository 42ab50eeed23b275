/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The readers of hourly years: our own columns, TMY3 and EPW. An input that begins with 'o', 't' or
 * 'e' and a line feed is changes to a whole year of that layout: the first two bytes of each
 * further line number the line of the year that its rest replaces. Any other input is the file
 * itself. A year that was read is finite, and so are the climate made of it and its days. */
#include <math.h>
#include <stdbool.h>
#include <string.h>

#include "fuzz.h"
#include "rigbudget/weather.h"

enum { OWN, TMY3, EPW, N_LAYOUTS };
enum { ROOM = 1 << 20, MAX_HEAD = 8, MAX_LINES = RIG_YEAR_HOURS + MAX_HEAD };

static const char LETTERS[] = "ote";
static const char *const HEADS[N_LAYOUTS] = {
	[OWN] = "# latitude 35 deg longitude -111 deg elevation 2000 m UTC-7\n"
		"month,day,hour,ghi_w_m2,temp_c,dni_w_m2,dhi_w_m2\n",
	[TMY3] = "999999,\"NOWHERE\",XX,-7.0,35.000,-111.000,2000\n"
		 "Date (MM/DD/YYYY),Time (HH:MM),GHI (W/m^2),Dry-bulb (C),DNI (W/m^2),"
		 "DHI (W/m^2)\n",
	[EPW] = "LOCATION,NOWHERE,XX,USA,own,999999,35.0,-111.0,-7.0,2000.0\n"
		"DESIGN CONDITIONS,0\nTYPICAL/EXTREME PERIODS,0\nGROUND TEMPERATURES,0\n"
		"HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0\nCOMMENTS 1,\nCOMMENTS 2,\n"
		"DATA PERIODS,1,1,Data,Sunday,1/1,12/31\n",
};

/* A text by lines, each with its line feed; line i ends where line i + 1 begins. */
typedef struct {
	char text[ROOM];
	size_t begin[MAX_LINES + 1];
	size_t n_lines;
} lined_text;

static lined_text years[N_LAYOUTS];

static void add_line(lined_text *to, const char *line, size_t length)
{
	const size_t at = to->begin[to->n_lines];
	MUST(to->n_lines < MAX_LINES && at + length <= ROOM);
	memcpy(to->text + at, line, length);
	to->begin[++to->n_lines] = at + length;
}

static void add_row(lined_text *to, int layout, int day_of_year, int hour)
{
	char row[200];
	const int m = rig_month_of_day(day_of_year);
	const int d = day_of_year - rig_month_first_day(m) + 1;
	const int sun = hour > 6 && hour < 19 ? 15 * (hour - 6) * (19 - hour) : 0;
	const int warm = 10 + (day_of_year * 7 + hour) % 12;
	int n;
	if (layout == OWN)
		n = snprintf(
			row, sizeof row, "%d,%d,%d,%d,%d.5,0,%d\n", m + 1, d, hour, sun, warm, sun);
	else if (layout == TMY3)
		n = snprintf(row, sizeof row, "%02d/%02d/2001,%02d:00,%d,%d.5,0,%d\n", m + 1, d,
			hour, sun, warm, sun);
	else
		n = snprintf(row, sizeof row,
			"2001,%d,%d,%d,60,?,%d.5,5,50,80000,0,0,300,%d,0,%d,0,0,0,0,180,2,0,0,20,"
			"77777,9,0,0,0,0,88,0,0,0\n",
			m + 1, d, hour, warm, sun, sun);
	MUST(n > 0 && (size_t)n < sizeof row);
	add_line(to, row, (size_t)n);
}

static void make_year(int layout)
{
	lined_text *year = &years[layout];
	for (const char *line = HEADS[layout]; *line != '\0'; line = strchr(line, '\n') + 1)
		add_line(year, line, (size_t)(strchr(line, '\n') - line) + 1);
	for (int day = 0; day < RIG_YEAR_DAYS; day++)
		for (int hour = 1; hour <= RIG_DAY_HOURS; hour++)
			add_row(year, layout, day, hour);
}

/* ---- what a year that was read must be ---- */

static bool within(double value, double low, double high)
{
	return isfinite(value) && value >= low && value <= high;
}

static void check_days(const rig_climate_facts *facts)
{
	const rig_stay stay = {.first_day = 180, .n_days = 2};
	rig_day days[2];
	rig_day_hours hours;
	rig_climate *climate = rig_climate_of_stay(facts, &stay);
	MUST(climate != NULL);
	rig_climate_days(climate, (rig_stream){1, 1}, stay.first_day, stay.n_days, days);
	for (size_t d = 0; d < stay.n_days; d++) {
		MUST(within(days[d].clearness, 0, 1) && isfinite(days[d].warmth_k));
		rig_climate_hours(climate, &days[d], &hours);
		for (int h = 0; h < RIG_DAY_HOURS; h++) {
			MUST(within(hours.ghi_wm2[h], 0, 2000) && isfinite(hours.temp_c[h]));
			MUST(within(hours.dhi_wm2[h], 0, hours.ghi_wm2[h] + 1e-9));
		}
	}
	rig_climate_free(climate);
}

static void check_year(const rig_hourly_year *year)
{
	for (size_t h = 0; h < RIG_YEAR_HOURS; h++) {
		MUST(within(year->ghi_wm2[h], 0, 1600) && within(year->dni_wm2[h], 0, 1500));
		MUST(within(year->dhi_wm2[h], 0, 1200) && within(year->temp_c[h], -90, 65));
	}
	MUST(within(year->latitude_deg, -90, 90) && within(year->longitude_deg, -180, 180));
	MUST(within(year->utc_offset_h, -14, 14) && within(year->elevation_m, -450, 9000));
	rig_climate_facts facts;
	const rig_status status = rig_climate_facts_of_year(year, &facts);
	MUST(status == (year->located && year->has_beam ? RIG_OK : RIG_BAD_INPUT));
	if (status != RIG_OK)
		return;
	MUST(within(facts.memory, 0, 0.9) && within(facts.temp_memory, 0, 0.95));
	for (int m = 0; m < 12; m++)
		MUST(within(facts.warm_clear[m], -0.8, 0.8) && within(facts.temp_sd_k[m], 0, 100));
	check_days(&facts);
}

static bool read_year(const char *text, size_t length)
{
	rig_diags *diags = rig_diags_new();
	rig_hourly_year *year = NULL;
	MUST(diags != NULL);
	const bool is_read = rig_hourly_year_read(text, length, diags, &year) == RIG_OK;
	MUST(is_read == (year != NULL));
	MUST(is_read || rig_diags_faults(diags) > 0);
	if (is_read)
		check_year(year);
	rig_hourly_year_free(year);
	rig_diags_free(diags);
	return is_read;
}

/* ---- inputs ---- */

static void begin(void)
{
	static bool begun;
	if (begun)
		return;
	begun = true;
	for (int i = 0; i < N_LAYOUTS; i++) {
		make_year(i);
		/* else a change of it would show nothing */
		MUST(read_year(years[i].text, years[i].begin[years[i].n_lines]));
	}
}

/* The line that a change of two bytes and a text replaces. Small numbers are the head. */
static size_t line_of(const lined_text *year, const uint8_t *change)
{
	return ((size_t)change[0] + (size_t)change[1] * 256) % year->n_lines;
}

static void read_changed(const lined_text *year, const uint8_t *changes, const uint8_t *end)
{
	const uint8_t *stands_in[MAX_LINES] = {NULL};
	while (changes + 2 < end) {
		stands_in[line_of(year, changes)] = changes + 2;
		const uint8_t *stop = memchr(changes + 2, '\n', (size_t)(end - changes - 2));
		changes = stop == NULL ? end : stop + 1;
	}
	static lined_text changed;
	changed.n_lines = 0;
	for (size_t i = 0; i < year->n_lines; i++) {
		const char *line = year->text + year->begin[i];
		size_t length = year->begin[i + 1] - year->begin[i];
		if (stands_in[i] != NULL) {
			line = (const char *)stands_in[i];
			const uint8_t *stop = memchr(line, '\n', (size_t)(end - stands_in[i]));
			length = (size_t)((stop == NULL ? end : stop + 1) - stands_in[i]);
		}
		add_line(&changed, line, length);
	}
	/* exactly as large as it is, so that the sanitizers see a step beyond it */
	const size_t length = changed.begin[changed.n_lines];
	char *text = malloc(length);
	MUST(text != NULL);
	memcpy(text, changed.text, length);
	(void)read_year(text, length);
	free(text);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
	begin();
	const char *layout =
		size > 1 && bytes[1] == '\n' && bytes[0] != '\0' ? strchr(LETTERS, bytes[0]) : NULL;
	if (layout != NULL)
		read_changed(&years[layout - LETTERS], bytes + 2, bytes + size);
	else
		(void)read_year((const char *)bytes, size);
	return 0;
}
