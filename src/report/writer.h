/* SPDX-License-Identifier: GPL-3.0-or-later */
/* writer.h: what the writers of reports share: names of things in the coach, lists and months in
 * words, figures as JSON; and the parts that each study gives to a sheet. */
#ifndef REPORT_WRITER_H
#define REPORT_WRITER_H

#include "amount.h"
#include "base/jsonout.h"
#include "rigbudget/report.h"

/* How much an answer hangs on something that can be measured or asked. */
typedef enum {
	RIG_ASK_DECIDES, /* the answer could turn out the other way */
	RIG_ASK_NARROWS, /* the widest of what is in doubt */
	RIG_ASK_ALSO,
	RIG_N_ASKS
} rig_ask_rank;

typedef struct {
	rig_ask_rank rank;
	const char *text;
} rig_asked;

enum { RIG_MOST_ASKED = 24 };

/* The studies on a sheet. */
typedef enum {
	RIG_PART_CLAIMS,
	RIG_PART_SHORE,
	RIG_PART_VOLTAGE,
	RIG_PART_SOURCES,
	RIG_PART_SHED,
	RIG_PART_SOLAR,
	RIG_PART_TRIP,
	RIG_PART_READINGS,
	RIG_PART_SIZE,
	RIG_PART_WIRING,
	RIG_PART_ONELINE,
	RIG_N_PARTS
} rig_part;

/* The sentences of an answer: those of a summary, and those that can wait for the evidence. Each
 * sentence may begin with a blank. */
typedef struct {
	rig_buffer first, more;
} rig_telling;

typedef struct {
	rig_document *document;
	rig_arena *arena;
	rig_json_maker maker;
	const rig_coach *coach;
	rig_units units;
	bool sheet; /* several studies: a summary, then the evidence */
	bool brief; /* tables with the main figures only */
	rig_reader reader;
	const char *more[RIG_N_PARTS]; /* sentences that wait for the evidence; NULL for none */
	int run;                       /* load that must run; -1 for none */
	size_t n_compare;              /* options of an upgrade to be set side by side */
	int compare[RIG_MOST_COMPARED];
	size_t n_asked;
	rig_asked asked[RIG_MOST_ASKED];
} rig_writer;

extern const char *const RIG_MONTH[12];       /* "January" */
extern const char *const RIG_MONTH_SHORT[12]; /* "Jan" */

/* A text in the arena; "" when memory is out, which the document remembers. */
const char *rig_said(rig_writer *writer, const char *format, ...)
	__attribute__((format(printf, 2, 3)));
/* The buffer's text in the arena; the buffer is freed. */
const char *rig_said_buffer(rig_writer *writer, rig_buffer *buffer);

/* Adds an answer. On a sheet its second part waits for rig_tell_more. Frees the telling. */
void rig_tell(rig_writer *writer, rig_part part, const char *question, const char *verdict,
	rig_telling *telling);
/* Adds what waits of a part, as a paragraph. */
void rig_tell_more(rig_writer *writer, rig_part part);

/* "a 50 A shore cord, 27 loads and 2 batteries". */
const char *rig_looked_at_said(rig_writer *writer);
/* "59 minutes of a household refrigerator, 3 cups of coffee or 4 phone charges". */
const char *rig_everyday_said(rig_writer *writer, double energy_wh);
/* Parts of a summary. */
/* What a sheet cannot say where no weather is known. */
void rig_summary_unplaced(rig_writer *writer, const rig_report_findings *findings);
void rig_summary_meaning(rig_writer *writer, const rig_report_findings *findings);
void rig_summary_assumed(rig_writer *writer, const rig_report_findings *findings);
void rig_summary_cautions(rig_writer *writer, const rig_report_findings *findings);

const char *rig_coach_said(const rig_writer *writer);
/* The name of a load, or of its profile, or its id; -1 is the battery charger. */
const char *rig_load_said(const rig_writer *writer, int load);
/* The same for several: "water heater (2)". */
const char *rig_loads_said(rig_writer *writer, int load, int count);
const char *rig_circuit_said(const rig_writer *writer, int circuit);
const char *rig_bank_said(rig_writer *writer, int bank);
/* "house battery" or "chassis (starting) battery". */
const char *rig_role_said(rig_bank_role role);
/* "read off a label", "from a profile", ... */
const char *rig_origin_said(rig_origin from);
/* "a, b and c"; of more than most, "a, b and 4 more"; names with commas are parted by semicolons.
 */
const char *rig_joined(rig_writer *writer, size_t n, const char *const *names, size_t most);
/* "March to October", "January and May", "every month", "no month"; runs through New Year. */
const char *rig_months_said(rig_writer *writer, const bool belongs[12], bool brief);
/* "about 2 days", "about 9 hours"; most stands for "60 days or longer", "a year or longer". */
const char *rig_days_said(rig_writer *writer, rig_figure days, double most);
/* "about 2 days", without a range. */
const char *rig_days_likely_said(rig_writer *writer, double days);
/* Where the place's figures fall short of a long record; NULL for a long one. */
const char *rig_record_said(const rig_place *place);
/* Notes what to measure or ask next; the sheet says the weightiest first. What finds no room any
 * more is dropped. */
void rig_ask(rig_writer *writer, rig_ask_rank rank, const char *format, ...)
	__attribute__((format(printf, 3, 4)));
/* A capital in front, for ASCII. */
const char *rig_capital(rig_writer *writer, const char *text);

/* "the draw of \"Microwave oven\"": what is to be measured. */
const char *rig_measure_name_said(rig_writer *writer, const rig_measure *measure);
/* Asks for each in a sentence: what, with what and for how long, how, and why. about: what is in
 * doubt, "the amps". Best comes first. */
void rig_ask_measures(rig_writer *writer, const char *about, size_t n, const rig_measure *measures);
/* Adds what stands beside every answer about panels and batteries, for the kinds on board. */
void rig_battery_cautions(rig_writer *writer);
/* The same for shore power, for low volts and for a generator. */
void rig_power_cautions(rig_writer *writer);
void rig_low_voltage_caution(rig_writer *writer);
void rig_generator_caution(rig_writer *writer);
/* The same for wires, fuses and what is added to a coach: who may do it, what an official may ask,
 * batteries, fuses, disconnects; mains: also where neutral and ground meet, and transfer. */
void rig_work_cautions(rig_writer *writer, bool mains);

/* What many trips came to; also where a day's energy goes. */
void rig_many_figures(rig_writer *writer, const rig_trip_findings *findings);
/* Asks for what the outcome hangs on most; false if that is nothing that can be measured. */
bool rig_many_next(rig_writer *writer, const rig_trip_findings *findings);
/* Adds the chart of a bank's state of charge over the stay. */
void rig_charge_chart(
	rig_writer *writer, const rig_trip_findings *findings, const rig_trip_bank *bank);

/* JSON. A figure that is not finite fails the document; an absent one is null. */
void rig_put_figure(
	rig_writer *writer, cJSON *parent, const char *key, rig_figure figure, const char *unit);
void rig_put_number(rig_writer *writer, cJSON *parent, const char *key, double value);
void rig_put_index(rig_writer *writer, cJSON *parent, const char *key, long value);
void rig_put_numbers(
	rig_writer *writer, cJSON *parent, const char *key, size_t n, const double *values);
void rig_put_place(rig_writer *writer, cJSON *parent, const rig_place *place);

void rig_put_measures(rig_writer *writer, cJSON *parent, size_t n, const rig_measure *measures);

/* The parts of a sheet, one set a study. answer adds answers; figures opens a part of its own;
 * next asks; assumptions and cautions add items to the list that is open; data adds an object to
 * the tree. */
void rig_shore_answer(rig_writer *writer, const rig_shore_findings *findings);
void rig_shore_figures(rig_writer *writer, const rig_shore_findings *findings);
void rig_shore_next(rig_writer *writer, const rig_shore_findings *findings);
void rig_shore_assumptions(rig_writer *writer, const rig_shore_findings *findings);
void rig_shore_cautions(rig_writer *writer, const rig_shore_findings *findings);
void rig_shore_data(rig_writer *writer, const rig_shore_findings *findings);

void rig_solar_answer(rig_writer *writer, const rig_solar_findings *findings);
void rig_solar_figures(rig_writer *writer, const rig_solar_findings *findings);
void rig_solar_next(rig_writer *writer, const rig_solar_findings *findings);
void rig_solar_assumptions(rig_writer *writer, const rig_solar_findings *findings);
void rig_solar_cautions(rig_writer *writer, const rig_solar_findings *findings);
void rig_solar_data(rig_writer *writer, const rig_solar_findings *findings);

void rig_voltage_answer(rig_writer *writer, const rig_voltage_findings *findings);
void rig_voltage_figures(rig_writer *writer, const rig_voltage_findings *findings);
void rig_voltage_next(rig_writer *writer, const rig_voltage_findings *findings);
void rig_voltage_assumptions(rig_writer *writer, const rig_voltage_findings *findings);
void rig_voltage_cautions(rig_writer *writer, const rig_voltage_findings *findings);
void rig_voltage_data(rig_writer *writer, const rig_voltage_findings *findings);

void rig_sources_answer(rig_writer *writer, const rig_sources_findings *findings);
void rig_sources_figures(rig_writer *writer, const rig_sources_findings *findings);
void rig_sources_next(rig_writer *writer, const rig_sources_findings *findings);
void rig_sources_assumptions(rig_writer *writer, const rig_sources_findings *findings);
void rig_sources_cautions(rig_writer *writer, const rig_sources_findings *findings);
void rig_sources_data(rig_writer *writer, const rig_sources_findings *findings);

void rig_shed_answer(rig_writer *writer, const rig_shed_findings *findings);
void rig_shed_figures(rig_writer *writer, const rig_shed_findings *findings);
void rig_shed_next(rig_writer *writer, const rig_shed_findings *findings);
void rig_shed_assumptions(rig_writer *writer, const rig_shed_findings *findings);
void rig_shed_cautions(rig_writer *writer, const rig_shed_findings *findings);
void rig_shed_data(rig_writer *writer, const rig_shed_findings *findings);

void rig_trip_answer(rig_writer *writer, const rig_trip_findings *findings);
void rig_trip_figures(rig_writer *writer, const rig_trip_findings *findings);
void rig_trip_next(rig_writer *writer, const rig_trip_findings *findings);
void rig_trip_assumptions(rig_writer *writer, const rig_trip_findings *findings);
void rig_trip_cautions(rig_writer *writer, const rig_trip_findings *findings);
void rig_trip_data(rig_writer *writer, const rig_trip_findings *findings);

void rig_readings_answer(rig_writer *writer, const rig_readings_findings *findings);
void rig_readings_figures(rig_writer *writer, const rig_readings_findings *findings);
void rig_readings_next_asks(rig_writer *writer, const rig_readings_findings *findings);
void rig_readings_assumptions(rig_writer *writer, const rig_readings_findings *findings);
void rig_readings_cautions(rig_writer *writer, const rig_readings_findings *findings);
void rig_readings_data(rig_writer *writer, const rig_readings_findings *findings);
void rig_size_answer(rig_writer *writer, const rig_size_findings *findings);
void rig_size_figures(rig_writer *writer, const rig_size_findings *findings);
void rig_size_next(rig_writer *writer, const rig_size_findings *findings);
void rig_size_assumptions(rig_writer *writer, const rig_size_findings *findings);
void rig_size_cautions(rig_writer *writer, const rig_size_findings *findings);
void rig_size_data(rig_writer *writer, const rig_size_findings *findings);

void rig_wiring_answer(rig_writer *writer, const rig_wiring_findings *findings);
void rig_wiring_figures(rig_writer *writer, const rig_wiring_findings *findings);
void rig_wiring_next(rig_writer *writer, const rig_wiring_findings *findings);
void rig_wiring_assumptions(rig_writer *writer, const rig_wiring_findings *findings);
void rig_wiring_cautions(rig_writer *writer, const rig_wiring_findings *findings);
void rig_wiring_data(rig_writer *writer, const rig_wiring_findings *findings);

void rig_claim_answers(rig_writer *writer, const rig_claim_findings *findings);
/* The sentences that wait, as a list. */
void rig_claim_more(rig_writer *writer, const rig_claim_findings *findings);
void rig_claim_figures(rig_writer *writer, const rig_claim_findings *findings);
void rig_claim_next(rig_writer *writer, const rig_claim_findings *findings);
void rig_claim_assumptions(rig_writer *writer, const rig_claim_findings *findings);
void rig_claim_cautions(rig_writer *writer, const rig_claim_findings *findings);
void rig_claim_data(rig_writer *writer, const rig_claim_findings *findings);
void rig_oneline_answer(rig_writer *writer, const rig_oneline_findings *findings);
void rig_oneline_figures(rig_writer *writer, const rig_oneline_findings *findings);
void rig_oneline_next(rig_writer *writer, const rig_oneline_findings *findings);
void rig_oneline_assumptions(rig_writer *writer, const rig_oneline_findings *findings);
void rig_oneline_cautions(rig_writer *writer, const rig_oneline_findings *findings);
void rig_oneline_data(rig_writer *writer, const rig_oneline_findings *findings);

#endif
