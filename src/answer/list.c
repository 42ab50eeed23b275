/* SPDX-License-Identifier: GPL-3.0-or-later */
/* list.c: the profiles as tables. */
#include "answer/list.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "base/arena.h"
#include "rigbudget/place.h"
#include "rigbudget/profile.h"

enum { MAX_COLUMNS = 6 };

/* One list: its columns, and what makes the cells of a row. A cell of NULL means memory was out. */
typedef struct {
	const char *name;
	const char *about;
	size_t n_columns;
	rig_column columns[MAX_COLUMNS];
	size_t (*count)(void);
	void (*fill)(size_t i, rig_arena *arena, const char *cells[MAX_COLUMNS]);
} list_row;

static const char *range(rig_arena *arena, rig_figure figure, int decimals)
{
	if (!rig_figure_given(figure))
		return "";
	if (figure.low < figure.high)
		return rig_arena_format(arena, "%.*f (%.*f to %.*f)", decimals, figure.likely,
			decimals, figure.low, decimals, figure.high);
	return rig_arena_format(arena, "%.*f", decimals, figure.likely);
}

static const char *amps(rig_arena *arena, double ampacity_a)
{
	return ampacity_a > 0.0 ? rig_arena_format(arena, "%.0f", ampacity_a) : "";
}

static void fill_appliance(size_t i, rig_arena *arena, const char *cells[MAX_COLUMNS])
{
	const rig_appliance *row = rig_appliance_at(i);
	cells[0] = row->id;
	cells[1] = row->supply == RIG_AC ? "AC" : "DC";
	cells[2] = range(arena, row->running_w, row->running_w.high < 10.0 ? 1 : 0);
	cells[3] = row->label;
	cells[4] = row->source;
}

static void fill_place(size_t i, rig_arena *arena, const char *cells[MAX_COLUMNS])
{
	static const char *const RECORD[] = {"long", "short", "short, unconfirmed"};
	rig_place row;
	rig_place_at(i, &row);
	double year = 0.0;
	for (int month = 0; month < 12; month++)
		year += row.ghi_kwh_m2_day[month] / 12.0;
	cells[0] = rig_arena_text(arena, row.name);
	cells[1] = rig_arena_format(arena, "%.2f", row.latitude_deg);
	cells[2] = rig_arena_format(arena, "%.2f", row.longitude_deg);
	cells[3] = rig_arena_format(arena, "%.0f", row.elevation_m);
	cells[4] = rig_arena_format(arena, "%.1f", year);
	cells[5] = RECORD[row.record];
}

static void fill_battery(size_t i, rig_arena *arena, const char *cells[MAX_COLUMNS])
{
	const rig_chemistry *row = rig_chemistry_at(i);
	cells[0] = row->id;
	cells[1] = row->label;
	cells[2] = range(arena, row->usable_frac, 2);
	cells[3] = range(arena, row->charge_efficiency_frac, 2);
	cells[4] = row->source;
}

static void fill_panel(size_t i, rig_arena *arena, const char *cells[MAX_COLUMNS])
{
	const rig_panel_kind *row = rig_panel_kind_at(i);
	cells[0] = row->id;
	cells[1] = row->label;
	cells[2] = range(arena, row->density_wm2, 0);
	cells[3] = row->source;
}

static void fill_supply(size_t i, rig_arena *arena, const char *cells[MAX_COLUMNS])
{
	const rig_supply *row = rig_supply_at(i);
	cells[0] = row->id;
	cells[1] = row->label;
	cells[2] = rig_arena_format(arena, "%.0f", row->breaker_a);
	cells[3] = rig_arena_format(arena, "%d", row->n_hots);
	cells[4] = rig_arena_format(arena, "%.0f", row->volts_v);
	cells[5] = row->source;
}

static void fill_conductor(size_t i, rig_arena *arena, const char *cells[MAX_COLUMNS])
{
	const rig_conductor_size *row = rig_conductor_size_at(i);
	cells[0] = row->awg >= 0 && row->awg != 0 ? rig_arena_format(arena, "%d", row->awg)
						  : rig_arena_format(arena, "%d/0", 1 - row->awg);
	cells[1] = rig_arena_format(arena, "%.2f", row->area_mm2);
	cells[2] = rig_arena_format(arena, "%.3f", row->ohm_per_km_75c);
	cells[3] = amps(arena, row->ampacity_60c_a);
	cells[4] = amps(arena, row->ampacity_75c_a);
	cells[5] = amps(arena, row->ampacity_105c_12v_a);
}

static void fill_rating(size_t i, rig_arena *arena, const char *cells[MAX_COLUMNS])
{
	const rig_standard_rating *row = rig_standard_rating_at(i);
	cells[0] = rig_arena_format(arena, "%g", row->rating_a);
	cells[1] = row->breaker ? "yes" : "";
	cells[2] = row->fuse ? "yes" : "";
}

#define WORDS(head)                                                                                \
	{                                                                                          \
		head, "", RIG_ALIGN_LEFT                                                           \
	}
#define FIGURES(head, unit)                                                                        \
	{                                                                                          \
		head, unit, RIG_ALIGN_RIGHT                                                        \
	}
static const list_row LISTS[] = {
	{"appliances", "Appliances: what they draw while they run, likely (low to high)", 5,
		{WORDS("id"), WORDS("on"), FIGURES("running", "W"), WORDS("what"), WORDS("source")},
		rig_n_appliances, fill_appliance},
	{"places", "Places: the sun on flat ground as a mean of the year, and the record behind it",
		6,
		{WORDS("name"), FIGURES("north", "degrees"), FIGURES("east", "degrees"),
			FIGURES("height", "m"), FIGURES("sun", "kWh/m2 a day"), WORDS("record")},
		rig_n_places, fill_place},
	{"batteries", "Batteries: the share of the capacity to use, and of a charge that is stored",
		5,
		{WORDS("id"), WORDS("what"), FIGURES("usable", "share"), FIGURES("stored", "share"),
			WORDS("source")},
		rig_n_chemistries, fill_battery},
	{"panels", "Solar panels: nameplate watts by the size of the outer frame", 4,
		{WORDS("id"), WORDS("what"), FIGURES("power", "W/m2"), WORDS("source")},
		rig_n_panel_kinds, fill_panel},
	{"supplies", "Shore supplies", 6,
		{WORDS("id"), WORDS("what"), FIGURES("breaker", "A"), FIGURES("hot wires", ""),
			FIGURES("each", "V"), WORDS("source")},
		rig_n_supplies, fill_supply},
	{"conductors", "Copper conductors: resistance stranded at 75 C, and amps by insulation", 6,
		{WORDS("gauge"), FIGURES("area", "mm2"), FIGURES("resistance", "ohm/km"),
			FIGURES("60 C", "A"), FIGURES("75 C", "A"), FIGURES("105 C, 12 V", "A")},
		rig_n_conductor_sizes, fill_conductor},
	{"ratings", "Standard ratings", 3,
		{FIGURES("rating", "A"), WORDS("breaker"), WORDS("fuse")}, rig_n_standard_ratings,
		fill_rating},
};
enum { N_LISTS = sizeof LISTS / sizeof LISTS[0] };

static bool holds(const char *text, const char *word)
{
	const size_t length = strlen(word);
	for (; *text != '\0'; text++)
		if (strncasecmp(text, word, length) == 0)
			return true;
	return length == 0;
}

static bool row_holds(const list_row *list, const char *const cells[], const char *word)
{
	for (size_t i = 0; i < list->n_columns; i++)
		if (cells[i] != NULL && holds(cells[i], word))
			return true;
	return false;
}

/* Fills the cells with the rows that hold the word; gives how many there are, those past `most`
 * too.
 */
static size_t choose(
	const list_row *list, const rig_list_wish *wish, rig_arena *arena, const char **cells)
{
	size_t n = 0;
	for (size_t i = 0; i < list->count(); i++) {
		const char *row[MAX_COLUMNS] = {NULL};
		list->fill(i, arena, row);
		if (!row_holds(list, row, wish->word))
			continue;
		if (wish->most == 0 || n < wish->most)
			memcpy(cells + n * list->n_columns, row, list->n_columns * sizeof *row);
		n++;
	}
	return n;
}

static rig_status write_list(const list_row *list, const rig_list_wish *wish, rig_listing *listing)
{
	rig_arena *arena = rig_arena_new();
	const char **cells = arena == NULL ? NULL
					   : rig_arena_take(arena, list->count() * list->n_columns,
						     sizeof *cells);
	rig_document *made = rig_document_new();
	rig_status status = RIG_NO_MEMORY;
	if (cells == NULL || made == NULL)
		goto out;
	const size_t n = choose(list, wish, arena, cells);
	const size_t n_rows = wish->most > 0 && n > wish->most ? wish->most : n;
	for (size_t i = 0; i < n_rows * list->n_columns; i++)
		if (cells[i] == NULL)
			goto out;
	rig_document_title(made, "%s", list->about);
	rig_add_table(made, &(rig_table){.caption = "",
				    .n_columns = list->n_columns,
				    .n_rows = n_rows,
				    .columns = list->columns,
				    .cells = cells});
	status = rig_document_status(made);
	if (status == RIG_OK) {
		*listing = (rig_listing){.document = made, .n = n};
		made = NULL;
	}
out:
	rig_document_free(made);
	rig_arena_free(arena);
	return status;
}

size_t rig_n_lists(void)
{
	return N_LISTS;
}

const char *rig_list_name(size_t i)
{
	assert(i < N_LISTS);
	return LISTS[i].name;
}

rig_status rig_list_write(const char *name, const rig_list_wish *wish, rig_listing *listing)
{
	for (size_t i = 0; i < N_LISTS; i++)
		if (strcmp(name, LISTS[i].name) == 0)
			return write_list(&LISTS[i], wish, listing);
	return RIG_NOT_FOUND;
}
