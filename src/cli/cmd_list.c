/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cmd_list.c: the profiles as tables. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "base/buffer.h"
#include "base/suggest.h"
#include "cli/commands.h"
#include "cli/session.h"

/* One line of a list into the buffer. */
typedef void line_writer(size_t i, rig_buffer *line);

typedef struct {
	const char *name;
	const char *about;
	const char *head;
	size_t (*count)(void);
	line_writer *write;
} list_row;

static void add_range(rig_buffer *line, rig_figure figure, int decimals)
{
	char text[48];
	if (!rig_figure_given(figure))
		snprintf(text, sizeof text, "-");
	else if (figure.low < figure.high)
		snprintf(text, sizeof text, "%.*f (%.*f to %.*f)", decimals, figure.likely,
			decimals, figure.low, decimals, figure.high);
	else
		snprintf(text, sizeof text, "%.*f", decimals, figure.likely);
	rig_buffer_format(line, "  %-22s", text);
}

static void write_appliance(size_t i, rig_buffer *line)
{
	const rig_appliance *row = rig_appliance_at(i);
	rig_buffer_format(line, "%-26s %-3s", row->id, row->supply == RIG_AC ? "ac" : "dc");
	add_range(line, row->running_w, row->running_w.high < 10.0 ? 1 : 0);
	rig_buffer_format(line, "  %s\n%30s%s", row->label, "", row->source);
}

static void write_place(size_t i, rig_buffer *line)
{
	static const char *const RECORD[] = {"long", "short", "short, unconfirmed"};
	rig_place row;
	rig_place_at(i, &row);
	double year = 0.0;
	for (int month = 0; month < 12; month++)
		year += row.ghi_kwh_m2_day[month] / 12.0;
	rig_buffer_format(line, "%-36s %7.2f %8.2f %5.0f m  %4.1f  %s", row.name, row.latitude_deg,
		row.longitude_deg, row.elevation_m, year, RECORD[row.record]);
}

static void write_battery(size_t i, rig_buffer *line)
{
	const rig_chemistry *row = rig_chemistry_at(i);
	rig_buffer_format(line, "%-24s", row->id);
	add_range(line, row->usable_frac, 2);
	add_range(line, row->charge_efficiency_frac, 2);
	rig_buffer_format(line, "  %s\n%26s%s", row->label, "", row->source);
}

static void write_panel(size_t i, rig_buffer *line)
{
	const rig_panel_kind *row = rig_panel_kind_at(i);
	rig_buffer_format(line, "%-24s", row->id);
	add_range(line, row->density_wm2, 0);
	rig_buffer_format(line, "  %s\n%26s%s", row->label, "", row->source);
}

static void write_supply(size_t i, rig_buffer *line)
{
	const rig_supply *row = rig_supply_at(i);
	rig_buffer_format(line, "%-6s %3.0f A on %d hot%s of %.0f V  %s\n%8s%s", row->id,
		row->breaker_a, row->n_hots, row->n_hots == 1 ? "" : "s", row->volts_v, row->label,
		"", row->source);
}

static void write_gauge(rig_buffer *line, int awg)
{
	if (awg >= 0)
		rig_buffer_format(line, "%4d", awg);
	if (awg == 0)
		return;
	if (awg < 0)
		rig_buffer_format(line, "%2d/0", 1 - awg);
}

static void write_conductor(size_t i, rig_buffer *line)
{
	const rig_conductor_size *row = rig_conductor_size_at(i);
	write_gauge(line, row->awg);
	rig_buffer_format(line, "  %7.2f mm2  %7.3f ohm/km", row->area_mm2, row->ohm_per_km_75c);
	const double ampacity[] = {row->ampacity_60c_a, row->ampacity_75c_a, row->ampacity_90c_a,
		row->ampacity_105c_12v_a};
	for (int k = 0; k < 4; k++) {
		if (ampacity[k] > 0.0)
			rig_buffer_format(line, "  %4.0f", ampacity[k]);
		else
			rig_buffer_add(line, "     -");
	}
}

static void write_rating(size_t i, rig_buffer *line)
{
	const rig_standard_rating *row = rig_standard_rating_at(i);
	rig_buffer_format(line, "%5.1f A  %s%s%s", row->rating_a, row->breaker ? "breaker" : "",
		row->breaker && row->fuse ? ", " : "", row->fuse ? "fuse" : "");
}

static const list_row LISTS[] = {
	{"appliances", "Appliances: watts while running, as likely (low to high).",
		"id                         on   watts                   what; source",
		rig_n_appliances, write_appliance},
	{"places", "Places: year's mean sun on flat ground, kWh/m2 a day, and length of record.",
		"name                                  north     east  height   sun  record",
		rig_n_places, write_place},
	{"batteries", "Batteries: share of the capacity to use; energy stored per energy charged.",
		"id                        usable                  charge efficiency       what; "
		"source",
		rig_n_chemistries, write_battery},
	{"panels", "Solar panels: nameplate watts per square metre of outer frame.",
		"id                        W/m2                    what; source", rig_n_panel_kinds,
		write_panel},
	{"supplies", "Shore supplies.", "id     what; source", rig_n_supplies, write_supply},
	{"conductors",
		"Copper conductors: area, resistance stranded at 75 C, ampacity by insulation.",
		" AWG        area     resistance   60 C  75 C  90 C  105 C at 12 V",
		rig_n_conductor_sizes, write_conductor},
	{"ratings", "Standard ratings of breakers and fuses.", " rating  of",
		rig_n_standard_ratings, write_rating},
};
enum { N_LISTS = sizeof LISTS / sizeof LISTS[0] };

static const char *list_name_at(const void *context, size_t i)
{
	(void)context;
	return i < N_LISTS ? LISTS[i].name : "schema";
}

static bool holds(const char *text, const char *word)
{
	const size_t length = strlen(word);
	for (; *text != '\0'; text++)
		if (strncasecmp(text, word, length) == 0)
			return true;
	return length == 0;
}

/* Adds the lines that hold the word; gives how many. */
static size_t add_lines(const list_row *list, const char *word, rig_buffer *text)
{
	size_t n = 0;
	for (size_t i = 0; i < list->count(); i++) {
		rig_buffer line = {0};
		list->write(i, &line);
		if (line.text != NULL && holds(line.text, word)) {
			rig_buffer_add(text, line.text);
			rig_buffer_add(text, "\n");
			n++;
		}
		text->failed |= line.failed;
		rig_buffer_free(&line);
	}
	return n;
}

static int list_rows(const cli_options *options, const list_row *list)
{
	const char *word = options->n_arguments > 1 ? options->arguments[1] : "";
	rig_buffer text = {0};
	rig_buffer_format(&text, "%s\n\n%s\n", list->about, list->head);
	const size_t n = add_lines(list, word, &text);
	int status = text.failed ? exit_for(RIG_NO_MEMORY) : EXIT_FINE;
	if (status == EXIT_FINE && n == 0) {
		fprintf(stderr, "rigbudget list %s: no row holds %s\n", list->name, word);
		status = EXIT_USAGE;
	}
	if (status == EXIT_FINE)
		status = write_result(options, text.text, text.length);
	rig_buffer_free(&text);
	return status;
}

static int print_schema(const cli_options *options)
{
	char *schema = rig_schema_text();
	if (schema == NULL)
		return exit_for(RIG_NO_MEMORY);
	const int status = write_result(options, schema, strlen(schema));
	free(schema);
	return status;
}

int run_list(const cli_options *options)
{
	const char *what = options->arguments[0];
	if (strcmp(what, "schema") == 0)
		return print_schema(options);
	for (size_t i = 0; i < N_LISTS; i++)
		if (strcmp(what, LISTS[i].name) == 0)
			return list_rows(options, &LISTS[i]);
	const char *near = rig_suggest(what, N_LISTS + 1, list_name_at, NULL);
	fprintf(stderr, "rigbudget list: there is no list %s; there are:", what);
	for (size_t i = 0; i <= N_LISTS; i++)
		fprintf(stderr, " %s", list_name_at(NULL, i));
	fprintf(stderr, "%s%s%s\n", near != NULL ? "\nDid you mean " : "", near != NULL ? near : "",
		near != NULL ? "?" : "");
	return EXIT_USAGE;
}
