/* SPDX-License-Identifier: GPL-3.0-or-later */
/* draft_ask.c: the questions of `rigbudget new`, for somebody beside the coach with a tape measure
 * and half a label. */
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "cli/draft_ask.h"
#include "rigbudget/estimate.h"
#include "rigbudget/place.h"
#include "rigbudget/profile.h"

enum { MOST_SHOWN = 6 };
static const double METRES_PER_FOOT = 0.3048;
/* Air at the intake of a generator on a warm day. */
static const double WARM_AIR_C = 30.0;

static void say_range(cli_asker *asker, rig_figure figure, const char *unit)
{
	fprintf(asker->out, "  That makes about %.0f %s, from %.0f to %.0f.\n", figure.likely, unit,
		figure.low, figure.high);
}

/* As the reader takes an inch, to the last bit. */
static double inches_as_m(double inches)
{
	return inches * 254.0 / 10000.0;
}

static rig_figure nameplate(double value)
{
	return rig_figure_range(value, value, value, RIG_FROM_NAMEPLATE);
}

/* To three digits: people read and mend the file. */
static double to_digits(double value, int digits)
{
	char text[32];
	snprintf(text, sizeof text, "%.*g", digits, value);
	return strtod(text, NULL);
}

static rig_figure tidy(rig_figure figure)
{
	figure.likely = to_digits(figure.likely, 3);
	figure.low = fmin(to_digits(figure.low, 3), figure.likely);
	figure.high = fmax(to_digits(figure.high, 3), figure.likely);
	return figure;
}

/* ---- name, place, cord ---- */

static void ask_place(rig_draft *draft, cli_asker *asker)
{
	for (;;) {
		const char *line = ask_line(asker,
			"Nearest town for the weather, such as Flagstaff (Enter: leave it open)?");
		if (line[0] == '\0')
			return;
		const long found = rig_place_find(line);
		if (found >= 0) {
			rig_place place;
			rig_place_at((size_t)found, &place);
			fprintf(asker->out, "  Taken: %s.\n", place.name);
			snprintf(draft->place, sizeof draft->place, "%s", line);
			draft->coach.site.name = draft->place;
			return;
		}
		size_t near[3];
		const size_t n = rig_place_suggest(line, 3, near);
		fputs("  The table has no such place, or several.", asker->out);
		for (size_t i = 0; i < n; i++) {
			rig_place place;
			rig_place_at(near[i], &place);
			fprintf(asker->out, "%s %s", i == 0 ? " Perhaps:" : ";", place.name);
		}
		fputc('\n', asker->out);
	}
}

static void ask_top(rig_draft *draft, cli_asker *asker)
{
	static const char *const CORDS[] = {"30 A (three prongs, 120 V)",
		"50 A (four prongs, 120/240 V)", "20 A (a household plug)",
		"15 A (a household plug)"};
	static const int AMPS[] = {30, 50, 20, 15};
	const char *name = ask_line(asker, "What do you call the coach?");
	snprintf(draft->name, sizeof draft->name, "%s", name[0] != '\0' ? name : "Our coach");
	draft->coach.name = draft->name;
	ask_place(draft, asker);
	draft->coach.cord_a =
		AMPS[ask_choice(asker, &(ask_choices){"Which shore cord does it have?", 4, CORDS})];
}

/* ---- loads ---- */

static void ask_refrigerator(rig_draft *draft, cli_asker *asker)
{
	static const char *const KINDS[] = {"gas and electric (absorption)",
		"12 V compressor, as large as a household one", "12 V compressor, small",
		"household, 120 V", "none"};
	static const char *const PROFILE[] = {"fridge_absorption_control", "fridge_12v_large",
		"fridge_12v_small", "fridge_residential", NULL};
	const size_t kind = ask_choice(asker, &(ask_choices){"Which refrigerator?", 5, KINDS});
	if (PROFILE[kind] == NULL)
		return;
	rig_load *load = rig_draft_load(draft, PROFILE[kind], 1);
	if (kind == 0)
		rig_draft_load(draft, "fridge_absorption_ac", 1);
	double kwh;
	if (kind != 3 || load == NULL ||
		!ask_number(asker,
			"Kilowatt-hours a year on its yellow energy label (Enter: not known)?", 50,
			3000, &kwh))
		return;
	load->running_w = tidy(rig_estimate_refrigerator_w(kwh));
	say_range(asker, load->running_w, "W while it runs");
}

static void ask_usual_loads(rig_draft *draft, cli_asker *asker)
{
	static const struct {
		const char *question, *profile;
		int most;
	} COUNTS[] = {
		{"How many air conditioners on the roof?", "roof_ac_13k5", 4},
		{"How many lights are on together on an evening?", "led_light", 100},
	};
	static const struct {
		const char *question, *profile;
	} CLAIMS[] = {
		{"A water heater that can heat with electricity (y/n)?", "water_heater_element"},
		{"A microwave oven (y/n)?", "microwave_800"},
		{"A furnace with a blower (y/n)?", "furnace_20k"},
		{"A water pump (y/n)?", "water_pump"},
		{"A fan in the roof (y/n)?", "roof_vent_fan"},
		{"A television (y/n)?", "tv_led_32"},
	};
	for (size_t i = 0; i < sizeof COUNTS / sizeof COUNTS[0]; i++) {
		const int count = ask_count(asker, COUNTS[i].question, COUNTS[i].most);
		if (count > 0)
			rig_draft_load(draft, COUNTS[i].profile, count);
	}
	for (size_t i = 0; i < sizeof CLAIMS / sizeof CLAIMS[0]; i++)
		if (ask_yes(asker, CLAIMS[i].question))
			rig_draft_load(draft, CLAIMS[i].profile, 1);
	ask_refrigerator(draft, asker);
	/* detectors are wired in and always on */
	rig_draft_load(draft, "lp_detector", 1);
}

static bool holds(const char *text, const char *word)
{
	const size_t length = strlen(word);
	for (; *text != '\0'; text++)
		if (strncasecmp(text, word, length) == 0)
			return true;
	return false;
}

/* The appliances whose label or id holds the word. */
static size_t look_up(const char *word, const char *labels[], const char *ids[])
{
	size_t n = 0;
	for (size_t i = 0; i < rig_n_appliances() && n < MOST_SHOWN; i++) {
		const rig_appliance *row = rig_appliance_at(i);
		if (!holds(row->label, word) && !holds(row->id, word))
			continue;
		labels[n] = row->label;
		ids[n++] = row->id;
	}
	return n;
}

static void ask_other_loads(rig_draft *draft, cli_asker *asker)
{
	for (;;) {
		const char *word = ask_line(
			asker, "Another appliance, by a word such as toaster (Enter: no more)?");
		if (word[0] == '\0')
			return;
		const char *labels[MOST_SHOWN + 1];
		const char *ids[MOST_SHOWN];
		const size_t n = look_up(word, labels, ids);
		if (n == 0) {
			fputs("  Nothing of that name; try another word, or `rigbudget list "
			      "appliances`.\n",
				asker->out);
			continue;
		}
		labels[n] = "none of these";
		const size_t chosen =
			ask_choice(asker, &(ask_choices){"Which one?", n + 1, labels});
		if (chosen < n && rig_draft_load(draft, ids[chosen], 1) == NULL)
			return;
	}
}

/* ---- batteries ---- */

/* Amp-hours of one battery by what can be read, the surest first. */
static rig_figure ask_capacity(cli_asker *asker, bool lead)
{
	double number;
	if (ask_number(asker, "Amp-hours (Ah) on its label (Enter: none there)?", 1, 2000, &number))
		return nameplate(number);
	if (!lead)
		return rig_figure_range(80, 100, 120, RIG_FROM_ESTIMATED);
	if (ask_number(asker, "Reserve minutes (RC) on its label (Enter: none there)?", 10, 2000,
		    &number))
		return rig_estimate_ah_of_reserve(number);
	const char *print =
		ask_line(asker, "Its group size, such as 24, 27, 31 or GC2 (Enter: none there)?");
	const rig_battery_group *group = rig_battery_group_find(print);
	if (group != NULL)
		return rig_estimate_ah_of_group(group);
	if (ask_number(asker, "Cold-cranking amps (CCA) on its label (Enter: none there)?", 10,
		    5000, &number))
		return rig_estimate_ah_of_cranking(number, true);
	rig_figure any = rig_estimate_ah_of_group(rig_battery_group_find("24"));
	any.high = rig_estimate_ah_of_group(rig_battery_group_find("31")).high;
	any.source = "a battery of unknown size, group 24 to 31";
	return any;
}

/* How they are wired: as many in a row as make 12 V. */
static void ask_strings(rig_bank *bank, cli_asker *asker, int count, bool lead)
{
	int cells = lead ? ask_count(asker,
				   "Filler caps or cells on one battery, 3 for 6 V, 6 for 12 V "
				   "(Enter: 6)?",
				   24)
			 : 0;
	if (cells == 0)
		cells = 6;
	const double volts_v = lead ? rig_estimate_battery_v(cells, NULL) : 12.0;
	const int in_row = volts_v < 11.0 && count > 1 ? 2 : 1;
	bank->series = in_row;
	bank->parallel = count / in_row > 0 ? count / in_row : 1;
	bank->nominal_v = rig_figure_range(
		volts_v * in_row, volts_v * in_row, volts_v * in_row, RIG_FROM_ESTIMATED);
	if (!lead)
		bank->nominal_v = (rig_figure){0};
	if (count % in_row != 0)
		fputs("  One of them is left over: two 6 V batteries make 12 V.\n", asker->out);
}

static void ask_banks(rig_draft *draft, cli_asker *asker)
{
	static const char *const KINDS[] = {
		"with filler caps (flooded)", "sealed (AGM)", "gel", "lithium (iron phosphate)"};
	static const char *const ID[] = {"flooded", "agm", "gel", "lithium_iron_phosphate"};
	const int count = ask_count(
		asker, "How many house batteries, besides the one that starts an engine?", 16);
	if (count == 0)
		return;
	const size_t kind = ask_choice(asker, &(ask_choices){"Of which kind are they?", 4, KINDS});
	rig_bank *bank = rig_draft_bank(draft, "house", RIG_HOUSE, ID[kind]);
	const bool lead = kind != 3;
	bank->capacity_ah = tidy(ask_capacity(asker, lead));
	say_range(asker, bank->capacity_ah, "Ah each");
	ask_strings(bank, asker, count, lead);
}

/* ---- sun and engine ---- */

static void ask_watts(rig_array *array, cli_asker *asker)
{
	static const char *const KINDS[] = {"glass, nobody knows how old", "glass, black and new",
		"glass, blue and flaked", "bendable, glued to the roof"};
	static const char *const ID[] = {
		"crystalline", "crystalline_new", "polycrystalline", "flexible"};
	double number, width;
	if (ask_number(asker, "Watts on the label of one panel (Enter: cannot be read)?", 1, 2000,
		    &number)) {
		array->watts_w = nameplate(number);
		return;
	}
	array->panel = ID[ask_choice(asker, &(ask_choices){"What do they look like?", 4, KINDS})];
	if (!ask_number(asker, "Length of one panel's frame in inches?", 4, 150, &number) ||
		!ask_number(asker, "And its width in inches?", 4, 150, &width)) {
		array->watts_w = rig_figure_range(40, 100, 200, RIG_FROM_ESTIMATED);
		array->watts_w.source = "a panel of unknown size";
	} else {
		array->length_m = nameplate(inches_as_m(number));
		array->width_m = nameplate(inches_as_m(width));
		array->length_m.from = array->width_m.from = RIG_FROM_MEASURED;
		array->length_m.unit = array->width_m.unit = 1; /* inches in the file */
		array->watts_w = rig_estimate_panel_w(
			inches_as_m(number), inches_as_m(width), rig_panel_kind_find(array->panel));
	}
	say_range(asker, array->watts_w, "W a panel");
	/* the file keeps what was measured; its watts follow from that */
	if (rig_figure_given(array->length_m))
		array->watts_w = (rig_figure){0};
}

static void ask_panels(rig_draft *draft, cli_asker *asker)
{
	static const char *const FEEDS[] = {"the house batteries", "the engine's starting battery"};
	static const char *const CONTROLLER[] = {
		"a plain one, or nobody knows", "a tracker (its label says MPPT)"};
	const int count = ask_count(asker, "How many solar panels?", 40);
	if (count == 0)
		return;
	rig_array *array = &draft->array;
	*array = (rig_array){.id = "roof", .count = count};
	ask_watts(array, asker);
	const bool chassis =
		ask_choice(asker, &(ask_choices){"Which battery do they charge?", 2, FEEDS}) == 1;
	if (chassis)
		rig_draft_bank(draft, "chassis", RIG_CHASSIS, "starting");
	else if (draft->coach.n_banks == 0)
		rig_draft_bank(draft, "house", RIG_HOUSE, "flooded")->capacity_ah =
			rig_estimate_ah_of_group(rig_battery_group_find("24"));
	array->bank = chassis ? "chassis" : "house";
	array->controller =
		ask_choice(asker, &(ask_choices){"Which charge controller?", 2, CONTROLLER}) == 1
			? RIG_MPPT
			: RIG_PWM;
	draft->coach.arrays = array;
	draft->coach.n_arrays = 1;
}

static void ask_generator(rig_draft *draft, cli_asker *asker)
{
	double watts, feet;
	if (!ask_number(asker, "Watts on the label of the generator (Enter: none on board)?", 100,
		    50000, &watts))
		return;
	draft->coach.generator = (rig_generator){.present = true,
		.watts_w = nameplate(watts),
		.quiet_from_hour = -1,
		.quiet_to_hour = -1};
	if (!ask_number(
		    asker, "Feet above the sea where it will run (Enter: skip)?", 0, 12000, &feet))
		return;
	fputs("  The file keeps the label. Up there on a warm day:\n", asker->out);
	say_range(asker, rig_estimate_generator_w(watts, feet * METRES_PER_FOOT, WARM_AIR_C), "W");
}

void draft_ask(rig_draft *draft, cli_asker *asker)
{
	fputs("A few questions make a first file. Enter alone means: no, or nobody knows.\n\n",
		asker->out);
	ask_top(draft, asker);
	ask_usual_loads(draft, asker);
	ask_other_loads(draft, asker);
	ask_banks(draft, asker);
	ask_panels(draft, asker);
	ask_generator(draft, asker);
	fputs("\nDone. `rigbudget check` says what was assumed, `rigbudget report` answers.\n",
		asker->out);
}
