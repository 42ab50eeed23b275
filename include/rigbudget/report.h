/* SPDX-License-Identifier: GPL-3.0-or-later */
/* report.h: findings put into words. Each writer makes a whole document of one study's findings:
 * the answer in plain sentences first, the figures, what to measure or ask next, then what was
 * assumed and the cautions. Writers round and change units; they work out nothing. */
#ifndef RIG_REPORT_H
#define RIG_REPORT_H

#include "rigbudget/claim.h"
#include "rigbudget/coach.h"
#include "rigbudget/compare.h"
#include "rigbudget/document.h"
#include "rigbudget/oneline.h"
#include "rigbudget/readings.h"
#include "rigbudget/shed.h"
#include "rigbudget/shore.h"
#include "rigbudget/size.h"
#include "rigbudget/solar.h"
#include "rigbudget/sources.h"
#include "rigbudget/trip.h"
#include "rigbudget/voltage.h"
#include "rigbudget/wiring.h"

/* The units of lengths, temperatures and volumes for people. Volts, amps, watts and watt-hours are
 * the same in both; the JSON is SI in both. */
enum { RIG_MOST_COMPARED = 4 };

typedef enum { RIG_UNITS_US, RIG_UNITS_SI } rig_units;

/* Who reads a sheet of several studies: chooses its order and its depth, never a figure. */
typedef enum {
	RIG_FOR_BUYER, /* claims, solar and shore power first */
	RIG_FOR_OWNER, /* days without hookups and what is switched off first */
	RIG_FOR_SHOP,  /* wires and the diagram first, and the tables in full */
	RIG_N_READERS
} rig_reader;

typedef struct {
	rig_units units;
	rig_reader reader;
	const char *date;      /* printed as given; NULL prints none: the library reads no clock */
	const char *inspector; /* the same */
	const char *run;       /* id of a load: say what must go off so that it can run; or NULL */
	/* options of an upgrade to be set side by side, from 0; none: some that stand out */
	size_t n_compare;
	int compare[RIG_MOST_COMPARED];
	bool answers_only; /* the title, the answers and the cautions: no figures, no data */
} rig_report_options;

/* *document is to be freed with rig_document_free and untouched unless RIG_OK.
 *   completed   the coach that the findings are about
 * RIG_BAD_INPUT: a figure of the findings is not finite. RIG_NO_MEMORY. */
rig_status rig_write_shore(const rig_coach *completed, const rig_shore_findings *findings,
	const rig_report_options *options, rig_document **document);
rig_status rig_write_shed(const rig_coach *completed, const rig_shed_findings *findings,
	const rig_report_options *options, rig_document **document);
rig_status rig_write_solar(const rig_coach *completed, const rig_solar_findings *findings,
	const rig_report_options *options, rig_document **document);
rig_status rig_write_wiring(const rig_coach *completed, const rig_wiring_findings *findings,
	const rig_report_options *options, rig_document **document);
rig_status rig_write_size(const rig_coach *completed, const rig_size_findings *findings,
	const rig_report_options *options, rig_document **document);
rig_status rig_write_trip(const rig_coach *completed, const rig_trip_findings *findings,
	const rig_report_options *options, rig_document **document);
rig_status rig_write_claims(const rig_coach *completed, const rig_claim_findings *findings,
	const rig_report_options *options, rig_document **document);
rig_status rig_write_readings(const rig_coach *completed, const rig_readings_findings *findings,
	const rig_report_options *options, rig_document **document);
rig_status rig_write_oneline(const rig_coach *completed, const rig_oneline_findings *findings,
	const rig_report_options *options, rig_document **document);

/* The findings that a sheet puts together; NULL for a question that was not asked. */
typedef struct {
	const rig_shore_findings *shore;
	const rig_voltage_findings *voltage; /* only with shore, of which both are */
	const rig_sources_findings *sources;
	const rig_shed_findings *shed;
	const rig_solar_findings *solar;
	const rig_trip_findings *trip;
	const rig_readings_findings *readings;
	const rig_wiring_findings *wiring;
	const rig_size_findings *size;
	const rig_claim_findings *claims;
	const rig_oneline_findings *oneline;
} rig_report_findings;

/* All questions on one sheet: every answer first, then every figure. Where several are asked, each
 * part gives its main figures only. RIG_NOT_FOUND: options->run is no load that runs on shore
 * power; other statuses as above. */
rig_status rig_report(const rig_coach *completed, const rig_report_findings *findings,
	const rig_report_options *options, rig_document **document);

/* One side of a comparison. */
typedef struct {
	const rig_coach *coach;    /* completed */
	const rig_document *sheet; /* of it, for its answers and cautions */
} rig_comparison_side;

typedef struct {
	rig_comparison_side before, after;
	const rig_changes *changes;
	const rig_effects *effects;
} rig_comparison;

/* Statuses as above. */
rig_status rig_write_comparison(const rig_comparison *comparison, const rig_report_options *options,
	rig_document **document);

#endif
