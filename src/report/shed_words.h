/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shed_words.h: what the parts of the sheet about shedding share. */
#ifndef REPORT_SHED_WORDS_H
#define REPORT_SHED_WORDS_H

#include "writer.h"

/* "30 A", "the generator". */
const char *rig_shed_supply_said(rig_writer *writer, const rig_shed_findings *findings);
/* "hot days", of which there are many. */
const char *rig_shed_days_said(const rig_shed_findings *findings);
/* "the hot wire", "leg 1". */
const char *rig_shed_hot_said(rig_writer *writer, const rig_shed_findings *findings, int hot);
/* "57 s", "8 minutes". */
const char *rig_shed_span_said(rig_writer *writer, double seconds);

/* The shown day: what runs; on a sheet of its own also amps and volts. */
void rig_shed_charts(rig_writer *writer, const rig_shed_findings *findings);

/* What starts the generator: a sentence of the answer, and facts. */
void rig_shed_generator_said(
	rig_writer *writer, rig_buffer *words, const rig_shed_findings *findings);
void rig_shed_generator_facts(rig_writer *writer, const rig_shed_findings *findings);

/* The volts: a sentence of the answer, and facts. Nothing where they are not known. */
void rig_shed_volts_said(rig_writer *writer, rig_buffer *words, const rig_shed_findings *findings);
void rig_shed_volts_facts(rig_writer *writer, const rig_shed_findings *findings);

#endif
